"""A hardware item with its spares by the shop's rule."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Literal

from gutterance.lists.models import Hardware

if TYPE_CHECKING:
    from gutterance.shop import Shop

SpareKind = Literal["hangers", "screws", "rivets", "straps", "elbows", "outlets", "end_caps", "corners"]
ItemMaker = Callable[[str, int, int, str, SpareKind | None], Hardware]


def item_maker(shop: Shop) -> ItemMaker:
    """Makes an item of its name, count, how many are on hold, why, and the kind its spares go by."""

    def make(name: str, count: int, held: int, why: str, kind: SpareKind | None) -> Hardware:
        percent = getattr(shop.spares, kind) if kind is not None else 0
        return Hardware(item=name, count=count, on_hold=held, why=why, spare=spares(count, percent))

    return make


def spares(count: int, percent: int) -> int:
    """What is loaded beyond a count: so many percent, any part of one counted as one.

    >>> spares(108, 5)
    6
    """
    return -(count * percent // -100)
