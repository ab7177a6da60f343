"""The `gutterance` command. Plain `--help` is answered from a kept text, before any heavy import."""

from __future__ import annotations

import os
import sys

HELP_FILE = os.path.join(os.path.dirname(__file__), "cli", "help.txt")


def main() -> int:
    """Run the command given on the command line; its exit status (`gutterance.cli.statuses`)."""
    if sys.argv[1:] in (["--help"], ["-h"], []):
        with open(HELP_FILE, encoding="utf-8") as kept:
            text = kept.read()
        try:
            sys.stdout.write(text)
            sys.stdout.flush()
        except BrokenPipeError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    from gutterance.cli.boundary import run

    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
