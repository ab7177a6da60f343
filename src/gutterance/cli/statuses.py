"""How a command ends: the one list of exit statuses. `docs/commands.md` and every `--help` show it."""

from __future__ import annotations

from enum import IntEnum


class ExitStatus(IntEnum):
    """What the shell is told. Each member's `meaning` is what help and docs print."""

    DONE = 0
    DEFECT = 1
    UNUSABLE = 2
    ON_HOLD = 3
    STOPPED = 130

    @property
    def meaning(self) -> str:
        """The status in words."""
        return _MEANINGS[self]


_MEANINGS = {
    ExitStatus.DONE: "done",
    ExitStatus.ON_HOLD: "done, but something is on hold until a question is answered",
    ExitStatus.UNUSABLE: "unusable input or call; the message says how to mend it",
    ExitStatus.DEFECT: "a defect of gutterance's own",
    ExitStatus.STOPPED: "stopped from the keyboard (Ctrl-C)",
}


def statuses_text() -> str:
    """The statuses as a small table, in the order a reader needs them.

    >>> print(statuses_text().splitlines()[0])
      0    done
    """
    return "\n".join(f"  {status.value:<4} {status.meaning}" for status in _MEANINGS)
