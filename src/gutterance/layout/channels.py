"""Runs joined end to end into channels: chains between two ends, and loops round a house."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.layout.joining import JOINABLE, Joints
from gutterance.layout.values import Channel, LaidRun, PlacedOutlet

if TYPE_CHECKING:
    from gutterance.sheet.models import Reading, Sheet
    from gutterance.sheet.values import End

_TAKEN = {
    "named": "by their names, not said",
    "order": "by the note's order, not said",
    "only": "as no other corners are left, not said",
}


def make_channels(
    sheet: Sheet, runs: list[LaidRun], joints: Joints, placed: list[list[PlacedOutlet]]
) -> list[Channel]:
    """The channels of a house, in the order of the note; `length` is None where a run's is not known."""
    previous = joints.previous
    seen: set[int] = set()
    channels = [_walk(first, joints, seen) for first in range(len(runs)) if previous[first] is None]
    channels += [_walk(first, joints, seen) for first in range(len(runs)) if first not in seen]
    channels.sort(key=lambda channel: min(channel.runs))
    for channel in channels:
        _measure(channel, runs, placed)
        _say_what_was_taken(channel, sheet, runs, joints)
    return channels


def _walk(first: int, joints: Joints, seen: set[int]) -> Channel:
    chain = [first]
    seen.add(first)
    while True:
        following = joints.next[chain[-1]]
        if following is None:
            return Channel(chain)
        if following == first:
            return Channel(chain, loop=True)
        chain.append(following)
        seen.add(following)


def _measure(channel: Channel, runs: list[LaidRun], placed: list[list[PlacedOutlet]]) -> None:
    at: Fraction | None = Fraction(0)
    for i in channel.runs:
        length = runs[i].length
        at = None if at is None or length is None else at + length
        channel.outlets += placed[i]
    channel.length = at


def _say_what_was_taken(channel: Channel, sheet: Sheet, runs: list[LaidRun], joints: Joints) -> None:
    for how, names in _taken_chains(channel, runs, joints):
        channel.says.append(f"taken to meet in this order {_TAKEN[how]}: {' - '.join(names)}")
    if channel.loop:
        return
    first, last = sheet.runs[channel.runs[0]], sheet.runs[channel.runs[-1]]
    if _leads_on(first.left_end):
        channel.open_ends.append((channel.runs[0], "left"))
    if _leads_on(last.right_end):
        channel.open_ends.append((channel.runs[-1], "right"))
    for i, side in channel.open_ends:
        channel.says.append(f"what meets {runs[i].name} at its {side} end is not known: it counts as closed")


def _leads_on(end: Reading[End] | None) -> bool:
    """Whether gutter may go on beyond that end: a corner, a splice, or an end that was not said."""
    return end is None or end.value is None or end.value in JOINABLE


def _taken_chains(channel: Channel, runs: list[LaidRun], joints: Joints) -> list[tuple[str, list[str]]]:
    """The names of runs along each row of joints that were taken in the same way, not said."""
    chains: list[tuple[str, list[str]]] = []
    before: str | None = None
    for i in channel.runs:
        how, following = joints.how[i], joints.next[i]
        if how is not None and how in _TAKEN and following is not None:
            if how != before:
                chains.append((how, [runs[i].name]))
            chains[-1][1].append(runs[following].name)
        before = how
    return chains
