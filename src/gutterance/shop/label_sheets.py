"""The shop's sheets of labels: how many lie on a page, how large, and where."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field

from gutterance.measure.length import MM_PER_INCH, Length
from gutterance.shop.rules import NotNegative, Positive, Rules

PaperName = Literal["letter", "a4"]

PAPER_INCHES: dict[PaperName, tuple[Fraction, Fraction]] = {
    "letter": (Fraction(17, 2), Fraction(11)),
    "a4": (210 / MM_PER_INCH, 297 / MM_PER_INCH),
}
"""How wide and high each paper is [in]: ANSI Y14.1 A, and ISO 216 A4 (210 x 297 mm)."""


class LabelSheet(Rules):
    """A sheet of equal labels in columns and rows, from the paper's left and top edge [in or mm].

    `gap_across` and `gap_down` are the strips between two labels; `clear` is kept free inside each label's
    edge, so that a sheet that feeds askew loses nothing.
    """

    columns: Annotated[int, Field(ge=1, le=20)]
    rows: Annotated[int, Field(ge=1, le=60)]
    width: Positive
    height: Positive
    left: NotNegative
    top: NotNegative
    gap_across: NotNegative
    gap_down: NotNegative
    clear: NotNegative

    @property
    def on_a_page(self) -> int:
        """How many labels a page has."""
        return self.columns * self.rows

    def place(self, number: int) -> tuple[Fraction, Fraction]:
        """Where label `number` of a page (the first is 0) has its left upper corner [in]: row by row."""
        row, column = divmod(number, self.columns)
        return (
            self.left.inches + column * (self.width.inches + self.gap_across.inches),
            self.top.inches + row * (self.height.inches + self.gap_down.inches),
        )


def not_on_the_paper(paper: PaperName, grid: LabelSheet) -> str | None:
    """What is wrong with a grid that is larger than its paper, and which keys to look at; None if it fits."""
    wide, high = PAPER_INCHES[paper]
    across, down = grid.place(grid.on_a_page - 1)
    for needs, has, what, keys in (
        (across + grid.width.inches, wide, "wide", "left, columns, width, gap_across"),
        (down + grid.height.inches, high, "high", "top, rows, height, gap_down"),
    ):
        if needs > has:
            system = grid.width.system
            told = Length(needs, system).rounded(Fraction(1, 64)).inch_text()
            return (
                f"labels.{paper} needs paper {told} {what}, and it is {Length(has, system).inch_text()}: "
                f"look at {keys}"
            )
    if 4 * grid.clear.inches > min(grid.width.inches, grid.height.inches):
        return (
            f"labels.{paper}: a clear edge of {grid.clear.inch_text()} leaves too little to print on of "
            f"a label {grid.width.inch_text()} by {grid.height.inch_text()}: look at width, height and clear"
        )
    return None
