"""The words of the trade for a shop to see, and the file of its own that goes with a call."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from gutterance.cli.showing import talk

if TYPE_CHECKING:
    from gutterance.reading.own_words import OwnWords

LABELS = "labels of forms and tables"
"""The kind that a shop's own labels are shown under."""
_WIDTH = 92


def own_words_for(words: str | None, shop: str | None) -> OwnWords | None:
    """The shop's own words: the file named, else words.toml beside the shop's rules, else none.

    Raises LexiconError for a file that cannot be used.
    """
    if words is None and shop is None:
        return None
    from gutterance.reading.own_words import WORDS_FILE, load_own_words

    if words is not None:
        return load_own_words(Path(words))
    beside = Path(shop or "").with_name(WORDS_FILE)
    if not beside.exists():
        return None
    talk(f"note: the shop's own words are in {beside}")
    return load_own_words(beside)


def known_words(text: str | None, own: OwnWords | None) -> list[dict[str, Any]]:
    """What the reader knows: kind, value and words of each meaning; those alone that have `text` in them."""
    from gutterance.reading.lexicon import built_in_terms, kinds

    meanings: dict[tuple[str, str], dict[str, Any]] = {}
    for term in (*built_in_terms(), *(own.terms if own is not None else ())):
        found = meanings.setdefault(
            (term.concept, term.value),
            {"kind": kinds()[term.concept], "value": term.value, "words": [], "own": []},
        )
        found["own" if term.own else "words"].append(term.phrase)
    order = [*kinds().values(), LABELS]
    for label in own.labels if own is not None else ():
        found = meanings.setdefault(
            ("label", label.means), {"kind": LABELS, "value": label.means, "words": [label.means], "own": []}
        )
        found["own"].append(label.words)
    wanted = (text or "").casefold()
    return [
        one
        for one in sorted(meanings.values(), key=lambda one: order.index(one["kind"]))
        if any(wanted in said.casefold() for said in (one["value"], *one["words"], *one["own"]))
    ]


def words_text(known: list[dict[str, Any]]) -> str:
    """The words as text, under their kinds, the shop's own marked."""
    by_kind: dict[str, list[dict[str, Any]]] = {}
    for one in known:
        by_kind.setdefault(one["kind"], []).append(one)
    lines: list[str] = []
    for kind, meanings in by_kind.items():
        lines += ["", kind.upper()]
        told = [(_name(one), _others(one)) for one in meanings]
        for value, others in told:
            if others:
                lines += _wrapped(f"{value}: {', '.join(others)}")
        if alone := [value for value, others in told if not others]:
            lines += _wrapped(", ".join(alone))
    return "\n".join(lines[1:])


def _name(one: dict[str, Any]) -> str:
    """The word that the sheet writes."""
    value: str = one["value"].replace("_", " ")
    return value if one["words"] else f"{value} (the shop's own)"


def _others(one: dict[str, Any]) -> list[str]:
    """The words that are read for a value, but for the value itself."""
    said = [word for word in one["words"] if word.casefold() != one["value"].casefold()]
    own = [word for word in one["own"] if word.casefold() != one["value"].casefold()]
    return [*said, *(f"{word} (the shop's own)" for word in own)]


def _wrapped(text: str) -> list[str]:
    from textwrap import wrap

    return wrap(text, _WIDTH, initial_indent="  ", subsequent_indent="      ", break_on_hyphens=False)
