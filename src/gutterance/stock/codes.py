"""The findings that only the stock can make, each with what it means. Told of in docs/lists.md."""

from __future__ import annotations

STOCK_CODES: dict[str, str] = {
    "cut-longer-than-stock": "a cut of pipe is longer than any length there is to cut it from",
}
