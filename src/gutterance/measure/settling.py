"""What a number means as the answer to a field: feet, inches or millimetres, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from gutterance.measure.amounts import TAPE_PARTS, Amount
from gutterance.measure.length import Length
from gutterance.measure.units import METRIC, length_of
from gutterance.measure.vocabulary import vocabulary

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gutterance.measure.found import Found

FieldKind = Literal["run", "height", "wall to fascia", "offset", "none"]
"""What a bare number answers. Other fields in inches use "offset", other fields in feet "run" or "height"."""

_INCHES = 12
_LONGEST_RUN = 300  # [ft] a bare number above this is no length of eave in feet
_LONGEST_HEIGHT = 60  # [ft]
_MM_ABOVE = 100
_METRES_BELOW = 20
_LEAST_MM = 10  # trades on metric jobs say millimetres; below this a short distance is hardly one
_EIGHTHS = 8
_FEW = 3  # "two six inches from each end" may be two outlets


@dataclass(frozen=True, slots=True)
class LengthReading:
    """A length settled from words. `why` says how it was read; a doubt in `doubts` means: ask.

    `could_be` are other sane readings with their reasons, filled also where there is no doubt.
    `start` and `end` [characters of the text as given] are those of the Found.
    """

    length: Length
    text: str
    start: int
    end: int
    why: str
    doubts: tuple[str, ...] = ()
    could_be: tuple[tuple[Length, str], ...] = ()


@dataclass(slots=True)
class _Meaning:
    length: Length
    why: str
    doubts: list[str]
    others: list[tuple[Length, str]]


def settle(found: Found, field: FieldKind = "none", *, metric: bool = False) -> LengthReading | None:
    """What a Found means as the answer to `field`, or None where it cannot be a length.

    A bare number takes the unit of its field: feet for a run or a height (feet and inches when two),
    inches for wall to fascia and offsets, and on a metric job millimetres over 100, else metres.
    """
    if found.kind == "other" or not found.amounts:
        return None
    meaning = _mean(found.amounts, field, metric)
    if meaning is None:
        return None
    if metric and found.loose_in:
        # outlet 300 in from the left, on a metric job
        bare = _metric((replace(found.amounts[0], unit=None),), field)
        if bare is not None:
            inches = (meaning.length, "inches")
            doubt = [] if found.amounts[0].value > _MM_ABOVE else ["'in' as inches, or as a word?"]
            meaning = _Meaning(bare.length, bare.why, doubt, [*bare.others, inches])
    doubts = list(found.doubts) + meaning.doubts
    others = list(meaning.others)
    for also in found.also:
        second = _mean(also, field, metric)
        if second is not None:
            others.append((second.length, "the other value that was said"))
            joined = _feet_and_inches_misheard(found.amounts, also)
            if joined is not None:
                others.append((joined, "'to' may be 'two'"))
    for amount in found.could_count:
        if len(found.amounts) == 1 and field in ("run", "height"):
            feet = found.amounts[0]
            other = Length.from_feet(feet.value, amount.value)
            others.append((other, f"the {amount.value} after it could be inches"))
            if feet.unit is None or feet.spoken or found.kind == "length":
                doubts.append(f"{amount.value} may be a count or inches")
    for amounts, why in _misheard(found.amounts):
        heard = _mean(amounts, field, metric)
        if heard is not None:
            others.append((heard.length, why))
    length = meaning.length
    if found.shift:
        others.insert(0, (length, "the mark itself"))
        length = Length(length.inches + found.shift, length.system)
    if found.exact and field in ("run", "height"):
        doubts = [doubt for doubt in doubts if not doubt.startswith("bare")]
    kept: list[tuple[Length, str]] = []
    for other, why in others:
        if other.inches != length.inches and all(other.inches != one.inches for one, _ in kept):
            kept.append((other, why))
    return LengthReading(
        length, found.text, found.start, found.end, meaning.why, tuple(dict.fromkeys(doubts)), tuple(kept)
    )


def _misheard(amounts: tuple[Amount, ...]) -> Iterator[tuple[tuple[Amount, ...], str]]:
    kin = vocabulary().kin
    for at, amount in enumerate(amounts):
        whole = int(amount.value)
        if whole in kin and whole <= 99:
            other = replace(amount, value=amount.value - whole + kin[whole], split=None)
            yield (*amounts[:at], other, *amounts[at + 1 :]), f"{whole} and {kin[whole]} sound alike"


def _feet_and_inches_misheard(first: tuple[Amount, ...], last: tuple[Amount, ...]) -> Length | None:
    if (
        len(first) == len(last) == 1
        and first[0].is_whole
        and last[0].value < _INCHES
        and last[0].unit is None
    ):
        return Length.from_feet(first[0].value, last[0].value) if first[0].value > last[0].value else None
    return None


def _mean(amounts: tuple[Amount, ...], field: FieldKind, metric: bool) -> _Meaning | None:
    if amounts[0].unit is not None:
        return _with_units(amounts, field)
    if len(amounts) > 1 and amounts[-1].unit is not None:
        return _hanging(amounts, field)
    if metric:
        return _metric(amounts, field)
    if field == "none":
        return _no_field(amounts)
    if field in ("run", "height"):
        return _feet(amounts, field)
    return _inches(amounts, field)


# ---- with units of their own ---------------------------------------------------------------------------


def _with_units(amounts: tuple[Amount, ...], field: FieldKind) -> _Meaning:
    total = Length(Fraction(0))
    doubts: list[str] = []
    others: list[tuple[Length, str]] = []
    last = ""
    system = length_of(Fraction(0), amounts[0].unit or "inch").system
    for at, amount in enumerate(amounts):
        unit = amount.unit
        if unit is None:
            unit, value, doubt, other = _unsaid(amounts, at, last, total)
            doubts += doubt
            others += other
        else:
            value = amount.value
        if unit == "inch" and last == "foot" and value >= _INCHES:
            doubts.append(f"{_plain(value)} inches after feet is a foot or more")
            others.append((total, "without the inches"))
            others.append((length_of(value, "inch"), "the inches alone"))
        if unit == "inch" and last == "foot" and amounts[at - 1].shape != "whole":
            doubts.append("a part of a foot and inches as well")
        if unit == "foot":
            _check_feet(amount, doubts, others, field)
        if amount.misread:
            doubts.append(f"{amount.misread!r} read as a fraction")
        step = length_of(value, unit)
        total = Length(total.inches + step.inches, system)
        last = unit
    if amounts[0].unit in ("inch", "foot") and len(amounts) == 1:
        split = amounts[0].split
        if split is not None and amounts[0].unit == "foot" and False:
            others.append((Length.from_feet(*split), "two numbers run together"))
    return _Meaning(total, f"units as said: {_said(amounts)}", doubts, others)


def _unsaid(
    amounts: tuple[Amount, ...], at: int, last: str, total: Length
) -> tuple[str, Fraction, list[str], list[tuple[Length, str]]]:
    """The unit of a part that was said without one: its name, value, doubts and other readings."""
    part, before = amounts[at], amounts[at - 1]
    if last == "metre":
        digits = str(int(part.value))
        if part.lead_zero or len(digits) == 3:
            return "millimetre" if len(digits) == 3 else "centimetre", part.value, [], []
        if part.shape == "fraction":
            return "metre", part.value, [], []
        if len(digits) == 2:
            return "centimetre", part.value, [], []
        other = Length(total.inches + length_of(part.value, "centimetre").inches, "metric")
        return (
            "decimetre",
            part.value,
            ["one figure after metres: tenths or centimetres?"],
            [(other, "centimetres")],
        )
    if last == "foot":
        if part.shape == "fraction":
            as_inches = Length(total.inches + part.value)
            as_feet = Length(total.inches + part.value * _INCHES)
            if part.joint == "and" and before.value == 1 and part.value == Fraction(1, 2):
                return "foot", part.value, [], [(as_inches, "half an inch over")]
            if part.joint == "and" and part.spoken and part.value.denominator < _EIGHTHS:
                return (
                    "foot",
                    part.value,
                    ["a part of a foot or of an inch?"],
                    [(as_inches, "a part of an inch")],
                )
            return "inch", part.value, [], [(as_feet, "a part of a foot")]
        return "inch", part.value, [], []
    if last == "inch":
        return "inch", part.value, [], []
    return last, part.value, [], []


def _check_feet(
    amount: Amount, doubts: list[str], others: list[tuple[Length, str]], field: FieldKind
) -> None:
    del field
    if amount.shape in ("decimal", "comma"):
        inches = amount.value * _INCHES
        if (inches * 16).denominator != 1:
            places = amount.value - int(amount.value)
            tenths = places * 10
            if tenths.denominator == 1:
                others.append(
                    (Length.from_feet(int(amount.value), tenths), "the point read as feet and inches")
                )
            doubts.append("decimal feet that no tape shows")


# ---- without units --------------------------------------------------------------------------------------


def _hanging(amounts: tuple[Amount, ...], field: FieldKind) -> _Meaning | None:
    """`58 6"`: feet left unsaid; `3 200 mm`: thousands apart."""
    first, last = amounts[0], amounts[-1]
    if last.unit == "millimetre" and last.value < _MM_ABOVE:
        hundreds = first.value * 100 if len(amounts) == 2 else first.value * 1000 + amounts[1].value * 100
        why = "hundreds said without their name: millimetres"
        return _Meaning(Length.from_mm(hundreds + last.value), why, [], [])
    if last.unit == "millimetre":
        value = first.value * 1000 + last.value
        return _Meaning(Length.from_mm(value), "thousands with a space: millimetres", [], [])
    length = Length.from_feet(first.value, last.value)
    doubts = [] if field in ("run", "height") else ["feet not said before the inches"]
    if last.joint == "-" and first.value < last.value:
        doubts.append("feet and inches, or from one to the other?")
        return _Meaning(
            length, f"{_said(amounts)}: feet, then inches", doubts, [(Length(last.value), "inches")]
        )
    if first.value <= _FEW:
        doubts.append(f"{_plain(first.value)} feet, or {_plain(first.value)} of them?")
        why = f"{_said(amounts)}: feet, then inches as said"
        return _Meaning(length, why, doubts, [(Length(last.value), "inches")])
    return _Meaning(length, f"{_said(amounts)}: feet, then inches as said", doubts, [])


def _as_fraction(amounts: tuple[Amount, ...]) -> tuple[tuple[Amount, ...], bool]:
    """`10 7 8` as 10 7/8 where the last two can be a tape's fraction."""
    if len(amounts) < 3:
        return amounts, False
    top, bottom = amounts[-2], amounts[-1]
    if not (
        bottom.value in TAPE_PARTS and bottom.value > 2 and top.value < bottom.value and top.value % 2 == 1
    ):
        return amounts, False
    whole = amounts[-3]
    value = whole.value + top.value / bottom.value
    joined = replace(whole, value=value, shape="mixed", end=bottom.end, fraction=top.value / bottom.value)
    return (*amounts[:-3], joined), True


