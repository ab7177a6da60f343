"""The traverse arithmetic, against worked examples of surveying courses and the geometry of polygons."""

from __future__ import annotations

from fractions import Fraction
from math import cos, hypot, isclose, pi, sin

import pytest

from gutterance.checking.rings import direction, turn_of, walk


def dms(degrees: int, minutes: int, seconds: int = 0) -> Fraction:
    return degrees + Fraction(minutes, 60) + Fraction(seconds, 3600)


# Source: Purdue University, ASM 215 Surveying, "Traverse calculations": azimuths and lengths of a five-sided
# closed traverse, its printed misclosure (-0.71 in latitude, +0.53 in departure) and precision (1 in 2771).
PURDUE_AZIMUTHS = [dms(26, 10), dms(104, 35), dms(195, 30), dms(358, 18), dms(306, 54)]
PURDUE_LENGTHS = ["285.10", "610.45", "720.48", "203.00", "647.02"]
# Source: a set exercise on closed-polygon traverses (bearings N 22 36 40 W, S 60 39 24 W, S 38 46 10 E,
# N 88 22 58 E) with printed answers: linear misclosure 4.5e-2 ft, relative precision 1 in 2.25e4.
EXERCISE_AZIMUTHS = [
    360 - dms(22, 36, 40),
    180 + dms(60, 39, 24),
    180 - dms(38, 46, 10),
    dms(88, 22, 58),
]
EXERCISE_LENGTHS = ["314.02", "264.49", "213.50", "217.69"]


def steps(azimuths: list[Fraction], lengths: list[str]) -> tuple[float, float, float]:
    """Latitude and departure of the misclosure, and the whole length, by way of `walk`."""
    turns = [  # an azimuth grows clockwise, a turn to the left is positive
        (here - there + 180) % 360 - 180
        for here, there in zip(azimuths, azimuths[1:] + azimuths[:1], strict=True)
    ]
    walked = walk(turns)
    assert abs(walked.turn) == 360
    along, across = walked.misclosure([Fraction(length) for length in lengths])
    first = float(azimuths[0]) * pi / 180
    latitude = float(along) * cos(first) + float(across) * sin(first)
    departure = float(along) * sin(first) - float(across) * cos(first)
    return latitude, departure, float(sum(Fraction(length) for length in lengths))


def test_the_worked_traverse_of_a_surveying_course() -> None:
    latitude, departure, length = steps(PURDUE_AZIMUTHS, PURDUE_LENGTHS)
    # The printed steps are rounded to a hundredth before they are added: five may be 0.025 out in all.
    assert latitude == pytest.approx(-0.71, abs=0.025)
    assert departure == pytest.approx(0.53, abs=0.025)
    assert length == pytest.approx(2466.05)
    assert length / hypot(latitude, departure) == pytest.approx(2771, rel=0.03)


def test_the_set_exercise_with_printed_answers() -> None:
    latitude, departure, length = steps(EXERCISE_AZIMUTHS, EXERCISE_LENGTHS)
    assert hypot(latitude, departure) == pytest.approx(0.045, abs=0.0005)
    assert length / hypot(latitude, departure) == pytest.approx(2.25e4, rel=0.01)


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 8, 12])
def test_a_regular_polygon_turns_once_and_closes(sides: int) -> None:
    # The inside angles of a polygon of n sides add up to (n - 2) 180 degrees (Euclid I.32), so its turns,
    # each 180 less the inside angle, add up to 360.
    inside = Fraction((sides - 2) * 180, sides)
    walked = walk([180 - inside] * sides)
    assert walked.turn == 360
    x, y = walked.misclosure([Fraction(500)] * sides)
    assert abs(x) < Fraction(1, 10**6)
    assert abs(y) < Fraction(1, 10**6)


def test_directions_are_exact_at_quarter_turns_and_true_elsewhere() -> None:
    assert [direction(Fraction(90 * n)) for n in range(5)] == [(1, 0), (0, 1), (-1, 0), (0, -1), (1, 0)]
    for degrees in range(-720, 720, 7):
        x, y = direction(Fraction(degrees))
        assert isclose(float(x), cos(degrees * pi / 180), abs_tol=1e-12)
        assert isclose(float(y), sin(degrees * pi / 180), abs_tol=1e-12)


@pytest.mark.parametrize("angle", [0.0, 180.0, 200.0, -90.0, float("nan"), float("inf")])
def test_an_angle_that_is_no_corner_has_no_turn(angle: float) -> None:
    assert turn_of("outside corner", angle) is None


def test_ends_that_are_no_corner_have_no_turn() -> None:
    assert turn_of("end cap", None) is None
    assert turn_of("wall", 90.0) is None
    assert turn_of(None, None) is None
    assert turn_of("inside corner", None) == -90
