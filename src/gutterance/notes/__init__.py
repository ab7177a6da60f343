"""Getting a note's text in: bytes to lines, with what had to be mended said aloud.

Nothing here knows what the words mean.
"""

from gutterance.notes.decoding import SIZE_LIMIT, Note, NoteError, decode_note
from gutterance.notes.opening import open_note, read_bytes

__all__ = ["SIZE_LIMIT", "Note", "NoteError", "decode_note", "open_note", "read_bytes"]
