"""The API's description and its page: every route is on both, and every reference in it leads somewhere."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

from gutterance.web.api_page import operations

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from office_server import OfficeServer
    from playwright.sync_api import Page

CONTRACT = """
GET /api/jobs; POST /api/jobs; GET /api/jobs/{job_id}; GET /api/jobs/{job_id}/receipts
POST /api/jobs/{job_id}/lines; POST /api/jobs/{job_id}/lines/{line_id}/take-back
GET /api/jobs/{job_id}/read-back; GET /api/jobs/{job_id}/sheet; GET /api/jobs/{job_id}/findings
POST /api/jobs/{job_id}/photos; GET /api/jobs/{job_id}/photos/{photo_id}
GET /api/jobs/{job_id}/lists; GET /api/jobs/{job_id}/history; POST /api/jobs/{job_id}/amendments
POST /api/jobs/{job_id}/settlements; POST /api/jobs/{job_id}/undo; POST /api/jobs/{job_id}/ticks
POST /api/read-value; POST /api/pair; GET /api/devices; POST /api/devices/codes
POST /api/devices/{device_id}/drop; POST /api/jobs/{job_id}/copy; POST /api/jobs/{job_id}/archive
POST /api/jobs/{job_id}/unarchive; GET /api/jobs/{job_id}/file; POST /api/jobs/file
"""


def references(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        if isinstance(value.get("$ref"), str):
            yield value["$ref"]
        for inner in value.values():
            yield from references(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from references(inner)


def test_the_description_is_whole_and_has_the_contract(server: OfficeServer) -> None:
    with server.client() as client:
        told = client.get("/api/openapi.json").json()
    assert told["openapi"].startswith("3.1")
    listed = {f"{one.method} {one.path}" for several in operations(told).values() for one in several}
    assert {one.strip() for one in re.split(r"[;\n]", CONTRACT) if one.strip()} <= listed
    for reference in set(references(told)):
        here = told
        for part in reference.removeprefix("#/").split("/"):
            here = here[part]
    ids = re.findall(r'"operationId": "([^"]+)"', json.dumps(told))
    assert len(ids) == len(set(ids)) == len(listed)


def test_every_operation_is_on_the_page_in_words(
    server: OfficeServer, desk: Page, axe: Callable[[Page], list[str]], look: Callable[[Page, str], None]
) -> None:
    with server.client() as client:
        told = client.get("/api/openapi.json").json()
    desk.goto(f"{server.url}/api")
    shown = desk.locator("article.operation h3").all_inner_texts()
    groups = operations(told)
    assert shown == [f"{one.method} {one.path}" for several in groups.values() for one in several]
    for several in groups.values():
        for one in several:
            assert len(one.says.split()) > 1, one.path
            words = desk.locator(f"[id='{one.id}']").inner_text()
            for field in (*one.takes, *one.body, *one.gives):
                assert field.name in words, (one.path, field.name)
    look(desk, "api-desk")
    assert axe(desk) == []
