"""Settling: a value put right, or a question answered, by somebody, with a reason, as events of the job.

The note stays as it was given. One decision is one revision, however many values it touches, and is undone in
one step.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from gutterance.checking.answering import settle_answer
from gutterance.checking.house import House
from gutterance.jobs.amending import AMENDED
from gutterance.jobs.changing import Change, Given, keep, refuse_stale, repeat_of
from gutterance.jobs.decisions import DECIDED, Decided
from gutterance.jobs.errors import NotThere, Unusable
from gutterance.jobs.given_values import GivenValue, given_value, note_says, the_place
from gutterance.jobs.identity import checked_id, sha256_of
from gutterance.jobs.job import row_of
from gutterance.jobs.listing import lists_of_job
from gutterance.jobs.note_lines import GivenLine, add_line
from gutterance.jobs.questions import finding_id, findings_behind, offers_of, question_id
from gutterance.jobs.telling import told_path
from gutterance.sheet.amendments import TAKEN_OUT
from gutterance.store import lines as line_rows

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking import Question
    from gutterance.jobs.listing import JobLists
    from gutterance.jobs.office import Office, Person

CONFIRMED = "confirmed as read"
IN_OFFICE = "settled in the office"


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer to a question: one of its offers by number (from 1), words typed, or a decision.

    The word `yes` confirms what is asked. `about` are the paths that the question was about when it was seen:
    where somebody else settled it meanwhile, they tell what became of it.
    """

    offer: int | None = None
    typed: str | None = None
    decided: Decided | None = None
    about: tuple[str, ...] = ()


def amend(office: Office, job_id: str, path: str, said: str, given: Given, person: Person) -> int:
    """Put what was `said` at `path`, as an amendment; the job's revision.

    Raises NotThere, Unusable for words that cannot stand there, and Stale where somebody changed the same
    value since `given.revision`.
    """
    stands = lists_of_job(office, job_id).stands
    value = given_value(stands.sheet, path, said, told_path(path, House(stands.sheet)))
    return keep(office, job_id, [_amendment(value, said, given.why or IN_OFFICE)], given, person)


def settle(office: Office, job_id: str, question: str, answer: Answer, given: Given, person: Person) -> int:
    """Settle the question of that id; the job's revision.

    Raises as `amend` does, Stale where somebody settled it since, and NotThere where it is open no more.
    """
    given = _told_apart(given, question, answer)
    with office.database.reading() as connection:
        repeated = repeat_of(connection, job_id, given)
        said = line_rows.line_row(connection, given.id)
        if repeated is None and said is not None and said["job_id"] == job_id:
            repeated = int(row_of(connection, job_id)["revision"])
    if repeated is not None:
        return repeated
    lists = lists_of_job(office, job_id)
    asked = next((one for one in lists.questions if question_id(one) == question), None)
    if asked is None:
        _tell_who_settled(office, job_id, answer, given)
        raise NotThere("that question is settled or asks for something else now", "look at what is open now")
    if answer.decided is not None:
        return keep(office, job_id, _decisions(asked, lists, answer.decided, given), given, person)
    if answer.offer is not None:
        return _take_offer(office, lists, asked, answer.offer, given, person)
    if not (answer.typed or "").strip():
        raise Unusable("nothing was answered", "press an offer, or type the value")
    return _answer_words(office, lists, asked, str(answer.typed), given, person)


def see(office: Office, job_id: str, finding: str, given: Given, person: Person) -> int:
    """Keep that somebody saw a finding which waits for no answer; the job's revision. Raises NotThere."""
    lists = lists_of_job(office, job_id)
    found = next((one for one in lists.findings if finding_id(one) == finding), None)
    if found is None:
        raise NotThere("that is told no more, or in other words now", "look at the list as it is now")
    change = Change("seen", path=found.about, before=found.says, after=finding, why=given.why)
    return keep(office, job_id, [change], given, person)


def _told_apart(given: Given, question: str, answer: Answer) -> Given:
    """The same with an id of its own for each answer: the question is gone once it is settled, so that a form
    sent again with another answer could not be told from a repeat, and would be dropped in silence."""
    words = "\n".join([question, str(answer.offer), str(answer.typed), str(answer.decided)])
    digest = sha256_of(words.encode("utf-8", "surrogatepass"))[:12]
    return replace(given, id=f"{checked_id(given.id, 'change')[:40]}-{digest}")


