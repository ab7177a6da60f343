"""Lines over HTTP: a receipt for each, once, and both kept where an id has other words."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING

from office_server import error_of, line_of

if TYPE_CHECKING:
    from office_server import OfficeServer


def test_a_line_gets_a_receipt_and_a_repeat_gets_the_first(server: OfficeServer) -> None:
    job = server.started_job()
    line = line_of("Front 42-6 OSC both ends")
    with server.client() as client:
        first = client.post(f"/api/jobs/{job}/lines", json=line)
        again = client.post(f"/api/jobs/{job}/lines", json=line)
        kept = client.get(f"/api/jobs/{job}/receipts").json()["receipts"]
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json()["number"] == 1
    assert again.json()["received_at"] == first.json()["received_at"]
    assert [(one["id"], one["sha256"]) for one in kept] == [(line["id"], line["sha256"])]


def test_other_words_under_the_same_id_are_kept_beside_the_first(server: OfficeServer) -> None:
    job = server.started_job()
    line = line_of("Front 42-6")
    other = line_of("Front 46-2", id=line["id"])
    with server.client() as client:
        client.post(f"/api/jobs/{job}/lines", json=line)
        refused = client.post(f"/api/jobs/{job}/lines", json=other)
    assert refused.status_code == 409
    assert (error_of(refused)["ours"], error_of(refused)["yours"]) == ("Front 42-6", "Front 46-2")


def test_a_line_that_arrives_changed_is_not_kept(server: OfficeServer) -> None:
    job = server.started_job()
    line = line_of("Front 42-6") | {"sha256": hashlib.sha256(b"Front 42-7").hexdigest()}
    with server.client() as client:
        refused = client.post(f"/api/jobs/{job}/lines", json=line)
        assert refused.status_code == 422
        assert client.get(f"/api/jobs/{job}/receipts").json()["receipts"] == []
    assert "send it again" in error_of(refused)["next"].lower()


def test_a_line_is_read_back_with_what_is_open(server: OfficeServer) -> None:
    job = server.started_job("4 Heron Row", "Front 42-6 OSC both ends", "Left side 24")
    with server.client() as client:
        read = client.get(f"/api/jobs/{job}/read-back").json()
    assert read["revision"] == 2
    assert "42' 6\"" in read["lines"][0]["says"][0]
    assert read["counts"]["open"] == len(read["questions"]) > 0


def test_a_line_taken_back_is_read_no_more_and_stays(server: OfficeServer) -> None:
    job = server.started_job("4 Heron Row", "Front 42-6 OSC both ends")
    with server.client() as client:
        (kept,) = client.get(f"/api/jobs/{job}/receipts").json()["receipts"]
        path = f"/api/jobs/{job}/lines/{kept['id']}/take-back"
        assert client.post(path, json={"id": "change-0001"}).json() == {"revision": 2}
        assert client.post(path, json={"id": "change-0001"}).json() == {"revision": 2}
        assert client.get(f"/api/jobs/{job}/read-back").json()["lines"] == []
        (after,) = client.get(f"/api/jobs/{job}/receipts").json()["receipts"]
    assert after["taken_back_at"]
