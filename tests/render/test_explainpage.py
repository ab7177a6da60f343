"""The page that shows what was read: every word of the note once, each mark led to its value, no way out."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gutterance.notes import decode_note, open_note
from gutterance.reading import read_note
from gutterance.render.explained import seen_lines
from gutterance.render.explainpage import explain_page

CORPUS = Path(__file__).parents[2] / "corpus"
NOTE = [
    "14 Quarry Lane",
    "Front 42-6 OSC both ends, drop left, w/f about 24, height 9-4, splash block",
    "no wait make the front 42-8",
    "Back 42-6 ate caps both ends, 17. Mind the power line",
]


class Seen(HTMLParser):
    """What a browser would see: the elements, the words of the note, the small numbers, the rows."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str | None]] = []
        self.notes: list[str] = []
        self.numbers: list[str] = []
        self.rows: list[str] = []
        self.inside: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += attrs
        if tag == "p" and ("class", "note") in attrs:
            self.notes.append("")
            self.inside.append("note")
        if tag == "sup":
            self.inside.append("sup")
        if tag == "tr":
            self.rows.append("")
            self.inside.append("tr")

    def handle_endtag(self, tag: str) -> None:
        if self.inside and tag == {"note": "p"}.get(self.inside[-1], self.inside[-1]):
            self.inside.pop()

    def handle_data(self, data: str) -> None:
        if not self.inside:
            return
        if self.inside[-1] == "note":
            self.notes[-1] += data
        elif self.inside[-1] == "sup":
            self.numbers.append(data)
        else:
            self.rows[-1] += f" {data}"


def page(lines: list[str]) -> Seen:
    return Seen(explain_page(read_note(lines), "note.txt"))


def test_the_note_stands_there_whole_and_each_number_leads_to_a_row() -> None:
    seen = page(NOTE)
    assert seen.notes == NOTE
    corrected = page(["Front 42-6 OSC both ends", "no wait make the front 42-8"])
    assert any("length of the front 42' 8\" * corrected" in row for row in corrected.rows)
    assert any("before it was corrected 42' 6\" * was" in row for row in seen.rows)
    assert any("! NOT UNDERSTOOD" in row for row in seen.rows)
    assert any("? DOUBTFUL" in row for row in seen.rows)
    assert any("remark" in row and "hazard" in row for row in seen.rows)
    for line in seen_lines(read_note(NOTE)):
        assert [mark.number for mark in line.marks] == list(range(1, len(line.marks) + 1))


def test_a_repair_is_told_by_sign_and_word() -> None:
    seen = page(["Front is forty two foot ate end caps both ends"])
    (row,) = [row for row in seen.rows if "length of the front" in row]
    assert "?«» DOUBTFUL, PUT RIGHT" in row
    assert "'ate' was taken for 8" in row


@pytest.mark.parametrize("name", ["captions-04.vtt", "corrections-01.txt", "typed-01.txt", "metric-01.txt"])
def test_every_value_and_unread_number_of_a_note_has_its_row(name: str) -> None:
    note = open_note(CORPUS / name)
    sheet = read_note(note)
    marks = [mark for line in seen_lines(sheet) for mark in line.marks]
    for one in sheet.unread:
        assert any(one.why == mark.why and mark.how == "not understood" for mark in marks)
    told = len([reading for _, reading in sheet.readings() if reading.source])
    assert sum(len(mark.what) for mark in marks if mark.how not in ("remark", "tells of a run")) >= told
    if name.endswith(".vtt"):
        assert "heard at 0:" in explain_page(sheet, name)


def test_damage_is_on_the_page() -> None:
    cut = b"WEBVTT\n\n00:01.000 --> 00:03.000\nFront 42-6 caps both ends\n\n00:04.000 --"
    assert "Broken in the file" in explain_page(read_note(decode_note(cut, "a.vtt")), "a.vtt")


HOSTILE = st.text(st.sampled_from("<>&\"'/ab=42-6 \u202e\x00\t"), max_size=60)
BAD = [
    "<script>alert(1)</script> front 42-6",
    'front 42-6 "><img src=x onerror=alert(1)>',
    "</style><b>back 9",
]


@given(st.lists(st.one_of(st.sampled_from(BAD), HOSTILE), max_size=4))
@settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))
def test_nothing_of_the_note_becomes_markup(lines: list[str]) -> None:
    sheet = read_note(lines)
    seen = Seen(explain_page(sheet, "<b>.txt"))
    assert seen.tags <= {
        "html", "head", "meta", "title", "style", "body", "h1", "h2", "p", "ul", "li", "span", "mark", "sup",
        "section", "div", "table", "tbody", "tr", "td",
    }  # fmt: skip
    assert not [name for name, _ in seen.attributes if name.startswith("on") or name in ("src", "href")]
    wanted = [re.sub("[\x00\u202e]", "", line).replace("\t", " ") for line in lines if line.strip()]
    assert seen.notes == wanted


def test_the_page_needs_no_other_host() -> None:
    whole = explain_page(read_note(NOTE), "note.txt")
    assert not re.search(r"https?:|//|@import|url\(|<script|<link", whole)
    assert "default-src 'none'" in whole