def _tell_who_settled(office: Office, job_id: str, answer: Answer, given: Given) -> None:
    """Raise Stale where the question is gone because somebody changed what it was about."""
    mine = [Change(AMENDED, path=path, said=answer.typed or answer.decided) for path in answer.about]
    with office.database.reading() as connection:
        refuse_stale(connection, job_id, mine, given)


def _take_offer(
    office: Office, lists: JobLists, asked: Question, number: int, given: Given, person: Person
) -> int:
    offers = offers_of(asked, lists.stands.sheet)
    if not 1 <= number <= len(offers):
        raise NotThere("that offer is there no more", "look at what is offered now")
    offer = offers[number - 1]
    why = given.why or offer.why or IN_OFFICE
    if not offer.changes:
        return _answer_words(office, lists, asked, offer.value, given, person)
    values = [_of_change(lists, one.path, one.value) for one in offer.changes]
    return keep(
        office, lists.stands.job.id, [_amendment(one, offer.value, why) for one in values], given, person
    )


def _answer_words(
    office: Office, lists: JobLists, asked: Question, typed: str, given: Given, person: Person
) -> int:
    """What the words settle: values; or, where they add something to the house, a line of the office's."""
    job_id = lists.stands.job.id
    settled = settle_answer(asked, typed, lists.stands.sheet)
    if settled is None and adds_to_house(asked):
        return _say(office, job_id, typed, given, person)
    if settled is None:
        raise Unusable(f"“{typed.strip()}” does not answer that", "say it as you would in a note")
    if settled.not_enough is not None:
        raise Unusable(settled.not_enough, "say it exactly")
    if settled.say is not None:
        return _say(office, job_id, settled.say, given, person)
    why = given.why or (CONFIRMED if typed.strip().lower() == "yes" else IN_OFFICE)
    values = [_of_change(lists, one.path, one.value) for one in settled.changes]
    return keep(office, job_id, [_amendment(one, typed, why) for one in values], given, person)


def adds_to_house(asked: Question) -> bool:
    """Whether the answer tells of runs or outlets that the sheet has not: only words for the note can."""
    return any(code in _NEW_PARTS for code in asked.codes)


_NEW_PARTS = frozenset(
    {
        "no-runs",
        "run-missing",
        "outlet-missing",
        "outlets-not-said",
        "downpipes-not-said",
        "corner-unpartnered",
    }
)


def _say(office: Office, job_id: str, words: str, given: Given, person: Person) -> int:
    """Add a line to the note in the name of who settles, under the change's id: a repeat adds nothing."""
    line = GivenLine(given.id, words, sha256_of(words.encode("utf-8", "surrogatepass")))
    return add_line(office, job_id, line, person).revision


def _of_change(lists: JobLists, path: str, value: str) -> GivenValue:
    """A change as an offer holds it: its value is already as files hold it."""
    return GivenValue(path, value, value, "", note_says(the_place(lists.stands.sheet, path)))


def _amendment(value: GivenValue, said: str, why: str) -> Change:
    taken_out = value.value == TAKEN_OUT
    return Change(
        AMENDED,
        path=value.path,
        before=value.was,
        after=value.value,
        said=None if taken_out else said,
        why=why,
    )


def _decisions(asked: Question, lists: JobLists, decided: Decided, given: Given) -> Sequence[Change]:
    if decided not in DECIDED:
        raise Unusable(f"{decided!r} is no decision", f"say one of {', '.join(DECIDED)}")
    behind = findings_behind(asked, lists.findings)
    if decided == "stands":
        if not given.why:
            raise Unusable("to leave it as it stands needs a reason", "say why it is right as it is")
        if any(one.kind == "gap" for one in behind):
            raise Unusable("there is nothing yet that could stand", "give the value, or ask the crew")
    return [
        Change(decided, path=one.about, before=one.says, after=finding_id(one), why=given.why)
        for one in behind
    ]
