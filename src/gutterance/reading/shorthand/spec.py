"""What a shorthand note says of the whole job: `Q115 stl.55 crm / dp90Ø / brk900`, `5K/.027 al/24oc`."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from gutterance.measure.length import Length, decimal_or_mixed
from gutterance.measure.numerals import every_numeral
from gutterance.sheet.models import Reading, Source

if TYPE_CHECKING:
    from collections.abc import Mapping

    from gutterance.reading.discourse import Walk
    from gutterance.reading.items import Line
    from gutterance.reading.lexicon import Term

PROFILES = {
    "k": "K-style", "ks": "K-style", "q": "quad", "qd": "quad", "quad": "quad", "hr": "half round",
    "h/r": "half round", "½r": "half round", "og": "ogee", "ogee": "ogee", "box": "box",
    "bx": "box", "sq": "box",
}  # fmt: skip
"""Letters for a gutter's shape beside its width. Common practice, no source."""
MATERIALS = {
    "stl": "steel", "st": "steel", "steel": "steel", "galv": "steel", "gal": "steel", "al": "aluminium",
    "alu": "aluminium", "alum": "aluminium", "ali": "aluminium", "cu": "copper", "cop": "copper",
    "copp": "copper", "copper": "copper", "zn": "zinc", "zinc": "zinc", "zc": "zinc",
}  # fmt: skip
SHAPE = r"(?P<shape>k|ks|q|qd|quad|hr|h/r|½r|og|ogee|box|bx)"
PIPE = r"(?:dps?|ds|rwps?|d/p|d/s|pipes?|↓|ldr|p)"
ROUND = r"(?:ø|⌀|rd|rnd|round|dia)"
UNIT = r"(?:mm|\"|”|″|in)?"
HANGER = r"(?:brk|brks|brkt|brkts|brac|hgr|hgrs|hng|hngr|hngrs|hang|clips?)"
ROOF = r"(?:rf|roof|pitch|pch)"
SAID = (
    ("gutter", rf"{SHAPE}\s?-?\s?(?P<width>\d{{1,3}}){UNIT}"),
    ("gutter", rf"(?P<width>\d{{1,3}}){UNIT}\s?-?\s?{SHAPE}"),
    ("stuff", r"(?P<stuff>[a-z]{2,6})\s?(?P<thick>0?\.\d{1,4})(?P<mm>\s?mm)?"),
    ("stuff", r"(?P<thick>0?\.\d{1,4})(?P<mm>\s?mm)?\s?(?P<stuff>[a-z]{2,6})"),
    ("stuff", r"(?P<thick>0?\.\d{1,4})(?P<mm>\s?mm)?"),
    ("stuff", r"(?P<stuff>[a-z]{2,6})"),
    ("round pipe", rf"{PIPE}\s?(?P<width>\d{{1,3}}){UNIT}\s?{ROUND}"),
    ("round pipe", rf"(?P<width>\d{{1,3}}){UNIT}\s?{ROUND}(?:\s?{PIPE})?"),
    ("pipe", rf"(?:{PIPE}\s?)?(?P<across>\d{{1,3}})\s?[x×]\s?(?P<deep>\d{{1,3}})(?:\s?{PIPE})?"),
    ("hangers", rf"{HANGER}\s?@?\s?(?P<apart>\d{{2,4}})(?:mm|\"|”)?(?:\s?o/?c)?"),
    ("hangers", r"(?P<apart>\d{2,4})(?:mm|\"|”)?\s?o/?c"),
    ("pitch", rf"{ROOF}\s?@?\s?(?P<degrees>\d{{1,2}}(?:\.\d)?)\s?(?:°|deg)"),
    ("pitch", rf"(?P<degrees>\d{{1,2}}(?:\.\d)?)\s?(?:°|deg)(?:\s?{ROOF})?"),
    ("pitch", rf"(?:{ROOF}\s?)?(?P<rise>\d{{1,2}})[/:]12"),
    ("rain", r"(?:rain\s?)?(?P<rate>\d{1,3})\s?mm/hr?"),
    ("rain", r"(?:rain\s?)?(?P<rate>\d{1,2}(?:\.\d)?)\s?(?:in|\"|”)/hr?"),
)
"""What one chunk of such a line may say."""
CHUNKS = tuple((kind, re.compile(pattern, re.IGNORECASE)) for kind, pattern in SAID)
BETWEEN = re.compile(r"[\s,;|·/()]*")
OTHER = re.compile(r"[^\s,;|·/()]+")
FEWEST = 2
"""A line of fewer such chunks is no line of the job's stuff."""
LARGEST_INCHES = 40
WIDEST_IN_INCHES = 60


