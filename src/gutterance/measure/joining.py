"""Which numerals make one length together: feet and inches, inches and eighths, metres and centimetres."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from gutterance.measure.amounts import TAPE_PARTS, Amount, is_unnamed_fraction
from gutterance.measure.counts import counted_end
from gutterance.measure.other_numbers import claim
from gutterance.measure.units import METRIC

if TYPE_CHECKING:
    from gutterance.measure.scan import Scan

_LARGEST_COUNT_ON_A_RUN = 3
"""More corners, caps or drops than this on a run are not said in passing: `46 8 outside corners` is feet."""

_INCHES, _TEN = 12, 10
_LARGEST_THOUSANDS, _HUNDRED = 40, 100
_FEET_AND_INCHES = 2
_ORDER = {"yard": 0, "foot": 1, "inch": 2, "metre": 0, "decimetre": 1, "centimetre": 2, "millimetre": 3}


def group(scan: Scan, amount: Amount, after: int) -> tuple[tuple[Amount, ...], int, tuple[Amount, ...]]:
    """The numerals that make one length together, the token after them, and a count that was left out."""
    unit = scan.unit(after, amount)
    if unit is None:
        return _bare_group(scan, amount, after)
    amounts = [replace(amount, unit=unit[0])]
    end = unit[1]
    while True:
        step = _next_part(scan, amounts, end)
        if step is None:
            break
        part, end = step
        amounts.append(part)
        if part.unit in ("inch", "millimetre"):
            step = _next_part(scan, amounts, end) if part.shape == "whole" else None
            if step is not None and step[0].shape == "fraction":
                amounts.append(step[0])
                end = step[1]
            break
    counts: tuple[Amount, ...] = ()
    if len(amounts) == 1 and unit[0] == "foot" and amount.shape == "whole":
        comma = scan.word(end) == ","
        following = scan.amount(end + 1 if comma else end)
        if comma and following is not None and _stands_alone(scan, *following):
            counts = (following[0],)  # 42 foot, six.
        elif following is not None and not comma and _is_gutter(scan, end, *following):
            counts = (following[0],)  # 42 foot six inch gutter
        elif (
            following is not None
            and not comma
            and (noun := counted_end(scan, end, *following)) is not None
            and following[0].value <= _largest_count(scan, noun)
        ):
            counts = (following[0],)
    return tuple(amounts), end, counts


def _is_gutter(scan: Scan, at: int, amount: Amount, after: int) -> bool:
    """Whether what follows feet is a gutter's size, so that its inches may be the length's."""
    if amount.value >= _INCHES:
        return False
    other = claim(scan, at, amount, after)
    return other is not None and other.what == "gutter size" and other.first == at


def _largest_count(scan: Scan, noun_end: int | None) -> int:
    """How many of a thing one run may have: two caps or corners, three drops; of no thing, any number."""
    if noun_end is None:
        return _INCHES
    return 2 if scan.is_in(noun_end - 1, "at_ends") else _LARGEST_COUNT_ON_A_RUN


def _stands_alone(scan: Scan, amount: Amount, after: int) -> bool:
    """Whether a small bare number is all there is before the next stop: it may be inches."""
    if not amount.is_whole or amount.value >= _INCHES or scan.unit(after, amount) is not None:
        return False
    return after >= len(scan.tokens) or scan.word(after) in (",", ".", ";", "\n")


def _next_part(scan: Scan, amounts: list[Amount], at: int) -> tuple[Amount, int] | None:
    """The inches after feet, the eighths after inches, the centimetres after metres."""
    tokens = scan.tokens
    last = amounts[-1]
    here, joint = _joiner(scan, at)
    if here >= len(tokens):
        return None
    if tokens[here].cat == "article" and joint != "and":
        return None
    if last.unit == "metre" and last.shape == "whole" and joint == "":
        figures = _figures(scan, here)
        if figures is not None:
            return figures
    read = scan.amount(here)
    if tokens[here].cat == "article" and read is None and here + 1 < len(tokens):
        unit_word = tokens[here + 1].unit  # thirteen foot and an inch
        if len(tokens[here + 1].word) > 2 and _is_smaller(unit_word, last.unit):
            return Amount(
                Fraction(1), tokens[here].start, tokens[here].end, "whole", True, "and", unit_word
            ), here + 2
    if read is None or (here == at and joint == "" and not tokens[here].is_numeral):
        return None
    part, after = read
    unit = scan.unit(after, part)
    if last.unit == "metre" and last.shape == "decimal" and unit is not None:
        return None  # `2.82 m, 225 mm, gully`: a decimal has its millimetres, so that is another length
    if last.shape in ("fraction",) and unit is None:
        return None
    other = claim(scan, here, part, after)
    if other is not None and not (
        last.unit == "foot"
        and (
            (
                other.what == "count"
                and _largest_count(scan, counted_end(scan, here, part, after)) < part.value < _INCHES
            )
            # 42'6" x 28', 42'6 x2
            or (other.what == "plan size" and unit is not None)
            or (other.what in ("plan size", "material size") and scan.glued(here))
        )
    ):
        return None
    if unit is not None:
        if (
            last.unit is None
            or _ORDER[unit[0]] <= _ORDER[last.unit]
            or (unit[0] in METRIC) != (last.unit in METRIC)
        ):
            return None
        absurd = last.unit == "foot" and part.value >= _INCHES
        if absurd and (joint in (",", "and") or not _marks(scan, at)):
            return None
        if last.unit in METRIC and (part.value >= 1000 or last.shape == "decimal"):
            return None  # `2.82 m, 225 mm` are two lengths: who writes the decimals adds no millimetres
        return replace(part, unit=unit[0], joint=joint), unit[1]
    # no unit of its own
    if joint == ",":
        return None
    if part.shape == "fraction":
        if joint == "and" or joint == "" or last.unit in ("inch", "foot"):
            return (replace(part, joint=joint), after) if last.shape == "whole" else None
        return None
    if joint == "and" and not (part.shape == "mixed" or last.unit == "foot"):
        return None
    if last.unit == "foot":
        rest = scan.amount(after) if part.is_whole and joint == "and" else None
        if rest is not None and is_unnamed_fraction(part, rest[0]):
            # 29 foot and 7 8: seven eighths
            value = part.value / rest[0].value
            found = replace(part, value=value, end=rest[0].end, shape="fraction", fraction=value)
            return replace(found, joint="", unnamed=True), rest[1]
        if part.value >= _INCHES and not (joint in ("", "-") and _marks(scan, at) and part.value < 100):
            return None
        if part.value >= _INCHES and not scan.glued(here):
            return None
        if part.shape in ("decimal", "comma") and part.value >= _INCHES:
            return None
        return replace(part, joint=joint), after
    if (
        last.unit == "metre"
        and last.shape == "whole"
        and part.shape == "whole"
        and joint == ""
        and part.value < 1000
    ):
        rest = scan.amount(after) if part.spoken and part.value < 10 else None
        if rest is not None and rest[0].is_whole and rest[0].spoken and 10 <= rest[0].value < 100:
            # two metres four fifty: 450 mm
            value = part.value * 100 + rest[0].value
            return replace(part, value=value, end=rest[0].end, joint=joint), rest[1]
        return replace(part, joint=joint), after
    return None


def _figures(scan: Scan, at: int) -> tuple[Amount, int] | None:
    """`oh five oh` after metres: 50 mm; `oh five`: 5 cm."""
    tokens = scan.tokens
    if tokens[at].cat != "oh" and tokens[at].word not in ("zero", "nought", "naught"):
        return None
    digits, here = "", at
    while here < len(tokens) and tokens[here].cat in ("oh", "digit") and len(digits) < len("050"):
        digits, here = digits + str(tokens[here].number), here + 1
    if len(digits) < len("05"):
        return None
    unit = "millimetre" if len(digits) == len("050") else "centimetre"
    return Amount(
        Fraction(int(digits)), tokens[at].start, tokens[here - 1].end, "whole", True, "", unit
    ), here


def _is_smaller(unit: str, than: str | None) -> bool:
    """Whether a unit is smaller than another of the same system."""
    if than is None or unit not in _ORDER:
        return False
    return _ORDER[unit] > _ORDER[than] and (unit in METRIC) == (than in METRIC)


def _marks(scan: Scan, at: int) -> bool:
    """Whether the unit just before token `at` was written as a mark, or glued like ft."""
    token = scan.tokens[at - 1]
    return token.kind == "mark" or (bool(token.unit) and len(token.word) <= 2)


def _joiner(scan: Scan, at: int) -> tuple[int, str]:
    """Past what may stand between feet and inches: the token after it, and what it was."""
    tokens = scan.tokens
    joint = ""
    here = at
    while here < len(tokens):
        token = tokens[here]
        if token.cat == "filler":
            here += 1
        elif joint == "" and token.kind == "dash":
            here, joint = here + 1, "-"
        elif joint in ("", ",") and (token.cat == "and" or token.word == "&"):
            here, joint = here + 1, "and"
        elif joint == "" and token.word == ",":
            here, joint = here + 1, ","
        else:
            break
    return here, joint


_HIGHEST_EAVE = 40
"""No eave is so many feet high. Common practice, no source."""


def _begins_another(scan: Scan, part: Amount, after: int) -> bool:
    """`twenty and nine six`, `10 16 2`: the second stands for feet, and its inches behind it."""
    rest = scan.amount(after) if part.is_whole else None
    if part.joint == " " and not _INCHES <= part.value <= _HIGHEST_EAVE:
        return False
    return (
        rest is not None
        and not rest[0].lead_zero
        and rest[0].is_whole
        and rest[0].value < _INCHES
        and scan.tokens[after].kind != "mark"
        and not is_unnamed_fraction(part, rest[0])
    )


def _bare_group(scan: Scan, amount: Amount, after: int) -> tuple[tuple[Amount, ...], int, tuple[Amount, ...]]:
    """Numerals without a unit that belong together: `58 6`, `58-6-1/4`, `two four fifty`, `10 7 8`."""
    amounts = [amount]
    end = after
    counts: tuple[Amount, ...] = ()
    if amount.shape not in ("whole",):
        return tuple(amounts), end, counts
    figures = _figure_by_figure(scan, amount, after)
    if figures is not None:
        return (amount, figures[0]), figures[1], counts
    while len(amounts) < 4:
        step = _next_bare(scan, amounts, end)
        if step is None:
            break
        part, after_part, count = step
        if (
            len(amounts) == 1
            and _is_label(scan, amount)
            and (part.value >= _INCHES or _more(scan, part, after_part))
        ):
            break
        if count:
            counts = (part,)
            break
        if len(amounts) == 1 and part.joint in ("and", " ") and _begins_another(scan, part, after_part):
            break
        amounts.append(part)
        end = after_part
        if part.unit or part.shape != "whole":
            break
    return tuple(amounts), end, counts


def _figure_by_figure(scan: Scan, first: Amount, after: int) -> tuple[Amount, int] | None:
    """`seven five nine oh`, `three two oh five`: hundreds, tens and ones of millimetres behind thousands."""
    tokens = scan.tokens
    figures = tokens[after : after + 3]
    if (
        not first.spoken
        or not first.is_whole
        or first.value >= _LARGEST_THOUSANDS
        or len(figures) < len("590")
    ):
        return None
    ohs = [token.cat == "oh" for token in figures]
    if not (
        all(token.cat in ("oh", "digit") for token in figures) and (ohs[2] or ohs == [False, True, False])
    ):
        return None
    following = tokens[after + 3] if after + 3 < len(tokens) else None
    near = following is not None and following.start - figures[-1].end == 1
    if near and following is not None and (following.cat == "oh" or following.is_numeral):
        return None
    value = sum(token.number * scale for token, scale in zip(figures, (100, 10, 1), strict=True))
    if value < _HUNDRED:
        return None
    part = Amount(Fraction(value), figures[0].start, figures[-1].end, spoken=True, joint=" ")
    return part, after + 3


def _more(scan: Scan, part: Amount, after: int) -> bool:
    """Whether yet another plain number follows at once: the 6 of `run 5 9 6`."""
    if not part.is_whole or part.unit is not None or after >= len(scan.tokens):
        return False
    return scan.amount(after) is not None and scan.tokens[after].start - scan.tokens[after - 1].end == 1


def _is_label(scan: Scan, amount: Amount) -> bool:
    """Whether a small number is the name of a run, as the 1 of `run 1 42 6`."""
    if amount.value > _INCHES:
        return False
    words = scan.text[max(scan.start_of_line(amount.start), amount.start - 20) : amount.start].lower().split()
    if words[-1:] == ["side"] and len(words) > 1:
        return False  # `the right side eight one ninety`: a side with a name has no number
    return bool(words) and words[-1] in scan.words.other["label_before"]


def _next_bare(scan: Scan, amounts: list[Amount], at: int) -> tuple[Amount, int, bool] | None:
    tokens = scan.tokens
    if at >= len(tokens):
        return None
    here, joint, zero = at, " ", False
    if tokens[here].cat == "and":
        # 58 and 6 inches; 58 and 6
        here, joint = here + 1, "and"
        if len(amounts) > 1 or amounts[0].value < _INCHES:
            return None
    elif tokens[here].kind == "dash":
        spaced = not scan.glued(here), not (here + 1 < len(tokens) and scan.glued(here + 1))
        here, joint = here + 1, " - " if any(spaced) else "-"
    elif tokens[here].start - tokens[here - 1].end > 3:
        return None
    while here < len(tokens) and tokens[here].cat == "filler":
        here += 1
    if here < len(tokens) and tokens[here].cat == "oh":
        here, zero = here + 1, True
    if here >= len(tokens) or tokens[here].cat == "article" or tokens[here].word == "\n":
        return None
    read = scan.amount(here)
    if read is None:
        return None
    part, after = read
    part = replace(part, joint=joint, lead_zero=zero or part.lead_zero)
    noun = counted_end(scan, here, part, after) if joint != "-" or not scan.glued(here) else None
    if noun is not None:
        if part.value <= _largest_count(scan, noun):
            return part, after, True
        if part.value >= _INCHES:
            return None
    floor, scan.floor = scan.floor, at
    other = claim(scan, here, part, after)
    scan.floor = floor
    if other is not None and other.what != "count":
        return None
    unit = scan.unit(after, part)
    last = amounts[-1]
    if unit is not None:
        if unit[0] == "inch" and part.value < _INCHES and len(amounts) == 1:
            return replace(part, unit="inch"), unit[1], False
        spoken_tens = part.spoken and _TEN <= part.value < 100 and last.value < _TEN
        if joint != " " and unit[0] == "millimetre":
            return None
        if unit[0] == "millimetre" and spoken_tens and len(amounts) <= 2 and amounts[0].value < 100:
            return replace(part, unit="millimetre"), unit[1], False  # two seventy five millimetres
        if (
            unit[0] == "millimetre"
            and part.value < 1000
            and len(part_digits(part)) == 3
            and len(amounts) == 1
        ):
            return replace(part, unit="millimetre"), unit[1], False
        return None
    if part.shape in ("decimal", "comma"):
        return None
    if joint == "and":
        return (part, after, False) if part.is_whole and part.value < _INCHES else None
    if joint != " ":
        if part.shape == "fraction" or len(amounts) > 2:
            return None
        if joint == " - " and part.value >= _INCHES:
            return None
        return part, after, False
    if part.value < _INCHES:
        if len(amounts) == 1:
            return part, after, False
        # 10 7 8, 58 6 7 8: a fraction said without its name
        if part.shape != "whole":
            return None
        if len(amounts) == 2 and all(one.spoken and one.value < _TEN for one in (*amounts, part)):
            return part, after, False  # nine two five: figure by figure?
        if len(amounts) >= 2 and last.value < _INCHES and _is_part(last, part):
            return part, after, False
        nxt = scan.amount(after)
        if len(amounts) == 2 and nxt is not None and _is_part(part, nxt[0]) and scan.unit(nxt[1]) is None:
            return part, after, False
        return None
    if part.shape != "whole" or part.value >= 1000:
        return None
    if len(amounts) >= 2 and last.value < _INCHES and _is_part(last, part):
        return part, after, False
    if len(amounts) == 1 and part.value < 1000 and amounts[0].value < 100:
        return part, after, False
    if len(amounts) == 2 and amounts[0].value < 100 and amounts[1].value < 10 and part.value % 10 == 0:
        return part, after, False
    return None


def part_digits(part: Amount) -> str:
    """The digits of a whole amount, with leading zeros as they take up in the text."""
    return (
        str(int(part.value)).rjust(part.end - part.start, "0")[-3:]
        if not part.spoken
        else str(int(part.value))
    )


def _is_part(top: Amount, bottom: Amount) -> bool:
    return (
        top.is_whole
        and bottom.is_whole
        and bottom.value in TAPE_PARTS
        and bottom.value > 2
        and 0 < top.value < bottom.value
        and top.value % 2 == 1
    )


def range_end(
    scan: Scan, at: int, amounts: tuple[Amount, ...], end: int
) -> tuple[tuple[Amount, ...], int, str] | None:
    """The other end of `40 to 42`, `between 40 and 42`, `40' or 41'`."""
    tokens = scan.tokens
    if end >= len(tokens):
        return None
    word = tokens[end].word
    between = word == "and" and scan.back(at - 1) == "between"
    dash = word == "-" and len(amounts) == 1
    if not (between or word in scan.words.other["range"] or word == "~" or dash):
        return None
    here = end + 1
    while here < len(tokens) and tokens[here].cat == "filler":
        here += 1
    read = scan.amount(here)
    if read is None or tokens[here].cat == "part":
        return None
    floor, scan.floor = scan.floor, here
    other = claim(scan, here, *read)
    scan.floor = floor
    if other is not None:
        return None
    more, after, _ = group(scan, *read)
    if dash and not (more[-1].unit is not None and amounts[0].value < more[0].value):
        return None
    return more, after, f"'{word}' between them" if word.isalpha() else "with a dash between them"


def is_dash_range(amounts: tuple[Amount, ...]) -> bool:
    first, last = amounts
    return first.value < last.value and last.value >= _INCHES and first.is_whole


def share_unit(
    first: tuple[Amount, ...], last: tuple[Amount, ...]
) -> tuple[tuple[Amount, ...], tuple[Amount, ...]]:
    """`40 to 42 feet`: the unit said once holds for both."""
    if len(first) == 1 and first[0].unit is None and last[0].unit is not None:
        first = (replace(first[0], unit=last[0].unit),)
    elif len(last) == 1 and last[0].unit is None and first[0].unit is not None and len(first) == 1:
        last = (replace(last[0], unit=first[0].unit),)
    elif len(first) == _FEET_AND_INCHES and len(last) == 1 and _are_inches(last[0]):
        last = (first[0], replace(last[0], joint=first[1].joint))  # 42' 6 or 7"
    return first, last


def _are_inches(amount: Amount) -> bool:
    return amount.unit in (None, "inch") and amount.value < _INCHES
