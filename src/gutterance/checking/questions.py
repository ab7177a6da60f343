"""The open questions: what to ask next, each once, in the fewest words, first what frees the most pieces."""

from __future__ import annotations

from collections import Counter, defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING

from pydantic import Field

from gutterance.checking.findings import HOLDING, Suggestion
from gutterance.checking.house import House
from gutterance.checking.wording import listed, of_run, short_pipe, unit_words
from gutterance.sheet.models import Model, Sheet, Source

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.checking.findings import Finding


class Question(Model):
    """One question. `about` are the sheet paths its answer settles, `holds` what waits for it."""

    text: str
    about: list[str]
    codes: list[str]
    holds: list[str]
    suggests: list[Suggestion] = Field(default_factory=list)
    source: list[Source] = Field(default_factory=list)


def open_questions(sheet: Sheet, findings: Iterable[Finding]) -> list[Question]:
    """The questions that findings of a holding kind leave open.

    Questions in the same words are one. A height or a wall to fascia missing at several downpipes is one
    question, and so are both ends of one run. The order: a run or pipe that waits for one question only
    counts 1 to it; one that waits for three counts a third to each; the question with most comes first,
    then the shorter.
    """
    house = House(sheet)
    grouped: dict[str, list[Finding]] = defaultdict(list)
    for found in findings:
        if found.kind in HOLDING and found.question:
            grouped[_group(found)].append(found)
    questions = [_ask(several, house) for several in grouped.values()]
    waits = Counter(path for question in questions for path in question.holds)
    weight = {
        id(question): sum(Fraction(1, waits[path]) for path in question.holds) for question in questions
    }
    return sorted(questions, key=lambda question: (-weight[id(question)], len(question.text), question.text))


_TOGETHER = frozenset({"height-missing", "wall-to-fascia-missing"})


def _group(found: Finding) -> str:
    if found.code in _TOGETHER:
        return found.code
    if found.code == "end-missing" and "What is at the" in (found.question or ""):
        return f"{found.code} {found.about.rpartition('.')[0]}"
    return found.question or ""


def _ask(several: list[Finding], house: House) -> Question:
    first = several[0]
    suggests = {(offer.value, offer.why): offer for found in several for offer in found.suggests}
    return Question(
        text=_text(several, house),
        about=list(dict.fromkeys(found.about for found in several)),
        codes=list(dict.fromkeys(found.code for found in several)),
        holds=list(dict.fromkeys(path for found in several for path in found.holds)),
        suggests=list(suggests.values()),
        source=[words for found in several for words in found.source] if len(several) > 1 else first.source,
    )


def _text(several: list[Finding], house: House) -> str:
    first = several[0]
    if len(several) > 1 and first.code == "end-missing":
        run = house.run(first.about.removeprefix("runs.").rpartition(".")[0])
        if (
            run is not None
            and _group(first) != first.question
            and len({found.about for found in several}) > 1
        ):
            return f"What is at each end of {of_run(run)}: outside corner, inside corner, end cap or wall?"
    if len(several) > 1 and first.code in _TOGETHER:
        pipes = {f"downpipes.{pipe.id}": pipe for pipe in house.sheet.downpipes}
        held = dict.fromkeys(path for found in several for path in found.holds)
        names = listed([short_pipe(pipes[path], house) for path in held if path in pipes], 8)
        if first.code == "height-missing":
            return f"How high is each downpipe, outlet to end, {unit_words(house)}: {names}?"
        return f"Wall to fascia at each, {unit_words(house, inches_only=True)}: {names}?"
    return first.question or ""
