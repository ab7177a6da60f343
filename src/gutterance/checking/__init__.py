"""Checking: gaps, conflicts, doubts and hazards on a field sheet, and the questions that settle them."""

from gutterance.checking.check import check_sheet
from gutterance.checking.findings import HOLDING, Change, Finding, FindingKind, Suggestion
from gutterance.checking.inferring import closures, inferred_lengths, with_inferred_lengths
from gutterance.checking.questions import Question, open_questions
from gutterance.checking.standing import Standing, as_it_stands

__all__ = [
    "HOLDING",
    "Change",
    "Finding",
    "FindingKind",
    "Question",
    "Standing",
    "Suggestion",
    "as_it_stands",
    "check_sheet",
    "closures",
    "inferred_lengths",
    "open_questions",
    "with_inferred_lengths",
]
