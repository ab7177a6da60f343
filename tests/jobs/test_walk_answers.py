"""Answers from the walk: settled once, however often they are sent, and taken back in one step."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from offices import a_job, an_office, given

from gutterance.jobs.errors import NotThere, Unusable
from gutterance.jobs.listing import lists_of_job
from gutterance.jobs.office import Person
from gutterance.jobs.questions import question_id
from gutterance.jobs.reading_back import read_back
from gutterance.jobs.settling import Answer
from gutterance.jobs.walk_answers import ON_THE_WALK, answer_question, take_back_answer

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from gutterance.jobs.office import Office

MEASURER = Person("the phone", "measure")
FRONT = "Front 42-6 end caps both ends, drop left, w/f 24, height 9-4 to splash block"
OPEN_END = "Back 30-0, end cap left. Drop right, w/f 24, height 9-2 to splash block"
NO_OUTLET = "Back 30-0, end caps both ends"


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    opened = an_office(tmp_path)
    yield opened
    opened.database.close()


def asked(office: Office, job: str, about: str) -> str:
    questions = lists_of_job(office, job).questions
    return next(question_id(one) for one in questions if about in one.about)


def revision(office: Office, job: str) -> int:
    return lists_of_job(office, job).stands.job.revision


def test_the_read_back_has_the_ids_and_offers_that_answers_are_given_by(office: Office) -> None:
    job = a_job(office, FRONT, OPEN_END)
    told = read_back(office, job)["questions"]
    end = next(one for one in told if "runs.back.right_end" in one["about"])
    number = next(at for at, one in enumerate(end["answers"], start=1) if one["value"] == "end cap")
    answer_question(office, job, end["id"], Answer(offer=number), given(revision(office, job)), MEASURER)
    reading = lists_of_job(office, job).stands.sheet.reading_at("runs.back.right_end")
    assert reading is not None
    assert reading.value == "end cap"
    assert reading.by == "the phone"
    assert (reading.why or "").endswith(ON_THE_WALK)


def test_a_repeat_settles_nothing_twice_and_is_taken_back_in_one_step(office: Office) -> None:
    job = a_job(office, FRONT, OPEN_END)
    question, once = asked(office, job, "runs.back.right_end"), given(revision(office, job))
    first = answer_question(office, job, question, Answer(typed="end cap"), once, MEASURER)
    assert answer_question(office, job, question, Answer(typed="end cap"), once, MEASURER) == first
    back = take_back_answer(office, job, once.id, "change-back-1", MEASURER)
    assert take_back_answer(office, job, once.id, "change-back-1", MEASURER) == back
    assert asked(office, job, "runs.back.right_end") == question


def test_an_answer_that_adds_to_the_house_is_a_line_once_and_is_taken_back_as_one(office: Office) -> None:
    job = a_job(office, FRONT, NO_OUTLET)
    question, once = asked(office, job, "runs.back"), given(revision(office, job))
    words = Answer(typed="back drop right, w/f 24, height 9-2 to splash block")
    answer_question(office, job, question, words, once, MEASURER)
    answer_question(office, job, question, words, once, MEASURER)
    assert len(lists_of_job(office, job).stands.lines) == 3
    take_back_answer(office, job, once.id, "change-back-2", MEASURER)
    assert len(lists_of_job(office, job).stands.lines) == 2
    assert asked(office, job, "runs.back") == question


def test_what_is_no_answer_or_no_question_keeps_nothing(office: Office) -> None:
    job = a_job(office, FRONT, OPEN_END)
    before = revision(office, job)
    question = asked(office, job, "runs.back.right_end")
    with pytest.raises(Unusable, match="does not answer"):
        answer_question(office, job, question, Answer(typed="purple"), given(before), MEASURER)
    with pytest.raises(NotThere, match="settled or asks"):
        answer_question(office, job, "no-such-question", Answer(typed="wall"), given(before), MEASURER)
    with pytest.raises(NotThere, match="no such answer"):
        take_back_answer(office, job, "no-such-answer", "change-back-3", MEASURER)
    assert revision(office, job) == before
