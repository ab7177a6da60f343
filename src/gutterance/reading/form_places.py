"""Answers given place by place: `400 house, 300 garage`, `front left, back 1.2 m in from the left`."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from gutterance.reading.places import PLACE_KINDS
from gutterance.reading.written_answers import Answer

if TYPE_CHECKING:
    from gutterance.reading.builder import RunDraft
    from gutterance.reading.paper import Paper

PARTS = re.compile(r"\s*(?:[,;]|\band\b)\s*", re.IGNORECASE)
"""What stands between the answers for one place and the next."""
HOUSE = re.compile(r"\b(?:house|main)\b", re.IGNORECASE)
"""The house itself, as against its garage."""
ALL = re.compile(r"\A\W*(?:all|everything|everywhere|each|every)\b", re.IGNORECASE)
"""An answer for all of them."""
BUT = re.compile(r"\b(?:bar|but|except(?: for)?|apart from|not)\b", re.IGNORECASE)
"""What leaves one place out."""


def names_places(answer: Answer, paper: Paper) -> bool:
    """Whether an answer tells of several places, or of one that is not the run in focus."""
    named = [item for item in answer.items if item.kind in PLACE_KINDS]
    if BUT.search(answer.text) and ALL.match(answer.text) and named:
        return True
    places = len(named) + len(HOUSE.findall(answer.text))
    return (places > 0 and paper.run is None) or places > 1


def answer_by_place(what: str, answer: Answer, paper: Paper) -> None:
    """Put each part of an answer to the runs that it names; a part that names none goes to all."""
    but = BUT.search(answer.text) if ALL.match(answer.text) else None
    if but is not None:
        _all_but(what, answer, paper)
        return
    told: list[tuple[Answer, list[RunDraft]]] = []
    for part in answer.parts(PARTS):
        runs = _runs_of(part, paper, outlets=what == "outlet")
        if not runs and told and not (part.measures or part.of("ends at", "side", "lr")):
            continue
        told.append((part, runs))
    plain = all(not runs for _, runs in told)
    for part, runs in told:
        for run in runs or (_with_pipes(paper) if plain else []):
            _put(what, part, run, paper, doubtful=plain and len(told) > 1)


def _put(what: str, part: Answer, run: RunDraft, paper: Paper, *, doubtful: bool = False) -> None:
    paper.run = run
    paper.walk.outlets = []
    if doubtful:
        part.guessed = True
    if what == "outlet":
        for item in part.items:
            if item.kind == "direction":
                item.kind = "word"
        for outlet in [outlet for outlet in run.outlets if outlet.side is None]:
            outlet.ditto = False
    paper.put(what, part)


def _all_but(what: str, answer: Answer, paper: Paper) -> None:
    """`all to the drain bar the garage, that's a barrel`."""
    parts = answer.parts(
        re.compile(r"\s*(?:,|;|\b(?:bar|but|except(?: for)?|apart from)\b)\s*", re.IGNORECASE)
    )
    if len(parts) < 2:
        return
    left_out = _runs_of(parts[1], paper, outlets=False)
    for run in _with_pipes(paper):
        if run not in left_out:
            _put(what, parts[0], run, paper, doubtful=not left_out)
        elif len(parts) > 2:
            _put(what, parts[2], run, paper)


def _with_pipes(paper: Paper) -> list[RunDraft]:
    """The runs that have outlets."""
    return [run for run in paper.walk.runs if run.outlets]


def _runs_of(part: Answer, paper: Paper, *, outlets: bool) -> list[RunDraft]:
    """The runs that a part of an answer names: one, or all of the house or of the garage."""
    name, _ = paper.name_in(_only_places(part), measured=False)
    runs = paper.walk.runs
    if name is not None and (name.direction is not None or name.number is not None):
        exact = [run for run in runs if run.place == name]
        if exact or not outlets:
            return exact
        return [paper.focus(name, part)]
    if name is not None and name.part is not None and not name.own:
        return [run for run in runs if run.place.part == name.part and (run.outlets or outlets)]
    if HOUSE.search(part.text):
        return [run for run in runs if run.place.part is None and run.outlets]
    return []


def _only_places(part: Answer) -> Answer:
    """The words of an answer that name a place."""
    items = [item for item in part.items if item.kind in (*PLACE_KINDS, "lr", "quarter", "numbered")]
    return Answer(part.pieces if items else [(part.line, part.end, part.end)], items)
