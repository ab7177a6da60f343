"""`gutterance amend` and `history`: corrections kept beside the sheet, each with who, when and why."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from gutterance.cli.refusals import Refusal
from gutterance.jobs.given_values import given_value
from gutterance.jobs.telling import value_told
from gutterance.render.plain import harmless, heading, page, wrapped
from gutterance.sheet.amendments import Amendment, apply_amendments, standing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.sheet.models import Sheet


def now() -> str:
    """The time an amendment is made, with its offset, to the microsecond: so that their order stays told."""
    return datetime.now().astimezone().isoformat()


def amendment_of(sheet: Sheet, path: str, said: str, by: str, why: str) -> Amendment:
    """The amendment that puts what was `said` at `path`, on the sheet as it stands.

    Raises JobError, as the pages do: for a path that leads nowhere, with those most like it; for words that
    cannot stand there; and for words that themselves leave room.
    """
    given = given_value(sheet, path, said)
    return Amendment(path=path, value=given.value, by=by, when=now(), why=why, was=given.was, said=said)


def withdrawal_of(amendments: Sequence[Amendment], path: str, by: str, why: str, name: str) -> Amendment:
    """The withdrawal of the last amendment that stands at `path`. Raises Refusal where none does."""
    if not any(one.path == path for one in standing(amendments)):
        raise Refusal(f"{name} has no amendment of {path} to withdraw: `gutterance history` lists them")
    return Amendment(path=path, value=None, by=by, when=now(), why=why)


def told(one: Amendment) -> str:
    """An amendment in one line: `runs.back.length: 42' 6" (the note says nothing)`."""
    was = "the note says nothing" if one.was is None else f"the note says {value_told(one.was, one.path)}"
    return f"{one.path}: {value_told(one.value, one.path)} ({was})"


def history_text(sheet: Sheet, amendments: Sequence[Amendment], path: str | None) -> str:
    """Every amendment in its order, who, when and why; those withdrawn, and those that no longer fit."""
    lines = heading("HISTORY", sheet.title)
    shown = [one for one in amendments if path is None or one.path == path or one.path.startswith(f"{path}.")]
    if not shown:
        return page([*lines, "No amendments: everything stands as the note says it."])
    stand = {id(one) for one in standing(amendments)}
    odd = {id(one.amendment): one for one in apply_amendments(sheet, amendments).misfits}
    for one in shown:
        if one.value is None:
            lines += wrapped(f"{_when(one)}  {one.by}: withdraws the amendment of {one.path}", "", "    ")
        else:
            last = [other for other in shown if other.path == one.path and other.value is not None]
            state = (
                ""
                if last[-1] is one and id(one) in stand
                else "  (withdrawn)"
                if id(one) not in stand
                else "  (amended again since)"
            )
            was = "nothing" if one.was is None else value_told(one.was, one.path)
            says = f"{one.path}: {value_told(one.value, one.path)}, where the note says {was}{state}"
            lines += wrapped(f"{_when(one)}  {harmless(one.by)}: {says}", "", "    ")
            if one.said is not None and one.said != one.value:
                lines += wrapped(f"said: “{harmless(one.said)}”", "    ", "      ")
        if one.why:
            lines += wrapped(f"why: {harmless(one.why)}", "    ", "      ")
        if id(one) in odd:
            lines += wrapped("does not fit the sheet any more: see `gutterance check`", "    ", "      ")
    return page(lines)


def _when(one: Amendment) -> str:
    return one.when[:16].replace("T", " ")
