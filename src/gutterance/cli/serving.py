"""`gutterance serve` and `backup`: the office's folder opened; its server started, or a copy made."""

from __future__ import annotations

import os
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from gutterance.cli.refusals import Refusal
from gutterance.cli.showing import show, talk
from gutterance.cli.trade_words import own_words_for
from gutterance.cli.work import shop_of
from gutterance.jobs.office import Office
from gutterance.store import open_database
from gutterance.store.copies import FOLDER, back_up
from gutterance.store.daily_copies import daily_copies
from gutterance.store.opening import FILE_NAME
from gutterance.web.serving import Reached, serve

if TYPE_CHECKING:
    from gutterance.store import Database

FOLDER_NAME = "gutterance-office"
DATABASE_VARIABLE = "GUTTERANCE_DATABASE"


def run_server(
    folder: str | None, database: str | None, reached: Reached, shop: str | None, words: str | None
) -> None:
    """Serve the office until it is stopped. Raises Refusal, StoreError, ShopError, OSError."""
    where = office_folder(folder)
    office = Office(opened(where, database), where, shop_of(shop), own_words_for(words, shop))
    talk(f"jobs are kept in {office.database.file or 'the database named'}; stop with Ctrl-C")
    try:
        with daily_copies(office.database, where, talk):
            serve(office, reached, talk)
    finally:
        office.database.close()


def reached_by(
    port: int, names: list[str], certificate: str | None, key: str | None, *, lan: bool, https: bool
) -> Reached:
    """How the server is to be reached. Raises Refusal for a certificate without its key, or a key without."""
    if (certificate is None) != (key is None):
        raise Refusal("--certificate and --key go together: give both, or --https alone for one made here")
    if names and not lan:
        raise Refusal("--name is what other machines call this one: give --lan with it")
    return Reached(
        port, lan, tuple(names), https or certificate is not None,
        None if certificate is None else Path(certificate), None if key is None else Path(key),
    )  # fmt: skip


def back_up_office(folder: str | None, database: str | None, out: str | None) -> None:
    """Write a copy of the office's database. Raises Refusal, StoreError, OSError."""
    where = office_folder(folder)
    made = datetime.now().strftime("%Y-%m-%d-%H%M%S")
    file = Path(out) if out is not None else where / FOLDER / f"jobs-{made}.sqlite3"
    if file.is_dir():
        raise Refusal(f"{file} is a folder: give --out a file, as in {file / 'jobs.sqlite3'}")
    if file.exists():
        raise Refusal(f"{file} is there already, and a copy is never written over: give --out another name")
    if not database_named(database) and not (where / FILE_NAME).exists():
        raise Refusal(f"{where} has no jobs: give --folder the folder that `gutterance serve` named")
    kept = opened(where, database)
    try:
        back_up(kept, file)
    finally:
        kept.close()
    show(f"{file}\n")
    talk("read back whole; to use it, put it into a folder as jobs.sqlite3 and serve that folder")


def office_folder(folder: str | None) -> Path:
    """The office's folder, made where it is not there. Raises Refusal for a file of that name."""
    where = Path(folder) if folder is not None else Path.home() / FOLDER_NAME
    if where.exists() and not where.is_dir():
        raise Refusal(f"{where} is a file: give --folder a folder of the office's own")
    where.mkdir(parents=True, exist_ok=True)
    return where


def opened(folder: Path, database: str | None) -> Database:
    """The office's database: as named, or by the environment: a password does not belong in a command."""
    return open_database(folder, database_named(database))


def database_named(database: str | None) -> str | None:
    """The PostgreSQL that the command or the environment names."""
    return database or os.environ.get(DATABASE_VARIABLE) or None
