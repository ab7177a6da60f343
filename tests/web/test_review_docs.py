"""What the docs tell of signs, keys and states is what the pages have."""

from __future__ import annotations

import re
from pathlib import Path

from gutterance.jobs.states import STATES
from gutterance.web.views.marks import KEY, READ

ROOT = Path(__file__).parents[2]
DOCS = (ROOT / "docs" / "review.md").read_text(encoding="utf-8")
WEB = ROOT / "src" / "gutterance" / "web"


def test_every_sign_is_told_with_its_word_and_meaning() -> None:
    rows = set(re.findall(r"^\| `([^`]+)` \| ([^|]+) \| ([^|]+) \|$", DOCS, re.MULTILINE))
    assert rows == {(mark.sign, mark.word, mark.says) for mark in KEY if mark is not READ}


def test_every_key_of_the_page_is_told_and_no_other() -> None:
    templates = (WEB / "templates" / "review.html").read_text() + "".join(
        path.read_text(encoding="utf-8") for path in (WEB / "templates" / "parts").glob("*.html")
    )
    printed = {one.upper() for one in re.findall(r'key\("(\w+)"\)', templates)}
    told = DOCS[DOCS.index("| key |") : DOCS.index("Keys do nothing")]
    keys = {one.upper() for one in re.findall(r"`(\w+)`", told)} - {"1", "9"}
    assert keys == printed
    bound = {one.upper() for one in re.findall(r'data-key="(\w)"', templates)}
    assert bound <= keys


def test_every_state_is_told() -> None:
    told = DOCS[DOCS.index("| state |") :]
    assert re.findall(r"^\| ([a-z ]+) \|", told, re.MULTILINE)[1:] == list(STATES)
