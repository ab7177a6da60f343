"""The copy of each day, made beside the work: at the start, and when a new day begins."""

from __future__ import annotations

import threading
from contextlib import contextmanager
from datetime import date
from typing import TYPE_CHECKING

from gutterance.store.copies import copy_of_day

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from gutterance.store.database import Database

LOOK_EVERY = 600.0
"""How often [s] it is looked whether a new day has begun, and tried again where a copy could not be made."""


@contextmanager
def daily_copies(
    database: Database,
    folder: Path,
    told: Callable[[str], None],
    today: Callable[[], str] = lambda: date.today().isoformat(),
    every: float = LOOK_EVERY,
) -> Iterator[None]:
    """Make the day's copy, and each next day's while the block lasts. `told` hears of a copy that failed."""
    ended = threading.Event()

    def work() -> None:
        while True:
            try:
                copy_of_day(database, folder, today())
            except Exception as error:
                told(f"today's copy could not be made: {error}")
            if ended.wait(every):
                return

    worker = threading.Thread(target=work, name="daily copies", daemon=True)
    worker.start()
    try:
        yield
    finally:
        ended.set()
        worker.join(timeout=30)
