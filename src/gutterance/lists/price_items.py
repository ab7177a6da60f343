"""Every item that a job of this shop can ask a price for, the usual gutter and pipe first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.layout.corners import SQUARE
from gutterance.layout.pipe_words import elbow_names
from gutterance.lists.quote import gutter_item
from gutterance.shop.prices import item_key, unit_key

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.measure.length import Length
    from gutterance.shop import PipeShape, Profile, Shop

Item = tuple[str, str]
_BAY = 45
_TURNS_IN = ("outside", "inside")


def price_items(shop: Shop) -> list[Item]:
    """Item and unit of each, every one once."""
    seen = set()
    out = []
    for item, unit in _every(shop):
        key = item_key(item), unit_key(unit)
        if item and key not in seen:
            seen.add(key)
            out.append((item, unit))
    return out


def _every(shop: Shop) -> Iterator[Item]:
    for profile in _profiles(shop):
        unit = "m" if profile.size.system == "metric" else "ft"
        yield gutter_item(profile.name, profile.size.inch_text()), unit
    for profile in _profiles(shop):
        yield profile.hanger, "each"
    yield shop.hangers.screw, "each"
    yield "end cap, left", "each"
    yield "end cap, right", "each"
    for corner in _corners(shop):
        yield corner, "each"
    yield "expansion joint", "each"
    yield "sealant", "tube"
    yield "rivet", "each"
    for pipe in _pipes(shop):
        yield from _pipe(pipe, shop)
    for ending in shop.endings.values():
        yield ending.extra, "each"
    yield shop.downpipes.branch, "each"
    yield shop.downpipes.strap_screw, "each"
    yield shop.downpipes.joint_screw, "each"


def _profiles(shop: Shop) -> list[Profile]:
    usual = shop.profile(shop.usual.gutter_profile, shop.usual.gutter_size)
    return sorted(shop.profiles, key=lambda one: one is not usual)


def _pipes(shop: Shop) -> list[PipeShape]:
    usual = shop.pipe(shop.usual.downpipe_size)
    return sorted(shop.pipes, key=lambda one: one is not usual)


def _corners(shop: Shop) -> Iterator[str]:
    """Square ones and a bay's, as the shop makes corners; a hand mitre needs no part."""
    rules = shop.corners
    mitred = rules.without_box if rules.method == "box mitre" else rules.method
    boxes = [turn for turn in rules.box_turns if rules.method == "box mitre"]
    strips = [float(SQUARE), _BAY] if mitred == "strip mitre" else []
    for part, turns in (("box mitre", boxes), ("corner strip", strips)):
        for turn in turns:
            angle = "" if turn == SQUARE else f", {turn:g}°"
            yield from (f"{way} {part}{angle}" for way in _TURNS_IN)


def _pipe(pipe: PipeShape, shop: Shop) -> Iterator[Item]:
    for stock in (shop.downpipes.stock, *shop.downpipes.also_bought):
        yield f"downpipe {pipe.size}", f"length of {_plain(stock)}"
    yield f"outlet {pipe.size}", "each"
    for elbow in elbow_names(pipe.size, pipe):
        yield elbow, "each"
    yield f"pipe strap {pipe.size}", "each"


def _plain(stock: Length) -> str:
    """A stock length as a shop file writes it: `10 ft`, without marks that a CSV must quote."""
    feet, rest = divmod(stock.inches, 12)
    return stock.file_text() if stock.system == "metric" or rest else f"{feet} ft"
