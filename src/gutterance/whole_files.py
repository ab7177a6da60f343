"""Files written whole or not at all: aside first, onto the disk, then renamed into their places.

Whatever stops it (a full disk, a folder that may not be written, a file open elsewhere, Ctrl-C), the files
that were there are there as they were, and nothing half written is left.
"""

from __future__ import annotations

import contextlib
import errno
import os
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping


_MENDS = {
    errno.ENOSPC: "make room, or give another place",
    errno.EDQUOT: "make room, or give another place",
    errno.EFBIG: "make room, or give another place",
    errno.EACCES: "give a place where you may write; if it is open in another program, close it there",
    errno.EPERM: "give a place where you may write; if it is open in another program, close it there",
    errno.EBUSY: "close it where it is open, or give another name",
    errno.EROFS: "give a place where you may write",
    errno.ENOENT: "make its folder first, or give another",
    errno.ENOTDIR: "a part of that path is a file: give another folder",
    errno.EISDIR: "a folder of that name is in its place: move it, or give another",
    errno.ENAMETOOLONG: "give a shorter name",
}


def write_files(files: Mapping[Path, bytes]) -> None:
    """Write files, all of them or none. Their folders must be there.

    Raises OSError that names the file which could not be written; every other is then as it was before.
    """
    # a link is written through, not put aside for a file
    wanted = {Path(os.path.realpath(path)): data for path, data in files.items()}
    called = {Path(os.path.realpath(path)): path for path in files}
    for path in wanted:
        if path.is_dir():
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(called[path]))
    aside = {path: _beside(path, f"{number}.new") for number, path in enumerate(wanted)}
    kept = {path: _beside(path, f"{number}.old") for number, path in enumerate(wanted)}
    placed: list[Path] = []
    try:
        for path, data in wanted.items():
            with _named(called[path]):
                _write_new(aside[path], data)
        for path in wanted:
            with _named(called[path]):
                # one file alone is replaced in one step: it needs no copy to go back to
                if len(wanted) > 1 and path.exists():
                    _keep(path, kept[path])
                placed.append(path)
                os.replace(aside[path], path)
    except BaseException:
        if len(wanted) > 1:
            for path in reversed(placed):
                _put_back(path, aside[path], kept[path])
        raise
    finally:
        for left in (*aside.values(), *kept.values()):
            with contextlib.suppress(OSError):
                left.unlink(missing_ok=True)


def what_to_do(error: OSError) -> str:
    """Why a file could not be written or read, and what to do about it, to follow its name.

    >>> what_to_do(OSError(errno.ENOSPC, "No space left on device"))
    'No space left on device: make room, or give another place'
    """
    reason = error.strerror or str(error)
    return f"{reason}: {_MENDS.get(error.errno or 0, 'check the name, the disk and your rights there')}"


def append_whole(path: Path, data: bytes, *, after: int | None = None) -> None:
    """Add to a file's end, and wait until it is on the disk; on failure the file is as it was.

    Where `after` [bytes] is given, what the file holds beyond it is cut off first. Raises OSError that names
    the file.
    """
    is_new = not path.exists()
    with _named(path), path.open("ab", buffering=0) as opened:
        before = os.fstat(opened.fileno()).st_size
        try:
            if after is not None:
                opened.truncate(after)
            _write_all(opened.fileno(), data)
            os.fsync(opened.fileno())
        except BaseException:
            with contextlib.suppress(OSError):
                opened.truncate(before if after is None else after)
            if is_new:
                with contextlib.suppress(OSError):
                    path.unlink()
            raise


def _beside(path: Path, ending: str) -> Path:
    """A name in the same folder, short whatever the file's own name is."""
    return path.with_name(f".gutterance-{os.getpid()}-{ending}")


def _write_new(path: Path, data: bytes) -> None:
    with path.open("wb", buffering=0) as opened:
        _write_all(opened.fileno(), data)
        os.fsync(opened.fileno())


def _write_all(descriptor: int, data: bytes) -> None:
    left = memoryview(data)
    while left:
        left = left[os.write(descriptor, left) :]


def _keep(path: Path, kept: Path) -> None:
    """A second name for a file, or a copy where the file system has no second names."""
    import shutil

    try:
        os.link(path, kept)
    except OSError:
        shutil.copy2(path, kept)


def _put_back(path: Path, aside: Path, kept: Path) -> None:
    with contextlib.suppress(OSError):
        if kept.exists():
            os.replace(kept, path)
        elif not aside.exists():
            path.unlink()


@contextmanager
def _named(path: Path) -> Iterator[None]:
    """Errors that name the file as the user knows it, not what was written aside."""
    try:
        yield
    except OSError as error:
        raise OSError(error.errno, error.strerror or str(error), str(path)) from error
