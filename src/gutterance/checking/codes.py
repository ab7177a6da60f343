"""The codes a finding can carry: stable names that other people's files and habits may rest on.

Every code has a page section in `docs/findings.md`, and a test that raises it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gutterance.checking.findings import Finding, FindingKind, Suggestion

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gutterance.sheet.models import Source

CODES: Final[dict[str, FindingKind]] = {
    "no-runs": "gap",
    "length-missing": "gap",
    "end-missing": "gap",
    "corner-unpartnered": "gap",
    "run-missing": "gap",
    "outlet-missing": "gap",
    "outlets-not-said": "gap",
    "outlet-place-missing": "gap",
    "outlet-downpipe-missing": "gap",
    "downpipes-not-said": "gap",
    "downpipe-outlet-missing": "gap",
    "wall-to-fascia-missing": "gap",
    "height-missing": "gap",
    "value-missing": "gap",
    "two-values": "conflict",
    "outlet-beyond-run": "conflict",
    "total-mismatch": "conflict",
    "corner-mismatch": "conflict",
    "corner-angle-mismatch": "conflict",
    "turns-off": "conflict",
    "walls-do-not-close": "conflict",
    "walls-cross": "conflict",
    "overall-against-parts": "conflict",
    "id-twice": "conflict",
    "outlet-run-unknown": "conflict",
    "downpipe-outlet-unknown": "conflict",
    "next-run-unknown": "conflict",
    "next-run-twice": "conflict",
    "amendment-fits-nothing": "conflict",
    "amendment-unreadable": "conflict",
    "amendment-overtaken": "conflict",
    "value-doubtful": "doubt",
    "length-worked-out": "doubt",
    "unread-number": "doubt",
    "note-damaged": "doubt",
    "value-implausible": "doubt",
    "wall-to-fascia-short": "assumption",
    "height-against-storey": "doubt",
    "outlets-same-place": "doubt",
    "heights-against-each-other": "doubt",
    "overhangs-differ": "doubt",
    "heights-differ": "doubt",
    "outlets-close": "doubt",
    "gutters-meet-unlike": "doubt",
    "outlet-at-high-point": "doubt",
    "lower-gutter-missing": "doubt",
    "ridges-differ": "doubt",
    "roof-run-against-depth": "doubt",
    "hangers-against-snow": "doubt",
    "opposite-eaves-differ": "doubt",
    "no-outlet-wanted": "assumption",
    "gutter-beyond": "assumption",
    "default-used": "assumption",
    "ending-not-said": "assumption",
    "value-assumed": "assumption",
    "value-inferred": "assumption",
    "walls-nearly-close": "assumption",
    "downpipe-sizes-differ": "assumption",
    "number-set-aside": "assumption",
    "hazard": "hazard",
}
"""Each code and the kind of finding it names."""


def finding(
    code: str,
    about: str,
    says: str,
    question: str | None = None,
    *,
    holds: Iterable[str] = (),
    source: Iterable[Source] = (),
    suggests: Iterable[Suggestion] = (),
) -> Finding:
    """A finding of a known code. What it holds and its sources are kept once each, in their order.

    Raises KeyError for a code that is not in `CODES`: a code is documented before it is used.
    """
    return Finding(
        code=code,
        kind=CODES[code],
        about=about,
        says=says,
        question=question,
        suggests=list(suggests),
        holds=list(dict.fromkeys(holds)),
        source=_once(source),
    )


def _once(source: Iterable[Source]) -> list[Source]:
    seen: dict[tuple[int, int, int, str], Source] = {}
    for words in source:
        seen.setdefault((words.line, words.start, words.end, words.text), words)
    return list(seen.values())
