"""Notes are hostile text: on no page does a word of one become a script, an element, a header or a path."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from office_server import OfficeServer
    from playwright.sync_api import BrowserContext

RUN = "window.hostile=1;document.title='run'"
TITLE = f'<script>{RUN}</script>"\'><img src=x onerror="{RUN}">{{{{7*7}}}}{{% raw %}}../../etc\r\nX-Evil: 1'
NOTE = [
    "Front 42-6 OSC both ends, drop left, w/f 24, height 9-4",
    f"<script>{RUN}</script> back 42-6",
    f"left side <img src=x onerror=\"{RUN}\"> 24-0",
    f"right side </textarea></script><svg onload=\"{RUN}\"> 24-0 {{{{7*7}}}}",
    f"javascript:{RUN} garage <a href=\"javascript:{RUN}\">12-6</a>",
    "mind the <b>dog</b> \u202etxt.exe\u2066 and the \U0001f415 \x07\x1b[31m 7 ft",
    "colour '+alert(1)+' ; porch --><!-- 9-0 ]]> &lt;script&gt; \u2028\u2029",
]  # fmt: skip
PAGES = ["review", "capture", "lists", "crew", "history"]


@pytest.fixture(scope="module")
def job(server: OfficeServer) -> str:
    started = server.started_job(TITLE, *NOTE)
    with server.client() as client:
        found = client.get(f"/api/jobs/{started}/findings").json()
        about = next(one["about"] for one in found["findings"])
        why = {"id": "change-hostile", "revision": found["revision"], "why": NOTE[1]}
        client.post(f"/api/jobs/{started}/amendments", json={**why, "path": about, "value": NOTE[2]})
        good = {"path": "runs.front.length", "value": "43-0"}
        client.post(f"/api/jobs/{started}/amendments", json={**why, **good}).raise_for_status()
    return started


@pytest.mark.parametrize("page_name", PAGES)
def test_no_page_runs_or_draws_what_a_note_says(
    server: OfficeServer, job: str, new_context: Callable[..., BrowserContext], page_name: str
) -> None:
    page = new_context("desk").new_page()
    asked: list[str] = []
    page.on("dialog", lambda dialog: (asked.append(dialog.message), dialog.dismiss()))
    page.goto(f"{server.url}/jobs/{job}/{page_name}", wait_until="networkidle")
    assert page.evaluate("window.hostile") is None
    assert page.title() != "run"
    assert page.locator("img[src='x'], svg[onload], [onerror], a[href^='javascript']").count() == 0
    assert page.locator("b", has_text=re.compile("^dog$")).count() == 0
    assert page.locator("script:not([src])").count() == 0
    assert asked == []
    if page_name in ("review", "capture"):
        assert "<script>" in page.locator("main").inner_text()


def test_a_title_gives_no_header_and_no_path(server: OfficeServer, job: str) -> None:
    with server.client() as client:
        answers = [client.get(f"/api/jobs/{job}/file"), client.get(f"/jobs/{job}/plan.svg")]
        lists = client.get(f"/jobs/{job}/papers/cut-list.pdf")
    for answer in (*answers, lists):
        assert answer.status_code == 200
        assert "x-evil" not in answer.headers
        named = answer.headers.get("content-disposition", "")
        assert "/" not in named.partition("filename")[2]
        assert "\\" not in named
    assert "<script" not in answers[1].text
