"""Sizes by which material is known: 2x3 pipe, 5 inch K, .032 sheet, a plan of 40 x 28."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.claims import Claim

if TYPE_CHECKING:
    from gutterance.measure.amounts import Amount
    from gutterance.measure.scan import Scan


HALF = 2
"""Gutter and pipe come in whole and half inches: `4 1/2 inch half round`. Common practice, no source."""
PLURALS = {"twos": 2, "threes": 3, "fours": 4, "fives": 5, "sixes": 6}
"""Numbers of pipes called by their size: `two by threes`."""
_THINNEST_MM, _THICKEST_MM = Fraction(3, 10), Fraction(2)
_SMALLEST_PIPE_MM, _LARGEST_PIPE_MM = 50, 150


def material_size(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`2x3`, `3" x 4"`, `two by three`, `100 x 75 mm`; `40 x 28` is a plan size, `2x` a count."""
    unit = scan.unit(after, amount)
    by = unit[1] if unit else after
    if amount.shape == "fraction" and amount.value in (Fraction(2, 3), Fraction(3, 4)) and unit is None:
        # 3/4 downspouts: a slash for the x
        return Claim(at, after, "material size") if scan.is_in(after, "pipe_names") else None
    if not scan.is_in(by, "by"):
        return None
    second = scan.amount(by + 1)
    if second is None:
        if scan.word(by + 1) in PLURALS and unit is None and amount.value in PLURALS.values():
            return Claim(at, by + 2, "material size")  # `two by threes`
        if scan.word(by) == "x" and not unit and amount.is_whole and scan.glued(by):
            return Claim(at, by + 1, "count", amount.value)
        return None
    end = second[1]
    unit2 = scan.unit(end, second[0])
    end = unit2[1] if unit2 else end
    if scan.word(end) == "s" and scan.glued(end):
        end += 1  # `3 by 4s`
    if scan.is_in(end, "by"):
        third = scan.amount(end + 1)
        if third is not None:
            unit3 = scan.unit(third[1], third[0])
            end = unit3[1] if unit3 else third[1]
    return Claim(at, end, _size_kind(amount.value, second[0].value, unit, unit2))


def _size_kind(a: Fraction, b: Fraction, unit: tuple[str, int] | None, unit2: tuple[str, int] | None) -> str:
    said = (unit or unit2 or ("", 0))[0]
    if said in ("foot", "metre", "yard"):
        return "plan size"
    if max(a, b) <= 12 or (
        said != "inch" and min(a, b) >= 40 and max(a, b) <= 300 and (said or min(a, b) >= 50)
    ):
        return "material size"
    return "plan size"


_PAST_SOMETHING = frozenset({"the", "a", "an", "it", "that", "this", "back", "to", "some"})
"""Words behind `round` by which a pipe goes round something."""
_WIDEST_PIPE = 6
"""No pipe is wider than this [in]. Common practice, no source."""
_THOUSANDTHS = frozenset({"019", "024", "025", "027", "028", "032", "040"})
"""Thicknesses of gutter coil [thousandths of an inch] as they are written without their point."""