def _feet(amounts: tuple[Amount, ...], field: FieldKind) -> _Meaning | None:
    name = "run" if field == "run" else "height"
    limit = _LONGEST_RUN if field == "run" else _LONGEST_HEIGHT
    doubts: list[str] = []
    others: list[tuple[Length, str]] = []
    if len(amounts) == 4 or (len(amounts) == 3 and amounts[1].value < _INCHES):
        repaired, did = _as_fraction(amounts)
        if did:
            if len(amounts) == 4:
                meaning = _feet(repaired, field)
                if meaning is not None:
                    meaning.why += "; the last two numbers are a fraction"
                    if amounts[0].value < _METRES_BELOW or amounts[-1].value < _EIGHTHS:
                        # 9 4 7 8 may be 9' 4" and 7' 8"
                        meaning.doubts.append("a fraction without its name, or a second length?")
                        meaning.others.append(
                            (
                                Length.from_feet(amounts[0].value, amounts[1].value),
                                "the last two numbers apart",
                            )
                        )
                return meaning
            feet, top, bottom = (amount.value for amount in amounts)
            length = Length.from_feet(feet, top / bottom)
            other = Length.from_feet(feet, top)
            return _Meaning(
                length,
                f"feet and {top}/{bottom} inch",
                ["a fraction without its name"],
                [(other, "feet and inches"), (Length(feet + top / bottom), "inches and a fraction")],
            )
    if len(amounts) == 1:
        amount = amounts[0]
        value = amount.value
        why = f"bare {_plain(value)} as a {name}: feet"
        if amount.shape == "whole":
            length = Length.from_feet(value)
            if amount.split is not None:
                others.append((Length.from_feet(*amount.split), "two numbers run together"))
            if value > limit:
                doubts.append(f"{_plain(value)} feet is more than a {name} can be")
                others.append((Length.from_mm(value), "millimetres"))
                split = _run_together(value)
                if split is not None:
                    others.append((split, "feet and inches run together"))
            return _Meaning(length, why, doubts, others)
        if amount.shape in ("decimal", "comma"):
            tenths = value % 1 * 10
            if tenths.denominator == 1 or (value * _INCHES * 16).denominator != 1 or amount.shape == "comma":
                doubts.append("decimal feet, or feet and inches?")
            if tenths.denominator == 1:
                others.append((Length.from_feet(value // 1, tenths), "the point between feet and inches"))
            if field == "run" or value < _METRES_BELOW:
                others.append((Length.from_mm(value * 1000), "metres"))
            return _Meaning(Length.from_feet(value), why, doubts, others)
        part = amount.fraction or value
        whole = value - part
        inches = Length(value)
        if amount.shape == "fraction":
            return _Meaning(
                inches,
                f"bare {_plain(value)}: inches",
                ["a fraction alone: inches or feet?"],
                [(Length.from_feet(value), "feet")],
            )
        in_feet, in_inches = Length.from_feet(value), Length.from_feet(whole, part)
        doubts.append("a fraction after one number: of a foot or of an inch?")
        if part.denominator in (2, 4):
            return _Meaning(in_feet, why, doubts, [(in_inches, "a part of an inch"), (inches, "inches")])
        if whole > _INCHES:
            why = f"bare {_plain(value)} as a {name}: feet and a part of an inch"
            return _Meaning(
                in_inches, why, doubts, [(inches, "inches"), (in_feet, "feet and a part of a foot")]
            )
        return _Meaning(
            inches,
            f"bare {_plain(value)}: inches, as a tape's fraction",
            doubts,
            [(in_inches, "feet and a part of an inch")],
        )
    first, rest = amounts[0], amounts[1]
    if len(amounts) == 2 and rest.value < _INCHES:
        length = Length.from_feet(first.value, rest.value)
        why = f"two bare numbers as a {name}: feet and inches"
        if first.value == 1 and rest.value >= 10 and field == "run" and rest.is_whole and not rest.lead_zero:
            doubts.append(f"1' {_plain(rest.value)}\" or {100 + int(rest.value)} feet?")
            others.append((Length.from_feet(100 + rest.value), "a hundred and ..."))
        if rest.lead_zero and first.value < 3 and field == "run":
            hundreds = int(first.value * 100 + rest.value)
            doubts.append(f"{length.tape_text()} or {hundreds} feet?")
            others.append((Length.from_feet(first.value * 100 + rest.value), "hundreds of feet"))
        if rest.joint == "and":
            doubts.append("'and' between them: feet and inches, or two numbers?")
            others.append((Length.from_feet(first.value), "the first number alone"))
        if rest.joint == " - ":
            doubts.append("a dash with spaces: feet and inches, or two numbers?")
            others.append((Length.from_feet(first.value), "the first number alone"))
        if first.value > limit:
            doubts.append(f"{_plain(first.value)} feet is more than a {name} can be")
        return _Meaning(length, why, doubts, others)
    if len(amounts) == 2 and first.value < 10 and rest.value < 100 and field == "run" and rest.is_whole:
        length = Length.from_feet(first.value * 100 + rest.value)
        others.append((Length.from_feet(first.value, rest.value), "feet and inches"))
        others.append((Length.from_feet(first.value), "the first number alone"))
        others.append((Length.from_feet(rest.value), "the second number alone"))
        return _Meaning(length, "two bare numbers as a hundred and more feet", ["hundreds of feet?"], others)
    mm = _spoken_mm(amounts)
    length = Length.from_feet(first.value)
    others = [(mm, "millimetres")] if mm is not None else []
    return _Meaning(
        length, "the first of several numbers: feet", ["more numbers than feet and inches"], others
    )


def _run_together(value: Fraction) -> Length | None:
    digits = str(int(value))
    if 3 <= len(digits) <= 4:
        for cut in (len(digits) - 1, len(digits) - 2):
            feet, inches = int(digits[:cut]), digits[cut:]
            if not (inches.startswith("0") and len(inches) > 1) and int(inches) < _INCHES:
                return Length.from_feet(feet, int(inches))
    return None


def _inches(amounts: tuple[Amount, ...], field: FieldKind) -> _Meaning | None:
    amounts, repaired = _as_fraction(amounts)
    first = amounts[0]
    doubts: list[str] = []
    others: list[tuple[Length, str]] = []
    if len(amounts) == 1:
        why = f"bare {_plain(first.value)} after {field}: inches"
        if repaired:
            why += "; the last two numbers are a fraction"
            others.append((Length(Fraction(first.value // 1)), "the last two numbers apart"))
        if first.misread:
            doubts.append(f"{first.misread!r} read as a fraction")
        if first.value > 144:
            doubts.append(f"{_plain(first.value)} inches is a lot: inches or millimetres?")
            others.append((Length.from_mm(first.value), "millimetres"))
        if first.shape == "comma":
            doubts.append("a comma in the number")
        if first.value.denominator not in TAPE_PARTS and first.value.denominator != 1:
            doubts.append("no tape shows this part of an inch")
        return _Meaning(Length(first.value), why, doubts, others)
    rest = amounts[1]
    feet = Length.from_feet(first.value, rest.value)
    together = Length(first.value * 10 + rest.value) if rest.value < 10 and first.value < 10 else None
    if len(amounts) == 2 and rest.value < _INCHES:
        doubts.append(f"two numbers: {feet.tape_text()} or inches?")
        if together is not None and rest.is_whole:
            others.append((together, "two figures of one number"))
        if rest.value in TAPE_PARTS and rest.value > first.value and first.value % 2 == 1:
            others.append((Length(first.value / rest.value), "a fraction without its name"))
        if first.value >= _INCHES:
            return _Meaning(
                Length(first.value),
                f"bare {_plain(first.value)} after {field}: inches",
                doubts,
                [(feet, "feet and inches"), *others],
            )
        return _Meaning(feet, f"two bare numbers after {field}: feet and inches", doubts, others)
    doubts.append("more numbers than one length has")
    mm = _spoken_mm(amounts)
    if mm is not None:
        others.append((mm, "millimetres"))
    return _Meaning(Length(first.value), f"bare {_plain(first.value)} after {field}: inches", doubts, others)


def _no_field(amounts: tuple[Amount, ...]) -> _Meaning | None:
    amounts, _ = _as_fraction(amounts)
    first = amounts[0]
    if len(amounts) == 1:
        if first.shape == "mixed" and first.value.denominator in TAPE_PARTS and first.value.denominator > 2:
            return _Meaning(Length(first.value), "a tape's fraction: inches", ["no unit said"], [])
        return None
    rest = amounts[1]
    if len(amounts) == 2 and rest.value < _INCHES and (rest.joint == "-" or rest.shape == "mixed"):
        return _Meaning(
            Length.from_feet(first.value, rest.value), "two numbers: feet and inches", ["no unit said"], []
        )
    return None


def _spoken_mm(amounts: tuple[Amount, ...]) -> Length | None:
    """`three two hundred` 3200, `two four fifty` 2450, `fourteen six hundred` 14600 [mm]."""
    values = [int(amount.value) for amount in amounts if amount.is_whole]
    if len(values) != len(amounts):
        return None
    if len(values) == 2 and values[0] < 100 and 100 <= values[1] < 1000:
        return Length.from_mm(values[0] * 1000 + values[1])
    if len(values) == 3 and values[0] < 100 and 1 <= values[1] < 10 and 10 <= values[2] < 100:
        return Length.from_mm(values[0] * 1000 + values[1] * 100 + values[2])
    return None


def _metric(amounts: tuple[Amount, ...], field: FieldKind) -> _Meaning | None:
    doubts: list[str] = []
    others: list[tuple[Length, str]] = []
    short = field in ("wall to fascia", "offset")
    first = amounts[0]
    value = first.value
    if len(amounts) == 1:
        if first.shape == "whole" and value > _MM_ABOVE:
            return _Meaning(
                Length.from_mm(value), f"bare {_plain(value)} on a metric job: millimetres", [], []
            )
        metres, mm, cm = Length.from_mm(value * 1000), Length.from_mm(value), Length.from_mm(value * 10)
        if short and first.shape == "whole":
            if value <= _LEAST_MM:
                doubts.append("millimetres or centimetres?")
            return _Meaning(
                mm, f"bare {_plain(value)} on a metric job: millimetres", doubts, [(cm, "centimetres")]
            )
        if first.shape == "whole" and value >= _METRES_BELOW:
            doubts.append(f"{_plain(value)} metres, or millimetres?")
            others.append((mm, "millimetres"))
        if first.shape != "whole" and value > _MM_ABOVE:
            return _Meaning(mm, f"bare {_plain(value)} on a metric job: millimetres", [], [])
        return _Meaning(metres, f"bare {_plain(value)} on a metric job: metres", doubts, others)
    spoken = _spoken_mm(amounts)
    if spoken is not None:
        return _Meaning(spoken, "numbers run together on a metric job: millimetres", [], [])
    if len(amounts) == 2 and amounts[1].is_whole and first.is_whole:
        rest = amounts[1].value
        if short and value < 10 <= rest < 100:
            mm = Length.from_mm(value * 100 + rest)
            metres = Length.from_mm(value * 1000 + rest * 10)
            return _Meaning(
                mm, f"two numbers after {field}: hundreds of millimetres", [], [(metres, "metres")]
            )
        digits = 2 if rest >= 10 or amounts[1].lead_zero else 1
        length = Length.from_mm(value * 1000 + rest * (10 if digits == 2 else 100))
        others.append((Length.from_mm(value * 100 + rest), "millimetres, figure by figure"))
        return _Meaning(length, "two numbers on a metric job: metres and parts", ["metres and what?"], others)
    return _Meaning(
        Length.from_mm(value * 1000),
        "the first of several numbers: metres",
        ["more numbers than one length has"],
        [],
    )


def _plain(value: Fraction) -> str:
    if value.denominator == 1:
        return str(value.numerator)
    if value.denominator in TAPE_PARTS:
        whole, rest = divmod(value, 1)
        return f"{whole} {rest}" if whole else str(rest)
    return str(float(value)) if value.denominator in (5, 10, 20, 25, 50, 100, 1000) else str(value)


def _said(amounts: tuple[Amount, ...]) -> str:
    return ", ".join(
        f"{_plain(amount.value)} {amount.unit}" if amount.unit else _plain(amount.value) for amount in amounts
    )


__all__ = ["METRIC", "FieldKind", "LengthReading", "settle"]
