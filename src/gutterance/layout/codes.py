"""The findings that only the layout can make, each with what it means. Told of in docs/lists.md."""

from __future__ import annotations

LAYOUT_CODES: dict[str, str] = {
    "fall-too-great": "an outlet would hang lower than there is room for; the cheapest mend is worked out",
    "stretch-without-outlet": "a stretch closed at both ends has no outlet; where one would go is worked out",
    "low-spot": "two high points as said have no outlet between them; water would stand there",
    "water-to-an-end": "a high point as said would lead water to an end with no outlet",
    "high-point-unclear": "a high point as said is not understood",
    "offset-height-not-said": "how high a pipe's offset sits was not said; its wall pipe is cut on site",
    "outlet-on-no-run": "an outlet names a run that is not on the sheet",
    "cannot-be-made": "the shop's rules or a number that does not work out keep a piece or pipe on hold",
    "hold-fits-nothing": "a finding holds something that is not on the sheet",
}
