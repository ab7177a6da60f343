"""The page of `read --explain`: the note with its words marked, and what each became and why.

One file that needs nothing else: no script, no font, no picture, nothing from another host (its policy says
so to the browser), and every word of the note escaped. Made for black and white, a telephone and paper:
what is doubtful or not understood bears a sign and a word, and no meaning rests on colour.
"""

from __future__ import annotations

import unicodedata
from html import escape
from typing import TYPE_CHECKING

from gutterance.render.explained import NAMED, REMARK, TITLE, UNREAD, seen_lines, wordless
from gutterance.sheet.values import CERTAIN

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.render.explained import Mark, SeenLine
    from gutterance.sheet.models import Sheet

MADE_BY = '<meta name="generator" content="gutterance read --explain">'
"""By this a page is known for one of ours, before it is written over."""

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"
_STYLE = """
:root { color-scheme: light }
* { box-sizing: border-box }
body { margin: 0 auto; max-width: 60rem; padding: 1rem; color: #000; background: #fff;
  font: 1rem/1.45 system-ui, "Liberation Sans", Arial, sans-serif }
h1 { font-size: 1.4rem; margin: 0 0 .3rem } h2 { font-size: 1.1rem; margin: 1.6rem 0 .4rem }
p { margin: .3rem 0 }
.key { display: flex; flex-wrap: wrap; gap: .2rem 1.2rem; padding: 0; margin: .6rem 0; list-style: none }
.line { border-top: 1px solid #000; padding: .5rem 0; break-inside: avoid }
.where { font-size: .8rem; color: #333 }
.note { font-size: 1.15rem; line-height: 2.1; white-space: pre-wrap; overflow-wrap: anywhere;
  margin: .1rem 0 }
.note mark { color: inherit; background: none; padding: .1rem .1rem; border-bottom: 2px solid #000 }
.note mark.name, .note mark.title { border-bottom: 2px dotted #000 }
.note mark.remark { border-bottom: 1px solid #777; font-style: italic }
.note mark.open { border: 2px dashed #000; border-radius: .3rem; font-weight: bold }
.note mark.unread { border: 3px solid #000; border-radius: .3rem; font-weight: bold }
.note mark.was { text-decoration: line-through }
.note sup { font-size: .65em; padding-left: .1em; white-space: nowrap; line-height: 0 }
table { border-collapse: collapse; width: 100%; font-size: .95rem }
td { padding: .15rem .6rem .15rem 0; vertical-align: top; overflow-wrap: anywhere }
td.n { width: 1.8rem; text-align: right; font-size: .8rem; padding-top: .3rem }
td.value { font-weight: bold } td.what { width: 34% } td.value { width: 16% } td.how { width: 14% }
tr.open td.how, tr.unread td.how { font-weight: bold }
.none { color: #333; font-size: .9rem }
@media (max-width: 36rem) {
  table, tbody, tr, td { display: block; width: auto }
  tr { position: relative; padding: .2rem 0 .2rem 1.9rem }
  td, td.what, td.value, td.how { display: inline; width: auto; padding: 0 .4rem 0 0 }
  td.n { position: absolute; left: 0; top: .2rem; width: 1.5rem }
  td.why { display: block; font-size: .9rem }
}
@media print { body { max-width: none; padding: 0; font-size: 10pt } .where { color: #000 } }
""".strip()

_KEY = (
    ("", "read", "words that a value came from"),
    ("name", "3 run", "words that name a run"),
    ("open", "?", "doubtful or missing: to be asked"),
    ("unread", "!", "a number that was not understood"),
    ("was", "*", "a value that was corrected"),
    ("remark", "remark", "kept as it was said"),
)


def explain_page(sheet: Sheet, name: str) -> str:
    """The page for a sheet that was read from the note called `name`."""
    return "\n".join(_page(sheet, name)) + "\n"


