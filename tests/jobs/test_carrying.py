"""A job carried out and in again: nothing of it lost, nothing of a hostile file taken."""

from __future__ import annotations

import io
import json
import zipfile
from typing import TYPE_CHECKING, Any

import pytest
from offices import ANA, CREW, JO, a_job, an_office, given

from gutterance.jobs.carrying import copy_job, export_job, import_job
from gutterance.jobs.errors import TooLarge, Unusable
from gutterance.jobs.identity import sha256_of
from gutterance.jobs.job import find_jobs, start_job, the_job
from gutterance.jobs.listing import lists_of_job
from gutterance.jobs.note_lines import take_back
from gutterance.jobs.photos import GivenPhoto, add_photo, photo, photos_of
from gutterance.jobs.settling import amend
from gutterance.jobs.shelving import archive, rename
from gutterance.jobs.states import keep_state, say_measured
from gutterance.jobs.ticking import tick, ticks_in
from gutterance.jobs.undoing import undo

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from postgres_server import PostgresServer

    from gutterance.jobs.office import Office

JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00" + bytes(range(256)) * 4
NOTE = (
    "Front 42-6 end caps both ends, drop left, w/f 24, height 9-4 to splash block",
    "Garage 20-0 end caps both ends\r\n, drop right 🏠, w/f 24, height 9-2",
    "said by mistake",
)


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    opened = an_office(tmp_path / "one")
    yield opened
    opened.database.close()


@pytest.fixture
def other(tmp_path: Path) -> Iterator[Office]:
    opened = an_office(tmp_path / "other")
    yield opened
    opened.database.close()


@pytest.fixture
def job(office: Office) -> str:
    """A job with all there can be: a line taken back, a photo, amendments, one undone, ticks."""
    made = a_job(office, *NOTE)
    lines = lists_of_job(office, made).stands.lines
    add_photo(office, made, GivenPhoto("photo-0001", sha256_of(JPEG), JPEG, str(lines[0]["id"])), ANA)
    take_back(office, made, str(lines[2]["id"]), "change-back-0001", ANA)
    amend(office, made, "runs.front.length", "43-0", given(5, "measured again"), ANA)
    amend(office, made, "runs.garage.length", "21-0", given(6), JO)
    undo(office, made, str(lists_of_job(office, made).stands.events[-1]["id"]), given(7), ANA)
    say_measured(office, made, given(8), ANA)
    tick(office, made, "pieces.front-1", "made", given(9), CREW)
    keep_state(office, made)
    return made


def without(events: tuple[Any, ...], *names: str) -> list[dict[str, Any]]:
    return [{name: value for name, value in event.items() if name not in names} for event in events]


def test_a_job_carried_to_another_office_is_the_same_with_its_history(
    office: Office, other: Office, job: str
) -> None:
    name, content = export_job(office, job)
    assert name == "7-heron-row.job.zip"
    taken = import_job(other, content, JO)
    here, there = lists_of_job(office, job), lists_of_job(other, taken.id)
    assert taken.id == job
    assert there.stands.sheet == here.stands.sheet
    assert there.code == here.code
    assert there.stands.events[:-1] == here.stands.events
    assert there.stands.events[-1]["what"] == "imported"
    same = ("id", "number", "text", "sha256", "captured_at", "received_at", "by", "taken_back_at")
    assert [[line[one] for one in same] for line in there.stands.lines] == [
        [line[one] for one in same] for line in here.stands.lines
    ]
    assert photo(other, taken.id, photos_of(other, taken.id)[0].id) == ("image/jpeg", JPEG)
    assert taken.state == the_job(office, job).state


def test_a_job_is_carried_between_the_kinds_of_database(
    office: Office, postgres: PostgresServer, tmp_path: Path, job: str
) -> None:
    server = an_office(tmp_path / "server", postgres.fresh())
    try:
        there = import_job(server, export_job(office, job)[1], JO)
        assert lists_of_job(server, there.id).code == lists_of_job(office, job).code
        back = import_job(office, export_job(server, there.id)[1], JO)
        assert lists_of_job(office, back.id).code == lists_of_job(office, job).code
        copy = copy_job(server, there.id, JO)
        assert lists_of_job(server, copy.id).stands.sheet == lists_of_job(server, there.id).stands.sheet
    finally:
        server.database.close()


def test_exported_again_it_is_the_same_but_for_how_it_came(office: Office, other: Office, job: str) -> None:
    _, content = export_job(office, job)
    assert export_job(office, job)[1] == content
    taken = import_job(other, content, JO)
    first, second = (record_of(export_job(where, taken.id)[1]) for where in (office, other))
    assert second["events"][:-1] == first["events"]
    assert second["lines"] == first["lines"]


