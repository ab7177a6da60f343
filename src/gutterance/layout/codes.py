"""The findings that only the layout can make, each with what it means. Told of in docs/lists.md."""

from __future__ import annotations

LAYOUT_CODES: dict[str, str] = {
    "fall-too-great": "an outlet would hang lower than the shop's most; one more outlet would mend it",
    "high-point-unclear": "a high point as said is not understood, or would trap water at an end",
    "outlet-on-no-run": "an outlet names a run that is not on the sheet",
    "cannot-be-made": "the shop's rules or a number that does not work out keep a piece or pipe on hold",
    "hold-fits-nothing": "a finding holds something that is not on the sheet",
}
