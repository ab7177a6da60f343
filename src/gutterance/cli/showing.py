"""Results to standard output, talk to standard error; colour on a terminal only."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING, Any

from gutterance.cli.refusals import Refusal
from gutterance.whole_files import what_to_do, write_files

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

# What the eye should find first on a terminal. The plain text says it in words, so nothing rests on colour.
_MARKS = (
    (r"ON HOLD|on hold|HOLD", "bold red"),
    (r"\b(?:doubtful|missing|unread|UNREAD|NOT READ)\b|\?$", "bold yellow"),
    (r"\b(?:assumed|inferred|corrected)\b", "cyan"),
    (r"^[A-Z][A-Z ]{3,}.*$", "bold"),
)


def show(*texts: str) -> None:
    """Print results, a blank line between; on a terminal with its marks in colour (NO_COLOR is obeyed)."""
    text = "\n".join(part.rstrip("\n") + "\n" for part in texts if part.strip())
    if sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb":
        from rich.console import Console
        from rich.text import Text

        shown = Text(text.rstrip("\n"))
        for pattern, style in _MARKS:
            shown.highlight_regex(f"(?m){pattern}", style)
        Console(highlight=False, soft_wrap=True).print(shown)
        return
    put(text)


def put(text: str) -> bool:
    """Write to standard output; False where its reader has had enough (`| head`), which is no failure."""
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        # the rest of the work is done all the same, and the exit status tells of it
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return False
    return True


def show_json(value: Any) -> None:
    """Print a plain value as JSON."""
    import json

    put(json.dumps(value, ensure_ascii=False, indent=1) + "\n")


def talk(*lines: str) -> None:
    """Say something that is no result."""
    for line in lines:
        print(line, file=sys.stderr)


def tell_files(files: Iterable[Path], folder: Path) -> None:
    """Say what was written where."""
    names = [file.name for file in files]
    talk(f"wrote {len(names)} files to {folder}: {', '.join(names)}")


def write_whole(path: Path, text: str) -> None:
    """Write a file whole or not at all: aside first, then put in place."""
    try:
        write_files({path: text.encode("utf-8", "replace")})
    except OSError as error:
        raise Refusal(f"{path} cannot be written: {what_to_do(error)}") from error