def test_imported_where_it_is_already_it_becomes_another_job(office: Office, job: str) -> None:
    _, content = export_job(office, job)
    again = import_job(office, content, JO)
    assert again.id != job
    assert lists_of_job(office, again.id).code == lists_of_job(office, job).code
    assert len(find_jobs(office)) == 2
    # what was undone there is undone here, by its new ids
    done = lists_of_job(office, again.id).stands.events
    assert [one["what"] for one in done if one["undoes"]] == ["undone"]
    undo(office, again.id, str(next(one["id"] for one in done if one["undoes"])), given(99), ANA)
    assert lists_of_job(office, again.id).code != lists_of_job(office, job).code


def test_a_line_taken_back_before_it_was_carried_can_be_brought_back(
    office: Office, other: Office, job: str
) -> None:
    for where in (office, other):
        again = import_job(where, export_job(office, job)[1], JO)
        taken = next(
            one for one in lists_of_job(where, again.id).stands.events if one["what"] == "line taken back"
        )
        undo(where, again.id, str(taken["id"]), given(99), ANA)
        assert [one["text"] for one in lists_of_job(where, again.id).stands.lines] == list(NOTE)


def test_a_copy_has_what_was_settled_and_nothing_ticked(office: Office, job: str) -> None:
    copy = copy_job(office, job, ANA)
    assert copy.title == "7 Heron Row (copy)"
    stands = lists_of_job(office, copy.id).stands
    assert stands.sheet == lists_of_job(office, job).stands.sheet
    assert ticks_in(stands.events) == {}
    assert ticks_in(lists_of_job(office, job).stands.events) != {}
    amend(office, copy.id, "runs.front.length", "50-0", given(copy.revision), ANA)
    assert lists_of_job(office, job).stands.sheet.runs[0].length.value.tape_text() == "43' 0\""  # type: ignore[union-attr]


def test_the_archive_and_a_title_are_events_that_can_be_undone(office: Office, job: str) -> None:
    archive(office, job, given(99), ANA)
    assert find_jobs(office) == []
    assert [one.id for one in find_jobs(office, archived=True)] == [job]
    undo(office, job, str(lists_of_job(office, job).stands.events[-1]["id"]), given(99), ANA)
    assert [one.id for one in find_jobs(office)] == [job]
    rename(office, job, "  7  Heron Row, rear ", given(99), ANA)
    assert the_job(office, job).title == "7 Heron Row, rear"
    undo(office, job, str(lists_of_job(office, job).stands.events[-1]["id"]), given(99), ANA)
    assert the_job(office, job).title == "7 Heron Row"


def record_of(content: bytes) -> dict[str, Any]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive_file:
        found: dict[str, Any] = json.loads(archive_file.read("job.json"))
        return found


def changed(content: bytes, change: Callable[[dict[str, Any]], None]) -> bytes:
    """The file with its record changed."""
    record = record_of(content)
    change(record)
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            new.writestr(name, json.dumps(record) if name == "job.json" else old.read(name))
    return out.getvalue()


HOSTILE: dict[str, Callable[[dict[str, Any]], Any]] = {
    "a line altered": lambda record: record["lines"][0].update(text="Front 52-6"),
    "a line twice": lambda record: record["lines"].append(record["lines"][0]),
    "an id that is a path": lambda record: record["photos"][0].update(id="../../photo"),
    "a field of its own": lambda record: record.update(extra=1),
    "a newer format": lambda record: record.update(format="gutterance-job-2"),
    "no format": lambda record: record.pop("format") and record.update(job=None),
    "a type that is none": lambda record: record["photos"][0].update(type="text/html"),
    "a number too large": lambda record: record["job"].update(revision=2**80),
    "a NUL": lambda record: record["job"].update(title="a\0b"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_file_that_is_not_as_it_was_exported_is_refused_whole(
    office: Office, other: Office, job: str, name: str
) -> None:
    content = changed(export_job(office, job)[1], HOSTILE[name])
    with pytest.raises(Unusable) as refused:
        import_job(other, content, JO)
    assert refused.value.next
    assert find_jobs(other) == []


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04", b"not a zip at all", b"{}"])
def test_what_is_no_file_of_a_job_is_refused(other: Office, content: bytes) -> None:
    with pytest.raises(Unusable):
        import_job(other, content, JO)


def test_every_cut_of_a_file_is_refused_and_keeps_nothing(office: Office, other: Office, job: str) -> None:
    _, content = export_job(office, job)
    for at in range(1, len(content), 97):
        with pytest.raises(Unusable):
            import_job(other, content[:at], JO)
    assert find_jobs(other) == []


def test_a_file_that_unpacks_to_too_much_is_refused_before_it_does(other: Office) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bomb, bomb.open("job.json", "w") as member:
        for _ in range(80):
            member.write(b" " * 1024 * 1024)
    assert len(out.getvalue()) < 200_000
    with pytest.raises(TooLarge):
        import_job(other, out.getvalue(), JO)


def test_an_empty_job_is_carried_too(office: Office, other: Office) -> None:
    job = start_job(office, "—").id
    name, content = export_job(office, job)
    assert name == "job.job.zip"
    assert import_job(other, content, JO).title == "—"
