"""The `score` command's work."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from gutterance import __version__
from gutterance.cli.showing import show, show_json, talk
from gutterance.cli.statuses import ExitStatus
from gutterance.scoring import HELD, add_record, add_up, load_records, score_corpus, score_table, share_line
from gutterance.scoring import details as details_of


def run_score(corpus: str, *, details: bool, held: bool, record: bool, as_json: bool) -> ExitStatus:
    """Score a corpus and show it; ON_HOLD where a wrong value was shown as certain."""
    folder = Path(corpus)
    records = load_records(folder) if folder.is_dir() else []
    scores = list(score_corpus(folder))
    seen = add_up(scores)
    of_held = add_up(score_corpus(folder / HELD)) if held else None
    before = records[-1] if records else None
    if as_json:
        data: dict[str, object] = seen.as_dict()
        if of_held is not None:
            data["held"] = of_held.total.as_dict()
        if before is not None:
            data["before"] = before["total"]
        if details:
            data["marks"] = [
                {"note": score.note, "path": mark.path, "field": mark.field, "outcome": mark.outcome,
                 "gold": mark.gold, "got": mark.got, "needless": mark.needless, "silent": mark.silent}
                for score in scores
                for mark in score.marks
                if mark.outcome != "right" or mark.silent
            ]  # fmt: skip
        show_json(data)
    else:
        if details:
            show(details_of(scores))
        show(score_table(seen, before=before["total"] if before else None))
        if of_held is not None:
            show(f"held notes: {of_held.total.notes} notes, {of_held.total.values} values")
            show(f"held notes: {share_line(of_held.total)}")
    if record:
        add_record(folder, version=__version__, day=date.today().isoformat(), seen=seen, held=of_held)
        talk(f"recorded in {folder / 'scores.json'}")
    wrong = seen.total.wrong + (of_held.total.wrong if of_held else 0)
    return ExitStatus.ON_HOLD if wrong else ExitStatus.DONE