def thickness(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`.032`, `0.027"`, `26 gauge`, `26 ga`, `0.7 mm aluminium`, `oh three two`, `32 thou`."""
    tokens = scan.tokens
    unit = scan.unit(after, amount)
    end = unit[1] if unit else after
    if scan.is_in(after, "gauge"):
        return Claim(at, after + 1, "thickness", amount.value)
    if scan.skip_dash(after) > after and scan.is_in(after + 1, "gauge"):
        return Claim(at, after + 2, "thickness", amount.value)
    if scan.word(after) in ("thou", "thousandths", "thousands") and amount.value < 100:
        return Claim(at, after + 1, "thickness", amount.value)
    token = tokens[at]
    small = (
        token.kind == "number"
        and token.cat == "decimal"
        and amount.value < Fraction(1, 10)
        and amount.value > 0
    )
    if small and (unit is None or unit[0] == "inch") and len(token.word.partition(".")[2]) >= 3:
        return Claim(at, _material_end(scan, end), "thickness", amount.value)
    if (
        unit
        and unit[0] == "millimetre"
        and amount.value < 3
        and (scan.is_in(end, "material") or scan.back(at - 1) in scan.words.other["material"])
    ):
        return Claim(at, _material_end(scan, end), "thickness", amount.value)
    if unit is None and amount.shape == "decimal" and amount.value < 3 and scan.is_in(end, "material"):
        return Claim(at, _material_end(scan, end), "thickness", amount.value)
    if (
        unit is None
        and amount.shape == "decimal"
        and _THINNEST_MM <= amount.value <= _THICKEST_MM
        and (scan.is_in(after, "base_metal") or scan.back(at - 1) in scan.words.other["material"])
    ):
        # galv 0.6, zinc .7, 0.9 BMT
        return Claim(at, after + scan.is_in(after, "base_metal"), "thickness", amount.value)
    if unit is None and token.kind == "number" and token.word in _THOUSANDTHS and not scan.glued(at):
        return Claim(at, _material_end(scan, end), "thickness", amount.value / 1000)
    # oh three two, oh two seven: spoken thousandths
    first = at
    if at > scan.floor and tokens[at - 1].cat == "oh":
        first = at - 1
        if first > scan.floor and tokens[first - 1].cat == "point":
            first -= 1
        digits: list[int] = []
        here = at
        while here < len(tokens) and tokens[here].cat == "digit" and len(digits) < 3:
            digits.append(tokens[here].number)
            here += 1
        said = amount.spoken or scan.is_in(after, "material")  # oh 32 aluminum, but oh 24 is an overhang
        whole = amount.value if said and 10 <= amount.value < 100 and amount.is_whole else None
        before = tokens[first - 1] if first > scan.floor else None
        alone = before is None or not before.is_numeral
        if (
            alone
            and (len(digits) == 2 or whole is not None)
            and scan.unit(here if len(digits) == 2 else after) is None
        ):
            thou = (
                Fraction(digits[0] * 10 + digits[1], 1000)
                if len(digits) == 2
                else (whole or Fraction(0)) / 1000
            )
            return Claim(first, here if len(digits) == 2 else after, "thickness", thou)
    return None


def _material_end(scan: Scan, at: int) -> int:
    return at + 1 if scan.is_in(at, "gauge") or scan.word(at) == "thick" else at


def gutter_size(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`5 inch K`, `5" K-style`, `6 inch half round`, `5" ogee`, `125 mm half round`; a pipe: `3 in round`."""
    unit = scan.unit(after, amount)
    end = unit[1] if unit else after
    said = unit[0] if unit else None
    value = amount.value
    hundred = _hundred_and(scan, at, amount, after)
    if hundred is not None:
        return hundred
    pipe = _bare_pipe(scan, at, amount, after) if unit is None else None
    if pipe is not None:
        return pipe
    # the 6 1/2" of `129' 6 1/2" gutter` are the inches of a length
    alone = at == scan.floor or not (scan.tokens[at - 1].is_numeral or scan.tokens[at - 1].kind == "mark")
    halves = amount.shape != "mixed" or (value.denominator == HALF and alone)
    inches = said == "inch" and Fraction(5, 2) <= value <= 12 and halves
    metric = said == "millimetre" and 60 <= value <= 350
    bare = said is None and not unit and (4 <= value <= 8 or 75 <= value <= 350)
    if not (inches or metric or bare):
        return None
    tokens = scan.tokens
    here = scan.skip_dash(end)
    while here < len(tokens) and scan.word(here) in (
        "seamless",
        "aluminium",
        "aluminum",
        "white",
        "steel",
        "copper",
    ):
        if scan.word(here) == "seamless":
            break
        here += 1
    word = scan.word(here)
    if bare and value >= 75 and word == "hr" and here == end and not scan.is_in(after + 1, "pipes"):
        return Claim(at, here + 1, "gutter size", value)  # 112 HR: no hours
    two = f"{word} {scan.word(scan.skip_dash(here + 1))}"
    if two in ("half round", "k style", "square line", "d gutter", "half rounds"):
        return Claim(at, scan.skip_dash(here + 1) + 1, "gutter size", value)
    if word in scan.words.other["profiles"]:
        if bare and word not in (
            "k",
            "k-style",
            "kstyle",
            "og",
            "ogee",
            "half-round",
            "quad",
            "deepflow",
            "squareline",
        ):
            return None
        return Claim(at, here + 1, "gutter size", value)
    around = word in ("round", "rd") and scan.word(here + 1) in _PAST_SOMETHING  # `6" round the meter box`
    if (inches or metric) and scan.is_in(here, "pipes") and value != 0 and not around:
        small = value <= 6 if inches else value <= 150
        if small and here == scan.skip_dash(end):
            return Claim(at, here + 1, "pipe size", value)
    square = word in ("sq", "square") and scan.is_in(here + 1, "pipe_names")
    if square and value and ((inches and value <= _WIDEST_PIPE) or (metric and value <= _LARGEST_PIPE_MM)):
        return Claim(at, here + 1, "pipe size", value)  # `3" sq dps`
    if (
        not unit
        and scan.is_in(here, "pipes")
        and scan.word(here) == "round"
        and (2 <= value <= 6 or 60 <= value <= 150)
    ):
        return Claim(at, here + 1, "pipe size", value)
    return None


def _hundred_and(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`one twelve half round`, `one twenty five box`: a width in millimetres, its hundred unsaid."""
    if amount.value != 1 or not amount.spoken or not amount.is_whole:
        return None
    rest = scan.amount(after)
    if rest is None or not rest[0].spoken or not rest[0].is_whole or not 10 <= rest[0].value < 100:
        return None
    here = scan.skip_dash(rest[1])
    two = f"{scan.word(here)} {scan.word(scan.skip_dash(here + 1))}"
    value = 100 + rest[0].value
    if two == "half round":
        return Claim(at, scan.skip_dash(here + 1) + 1, "gutter size", value)
    if scan.word(here) in ("quad", "ogee", "box", "half-round", "squareline", "deepflow"):
        return Claim(at, here + 1, "gutter size", value)
    return None


def _bare_pipe(scan: Scan, at: int, amount: Amount, after: int) -> Claim | None:
    """`68 round`, `80 rd`, `76 dia`, `65 square`: a pipe's width in millimetres, with its shape."""
    if not amount.is_whole or not _SMALLEST_PIPE_MM <= amount.value <= _LARGEST_PIPE_MM:
        return None
    if not scan.is_in(after, "pipe_shapes") or scan.amount(after + 1) is not None:
        return None
    if scan.word(after) in ("rd", "sq", "square") and _names_a_street(scan, after + 1):
        return None
    return Claim(at, after + 1, "pipe size", amount.value)


def _names_a_street(scan: Scan, at: int) -> bool:
    """Whether a word with a capital, or a measure of area, follows: `80 Rd`, `65 square metres`."""
    if at >= len(scan.tokens):
        return False
    token = scan.tokens[at]
    return bool(token.unit) and token.kind == "word"
