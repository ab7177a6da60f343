"""The corpus's score: what was read right, asked, missed, and wrong while shown as certain."""

from gutterance.scoring.corpus import HELD, score_corpus
from gutterance.scoring.gold import Gold, GoldError, load_gold
from gutterance.scoring.marks import CorpusScore, Mark, Score, add_up
from gutterance.scoring.records import add_record, load_records
from gutterance.scoring.scorer import score_note
from gutterance.scoring.table import details, score_table, share_line

__all__ = [
    "HELD",
    "CorpusScore",
    "Gold",
    "GoldError",
    "Mark",
    "Score",
    "add_record",
    "add_up",
    "details",
    "load_gold",
    "load_records",
    "score_corpus",
    "score_note",
    "score_table",
    "share_line",
]
