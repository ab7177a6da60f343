"""Moments as the tables hold them."""

from __future__ import annotations

from datetime import UTC, datetime


def now() -> str:
    """This moment in UTC to the microsecond, ISO 8601."""
    return moment(datetime.now(UTC))


def moment(at: datetime) -> str:
    """A moment as text whose order is the order of time.

    >>> moment(datetime(2026, 3, 9, 14, 2, tzinfo=UTC))
    '2026-03-09T14:02:00.000000+00:00'
    """
    return at.astimezone(UTC).isoformat(timespec="microseconds")
