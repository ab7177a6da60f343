"""Which folder each job of a day gets: named for its note, never two notes in one."""

from __future__ import annotations

import os
import unicodedata
from collections import defaultdict
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Mapping, Sequence

_LONGEST = 100
_WAYS: tuple[Callable[[Path], str], ...] = (
    lambda note: note.stem,
    lambda note: f"{note.resolve().parent.name}-{note.stem}",
    lambda note: f"{note.stem}-{note.suffix.lstrip('.')}",
    lambda note: f"{note.resolve().parent.name}-{note.stem}-{note.suffix.lstrip('.')}",
)
"""Names for a note, plainest first; a further one is taken where several notes would bear the one before."""


def day_folders(
    notes: Sequence[str], out: Path, known: Mapping[str, str], reserved: Collection[str] = ()
) -> dict[str, str]:
    """Each note with the name of its folder in `out`.

    `known` are the folders that are there, each with its note as a path from `out`: a note seen before keeps
    its folder, and no other gets it. Names that differ in capitals alone are one, as they are on some disks.
    """
    had = {note: folder for folder, note in known.items()}
    used = {_key(one) for one in (*known, *reserved)}
    folders: dict[str, str] = {}
    new: dict[str, list[str]] = defaultdict(list)
    for note in notes:
        if (kept := had.get(path_from(out, note))) is not None:
            folders[note] = kept
        else:
            new[_key(_name(Path(note), _WAYS[0]))].append(note)
    for same in new.values():
        ways = [[_name(Path(note), way) for note in same] for way in _WAYS]
        apart = [names for names in ways if len({_key(name) for name in names}) == len(names)]
        free = [names for names in apart if not used & {_key(name) for name in names}]
        for note, name in zip(same, (free or apart or ways)[0], strict=True):
            folders[note] = _numbered(name, used)
            used.add(_key(folders[note]))
    return {note: folders[note] for note in notes}


def path_from(folder: Path, note: str) -> str:
    """The note's path as seen from a folder; on another drive, its whole path."""
    try:
        return Path(os.path.relpath(os.path.realpath(note), os.path.realpath(folder))).as_posix()
    except ValueError:
        return Path(os.path.realpath(note)).as_posix()


def _name(note: Path, way: Callable[[Path], str]) -> str:
    """A name for a folder: no dot or blank at its ends, no sign that cannot be shown, not too long."""
    shown = "".join("_" if unicodedata.category(one) in ("Cc", "Cf") else one for one in way(note))
    return shown.strip(" .-")[:_LONGEST].rstrip(" .") or "note"


def _key(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold()


def _numbered(name: str, used: Collection[str]) -> str:
    number = 1
    numbered = name
    while _key(numbered) in used:
        number += 1
        numbered = f"{name}-{number}"
    return numbered
