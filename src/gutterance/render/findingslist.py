"""The findings on paper: what must be answered first, then what must be known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gutterance.checking.findings import HOLDING
from gutterance.render.plain import harmless, page, wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gutterance.checking.findings import Finding

_SIGNS = {"gap": "!", "conflict": "!", "doubt": "?", "assumption": "~", "hazard": "!"}


def findings_text(findings: Sequence[Finding]) -> str:
    """Hazards, then findings that want an answer, numbered, with what they hold; then the others."""
    if not findings:
        return "FINDINGS\n========\nNone: nothing is missing, doubtful or at odds.\n"
    asks = [one for one in findings if one.kind in HOLDING]
    hazards = [one for one in findings if one.kind == "hazard"]
    knows = [one for one in findings if one.kind not in HOLDING and one.kind != "hazard"]
    lines = ["FINDINGS", "========"]
    for one in hazards:
        lines += wrapped(f"HAZARD: {harmless(one.says)}{_lines(one)}", "", "  ")
    if asks:
        lines += ["", "To answer before this is made:"]
        for number, one in enumerate(asks, start=1):
            head = f"{number:>3} {_SIGNS[one.kind]} "
            lines += wrapped(f"{harmless(one.says)}{_lines(one)}", head, "      ")
            if one.question and harmless(one.question) != harmless(one.says):
                lines += wrapped(f"-> {harmless(one.question)}", "      ", "         ")
            for offer in one.suggests:
                lines += wrapped(
                    f"perhaps {harmless(offer.value)}: {harmless(offer.why)}", "         ", "           "
                )
            if one.holds:
                lines += wrapped(f"holds {_names(one.holds)}", "      ", "        ")
    if knows:
        lines += ["", "To know:"]
        for one in knows:
            lines += wrapped(f"{_SIGNS[one.kind]} {harmless(one.says)}{_lines(one)}", "  ", "    ")
    return page(lines)


def _names(holds: list[str]) -> str:
    words = [harmless(one).replace("runs.", "", 1).replace("downpipes.", "downpipe ", 1) for one in holds]
    return ", ".join(words)


def _lines(finding: Finding) -> str:
    numbers = sorted({one.line for one in finding.source})
    if not numbers:
        return ""
    shown = ", ".join(str(one) for one in numbers[:6]) + (" ..." if len(numbers) > 6 else "")
    return f"  (line{'s' if len(numbers) > 1 else ''} {shown})"
