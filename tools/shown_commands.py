"""Keeps the commands shown in README and docs true.

Every block fenced as `console` is run, line by line after `$ `, all of one page in one folder with the
examples in it, and what it prints is held against what the page shows.

    python tools/shown_commands.py           check; status 1 and a difference where a page is no longer true
    python tools/shown_commands.py --write   make the pages, the kept help and the schemas true
"""

from __future__ import annotations

import contextlib
import difflib
import io
import os
import re
import shlex
import shutil
import sys
import tempfile
from pathlib import Path

from gutterance.cli.boundary import run
from gutterance.cli.help_text import KEPT, live_help
from gutterance.cli.schemas import schema_text

ROOT = Path(__file__).parents[1]
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)
KINDS = ("sheet", "lists", "findings", "jobs")


def pages() -> list[Path]:
    """The pages that show commands."""
    return [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))]


def shown(command: str) -> str:
    """What a command prints, results first, then talk. Only `cat`, `ls` and `gutterance` are known."""
    program, *words = shlex.split(command)
    into = None
    if ">" in words:
        at = words.index(">")
        into, words = words[at + 1], words[:at]
    given = b""
    if "<" in words:
        at = words.index("<")
        given, words = Path(words[at + 1]).read_bytes(), words[:at]
    if program == "cat":
        return "".join(Path(word).read_text(encoding="utf-8") for word in words)
    if program == "ls":
        return "".join(f"{path.name}\n" for path in sorted(Path(words[0]).iterdir()))
    if program != "gutterance":
        raise ValueError(f"a page shows {command!r}, which cannot be run here: fence it as sh, not console")
    out, err = io.StringIO(), io.StringIO()
    before = sys.stdin
    sys.stdin = io.TextIOWrapper(io.BytesIO(given))
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            run(words)
    finally:
        sys.stdin = before
    if into is not None:
        Path(into).write_text(out.getvalue(), encoding="utf-8")
        return err.getvalue()
    return out.getvalue() + err.getvalue()


def true_block(block: str) -> str:
    """The block with each command's output as it is now."""
    commands = [line for line in block.splitlines() if line.startswith("$ ")]
    parts = []
    for command in commands:
        printed = "\n".join(line.rstrip() for line in shown(command[2:]).rstrip("\n").splitlines())
        parts.append(f"{command}\n{printed}\n" if printed else f"{command}\n")
    return "".join(parts)


def true_page(text: str) -> str:
    """The page with every console block as it is now."""
    here = Path.cwd()
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(ROOT / "examples", Path(folder) / "examples")
        os.chdir(folder)
        try:
            return BLOCK.sub(lambda found: f"```console\n{true_block(found[1])}```", text)
        finally:
            os.chdir(here)


def wanted() -> dict[Path, str]:
    """Every kept file, with what it should hold."""
    files = {page: true_page(page.read_text(encoding="utf-8")) for page in pages()}
    files[KEPT] = live_help()
    for kind in KINDS:
        files[ROOT / "docs" / "schema" / f"{kind}.schema.json"] = schema_text(kind)  # type: ignore[arg-type]
    return files


def main() -> int:
    """Check, or write with `--write`; the number of files that are not true decides the status."""
    stale = 0
    for path, text in wanted().items():
        kept = path.read_text(encoding="utf-8") if path.exists() else ""
        if kept == text:
            continue
        name = str(path.relative_to(ROOT))
        if "--write" in sys.argv[1:]:
            path.write_text(text, encoding="utf-8")
            print(f"wrote {name}")
            continue
        stale += 1
        difference = difflib.unified_diff(
            kept.splitlines(), text.splitlines(), f"{name} as kept", f"{name} as it is"
        )
        print("\n".join(list(difference)[:60]))
    if stale:
        print(f"{stale} files are not true any more; make them so: make docs")
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main())
