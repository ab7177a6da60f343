"""`gutterance ask`: the open questions on paper, and the closure of the walks."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from gutterance.checking.answering import LETTERS
from gutterance.render.plain import harmless, heading, page, wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking import Question

MOST_SHOWN = len(LETTERS)


def questions_text(questions: Sequence[Question], title: str | None) -> str:
    """The questions, numbered, first what frees the most; under each its offers and what it frees."""
    lines = heading("OPEN QUESTIONS", title)
    if not questions:
        return page([*lines, "None: nothing waits for an answer."])
    for number, question in enumerate(questions, start=1):
        lines += ["", *question_lines(number, question)]
    return page(lines)


def question_lines(number: int, question: Question) -> list[str]:
    """One question: what is asked, what it frees, and the answers offered, each by its letter."""
    lines = wrapped(harmless(question.text), f"{number:>3}  ", "     ")
    for letter, offer in zip(LETTERS, question.suggests, strict=False):
        lines += wrapped(f"({letter}) {harmless(offer.value)}: {harmless(offer.why)}", "     ", "         ")
    if question.holds:
        count = len(question.holds)
        lines += wrapped(f"frees {count}: {freed(question)}", "     ", "       ")
    return lines


def freed(question: Question, most: int = 8) -> str:
    """What waits for the question, by name."""
    names = [
        harmless(path).replace("runs.", "", 1).replace("downpipes.", "downpipe ", 1)
        for path in question.holds
    ]
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(names[:most]) + more


def questions_data(questions: Sequence[Question]) -> list[dict[str, Any]]:
    """The questions as plain data."""
    return [question.model_dump(mode="json", exclude_none=True) for question in questions]
