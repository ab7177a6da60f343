"""Scores as text: a table per voice and per field, and the list of what went wrong."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from gutterance.scoring.marks import CorpusScore, Score, Sums

_HEAD = ("notes", "values", "right", "asked", "missed", "wrong", "needless", "silent")


def score_table(corpus: CorpusScore, *, before: Mapping[str, Any] | None = None) -> str:
    """The sums per voice and per field, then in all, with the change against the record `before`."""
    names = [*corpus.voices, *corpus.fields, "in all"]
    width = max(len(name) for name in names) + 2
    lines = [_row("by voice", _HEAD, width)]
    lines += [_row(name, _counts(sums), width) for name, sums in sorted(corpus.voices.items())]
    lines += ["", _row("by field", _HEAD, width)]
    lines += [_row(name, _counts(sums), width) for name, sums in sorted(corpus.fields.items())]
    lines += ["", _row("in all", _HEAD, width), _row("", _counts(corpus.total), width)]
    if before is not None:
        change = [int(corpus.total.as_dict()[name]) - int(before.get(name, 0)) for name in _HEAD]
        lines.append(
            _row("since last record", [f"{number:+d}" if number else "=" for number in change], width)
        )
    lines += ["", share_line(corpus.total)]
    return "\n".join(lines) + "\n"


def share_line(total: Sums) -> str:
    """The three figures that count, in one line."""
    values = total.values or 1
    return (
        f"read {100 * total.right / values:.2f} %, "
        f"read or asked {100 * (total.right + total.asked) / values:.2f} %, "
        f"wrong but shown as certain {total.wrong}, "
        f"needless questions a note {total.needless / (total.notes or 1):.2f}"
    )


def details(scores: Iterable[Score]) -> str:
    """Each value that was not right, with its note, path, gold and what the sheet has; worst first."""
    order = {"wrong": 0, "missed": 1, "asked": 2, "right": 3}
    rows = [(order[mark.outcome], score.note, mark) for score in scores for mark in score.marks]
    lines = []
    for _, note, mark in sorted(rows, key=lambda row: row[:2]):
        if mark.outcome == "right" and not mark.silent:
            continue
        word = (
            "silent" if mark.outcome == "right" else mark.outcome + (" (needless)" if mark.needless else "")
        )
        lines.append(
            f"{word:<17} {note}  {mark.path}: gold {mark.gold or 'nothing'}; got {mark.got or 'nothing'}"
        )
    lines += [f"{'idle question':<17} {score.note}  {words}" for score in scores for words in score.idle]
    return "\n".join(lines) + ("\n" if lines else "")


def _counts(sums: Sums) -> list[str]:
    return [str(sums.as_dict()[name]) for name in _HEAD]


def _row(name: str, cells: Iterable[str], width: int) -> str:
    return (name.ljust(width) + "".join(cell.rjust(9) for cell in cells)).rstrip()
