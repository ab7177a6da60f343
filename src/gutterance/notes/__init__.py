"""Getting a note's text in: bytes to lines, with what had to be mended said aloud.

Plain text, WebVTT, SubRip and JSON transcripts; a file, several, or standard input. Nothing here knows what
the words mean.
"""

from gutterance.notes.decoding import SIZE_LIMIT, PlainText, decode_text
from gutterance.notes.forms import decode_note, walk_round
from gutterance.notes.note import Damage, Note, NoteError, NoteLine, Seconds, SpokenWord
from gutterance.notes.opening import open_note, open_walk_round, read_bytes

__all__ = [
    "SIZE_LIMIT",
    "Damage",
    "Note",
    "NoteError",
    "NoteLine",
    "PlainText",
    "Seconds",
    "SpokenWord",
    "decode_note",
    "decode_text",
    "open_note",
    "open_walk_round",
    "read_bytes",
    "walk_round",
]
