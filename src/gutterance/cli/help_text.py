"""Writes the kept text of `gutterance --help`: `python -m gutterance.cli.help_text`.

A test holds the kept text against what the commands themselves would print.
"""

from __future__ import annotations

from pathlib import Path

KEPT = Path(__file__).with_name("help.txt")


def live_help() -> str:
    """What `gutterance --help` would print if it were not kept."""
    from typer.testing import CliRunner

    from gutterance.cli.app import app

    return CliRunner().invoke(app, ["--help"], prog_name="gutterance").output


if __name__ == "__main__":
    KEPT.write_text(live_help(), encoding="utf-8")
