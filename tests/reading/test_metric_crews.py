"""Metric crews: figures as they say them, sizes by width, lists of pipes, jobs in feet and millimetres."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("said", "mm"),
    [
        ("six three nine oh", 6390),
        ("four two oh five", 4205),
        ("eleven two four oh", 11240),
        ("eight one ninety", 8190),
        ("fourteen metres one fifty", 14150),
        ("9 230", 9230),
    ],
)
def test_figures_as_they_are_said(read: Callable[..., Any], said: str, mm: int) -> None:
    seen = read("half round, one twenty five, all millimetres", f"right side {said}, stop ends both")
    seen.mm("runs.right-side.length", mm)
    seen.mm("defaults.gutter_size", 125)


@pytest.mark.parametrize(
    ("words", "size"),
    [
        ("115 ogee ali, 76 rd", "76 mm round"),
        ("112 HR blk, rwps 80 dia", "80 mm round"),
        ("112 half round ali black, 68s", "68 mm round"),
        ("hundred and twelve half round in zinc and eighties for the pipes", "80 mm round"),
        ("ogee 125 ali, 65 square pipes", "65 mm square"),
    ],
)
def test_pipes_known_by_their_width(read: Callable[..., Any], words: str, size: str) -> None:
    seen = read(words, "front 8200 stop ends", "back 8210 stop ends")
    seen.says("defaults.downpipe_size", size)


def test_an_address_is_no_pipe(read: Callable[..., Any]) -> None:
    seen = read("80 Rowan Rd", "front 8200 stop ends", "back 8210 stop ends")
    assert seen.sheet.defaults.downpipe_size is None


@pytest.mark.parametrize("words", ["galv 0.6 quad 115", "quad 115, 0.6 BMT galv"])
def test_thickness_beside_its_metal(read: Callable[..., Any], words: str) -> None:
    read(words, "N 8200 stop ends", "S 8200 stop ends").says("defaults.thickness", "0.6 mm")


@pytest.mark.parametrize(
    ("words", "pitch"),
    [
        ("quad 115 galv / 27.5°", "27.5 degrees"),
        ("quad 115. roof's a thirty five", "35 degrees"),
        ("box 125 zinc. pitch 40", "40 degrees"),
    ],
)
def test_pitches_in_degrees(read: Callable[..., Any], words: str, pitch: str) -> None:
    read(words, "front 8200 stop ends", "back 8200 stop ends").says("defaults.roof_pitch", pitch)


def test_feet_beside_bare_millimetres(read: Callable[..., Any]) -> None:
    seen = read(
        "112 half round, brackets 800 crs",
        "front 24ft 6. stop ends",
        "garage front 2750, stop ends, outlet right",
        "pipes",
        "garage 2.2 to gully, 140 out",
    )
    seen.feet("runs.front.length", 24, 6)
    seen.mm("runs.garage-front.length", 2750)
    seen.mm("downpipes.garage-front-1.height", 2200)
    seen.mm("downpipes.garage-front-1.wall_to_fascia", 140)
    assert seen.sheet.defaults.units == "mixed"


def test_a_list_of_pipes_gives_no_second_length(read: Callable[..., Any]) -> None:
    seen = read(
        "ogee 115 ali",
        "front 6400, stop ends, outlet left",
        "back 6410, stop ends, outlet right",
        "leaders",
        "front  o/h 280, 4900 down to gully",
        "back   280   4870   to the butt",
    )
    seen.mm("runs.back.length", 6410)
    seen.mm("downpipes.back-1.wall_to_fascia", 280)
    seen.mm("downpipes.back-1.height", 4870)


def test_small_beside_large_with_nothing_else_said_is_asked(read: Callable[..., Any]) -> None:
    seen = read("ogee 115 ali", "front 6400, stop ends, outlet left, 2600, 190", "back 6400, stop ends")
    seen.asked("downpipes.front-1.wall_to_fascia")
    seen.mm("runs.front.length", 6400)


def test_the_edge_of_a_part_is_its_own(read: Callable[..., Any]) -> None:
    seen = read(
        "back 6400, stop ends",
        "workshop drains off the back edge, 3100, stop ends, outlet left",
        "half round 112",
    )
    seen.mm("runs.back.length", 6400)
    seen.mm("runs.workshop-back.length", 3100)


def test_sides_of_it_are_of_the_part_just_told(read: Callable[..., Any]) -> None:
    seen = read(
        "quad 115 galv, all in mm. porch front 5200. left side of it 1400, right side of it 1450. "
        "they butt into the wall of the house and they're outside corners onto the front."
    )
    seen.ends("porch-left-side", "wall", "outside corner")
    seen.ends("porch-right-side", "outside corner", "wall")
    seen.mm("runs.porch-right-side.length", 1450)


def test_a_telephone_number_said_in_groups(read: Callable[..., Any]) -> None:
    seen = read(
        "front 8200 stop ends", "back 8200 stop ends",
        "his number's oh one six, three two four, nine oh oh five",
    )  # fmt: skip
    assert seen.sheet.defaults.thickness is None
    seen.unread("oh one six, three two four, nine oh oh five")


def test_a_join_with_next_door(read: Callable[..., Any]) -> None:
    seen = read(
        "front 6820. stop end left, carries on into next doors on the right, union there",
        "back 6835 stop ends",
    )
    seen.mm("runs.front.length", 6820)


def test_a_town_behind_the_address(read: Callable[..., Any]) -> None:
    assert (
        read("12 Weaver Lane, Upper Thaw", "front 8200 stop ends").sheet.title == "12 Weaver Lane, Upper Thaw"
    )
    assert read("12 Weaver Lane, Bungalow", "front 8200 stop ends").sheet.title == "12 Weaver Lane"


def test_a_house_number_said_behind_the_street(read: Callable[..., Any]) -> None:
    seen = read("spouting for the Karo Terrace place, number forty two, copper.", "front 8200 stop ends")
    assert seen.sheet.title == "42 Karo Terrace"
