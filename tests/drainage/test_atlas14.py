"""Saved NOAA Atlas 14 point files. The rows are as its server gave them out for the points named."""

from __future__ import annotations

from fractions import Fraction

import pytest

from gutterance.drainage.atlas14 import PointFrequency, read_point_frequency
from gutterance.drainage.errors import RainError

# NOAA Atlas 14 volume 9 version 2, 26.6 N 81.9 W, partial duration, depths [in]; a part of its rows.
FORT_MYERS = """\
Point precipitation frequency estimates (inches)
NOAA Atlas 14 Volume 9 Version 2
Data type: Precipitation depth
Time series type: Partial duration
Project area: Southeastern States
Location name (ESRI Maps): None
Station Name: None
Latitude: 26.6 Degree
Longitude: -81.9 Degree
Elevation (USGS): None None


PRECIPITATION FREQUENCY ESTIMATES
by duration for ARI (years):, 1,2,5,10,25,50,100,200,500,1000
5-min:, 0.553,0.620,0.731,0.822,0.950,1.05,1.15,1.25,1.38,1.48
15-min:, 0.988,1.11,1.30,1.47,1.70,1.87,2.05,2.23,2.47,2.65
60-min:, 2.14,2.38,2.79,3.13,3.62,4.00,4.38,4.78,5.32,5.74
2-hr:, 2.69,2.98,3.47,3.90,4.49,4.97,5.46,5.97,6.66,7.20
2-day:, 4.94,5.57,6.77,7.94,9.80,11.4,13.3,15.3,18.2,20.7

Date/time (GMT):  Sun Jun  7 07:54:20 2026
pyRunTime:  0.0074
"""
# Volume 11 version 2, 32.8687 N 96.9737 W.
IRVING = """\
Point precipitation frequency estimates (inches)
NOAA Atlas 14 Volume 11 Version 2
Data type: Precipitation depth
Time series type: Partial duration
Project area: Texas
Location name (ESRI Maps): Irving, Texas, USA
Station Name: -
Latitude: 32.8687 Degree
Longitude: -96.9737 Degree
Elevation (USGS): 497 ft


PRECIPITATION FREQUENCY ESTIMATES
by duration for ARI (years):, 1,2,5,10,25,50,100,200,500,1000
5-min:, 0.421,0.489,0.601,0.693,0.818,0.912,1.01,1.10,1.24,1.34
60-min:, 1.52,1.76,2.17,2.50,2.95,3.29,3.63,4.00,4.50,4.90
"""
# Volume 8 version 2, 39 N 105 W, intensities [in/h].
COLORADO = """\
Point precipitation frequency estimates (inches/hour)
NOAA Atlas 14 Volume 8 Version 2
Data type: Precipitation intensity
Time series type: Partial duration
Project area: Midwestern States
Latitude: 39.0 Degree
Longitude: -105.0 Degree

PRECIPITATION FREQUENCY ESTIMATES
by duration for ARI (years):, 1,2,5,10,25,50,100,200,500,1000
5-min:, 2.87,3.48,4.56,5.52,6.92,8.09,9.31,10.6,12.4,13.9
60-min:, 0.690,0.818,1.05,1.26,1.59,1.87,2.18,2.51,2.98,3.36
"""


def read(text: str) -> PointFrequency:
    return read_point_frequency(text, "atlas14.csv")


@pytest.mark.parametrize(
    ("text", "minutes", "years", "in_per_hour"),
    [
        (FORT_MYERS, 5, 10, "9.864"),  # RF-01: 0.822 in
        (FORT_MYERS, 60, 100, "4.38"),
        (FORT_MYERS, 15, 10, "5.88"),
        (FORT_MYERS, 120, 100, "2.73"),
        (IRVING, 5, 10, "8.316"),  # RF-02
        (IRVING, 60, 100, "3.63"),
        (COLORADO, 5, 10, "5.52"),  # RF-03
        (COLORADO, 60, 100, "2.18"),
    ],
)
def test_points_as_published(text: str, minutes: int, years: int, in_per_hour: str) -> None:
    rain = read(text).rainfall(minutes, years)
    assert rain.mm_per_hour == Fraction(in_per_hour) * Fraction(254, 10)
    assert (rain.minutes, rain.years) == (minutes, years)


def test_the_place_and_the_cell_are_told() -> None:
    rain = read(IRVING).rainfall(60, 100)
    assert rain.given == "3.63 in"
    assert "NOAA Atlas 14 Volume 11 Version 2, Irving, Texas, USA, 32.8687 -96.9737" in rain.by
    assert "partial duration series, file atlas14.csv" in rain.by


