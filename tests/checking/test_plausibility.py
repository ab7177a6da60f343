"""Plausible ranges, and the data file they stand in. The ranges are common practice, no source."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest

from gutterance.checking import Finding, check_sheet
from gutterance.checking.plausibility import PlausibleFileError, plausible, read_plausible

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.sheet.models import Sheet

    Build = Callable[..., Sheet]


def implausible(sheet: Sheet) -> list[Finding]:
    return [found for found in check_sheet(sheet) if found.code == "value-implausible"]


@pytest.mark.parametrize("field", sorted(plausible().ranges))
def test_each_range_at_its_edges_and_beyond(sheet_of: Build, field: str) -> None:
    limit = plausible().ranges[field]
    step = Fraction(1, 64)

    def told(amount: Fraction) -> bool:
        group, _, name = field.partition(".")
        reading: Any = {"value": float(amount) if "angle" in name else f"{amount} in"}
        if group == "runs":
            sheet = sheet_of({"front": (510, "O" if "angle" in name else "C", "C", {name: reading})})
        elif group == "defaults":
            sheet = sheet_of({"front": (510, "C", "C")}, defaults={name: reading})
        else:
            value = [reading] if name == "offsets" else reading
            sheet = sheet_of(
                {"front": (510, "C", "C")}, pipes=[{"id": "p", "outlet": "front-1", name: value}]
            )
        return any(f"{field.split('.')[0]}." in found.about for found in implausible(sheet))

    assert not told(limit.low)
    assert not told(limit.high)
    assert told(limit.low - step)
    assert told(limit.high + step)


def test_the_other_unit_is_offered(sheet_of: Build) -> None:
    (short,) = implausible(sheet_of({"front": (3, "C", "C")}))
    assert [(offer.value, offer.why) for offer in short.suggests] == [("3' 0\"", "feet said, inches read")]
    tall = sheet_of(
        {"front": (510, "C", "C")}, pipes=[{"id": "p", "outlet": "front-1", "height": {"value": "1128 in"}}]
    )
    assert [offer.value for offer in implausible(tall)[0].suggests] == ["7' 10\"", "9' 4\""]


def test_the_angle_inside_a_bay_corner_is_offered_as_its_turn(sheet_of: Build) -> None:
    (found,) = implausible(sheet_of({"bay": (72, "O", "C", {"left_angle": {"value": 135}})}))
    assert [offer.value for offer in found.suggests] == ["45"]


@pytest.mark.parametrize("angle", [float("inf"), float("-inf"), float("nan"), 0.0, 200.0])
def test_an_angle_that_is_none_is_asked_about(sheet_of: Build, angle: float) -> None:
    sheet = sheet_of({"bay": (72, "O", "C", {"left_angle": {"value": angle}})})
    assert [found.about for found in implausible(sheet)] == ["runs.bay.left_angle"]


def test_a_thickness_in_gauge_has_no_size_to_judge(sheet_of: Build) -> None:
    sheet = sheet_of({"front": (510, "C", "C")}, defaults={"thickness": {"value": "26 ga"}})
    assert implausible(sheet) == []


def test_a_value_in_doubt_is_not_asked_about_twice(sheet_of: Build) -> None:
    length = {"value": "3 in", "status": "doubtful"}
    sheet = sheet_of({"front": (None, "C", "C", {"length": length})})
    assert implausible(sheet) == []


@pytest.mark.parametrize(
    ("storey", "height", "ends_at", "told"),
    [
        ("upper", "108 in", "splash block", True),
        ("upper", "108 in", "lower roof", False),
        ("Upper", "240 in", "drain", False),
        ("lower", "108 in", "drain", False),
        ("lower", "240 in", "drain", True),
        ("lower", "40 in", "lower gutter", False),
        ("attic", "108 in", "drain", False),
        (None, "108 in", "drain", False),
    ],
)
def test_height_against_storey(
    sheet_of: Build, storey: str | None, height: str, ends_at: str, told: bool
) -> None:
    pipe = {"id": "p", "outlet": "front-1", "height": {"value": height}, "ends_at": {"value": ends_at}}
    sheet = sheet_of({"front": (510, "C", "C", {"storey": storey})}, pipes=[pipe])
    assert any(found.code == "height-against-storey" for found in check_sheet(sheet)) is told


GOOD = '[[range]]\nfield = "runs.length"\nlow = "6 in"\nhigh = "1800 in"\nwhy = "long"\n'


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[[range]\n", "not TOML"),
        ("[[other]]\nx = 1\n", r"\[\[other\]\] is not known"),
        (GOOD.replace("runs.length", "runs.lenght"), "row 1: 'runs.lenght' is no field"),
        (GOOD.replace('"runs.length"', "3"), "row 1: 3 is no field"),
        (GOOD + GOOD, "row 2: runs.length stands twice"),
        (GOOD.replace("6 in", "6 inches"), "row 1: low = '6 inches' is no bound"),
        (GOOD.replace('"6 in"', "true"), "row 1: low = True is no bound"),
        (GOOD.replace("6 in", "1900 in"), "row 1: low is above high"),
        (GOOD.replace('"long"', '" "'), "row 1: why must say"),
        (GOOD.replace("why", "because"), "row 1: why is missing"),
        (GOOD + 'also = "1"\n', "row 1: also is not known"),
        ('[[storey]]\nwords = []\nlow = "1 in"\nhigh = "2 in"\nwhy = "x"\n', r"\[\[storey\]\] row 1: words"),
    ],
)
def test_a_broken_file_is_refused_by_name_and_row(text: str, says: str) -> None:
    with pytest.raises(PlausibleFileError, match=r"mine\.toml.*" + says):
        read_plausible(text, "mine.toml")


def test_a_row_of_the_users_own_is_used(sheet_of: Build) -> None:
    from gutterance.checking.house import House
    from gutterance.checking.plausibility import find_implausible

    mine = read_plausible(GOOD.replace("1800 in", "500 in"), "mine.toml")
    assert [found.says for found in find_implausible(House(sheet_of({"front": (510, "C", "C")})), mine)] == [
        "The length of the front is 42' 6\", and long."
    ]
