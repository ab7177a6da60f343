"""Answers from the walk: given by the measurer to what is asked, and taken back."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from pydantic import BaseModel, Field

from gutterance.jobs import states, walk_answers
from gutterance.jobs.changing import Given
from gutterance.jobs.settling import Answer
from gutterance.web.people import Measurer, TheOffice

router = APIRouter(prefix="/api/jobs/{job_id}/answers", tags=["lines"])


class AnswerIn(BaseModel):
    """An answer to a question of the read-back: one of its `answers` by number, from 1, or words.

    `id` is made on the device; `revision` is that of the read-back; `about` are the question's paths.
    """

    id: str
    question: str
    offer: int | None = None
    value: str | None = Field(default=None, max_length=10_000)
    about: list[str] = Field(default_factory=list)
    revision: int


class TakenBackIn(BaseModel):
    """The id of the change, made on the device, so that a repeat changes nothing."""

    id: str


class AnswerReceiptOut(BaseModel):
    """The answer, or its taking back, is on the office's disk."""

    id: str
    revision: int


@router.post("")
def answer(office: TheOffice, who: Measurer, job_id: str, given: AnswerIn) -> AnswerReceiptOut:
    """Answer a question. 409 where somebody settled it since; 422 where the words leave it open."""
    answered = Answer(given.offer, given.value, None, tuple(given.about))
    revision = walk_answers.answer_question(
        office, job_id, given.question, answered, Given(given.id, given.revision), who
    )
    return _kept(office, job_id, given.id, revision)


@router.post("/{answer_id}/take-back")
def take_back(
    office: TheOffice, who: Measurer, job_id: str, answer_id: str, given: TakenBackIn
) -> AnswerReceiptOut:
    """Take an answer back: what it settled is open again."""
    revision = walk_answers.take_back_answer(office, job_id, answer_id, given.id, who)
    return _kept(office, job_id, given.id, revision)


def _kept(office: Any, job_id: str, change_id: str, revision: int) -> AnswerReceiptOut:
    states.keep_state(office, job_id)
    return AnswerReceiptOut(id=change_id, revision=revision)
