"""Rainfall is the user's: what is taken, what is refused, and which storm a method is made for."""

from __future__ import annotations

from fractions import Fraction
from typing import get_args

import pytest

from gutterance.drainage.asked import RainAsked, rainfall_asked, rainfall_said
from gutterance.drainage.atlas14 import read_point_frequency
from gutterance.drainage.errors import RainError
from gutterance.drainage.methods import method_named, method_names
from gutterance.drainage.rainfall import Rainfall
from gutterance.measure.rates import RateError
from gutterance.shop.models import MethodName

POINT = read_point_frequency(
    "Point precipitation frequency estimates (inches)\nNOAA Atlas 14 Volume 11 Version 2\n"
    "Data type: Precipitation depth\nPRECIPITATION FREQUENCY ESTIMATES\n"
    "by duration for ARI (years):, 1,10,100\n5-min:, 0.421,0.693,1.01\n60-min:, 1.52,2.50,3.63\n",
    "irving.csv",
)
IN_PER_HOUR = Fraction(254, 10)


@pytest.mark.parametrize(
    ("rate", "says"),
    [(0, "over nothing"), (-3, "over nothing"), (Fraction(49, 10), "too little"), (1001, "too much")],
)
def test_a_rate_of_no_storm_is_refused(rate: Fraction, says: str) -> None:
    with pytest.raises(RainError, match=says):
        Rainfall(Fraction(rate), f"{rate} mm/h", "as given")


@pytest.mark.parametrize("rate", [5, 1000])
def test_the_bounds_themselves_are_taken(rate: int) -> None:
    assert Rainfall(Fraction(rate), f"{rate} mm/h", "as given").mm_per_hour == rate


def test_each_method_takes_its_own_storm_from_a_file() -> None:
    """The two storms at Irving, Texas: 8.316 in/h (5 min, 10 yr) and 3.63 in/h (60 min, 100 yr)."""
    for name, rate in (
        ("IPC 2015", "3.63"),
        ("IPC 2012", "3.63"),
        ("NSPC 2006", "3.63"),
        ("metal trade", "8.316"),
    ):
        rain, missing = rainfall_asked(RainAsked(file=POINT), method_named(name))
        assert rain is not None
        assert not missing
        assert rain.mm_per_hour == Fraction(rate) * IN_PER_HOUR
    rain, _ = rainfall_asked(RainAsked(file=POINT, years=100), method_named("SMACNA"))
    assert rain is not None
    assert rain.mm_per_hour == Fraction("12.12") * IN_PER_HOUR


def test_where_the_nation_sets_the_storm_it_must_be_named() -> None:
    en = method_named("EN 12056-3")
    rain, missing = rainfall_asked(RainAsked(file=POINT), en)
    assert rain is None
    assert [one.split(":")[0] for one in missing] == ["the storm's duration", "the storm's return period"]
    rain, _ = rainfall_asked(RainAsked(file=POINT, minutes=5, years=10), en)
    assert rain is not None
    assert rain.storm == "5-minute, 10-year"


@pytest.mark.parametrize(
    ("method", "words"),
    [
        ("IPC 2015", "6 in/h, 5 min"),
        ("IPC 2015", "6 in/h, 60 min, 10 yr"),
        ("metal trade", "6 in/h, 60 min, 100 yr"),
        ("AS/NZS 3500.3", "150 mm/h, 5 min, 10 yr"),
    ],
)
def test_rain_of_another_storm_is_refused(method: str, words: str) -> None:
    with pytest.raises(RainError, match="is made for"):
        rainfall_said(words, "as given", method_named(method))


def test_another_storm_of_a_file_is_refused_too() -> None:
    with pytest.raises(RainError, match="60-minute, 100-year rain"):
        rainfall_asked(RainAsked(file=POINT, years=10), method_named("IPC 2015"))
    with pytest.raises(RainError, match="no 20-year column"):
        rainfall_asked(RainAsked(file=POINT), method_named("AS/NZS 3500.3"))


def test_two_words_for_one_storm_must_agree() -> None:
    with pytest.raises(RainError, match="speaks of 60 minutes, and 5 were asked for"):
        rainfall_said("3.63 in/h, 60 min", "as given", method_named("EN 12056-3"), minutes=5)
    with pytest.raises(RainError, match="both given"):
        RainAsked(rainfall="6 in/h", file=POINT)
    with pytest.raises(RateError):
        RainAsked(rainfall="6")


@pytest.mark.parametrize(
    ("asked", "name"),
    [
        ("bs en 12056-3", "EN 12056-3:2000"),
        ("IPC 2021", "IPC 2015"),
        ("ipc2009", "IPC 2012"),
        ("Smacna", "metal trade"),
    ],
)
def test_a_method_by_its_other_names(asked: str, name: str) -> None:
    assert method_named(asked).name == name


def test_an_unknown_method_names_the_nearest_and_all() -> None:
    with pytest.raises(RainError, match=r"no method is called 'IPC 2017'.*Did you mean 'IPC 20"):
        method_named("IPC 2017")


def test_the_shop_file_knows_the_same_methods() -> None:
    assert list(get_args(MethodName)) == method_names()
