"""The pages on a PostgreSQL: the same server, the same answers; many phones, two servers, and a copy."""

from __future__ import annotations

import hashlib
import secrets
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING

import pytest
from office_server import OfficeServer, line_of

from gutterance.store import open_database
from gutterance.store import photos as photo_rows
from gutterance.store.copies import back_up
from gutterance.store.opening import FILE_NAME

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from postgres_server import PostgresServer

PHONES, LINES = 8, 12


@pytest.fixture(scope="module")
def url(postgres: PostgresServer) -> str:
    return postgres.fresh()


@pytest.fixture(scope="module")
def servers(url: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[OfficeServer]]:
    """Two servers of one office; the address with its password is given by the environment alone."""
    folder = tmp_path_factory.mktemp("two")
    environment = {"GUTTERANCE_DATABASE": url}
    started = [OfficeServer(folder / name, environment=environment).start() for name in ("one", "two")]
    yield started
    for one in started:
        one.stop()


def test_lines_of_many_phones_through_two_servers_are_each_there_once(servers: list[OfficeServer]) -> None:
    job = servers[0].started_job("4 Heron Row")

    def send(phone: int) -> list[tuple[str, int]]:
        given = []
        with servers[phone % 2].client() as client:
            for number in range(LINES):
                line = line_of(f"phone {phone} line {number} ½ 雨")
                answers = [client.post(f"/api/jobs/{job}/lines", json=line) for _ in range(2)]
                assert [one.status_code for one in answers] == [201, 200]
                given.append((line["id"], answers[0].json()["number"]))
        return given

    with ThreadPoolExecutor(PHONES) as pool:
        sent = [pair for pairs in pool.map(send, range(PHONES)) for pair in pairs]
    for server in servers:
        with server.client() as client:
            kept = client.get(f"/api/jobs/{job}/receipts").json()["receipts"]
        assert sorted((one["id"], one["number"]) for one in kept) == sorted(sent)
        assert [one["number"] for one in kept] == list(range(1, PHONES * LINES + 1))


def test_what_one_server_takes_the_other_reads_back(servers: list[OfficeServer]) -> None:
    job = servers[0].started_job("9 Sorrel Close", "Front 42-6 OSC both ends")
    with servers[1].client() as client:
        first = client.get(f"/api/jobs/{job}/read-back").json()
    with servers[0].client() as client:
        line = line_of("Left side 24")
        client.post(f"/api/jobs/{job}/lines", json=line)
        clash = client.post(f"/api/jobs/{job}/lines", json=line_of("Left side 42", id=line["id"]))
        client.post(f"/api/jobs/{job}/lines/{line['id']}/take-back", json={"id": "change-0001"})
    with servers[1].client() as client:
        after = client.get(f"/api/jobs/{job}/read-back").json()
        found = client.get("/api/jobs", params={"search": "FRONT sorrel"}).json()["jobs"]
    assert "42' 6\"" in first["lines"][0]["says"][0]
    assert clash.status_code == 409
    assert (after["revision"], len(after["lines"])) == (4, 1)
    assert [one["id"] for one in found] == [job]


def test_photos_and_a_copy_that_opens_as_a_folder(
    servers: list[OfficeServer], url: str, tmp_path: Path
) -> None:
    content = b"\xff\xd8\xff\xe0" + secrets.token_bytes(300_000)
    job = servers[0].started_job("2 Teal Mews", "Back 30 ft")
    asked = f"id=photo-0001&sha256={hashlib.sha256(content).hexdigest()}"
    with servers[0].client() as client:
        client.post(f"/api/jobs/{job}/photos?{asked}", content=content).raise_for_status()
    with servers[1].client() as client:
        assert client.get(f"/api/jobs/{job}/photos/photo-0001").content == content
    database = open_database(tmp_path / "unused", url)
    back_up(database, tmp_path / "copy" / FILE_NAME)
    database.close()
    copy = open_database(tmp_path / "copy")
    with copy.reading() as connection:
        assert photo_rows.photo_content(connection, "photo-0001") == content
    copy.close()


def test_a_day_s_copy_is_made_and_no_log_has_the_password(servers: list[OfficeServer], url: str) -> None:
    for server in servers:
        assert list((server.folder / "copies").glob("jobs-*.sqlite3"))
        assert url.split(":")[2].partition("@")[0] not in server.log.read_text()
