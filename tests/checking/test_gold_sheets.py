"""The checker against the corpus's gold: what a careful office person would ask, working from the note alone.

The gold is written by hand and knows nothing of this program. Each gold sheet is checked as if read
perfectly: next to nothing must be held that gold does not ask about, and what gold leaves open must be asked.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from gutterance.checking import HOLDING, as_it_stands, check_sheet
from gutterance.scoring.gold import Gold, gold_length
from gutterance.sheet.models import Sheet

CORPUS = Path(__file__).parents[2] / "corpus"
GOLD = sorted(CORPUS.glob("*.gold.json"))  # not held/: nobody who works on the program looks at those
LENGTH_FIELDS = {
    "length",
    "roof_run",
    "hanger_spacing",
    "gutter_size",
    "wall_to_fascia",
    "height",
    "distance",
}
NEEDLESS_AT_MOST = 0.02
"""The share of notes with nothing to ask in which something may be held all the same."""


def reading(field: str, value: Any) -> dict[str, Any]:
    return {"value": gold_length(value).file_text() if field in LENGTH_FIELDS else value}


def as_sheet(gold: Gold) -> Sheet:
    """The gold as a sheet in which everything was read and is sure."""
    defaults: dict[str, Any] = {}
    for field, value in gold.defaults.model_dump(exclude_none=True).items():
        defaults[field] = value if field == "units" else reading(field, value)
    runs = []
    for run_id, said in gold.runs.items():
        run: dict[str, Any] = {"id": run_id, "name": run_id.replace("-", " ")}
        for field, value in said.model_dump(exclude_none=True).items():
            run[field] = value if field in ("name", "storey", "next_run") else reading(field, value)
        runs.append(run)
    outlets: list[dict[str, Any]] = []
    free: dict[tuple[Any, ...], list[str]] = {}
    for number, at in enumerate(gold.outlets, start=1):
        outlet: dict[str, Any] = {"id": f"{at.run}-{number}", "run": at.run, "from": at.from_}
        if at.distance is not None:
            outlet["distance"] = reading("distance", at.distance)
        outlets.append(outlet)
        for place in ((at.run, at.from_, at.distance), (at.run, at.from_)):
            free.setdefault(place, []).append(outlet["id"])
    pipes = []
    for number, of in enumerate(gold.downpipes, start=1):
        named = free.get((of.run, of.from_, of.distance)) or free.get((of.run, of.from_)) or []
        outlet_id = named[0] if named else None
        if len(named) > 1:
            named.pop(0)
        pipe: dict[str, Any] = {"id": f"pipe-{number}", "outlet": outlet_id}
        for field, value in of.model_dump(exclude_none=True, exclude={"run", "from_", "distance"}).items():
            if field == "offsets":
                pipe[field] = [reading("height", one) for one in value]
            else:
                pipe[field] = reading(field, value)
        pipes.append(pipe)
    totals = [
        {
            "what": what,
            "value": {"value": value if isinstance(value, int) else gold_length(value).file_text()},
        }
        for what, value in gold.totals.items()
    ]
    remarks = [
        {
            "kind": "other",
            "about": run,
            "text": words,
            "source": {"line": 1, "start": 0, "end": 0, "text": ""},
        }
        for run, words in gold.said.items()
    ]
    return Sheet.model_validate(
        {
            "defaults": defaults,
            "runs": runs,
            "outlets": outlets,
            "downpipes": pipes,
            "totals": totals,
            "remarks": remarks,
        }
    )


def golds() -> list[tuple[str, Gold]]:
    return [(path.name, Gold.model_validate(json.loads(path.read_text(encoding="utf-8")))) for path in GOLD]


def test_a_sheet_with_nothing_to_ask_is_let_through() -> None:
    quiet = [(name, gold) for name, gold in golds() if not gold.ask]
    assert len(quiet) >= 20
    held = {
        name: [
            found.says
            for found in as_it_stands(as_sheet(gold)).findings
            if found.kind in HOLDING and found.holds
        ]
        for name, gold in quiet
    }
    needless = {name: says for name, says in held.items() if says}
    assert len(needless) <= NEEDLESS_AT_MOST * len(quiet), needless


@pytest.mark.parametrize(("name", "gold"), golds(), ids=lambda value: value if isinstance(value, str) else "")
def test_what_gold_leaves_open_is_asked(name: str, gold: Gold) -> None:
    """A length, an end, a wall to fascia or a height that gold asks for and has no value for."""
    sheet = as_sheet(gold)
    about = {found.about for found in check_sheet(sheet) if found.kind in HOLDING}
    for path in gold.ask:
        run = re.fullmatch(r"runs\.([a-z0-9-]+)\.(length|left_end|right_end)", path)
        if run and run[1] in gold.runs and getattr(gold.runs[run[1]], run[2]) is None:
            assert path in about, name
        pipe = re.fullmatch(r"downpipes\.([a-z0-9-]+)\.(left|right|centre)\.(wall_to_fascia|height)", path)
        if pipe:
            for number, one in enumerate(gold.downpipes, start=1):
                if (one.run, one.from_) == (pipe[1], pipe[2]) and getattr(one, pipe[3]) is None:
                    assert f"downpipes.pipe-{number}.{pipe[3]}" in about, name
