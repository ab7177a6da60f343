"""Pages from templates. Every value is escaped; no template has a script of its own."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.responses import HTMLResponse

from gutterance import __version__
from gutterance.render.plain import unbroken

if TYPE_CHECKING:
    from gutterance.jobs.office import Person

_TEMPLATES = Path(__file__).with_name("templates")


@cache
def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(_TEMPLATES), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    made.filters["clock"] = clock
    made.filters["unbroken"] = unbroken
    return made


def clock(moment: str | None) -> str:
    """A moment's day and time of day, UTC; pages show the reader's own time from its `time` element.

    >>> clock("2026-03-09T14:02:33.000000+00:00")
    '2026-03-09 14:02'
    """
    return "" if moment is None else moment[:16].replace("T", " ")


def page(template: str, who: Person | None, status: int = 200, **values: Any) -> HTMLResponse:
    """A page. Templates extend `base.html` and get `who` and `version` besides their values."""
    text = _environment().get_template(template).render(who=who, version=__version__, **values)
    return HTMLResponse(text, status_code=status)
