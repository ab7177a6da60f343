"""An office of its own for a test, with jobs in it, and no server."""

from __future__ import annotations

import secrets
from typing import TYPE_CHECKING

from gutterance.jobs.changing import Given
from gutterance.jobs.identity import sha256_of
from gutterance.jobs.job import start_job
from gutterance.jobs.note_lines import GivenLine, add_line
from gutterance.jobs.office import Office, Person
from gutterance.shop import load_shop
from gutterance.store import open_database

if TYPE_CHECKING:
    from pathlib import Path

ANA = Person("Ana", "office")
JO = Person("Jo", "office")
CREW = Person("the van", "crew")


def an_office(folder: Path, url: str | None = None) -> Office:
    """An office whose database is in that folder, or a PostgreSQL at `url`."""
    return Office(open_database(folder, url), folder, load_shop())


def a_job(office: Office, *lines: str, title: str = "7 Heron Row") -> str:
    """A job with those lines; its id."""
    job = start_job(office, title).id
    for text in lines:
        say(office, job, text)
    return job


def say(office: Office, job: str, text: str) -> None:
    """One more line of the note."""
    add_line(office, job, GivenLine(f"line-{secrets.token_hex(8)}", text, sha256_of(text.encode())), ANA)


def given(revision: int, why: str | None = None) -> Given:
    """What comes with a change: a new id, the revision it was decided on, the reason."""
    return Given(f"change-{secrets.token_hex(8)}", revision, why)
