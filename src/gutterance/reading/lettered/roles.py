"""What a name is for where it stands: the run told of, the one it meets, or one only mentioned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.reading.items import STRUCTURE

if TYPE_CHECKING:
    from gutterance.reading.items import Item

TOWARD = frozenset(
    [
        "@",
        "against",
        "around to",
        "at",
        "back onto",
        "beside",
        "by",
        "comes to",
        "from",
        "goes into",
        "goes to",
        "hits",
        "into",
        "join",
        "joining",
        "joins",
        "meet",
        "meeting",
        "meets",
        "near",
        "nearest",
        "next",
        "next to",
        "off",
        "on to",
        "onto",
        "over to",
        "round to",
        "runs into",
        "to",
        "toward",
        "towards",
        "with",
    ]
)
"""Words before a run's name by which it is the one that an end meets."""
END_WORDS = frozenset({"end", "corner", "cnr", "end's", "ends"})
"""Words behind a run's name by which it names an end of another."""
MENTIONED = frozenset(
    {"under", "over", "above", "below", "behind", "beside", "against", "underneath", "beneath", "by", "near",
     "past",     "across", "opposite", "half", "round", "around"}
)  # fmt: skip
"""Words before a run's name by which it is only mentioned, in words about something else."""
TAKES_BACK = frozenset({"of", "on", "for", "at", "along", "of the", "on the", "in", "off"})
"""Words before a run's name by which it is what the words before were about."""
GUTTERS = frozenset({"gutter", "eavestrough", "trough", "gutters"})
"""Words behind a run's name by which another's water falls into it."""
QUIET = frozenset({"filler", "mark"})


def before(items: list[Item], number: int, *, over: frozenset[str] = QUIET) -> Item | None:
    """The item before that is no little word, or None at the start."""
    for item in reversed(items[:number]):
        if item.kind not in over:
            return item
    return None


def little_before(items: list[Item], number: int) -> list[str]:
    """The little words right before an item, the nearest first."""
    words: list[str] = []
    for item in reversed(items[:number]):
        if item.kind not in ("filler", "mark", "walk", "corner", "word") or len(words) > 3:
            break
        words.append(item.text.lower())
        if item.kind in ("corner", "word") and item.text.lower() not in TOWARD:
            break
    return words


def role_of(items: list[Item], number: int, subject: str | None, *, carried: bool = False) -> str:
    """The role of a name: 'subject', 'neighbour', 'like', 'gutter' or 'mention'.

    `subject` is the run that the words before are about; `carried` where it is from another sentence.
    """
    item = items[number]
    if item.marks.get("joined") == "pair" and _corner_of_one(items, number, subject):
        return "neighbour"
    last = before(items, number)
    words = little_before(items, number)
    behind = items[number + 1] if number + 1 < len(items) else None
    if last is not None and last.kind in ("same", "mirror") and len(words) <= 2:
        return "like"
    if (
        behind is not None
        and behind.text.lower() in GUTTERS
        and words[:1]
        and words[0] in ("in", "into", "onto", "to")
    ):
        return "gutter"
    one = item.marks.get("joined") == "one" and subject is not None and item.value[0] != subject
    if item.marks.get("joined") != "one":
        return "mention" if words and words[0] in MENTIONED and not _measured(items, number) else "subject"
    if behind is not None and behind.text.lower() in END_WORDS:
        if _of_another(items, number) or one:
            return "neighbour"
        return "subject"
    if last is None:
        return "subject"
    if one and words[:1] in (["at"], ["@"]) and number >= 2 and items[number - 2].kind == "names":
        return "neighbour"
    nearest = [word for word in words if word not in ("the", "a", "where", "run", "and")][:1]
    if carried and last.kind in ("outlet", "downpipe", "count", "pipe label"):
        return "subject"  # `outlets at A left, C right`
    if one and nearest and nearest[0] in TOWARD and not _says_more(items, number):
        thing = last.kind in (
            *STRUCTURE,
            "corner",
            "side",
            "lr",
            "names",
            "place",
            "cue",
            "break",
            "count",
            "colon",
        )
        return "neighbour" if thing or last.kind in ("word", "landmark", "part", "walk") else "mention"
    if (
        one
        and last.kind in ("end", "end word", "corner")
        and items[number - 1] is last
        and _clause_ends(items, number)
    ):
        return "neighbour"
    if one and behind is not None and behind.kind in ("end", "end word") and _in_slot(items, number):
        return "neighbour"
    if nearest and nearest[0] in MENTIONED and not _measured(items, number):
        return "mention"
    return "subject"


def _corner_of_one(items: list[Item], number: int, subject: str | None) -> bool:
    """`drop AB on A`, `A at the A/B corner`: a corner of the run that is told of, by both who meet there."""
    item = items[number]
    behind = [other for other in items[number + 1 : number + 5] if other.kind not in ("corner", "mark")]
    words = [other.text.lower() for other in behind]
    if words[:1] and words[0] in ("on", "of", "at") and len(behind) > 1 and behind[1].kind == "names":
        run = behind[1].value[0]
    elif subject is not None and not any(other.kind in ("end", "end word") for other in items):
        run = subject
    else:
        return False
    if run not in item.value:
        return False
    item.value = tuple(name for name in item.value if name != run)
    item.marks["joined"] = "one"
    return True


def _says_more(items: list[Item], number: int) -> bool:
    """Whether a name opens something said of it: a number or `is` stands behind."""
    behind = items[number + 1 : number + 3]
    if not behind:
        return False
    if behind[0].kind == "measure" and behind[0].found is not None and behind[0].found.kind != "other":
        return not (len(items) > number + 2 and items[number].text.lower() in END_WORDS)
    return (
        behind[0].text.lower() in ("is", "'s", "=", ":")
        and len(behind) > 1
        and behind[1].kind in ("measure", "filler")
    )


def _of_another(items: list[Item], number: int) -> bool:
    """`F end of A`: the end of another run, named behind it."""
    words = [item.text.lower() for item in items[number + 2 : number + 4]]
    return words[:1] in (["of"], ["on"]) or words[:1] == ["of the"]


def _clause_ends(items: list[Item], number: int) -> bool:
    """Whether the words break off behind a name."""
    behind = items[number + 1] if number + 1 < len(items) else None
    return behind is None or behind.kind in (
        "break",
        "lr",
        "side",
        "end",
        "end word",
        "outlet",
        "measure",
        "mark",
    )


def _in_slot(items: list[Item], number: int) -> bool:
    """`24-6 cap / B outside`, `24-6  B outside / cap`: what an end meets, among the ends behind a length."""
    last = items[number - 1]
    behind = items[number + 2] if number + 2 < len(items) else None
    closes = behind is None or behind.kind in ("break", "end", "end word")
    return closes and (
        last.text == "/" or (last.kind == "measure" and last.found is not None and last.found.kind != "other")
    )


def _measured(items: list[Item], number: int) -> bool:
    """Whether a number stands right behind, past the little words."""
    for item in items[number + 1 :]:
        if item.kind in ("filler", "colon", "mark"):
            continue
        return item.kind in ("measure", "same", "end", "end word", "outlet", "downpipe")
    return False