def put_spec(line: Line, start: int, end: int, walk: Walk, terms: Mapping[str, Term]) -> bool:
    """Put what a stretch of a line says of the job into its defaults; False where it says more than that.

    The items that were taken are dropped from the line, so that they are not heard once more.
    """
    found, whole = _chunks(line.text, start, end, terms)
    if not whole:
        found = [one for one in found if _touch(line.text[one[1] : one[2]])]
    for fields, first, last in found:
        source = Source(line=line.number, start=first, end=last, text=line.text[first:last])
        for name, value in fields.items():
            walk.defaults.setdefault(name, Reading[Any](value=value, source=[source.model_copy()]))
        walk.use_source(source)
    taken = [(first, last) for _, first, last in found]
    line.items = [
        item
        for item in line.items
        if not (whole and start <= item.start < end)
        and not any(first <= item.start < last for first, last in taken)
    ]
    return whole


def _touch(text: str) -> bool:
    """Whether letters and figures stand against each other: `q125`, which no other reader parts."""
    parted = re.sub(r"(?<=\d)\s?[x×]\s?(?=\d)", " ", text)
    return re.search(r"[^\W\d_]\.?\d|\d[^\W\d_]", parted) is not None


def _chunks(
    text: str, start: int, end: int, terms: Mapping[str, Term]
) -> tuple[list[tuple[dict[str, object], int, int]], bool]:
    """Each chunk with what it says, and whether they are all of the stretch."""
    whole = True
    found: list[tuple[dict[str, object], int, int]] = []
    at = start
    while at < end:
        between = BETWEEN.match(text, at, end)
        at = between.end() if between is not None else at
        if at >= end:
            break
        one = _chunk(text, at, end, terms)
        if one is None:
            other = OTHER.match(text, at, end)
            at = other.end() if other is not None else end
            whole = False
            continue
        found.append(one)
        at = one[2]
    numbers = any(first < one[2] and one[1] < last for one in found for first, last in every_numeral(text))
    return (found, whole) if len(found) >= FEWEST and numbers else ([], False)


def _chunk(
    text: str, at: int, end: int, terms: Mapping[str, Term]
) -> tuple[dict[str, object], int, int] | None:
    best: tuple[dict[str, object], int, int] | None = None
    for kind, pattern in CHUNKS:
        match = pattern.match(text, at, end)
        if match is None or (match.end() < end and re.match(r"[\w.°]", text[match.end()])):
            continue
        fields = _fields(kind, {name: value for name, value in match.groupdict().items() if value}, terms)
        if fields and (best is None or match.end() > best[2]):
            best = fields, at, match.end()
    if best is not None:
        return best
    for words in (2, 1):
        match = re.match(r"[A-Za-z]+(?:\s[A-Za-z]+)" + ("{1}" if words == 2 else "{0}"), text[at:end])
        term = terms.get(match.group().lower()) if match is not None else None
        if match is not None and term is not None and term.concept == "colour":
            return {"colour": term.value or term.phrase}, at, at + match.end()
    return None


def _fields(kind: str, said: dict[str, str], terms: Mapping[str, Term]) -> dict[str, object]:
    match kind:
        case "gutter":
            width = int(said["width"])
            size = Length(Fraction(width)) if width <= LARGEST_INCHES else Length.from_mm(width)
            return {"gutter_profile": PROFILES[said["shape"].lower()], "gutter_size": size}
        case "stuff":
            return _stuff(said, terms)
        case "round pipe":
            width = int(said["width"])
            if width <= LARGEST_INCHES:
                return {"downpipe_size": f"{Length(Fraction(width)).file_text()} round"}
            return {"downpipe_size": f"{width} mm round"}
        case "pipe":
            across, deep = int(said["across"]), int(said["deep"])
            metric = " mm" if across > LARGEST_INCHES else ""
            return {"downpipe_size": f"{across}x{deep}{metric}"}
        case "hangers":
            apart = int(said["apart"])
            return {
                "hanger_spacing": Length(Fraction(apart))
                if apart <= WIDEST_IN_INCHES
                else Length.from_mm(apart)
            }
        case "pitch":
            if "rise" in said:
                return {"roof_pitch": f"{int(said['rise'])}/12"}
            return {"roof_pitch": f"{decimal_or_mixed(Fraction(said['degrees']))} degrees"}
        case _:
            unit = "mm/h" if Fraction(said["rate"]) > LARGEST_INCHES else "in/h"
            return {"rainfall": f"{decimal_or_mixed(Fraction(said['rate']))} {unit}"}


def _stuff(said: dict[str, str], terms: Mapping[str, Term]) -> dict[str, object]:
    fields: dict[str, object] = {}
    word = said.get("stuff", "").lower()
    if word:
        term = terms.get(word)
        if word in MATERIALS:
            fields["material"] = MATERIALS[word]
        elif term is not None and term.concept == "material":
            fields["material"] = term.value
        elif term is not None and term.concept == "colour":
            fields["colour"] = term.value or term.phrase
        else:
            return {}
    if "thick" in said:
        thick = Fraction(said["thick"] if said["thick"][0] != "." else "0" + said["thick"])
        inches = thick < Fraction(1, 10) and "mm" not in said
        fields["thickness"] = f"{decimal_or_mixed(thick)} {'in' if inches else 'mm'}"
    return fields
