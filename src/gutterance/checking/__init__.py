"""Checking: gaps, conflicts, doubts and hazards on a field sheet, and the questions that settle them."""

from gutterance.checking.check import check_sheet
from gutterance.checking.findings import HOLDING, Finding, FindingKind, Suggestion
from gutterance.checking.questions import Question, open_questions

__all__ = [
    "HOLDING",
    "Finding",
    "FindingKind",
    "Question",
    "Suggestion",
    "check_sheet",
    "open_questions",
]