def test_metric_files_give_the_same_rain() -> None:
    in_mm = IRVING.replace("(inches)", "(millimeters)").replace("0.693", "17.6").replace("0.818", "20.8")
    rows = in_mm.splitlines()
    at = next(i for i, row in enumerate(rows) if row.startswith("5-min"))
    rows[at] = "5-min:, 10.7,12.4,15.3,17.6,20.8,23.2,25.7,27.9,31.5,34.0"
    rain = read("\n".join(rows)).rainfall(5, 10)
    assert rain.mm_per_hour == Fraction("211.2")
    per_hour = COLORADO.replace("inches/hour", "millimeters/hour")
    assert read(per_hour).rainfall(5, 10).mm_per_hour == Fraction("5.52")


def test_an_annual_maximum_file_is_read_by_its_chances() -> None:
    rows = [row for row in IRVING.splitlines() if not row.startswith(("5-min", "60-min", "by duration"))]
    rows = [row.replace("Partial duration", "Annual maximum") for row in rows]
    rows += [
        "by duration for AEP:, '1/2,'1/5,'1/10,'1/25,'1/50,'1/100",
        "5-min:, 0.45,0.58,0.68,0.81,0.91,1.01",
    ]
    table = read("\n".join(rows))
    assert table.years == (2, 5, 10, 25, 50, 100)
    assert table.rainfall(5, 10).mm_per_hour == Fraction("0.68") * 12 * Fraction(254, 10)
    assert "annual maximum series" in table.rainfall(5, 10).by


def test_bounds_that_follow_are_not_taken_for_the_estimates() -> None:
    upper = (
        FORT_MYERS.split("PRECIPITATION FREQUENCY ESTIMATES\n")[1]
        .replace("0.822", "1.01")
        .replace("0.950", "1.2")
    )
    both = (
        f"{FORT_MYERS}\nPRECIPITATION FREQUENCY ESTIMATES AT UPPER BOUND OF 90% CONFIDENCE INTERVAL\n{upper}"
    )
    assert read(both).rainfall(5, 10).mm_per_hour == Fraction("9.864") * Fraction(254, 10)
    alone = FORT_MYERS.replace("ESTIMATES\nby", "ESTIMATES AT UPPER BOUND OF 90% CONFIDENCE INTERVAL\nby")
    with pytest.raises(RainError, match="a bound of confidence, not the estimates"):
        read(alone)


def test_a_spreadsheets_quotes_and_empty_cells_do_no_harm() -> None:
    quoted = "\r\n".join(f'"{row}",,' if row and "," not in row else row for row in FORT_MYERS.splitlines())
    quoted = quoted.replace("1.48", "1.48,,")
    assert read("\ufeff" + quoted).rainfall(5, 10).mm_per_hour == Fraction("9.864") * Fraction(254, 10)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (
            "by duration for ARI",
            "by month",
            "has no 'by duration for ARI' line",
        ),  # RF-05: refused, no zero table
        ("Point precipitation frequency estimates (inches)", "Rain", "has no title"),
        ("(inches)", "(feet)", "is in 'feet'"),
        ("Precipitation depth", "Precipitation intensity", "gives them in 'inches'"),
        ("5-min:, 0.553,0.620", "5-min:, 0.553", "line 15: 9 numbers for 10 return periods"),
        ("0.822", "-", "line 15: a number over nothing"),
        ("0.822", "nan", "line 15: a number over nothing"),
        ("0.822", "0.0", "line 15: a number over nothing"),
        ("0.822", "8.22", "the 5-minute row falls as storms grow rarer"),
        (" 1,2,5,10,", " 1,5,2,10,", "not in order"),
        (" 1,2,5,10,", " 1,two,5,10,", "'two' is no return period"),
        ("15-min", "5-min", "line 16: a second row for 5-min"),
        ("15-min", "fortnight", "line 16: 'fortnight:' is no duration"),
    ],
)
def test_another_file_or_a_damaged_one_is_refused(old: str, new: str, says: str) -> None:
    with pytest.raises(RainError) as error:
        read(FORT_MYERS.replace(old, new, 1))
    assert says in str(error.value)
    assert str(error.value).startswith("atlas14.csv")


@pytest.mark.parametrize(
    "text", ["", "hello", "a,b\n1,2\n", "<html><body>Point data</body></html>", '{"a": 1}']
)
def test_a_file_of_another_kind_is_refused(text: str) -> None:
    with pytest.raises(RainError, match="is no NOAA Atlas 14 point file"):
        read(text)


def test_a_point_outside_the_atlas_is_told() -> None:
    with pytest.raises(RainError, match="outside Atlas 14"):
        read("result = 'none';\nErrorMsg = 'Error 3.0: Selected location is not within a project area';\n")


def test_a_storm_the_file_lacks_is_told_with_those_it_has() -> None:
    with pytest.raises(RainError, match="no 20-year column: it has 1, 2, 5, 10, 25"):
        read(FORT_MYERS).rainfall(5, 20)
    with pytest.raises(RainError, match="no 7-minute row: it has 5, 15, 60"):
        read(FORT_MYERS).rainfall(7, 10)
