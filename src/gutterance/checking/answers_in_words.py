"""Answers that are no value: that a number is none of the job's, that there is no gutter, where an outlet is,
which run was meant. What adds something to the house becomes words for the note.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from gutterance.checking.findings import Change
from gutterance.checking.house import House, run_path
from gutterance.checking.joints import find_joints
from gutterance.checking.places import position, side_name
from gutterance.checking.settled import Settled
from gutterance.checking.wording import listed, of_run
from gutterance.reading import read_note
from gutterance.reading.answers import read_answer
from gutterance.reading.kept_pipes import emptied_into
from gutterance.sheet.amendments import TAKEN_OUT, file_value

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.checking.joints import MissingRun
    from gutterance.checking.questions import Question
    from gutterance.reading.answers import Answer
    from gutterance.sheet.models import Sheet

_NOTHING = re.compile(
    r"\W*(?:no|none|nothing|ignore|skip|scrap|forget|strike|leave|not\s+(?:a\s+)?(?:measure\w*|gutter\w*|ours)"
    r"|no\s+measure\w*)\b[^\d]*\Z"
    r"|\W*(?:it'?s\s+|that'?s\s+)?(?:the\s+|a\s+|an\s+|my\s+|our\s+|his\s+|her\s+|their\s+)?(?:\w+\s+){0,2}"
    r"(?:number|no|phone|address|date|time|price|age|code|ref|reference|order|job|model|door|lot|unit|year)\W*\Z",
    re.IGNORECASE,
)
"""Answers that say a number is no measurement: `nothing`, `a job number`, `the phone`, `her house number`."""
_NO_GUTTER = re.compile(
    r"\W*(?:no|none|nope|nothing|there(?:'s| is) none|no gutter.*|not there|gable)\W*\Z", re.IGNORECASE
)
_ENDS_THERE = re.compile(
    r"\W*(?:no(?:thing| more| gutter| more gutter)?"
    r"|(?:it |that )?(?:just )?(?:ends?|stops?)(?: (?:there|here))?)\W*\Z",
    re.IGNORECASE,
)
_NEAR = 24
"""By how much [in] a bare number may differ from what the other walls tell, and still be of that side."""
_THE_SAME = re.compile(r"\b(?:overall|same|twice|over again|total|whole)\b", re.IGNORECASE)
_ITS_OWN = re.compile(r"\bown\b", re.IGNORECASE)
NO_PIPE = "no downpipe"
_NO_PIPE = re.compile(
    r"\W*(?:no(?:ne|pe|thing)?|not wanted|without)"
    r"(?:[\s,]+(?:new|wanted|needed|there|at all"
    r"|(?:down ?)?(?:pipes?|spouts?)|leaders?)\b)*\W*\Z",
    re.IGNORECASE,
)
_OLD_ONE = re.compile(
    r"\W*(?:the |an? |its )?(?:old|existing)(?: \w+)?(?: (?:stays?|there))?\W*\Z", re.IGNORECASE
)
_THERE_ALREADY = re.compile(r"\b(?:already|existing|there|neighbou?r'?s?)\b", re.IGNORECASE)


def _what_it_is(question: Question, text: str, _: Sheet) -> Settled | None:
    """What a number is that was not understood: none of the job's, or told again with its run (for the note).

    Either way the words that were not understood are settled, and are asked about no more.
    """
    settled = tuple(Change(path=path, value=TAKEN_OUT) for path in question.about)
    if _NOTHING.match(text):
        return Settled(settled)
    if tells_of_runs(text):
        return Settled(settled, say=text)
    return None


def _missing_run(question: Question, text: str, sheet: Sheet) -> Settled | None:
    """The length of a side that nobody told, as words for the note with the corners that lead to it; or that
    it has no gutter, which leaves open what those corners are."""
    house = House(sheet)
    missing = next(
        (
            one
            for one in find_joints(house).missing
            if {run_path(sheet.runs[run]) for run in one.beside} == set(question.holds)
        ),
        None,
    )
    if missing is None:
        return None
    if _NO_GUTTER.match(text):
        corners = listed([of_run(sheet.runs[run]) for run in missing.beside])
        return Settled(
            not_enough=f"then what is at that end of {corners}: end cap or wall? Say it with the run"
        )
    said = re.sub(rf"\A\s*(?:the\s+)?{re.escape(missing.name)}\b", "", text, flags=re.IGNORECASE).strip()
    answers = read_answer(said, ["runs.new.length"], metric=house.metric)
    if not answers or answers[0].reading.status != "read":
        return None
    if said == text.strip() and not _near_what_closes(question, answers[0], missing, house):
        return None  # the other walls tell how long it is: that number is of something else
    ends = ", ".join(f"{side} end {corner}" for side, corner in _corners_to(missing, house))
    return Settled(say=f"{missing.name} {said}, {ends}")


def _near_what_closes(question: Question, told: Answer, missing: MissingRun, house: House) -> bool:
    """Whether a length is about what the other walls tell, where they do tell it."""
    for offer in question.suggests:
        value = offer.value.removeprefix(missing.name)
        for one in read_answer(value, ["runs.new.length"], metric=house.metric):
            if abs(told.reading.value.inches - one.reading.value.inches) > _NEAR:  # type: ignore[union-attr]
                return False
    return True


def _corners_to(missing: MissingRun, house: House) -> list[tuple[str, str]]:
    """The ends of a side that nobody told, by the corners of the runs that lead to it."""
    ends: list[tuple[str, str]] = []
    for run in missing.beside:
        part = house.sheet.runs[run]
        at = position(part)
        before = at is not None and missing.name == side_name(at.turn + 1, at.compass, at.building)
        reading = part.right_end if before else part.left_end
        if reading is not None and reading.value is not None:
            ends.append(("left" if before else "right", reading.value))
    return ends


def tells_of_runs(text: str) -> bool:
    """Whether the words, read by themselves, measure a run or a pipe: then they are no bare answer."""
    alone = read_note([text])
    named = {run.name for run in alone.runs if run.length is not None and run.length.value is not None}
    return bool(named) or any(pipe.height or pipe.wall_to_fascia for pipe in alone.downpipes)


def _new_outlet(question: Question, text: str, sheet: Sheet) -> Settled | None:
    """Where the outlet is that a run has not: words for the note, since they add something to the house."""
    run = House(sheet).run(question.about[0].removeprefix("runs."))
    if run is None or len(question.holds) != 1 or not read_answer(text, ["outlets.new.place"]):
        return None
    return Settled(say=f"{run.name}: drop {text.strip()}")


def _outlets_told(_: Question, text: str, sheet: Sheet) -> Settled | None:
    """`front left and back right`: the outlets of a house of which none was told, as words for the note."""
    alone = read_note([*sheet.note, f"Drop {text}"])
    known = {run.id for run in sheet.runs}
    if not alone.outlets or any(outlet.run not in known or outlet.from_ is None for outlet in alone.outlets):
        return None
    return Settled(say=f"Drop {text}") if len(alone.unread) <= len(sheet.unread) else None


def _pipe_of_outlet(question: Question, text: str, sheet: Sheet) -> Settled | None:
    """`w/f 24, height 9-4`: the downpipe of an outlet that has none, as words for the note; or what takes its
    water in place of one (`the old pipe`, `a rain chain`, `nothing`)."""
    outlet = sheet.outlet(question.about[0].removeprefix("outlets."))
    run = None if outlet is None else sheet.run(outlet.run)
    into = _into_instead(text)
    if outlet is not None and into is not None:
        return Settled((Change(path=f"outlets.{outlet.id}.into", value=into),))
    if outlet is None or run is None or outlet.from_ is None or outlet.distance is not None:
        return None
    alone = read_note([f"Front 40-0 end caps both ends, drop {outlet.from_}, {text}"])
    told = [pipe for pipe in alone.downpipes if pipe.height is not None and pipe.wall_to_fascia is not None]
    if len(told) != 1 or alone.unread or len(alone.runs) != 1:
        return None
    return Settled(say=f"{run.name}: drop {outlet.from_}, {text.strip()}")


def _no_pipes(_: Question, text: str, sheet: Sheet) -> Settled | None:
    """That no downpipe is wanted at any outlet, or that the old ones stay."""
    into = _into_instead(text)
    if into is None:
        return None
    return Settled(tuple(Change(path=f"outlets.{outlet.id}.into", value=into) for outlet in sheet.outlets))


def _into_instead(text: str) -> str | None:
    """What takes the water in place of a new downpipe, as an answer says it."""
    if _NO_PIPE.match(text):
        return NO_PIPE
    return "existing downpipe" if _OLD_ONE.match(text) else emptied_into(text)


def _outlet_meant(question: Question, text: str, sheet: Sheet) -> Settled | None:
    """`front left`: the outlet of that run at that end, for a pipe that comes from none."""
    words = _plain(text)
    found = [
        outlet
        for outlet in sheet.outlets
        if (run := sheet.run(outlet.run)) is not None
        and words
        in (_plain(outlet.id), f"{_plain(run.name)} {outlet.from_}", f"{_plain(run.id)} {outlet.from_}")
    ]
    return Settled((Change(path=question.about[0], value=found[0].id),)) if len(found) == 1 else None


def _run_meant(question: Question, text: str, sheet: Sheet) -> Settled | None:
    """The run of that name."""
    words = _plain(text)
    found = [run for run in sheet.runs if words in (_plain(run.id), _plain(run.name))]
    return Settled((Change(path=question.about[0], value=found[0].id),)) if len(found) == 1 else None


def _plain(text: str) -> str:
    words = re.findall(r"[a-z0-9]+", text.lower())
    return " ".join(word for word in words if word not in ("the", "on", "at", "end", "of", "one"))


def _beyond_the_corner(question: Question, text: str, _: Sheet) -> Settled | None:
    """That a run ends where a corner was told: not enough, since a piece is cut for a cap or for a wall."""
    del question
    if _ENDS_THERE.match(text):
        return Settled(not_enough="at an end cap, or against a wall? Say which")
    return None


def _overall_or_own(question: Question, text: str, sheet: Sheet) -> Settled | None:
    """Whether a side told whole is its parts over again, or gutter of its own."""
    if _ITS_OWN.search(text):
        path = f"{question.about[0]}.length"
        reading = sheet.reading_at(path)
        if reading is not None and reading.value is not None:
            return Settled((Change(path=path, value=file_value(reading.value)),))
    elif _THE_SAME.search(text) and question.suggests:
        return Settled(tuple(question.suggests[0].changes))
    return None


def _lower_gutter(question: Question, text: str, sheet: Sheet) -> Settled | None:
    """That the gutter below hangs there already: the pipe ends on it, as told."""
    reading = sheet.reading_at(question.about[0])
    if not _THERE_ALREADY.search(text) or reading is None or reading.value is None:
        return None
    return Settled((Change(path=question.about[0], value=file_value(reading.value)),))


IN_WORDS: Final[dict[str, Callable[[Question, str, Sheet], Settled | None]]] = {
    "unread-number": _what_it_is,
    "run-missing": _missing_run,
    "outlets-not-said": _outlets_told,
    "outlet-downpipe-missing": _pipe_of_outlet,
    "downpipes-not-said": _no_pipes,
    "downpipe-outlet-missing": _outlet_meant,
    "downpipe-outlet-unknown": _outlet_meant,
    "outlet-run-unknown": _run_meant,
    "next-run-unknown": _run_meant,
    "overall-against-parts": _overall_or_own,
    "lower-gutter-missing": _lower_gutter,
}
"""By its code: what settles a question that no bare value answers."""
IN_OTHER_WORDS: Final[dict[str, Callable[[Question, str, Sheet], Settled | None]]] = {
    "outlet-missing": _new_outlet,
    "corner-unpartnered": _beyond_the_corner,
}
"""By its code: what else settles a question that a value answers."""