def _page(sheet: Sheet, name: str) -> Iterator[str]:
    title = _words(sheet.title or name)
    yield "<!DOCTYPE html>"
    yield '<html lang="en"><head><meta charset="utf-8">'
    yield f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield MADE_BY
    yield f"<title>What was read: {title}</title>"
    yield f"<style>{_STYLE}</style></head><body>"
    yield f"<h1>What was read: {title}</h1>"
    yield f"<p>{_counts(sheet)} From {_words(name)}.</p>"
    yield '<ul class="key">'
    for kind, sample, says in _KEY:
        yield f'<li><span class="note"><mark class="{kind}">{sample}</mark></span> {says}</li>'
    yield "</ul>"
    yield "<p>The small numbers lead from the words to what they became, below their line.</p>"
    for line in seen_lines(sheet):
        if line.text.strip():
            yield from _line(line)
    yield from _rest(sheet)
    yield "</body></html>"


def _counts(sheet: Sheet) -> str:
    statuses = [reading.status for _, reading in sheet.readings()]
    still = sum(status not in CERTAIN for status in statuses)
    told = [_many(len(statuses), "value"), f"{still} to be asked", f"{len(sheet.unread)} not understood"]
    if sheet.damage:
        told.append(f"{len(sheet.damage)} broken in the file")
    return f"{', '.join(told)}."


def _many(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _line(line: SeenLine) -> Iterator[str]:
    heard = f", heard at {line.heard}" if line.heard else ""
    yield f'<section class="line"><div class="where">{_words(line.where)}{heard}</div>'
    yield f'<p class="note">{"".join(_marked(line))}</p>'
    if line.marks:
        yield "<table><tbody>"
        for mark in line.marks:
            yield _row(mark)
        yield "</tbody></table>"
    else:
        yield '<p class="none">Nothing was taken from this line.</p>'
    yield "</section>"


def _marked(line: SeenLine) -> Iterator[str]:
    """The text of a line, each stretch with the marks that lie on it."""
    for stretch in line.stretches():
        text = _words(stretch.text)
        if not stretch.marks:
            yield text
            continue
        numbers = ",".join(f"{mark.number}{_sign(mark)}" for mark in stretch.closing)
        small = f"<sup>{numbers}</sup>" if numbers else ""
        yield f'<mark class="{strongest(stretch.marks)}">{text}</mark>{small}'


def _row(mark: Mark) -> str:
    what = escape("; ".join(mark.what))
    what = what[:1].upper() + what[1:]
    value = _words(mark.value)
    sign = f"{escape(mark.sign)} " if mark.sign else ""
    how = f"{sign}{mark.how.upper() if kind_of(mark) in ('open', 'unread') else mark.how}"
    cells = (("n", str(mark.number or "")), ("what", what), ("value", value), ("how", how))
    row = "".join(f'<td class="{name}">{text}</td>' for name, text in (*cells, ("why", _words(mark.why))))
    return f'<tr class="{kind_of(mark)}">{row}</tr>'


def _rest(sheet: Sheet) -> Iterator[str]:
    if without := wordless(sheet):
        yield "<h2>With no words of the note behind them</h2><table><tbody>"
        for mark in without:
            yield _row(mark)
        yield "</tbody></table>"
    if sheet.damage:
        yield "<h2>! Broken in the file, so words may be lost</h2><ul>"
        for one in sheet.damage:
            yield f"<li>{_words(f'{one.file}, line {one.line}: {one.what}: {one.mend}')}</li>"
        yield "</ul>"


def kind_of(mark: Mark) -> str:
    """The class of a mark: what it is drawn as."""
    if mark.how == UNREAD:
        return "unread"
    if mark.how.startswith(("doubtful", "missing")):
        return "open"
    return {NAMED: "name", TITLE: "title", REMARK: "remark", "was": "was"}.get(mark.how, "")


def strongest(marks: list[Mark]) -> str:
    """The class of words that several marks lie on: what most wants to be seen."""
    kinds = {kind_of(mark) for mark in marks}
    return next((kind for kind in ("unread", "open", "", "name", "title", "was") if kind in kinds), "remark")


def _sign(mark: Mark) -> str:
    return escape(mark.sign)


def _words(text: str) -> str:
    """Words of the note for the page: escaped, without control and direction signs."""
    return escape(
        "".join(
            " " if sign == "\t" else sign
            for sign in text
            if sign == "\t" or unicodedata.category(sign) not in ("Cc", "Cf", "Cs")
        )
    )
