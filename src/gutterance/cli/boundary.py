"""The one place where an error becomes a sentence and an exit status."""

from __future__ import annotations

import gc
import os
import sys
from typing import TYPE_CHECKING

from gutterance.cli.statuses import ExitStatus
from gutterance.whole_files import what_to_do

if TYPE_CHECKING:
    from collections.abc import Sequence

TRACEBACK = "--traceback"

# Errors that are the user's to mend, by where they are defined: looked up only if that module was loaded,
# so that the boundary itself stays light.
_EXPECTED = (
    ("gutterance.cli.refusals", "Refusal"),
    ("gutterance.notes.note", "NoteError"),
    ("gutterance.reading.lexicon", "LexiconError"),
    ("gutterance.scoring.gold", "GoldError"),
    ("gutterance.shop.loading", "ShopError"),
    ("gutterance.shop.prices", "PriceError"),
    ("gutterance.drainage.errors", "RainError"),
    ("gutterance.measure.rates", "RateError"),
    ("gutterance.store.errors", "StoreError"),
    ("gutterance.jobs.errors", "JobError"),
)


def run(args: Sequence[str]) -> int:
    """Run the command in `args`; its exit status. Every error ends here, as one sentence."""
    show_all = TRACEBACK in _before_double_dash(args)
    plain = _without_traceback(args)
    _let_any_text_out()
    # What a command makes at its start (modules, vocabularies) stays to its end: searching it for garbage
    # every 700 objects, as Python does, only costs waiting time. Memory stays bounded: it still looks.
    gc.set_threshold(1_000_000, 50, 50)
    try:
        status = _run_app(plain)
        sys.stdout.flush()
    except BrokenPipeError:
        # The reader of our output has what it wanted (`gutterance ... | head`): that is no failure.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return ExitStatus.DONE
    except KeyboardInterrupt:
        print("gutterance: stopped", file=sys.stderr)
        return ExitStatus.STOPPED
    except Exception as error:
        if show_all:
            _print_traceback(error)
        ends, says = told(error)
        more = f". Run it again with {TRACEBACK} and report what it prints"
        again = more if ends == ExitStatus.DEFECT and not show_all else ""
        if again or ends != ExitStatus.DEFECT:
            print(f"gutterance: {says}{again}", file=sys.stderr)
        return ends
    return status


def told(error: Exception) -> tuple[ExitStatus, str]:
    """An error as an exit status and a sentence for the user: what was wrong, where, and what to do."""
    if isinstance(error, RecursionError) or not isinstance(error, (OSError, *_expected())):
        says = f"a defect of ours ({type(error).__name__}: {error}). Your files are as they were"
        return ExitStatus.DEFECT, says
    if isinstance(error, OSError):
        where = f"{error.filename}: " if error.filename else ""
        return ExitStatus.UNUSABLE, f"{where}{what_to_do(error)}"
    return ExitStatus.UNUSABLE, str(error)


def _run_app(args: Sequence[str]) -> int:
    from gutterance.cli.app import app

    try:
        app(args=list(args), prog_name="gutterance")
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else ExitStatus.DONE
    return ExitStatus.DONE


def _print_traceback(error: BaseException) -> None:
    import traceback

    traceback.print_exception(error)


def _expected() -> tuple[type[BaseException], ...]:
    loaded = ((sys.modules.get(module), name) for module, name in _EXPECTED)
    return tuple(getattr(module, name) for module, name in loaded if module is not None)


def _before_double_dash(args: Sequence[str]) -> Sequence[str]:
    return args[: args.index("--")] if "--" in args else args


def _without_traceback(args: Sequence[str]) -> list[str]:
    head = _before_double_dash(args)
    return [arg for arg in head if arg != TRACEBACK] + list(args[len(head) :])


def _let_any_text_out() -> None:
    """A terminal that cannot show ½ must not stop the program: such a sign is shown as its code."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")
