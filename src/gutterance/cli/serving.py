"""`gutterance serve`: the office's folder opened, the server started, its address told."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from gutterance.cli.refusals import Refusal
from gutterance.cli.showing import talk
from gutterance.cli.trade_words import own_words_for
from gutterance.cli.work import shop_of
from gutterance.jobs.office import Office
from gutterance.store import open_database
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


def office_folder(folder: str | None) -> Path:
    """The office's folder, made where it is not there. Raises Refusal for a file of that name."""
    where = Path(folder) if folder is not None else Path.home() / FOLDER_NAME
    if where.exists() and not where.is_dir():
        raise Refusal(f"{where} is a file: give --folder a folder of the office's own")
    where.mkdir(parents=True, exist_ok=True)
    return where


def opened(folder: Path, database: str | None) -> Database:
    """The office's database: as named, or by the environment: a password does not belong in a command."""
    return open_database(folder, database or os.environ.get(DATABASE_VARIABLE))
