"""Opening a note: a file, or standard input where `-` is given."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from gutterance.notes.decoding import SIZE_LIMIT, too_large
from gutterance.notes.forms import decode_note, walk_round
from gutterance.notes.note import Note, NoteError

if TYPE_CHECKING:
    from collections.abc import Sequence

STANDARD_INPUT = "-"


def open_note(path: str | os.PathLike[str], *, limit: int = SIZE_LIMIT) -> Note:
    """The note in the file at `path`, or on standard input for `-`.

    `limit` [bytes] is the largest note taken. Raises NoteError for a file that cannot be a note.
    """
    return decode_note(read_bytes(path, limit=limit), name_of(path), limit=limit)


def open_walk_round(paths: Sequence[str | os.PathLike[str]], *, limit: int = SIZE_LIMIT) -> Note:
    """The notes in several files as one walk-round, in the order given; `-` is standard input.

    `limit` [bytes] holds for each file. Raises NoteError for a file that cannot be a note, or is given twice.
    """
    return walk_round([open_note(path, limit=limit) for path in paths])


def name_of(path: str | os.PathLike[str]) -> str:
    """What messages call the file at `path`."""
    return "standard input" if os.fspath(path) == STANDARD_INPUT else os.fspath(path)


def read_bytes(path: str | os.PathLike[str], *, limit: int = SIZE_LIMIT) -> bytes:
    """The bytes of a file or of standard input, refused over `limit` [bytes] without reading all of them.

    Raises NoteError for a missing file, a folder, a file that may not be read, or one too large.
    """
    name = name_of(path)
    if os.fspath(path) == STANDARD_INPUT:
        data = sys.stdin.buffer.read(limit + 1)
    else:
        try:
            with Path(path).open("rb") as opened:
                data = opened.read(limit + 1)
        except IsADirectoryError as error:
            raise NoteError(f"{name} is a folder: give a file in it") from error
        except FileNotFoundError as error:
            raise NoteError(f"{name} was not found: check the name and the folder you are in") from error
        except PermissionError as error:
            raise NoteError(f"{name} may not be read: change its permissions or copy it") from error
        except (OSError, ValueError) as error:
            raise NoteError(f"{name} cannot be read ({error}): give another file") from error
    if len(data) > limit:
        raise too_large(name, limit)
    return data
