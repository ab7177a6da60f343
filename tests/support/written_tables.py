# ruff: noqa: E501 -- lists of words
"""Field sheets written as tables by many hands: one seed, one house in one layout, with what was drawn for it.

The headings, spellings and layouts are thought up here, and are far more than the reader's own labels.
"""

from __future__ import annotations

import csv
import io
import random
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from houses import outlet, pipe, reading, run, sheet

if TYPE_CHECKING:
    from collections.abc import Callable

    from gutterance.sheet.models import Sheet

HEADINGS = {
    "name": ["Run", "Wall", "Side", "Eave", "Elevation", "Which side", "Location", "Where", "Part of house", "Face",
             "Eaves", "Stretch", "Section", "House side", "Roof edge", "Wall / side", "Elev.", "Place", "Line of eave",
             "Side of bldg", "Eave line", "Edge of roof", "Where it hangs", "Stretch of eave"],
    "mark": ["#", "No.", "Ref", "Mk", "Ltr", "Letter", "Item", "Tag", "Nr", "ID", "Row", "Ln", "Ltr.", "It."],
    "length": ["Length", "Footage", "Lgth", "Len.", "Run length", "Feet", "LF", "Lin ft", "Tape", "Taped", "How long",
               "Total length", "Gutter", "Corner to corner", "Eave length", "Measured", "Lineal", "Lngth", "Tape says",
               "Long", "Gutter lgth", "L'gth", "Tip to tip", "Measure", "Running", "Straight run", "Full length",
               "Lenght", "Gutter run", "Size of run", "Runs", "Length of it", "Tot. length", "Lenth", "Extent",
               "Face length", "Fascia lgth"],
    "left": ["Left", "L", "Lt", "LH", "Left end", "L end", "L/H", "LH end", "Left stop", "L stop", "Lft", "Left hand",
             "End L", "L. corner", "At left", "Lefthand", "Lt end", "L side ends", "Lft end", "Left term."],
    "right": ["Right", "R", "Rt", "RH", "Right end", "R end", "R/H", "RH end", "Right stop", "R stop", "Rgt",
              "Right hand", "End R", "R. corner", "At right", "Righthand", "Rt end", "R side ends", "Rgt end",
              "Right term."],
    "ends": ["Ends", "L/R", "Ends L/R", "Corners", "Terminations", "End L / End R", "Both ends", "Ends (L-R)",
             "Finish l/r", "Left/right ends", "Tips", "How it stops", "End conds", "Corner/cap"],
    "outlet": ["Outlet", "Pipe", "Spout", "Spout at", "Downspout", "DP", "DS", "Leader", "Downpipe", "Outlet at", "O/L",
               "DS loc", "Taken off at", "Drops at", "Pipe at", "Outlet end", "Which end spout", "Drain end", "D/S",
               "Leader at", "Pipe side", "Water off at", "Outlets", "Hole at", "RWP", "Downspt", "Dwnspt"],
    "height": ["Height", "Ht", "Tall", "Drop", "Down", "Ht.", "To ground", "Pipe ht", "DS ht", "Hgt", "How high", "Fall",
               "Up", "High", "Pipe drop", "Gutter to grade", "Heigth", "Drop to grade", "Vertical", "Vert.", "Ht to grd",
               "Pipe lgth", "Height off grd", "Eave ht", "Down to ground", "Spout ht", "Rise", "DS drop", "Eave high",
               "Hght", "Ht above grd"],
    "wall_to_fascia": ["Overhang", "W/F", "Overhg", "O/H", "Throw", "Soffit", "Out", "Sticks out", "Projection", "Proj",
                       "Ovhg", "Eave depth", "Wall to fascia", "Off wall", "O'hang", "Ohg", "Soff.", "Stands off",
                       "Reach", "Fascia to wall", "Wall-fascia", "Eave out", "Jut", "Overhng", "Board to wall",
                       "Hangs over", "Ovrhang", "Projn", "Kick back", "Soffit w.", "W to F"],
    "ends_at": ["To", "Into", "Goes to", "Ends at", "Discharge", "Foot", "Disch.", "Empties", "Lands on", "Bottom", "Shoe",
                "At bottom", "Water goes", "Drains to", "Runs to", "Out to", "Outfall", "Ends on", "Dumps", "Where to",
                "Spills on", "Discharges", "Base", "Goes into", "Onto", "Pipe foot", "Lets out", "Runs off to",
                "Bottom of pipe", "Gets rid to", "Discharg"],
    "count": ["No. of pipes", "DS qty", "Qty", "# spouts", "How many DS", "Pipes no.", "Spouts", "DPs"],
    "note": ["Notes", "Remarks", "Comments", "Note", "Watch", "Rmks", "Misc", "To mind"],
}  # fmt: skip
"""Headings by what the column holds."""
END_WORDS = {
    "outside corner": ["OSC", "outside", "OC", "oc", "outside corner", "out", "ext", "O/S", "osc", "OS", "outer",
                       "ext corner", "outside cor"],
    "inside corner": ["ISC", "inside", "IC", "ic", "inside corner", "in", "int", "I/S", "isc", "IS", "inner",
                      "int corner", "inside cor"],
    "end cap": ["cap", "EC", "end cap", "Cap", "ec", "stop end", "capped", "stop", "CAP", "endcap"],
    "wall": ["wall", "into wall", "Wall", "butts wall", "dies in wall"],
}  # fmt: skip
SIDE_WORDS = {
    "left": ["left", "L", "LH", "Lt", "lt", "lh", "Left", "left end", "LHS"],
    "right": ["right", "R", "RH", "Rt", "rt", "rh", "Right", "right end", "RHS"],
    "centre": ["center", "centre", "middle", "mid", "ctr", "middle", "centre", "center", "centre"],
}
ENDING_WORDS = {
    "splash block": ["splash", "splash block", "splash blk", "SB", "splash pad"],
    "drain": ["drain", "tile", "storm drain", "to drain", "Drain"],
    "ground": ["ground", "grade", "gravel", "grass", "lawn", "on ground"],
    "barrel": ["barrel", "rain barrel", "water butt"],
    "drain box": ["drain box", "catch basin"],
}
NONE_WORDS = ["", "-", "none", "n/a", "--", "no", "nil", "—"]
BLANK_WORDS = ["", "", "-", "n/a", "—"]
DITTO_WORDS = ['"', "do.", "ditto", "''", "same", "〃", "as above", '-"-']
TOTAL_WORDS = [
    "Total",
    "ALL",
    "TOTALS",
    "Sum",
    "Grand total",
    "Tot.",
    "all told",
    "TOTAL",
    "in all",
    "Whole job",
]
SUBTOTAL_WORDS = ["subtotal", "{} sub", "sub-total {}", "{} total", "sub", "{} subtot"]
TITLES = ["14 Marrowfield Lane", "27 Pellbrook Court", "9 Thornebridge Rd", "Oakhurst barn", "3 Weir Cottages",
          "212 Sablewood Dr", "The old dairy, Quenby", "48 Lantern Hill"]  # fmt: skip
HEADERS = ["{} - gutter sheet", "{}", "JOB: {}", "Measure sheet, {}", "{}  (typed up Fri)", "# {}"]
PIPES_LINES = [
    '5" K, alum, white. Pipes 2x3.',
    '6" K-style, bronze. 3x4 downspouts.',
    '5" K white, 2x3 spouts',
]
REMARKS = ["fascia soft by the corner, owner to decide", "power line drops in close", "dog in the yard",
           "no ladder footing, bed all along", "old gutter still up"]  # fmt: skip
ASKED = "asked"
"""What the sheet holds where the note itself says that a value is not known."""


@dataclass(slots=True)
class WrittenTable:
    """A house written down. `features` tell what was drawn for its layout; `strange` headings nobody may know."""

    lines: list[str]
    sheet: Sheet
    features: dict[str, str]
    strange: list[str] = field(default_factory=list)


@dataclass(slots=True)
class _Pipe:
    side: str
    height: Fraction | None
    reach: Fraction | None
    ends_at: str


@dataclass(slots=True)
class _Run:
    name: str
    building: str
    length: Fraction
    ends: tuple[str, str]
    pipes: list[_Pipe]
    mark: str = ""
    remark: str = ""

    @property
    def whole_name(self) -> str:
        return f"{self.building} {self.name}".strip()


def written_table(seed: int) -> WrittenTable:
    """The table of that seed."""
    return _Writer(random.Random(seed)).write()


class _Writer:
    """One hand: how it spells, and how it lays its table out."""

    def __init__(self, dice: random.Random) -> None:
        self.dice = dice
        pick = dice.choice
        self.metric = dice.random() < 0.3
        self.features = {
            "bars": pick(["pipes", "pipes", "bare pipes", "tabs", "csv", "csv", "semicolons", "blanks", "blanks"]),
            "ends": pick(["two", "two", "two", "one cell"]),
            "pipes": pick(["in the row", "in the row", "second rows", "second rows", "own table"]),
            "names": pick(["names", "numbers and names", "letters and names", "names"]),
            "buildings": pick(["in the name", "in the name", "sections", "own column"]),
            "totals": pick(["none", "total", "total", "subtotals"]),
            "dittos": pick(["no", "no", "yes"]),
            "turned": "yes" if dice.random() < 0.08 else "no",
            "units": pick(["mm", "m", "mm in heading", "mm above"]) if self.metric else
                     pick(["marks", "dashes", "dashes", "marks", "spaced", "letters", "inch heading"]),
            "headings": pick(["plain", "plain", "odd", "misspelt", "one missing"]),
            "order": pick(["usual", "shuffled", "shuffled"]),
            "notes": pick(["none", "column", "by number below"]),
        }  # fmt: skip
        if self.features["turned"] == "yes":
            self.features |= {"buildings": "in the name", "names": "names", "totals": "none", "dittos": "no",
                              "pipes": "in the row", "notes": "none", "headings": "plain"}  # fmt: skip
            if self.features["bars"] in ("csv", "semicolons"):
                self.features["bars"] = "pipes"
        if self.features["notes"] == "by number below" and self.features["names"] == "names":
            self.features["notes"] = "none"
        self.end_words = {value: pick(words) for value, words in END_WORDS.items()}
        spelling = dice.randrange(9)
        self.side_words = {value: words[spelling] for value, words in SIDE_WORDS.items()}
        self.ending_words = {value: pick(words) for value, words in ENDING_WORDS.items()}
        self.none, self.blank, self.ditto = pick(NONE_WORDS), pick(BLANK_WORDS), pick(DITTO_WORDS)
        self.joint = pick([" / ", ", ", " & ", " + ", "; "])
        if self.features["bars"] == "semicolons" and ";" in self.joint:
            self.joint = " / "
        self.fraction = 16 if dice.random() < 0.3 else 1
        self.strange: list[str] = []

    # ------------------------------------------------------------------ the house

    def _inches(self, low: int, high: int) -> Fraction:
        """A length: inches with now and then a part, or whole centimetres."""
        if self.metric:
            return Fraction(self.dice.randrange(low * 25, high * 25, 5) * 10, 254)
        whole = Fraction(self.dice.randint(low, high))
        if self.dice.random() < 0.2:
            whole += Fraction(self.dice.choice([1, 1, 3]), self.dice.choice([2, 4]))
        return whole

    def _house(self) -> list[_Run]:
        dice = self.dice
        buildings = [""]
        if dice.random() < 0.5:
            buildings.append(dice.choice(["Garage", "Garage", "Porch", "Shed", "Barn"]))
        several = self.features["pipes"] != "in the row" or dice.random() < 0.6
        runs: list[_Run] = []
        for building in buildings:
            names = ["Front", "Right", "Back", "Left"] if not building else dice.choice(
                [["Front", "Back"], ["Left", "Right"], ["Front"], ["Front", "Right", "Back", "Left"]])  # fmt: skip
            ring = len(names) == 4 and dice.random() < 0.6
            at_ease = dice.choice([16, 18, 20, 24, 12])
            for name in names:
                ends = ("outside corner",) * 2 if ring else (dice.choice(["end cap", "end cap", "outside corner"]),
                                                           dice.choice(["end cap", "inside corner", "wall"]))  # fmt: skip
                low, high = (240, 860) if not building else (100, 340)
                pipes = []
                for side in dice.choice(
                    [[], ["left"], ["right"], ["left"], ["right"], ["left", "right"], ["centre"]]
                ):
                    if len(pipes) and not several:
                        break
                    reach = Fraction(at_ease) if not self.metric else Fraction(at_ease * 250, 254)
                    pipes.append(_Pipe(side, self._inches(88, 124) if dice.random() < 0.93 else None, reach,
                                       dice.choice(list(self.ending_words))))  # fmt: skip
                runs.append(_Run(name, building, self._inches(low, high), ends, pipes))
        if not any(one.pipes for one in runs):
            runs[0].pipes.append(_Pipe("left", self._inches(88, 124), Fraction(18), "drain"))
        if self.metric:
            for one in runs:
                for spout in one.pipes:
                    spout.reach = Fraction(round(spout.reach * Fraction(254, 10) / 10) * 100, 254)
        if self.features["dittos"] == "yes":
            for above, one in pairwise(runs):
                if dice.random() < 0.4 and above.building == one.building:
                    one.length = above.length
                if dice.random() < 0.5:
                    one.ends = above.ends
        for number, one in enumerate(runs, start=1):
            one.mark = str(number) if self.features["names"] == "numbers and names" else chr(64 + number)
            if self.features["notes"] != "none" and dice.random() < 0.3:
                one.remark = dice.choice(REMARKS)
        return runs

    def _sheet(self, runs: list[_Run]) -> Sheet:
        said, outlets, pipes = [], [], []
        for one in runs:
            name = self._id(one)
            short = {"outside corner": "out", "inside corner": "in", "end cap": "cap", "wall": "wall"}
            told = run(
                name.replace("-", " "), f"{_mixed(one.length)} in", " ".join(short[end] for end in one.ends)
            )
            said.append({**told, "id": name})
            for spout in one.pipes:
                key = f"{name}-{spout.side}"
                outlets.append(outlet(key, name, spout.side))
                pipes.append(pipe(key, f"{_mixed(spout.reach)} in",
                                  None if spout.height is None else f"{_mixed(spout.height)} in", spout.ends_at))  # fmt: skip
                if spout.height is None:
                    pipes[-1]["height"] = reading(None, "missing")
        return sheet(said, outlets, pipes)

    def _id(self, one: _Run) -> str:
        side = one.name.lower()
        side = f"{side}-side" if side in ("left", "right") else side
        return f"{one.building.lower()}-{side}".strip("-")

    # ------------------------------------------------------------------ how values are spelt

    def _length(self, value: Fraction | None, kind: str) -> str:
        if value is None:
            return "?"
        way = self.features["units"]
        if self.metric:
            mm = value * Fraction(254, 10)
            assert mm.denominator == 1
            if way == "m" and kind != "wall_to_fascia":
                return f"{int(mm) / 1000:.2f}" if mm % 10 == 0 else f"{int(mm) / 1000:.3f}"
            return str(mm)
        if kind == "wall_to_fascia":
            return f"{_mixed(value)}" + ("" if way in ("dashes", "inch heading") else '"')
        feet, rest = divmod(value, 12)
        inches = f"0 {rest}" if 0 < rest < 1 else _mixed(rest)
        return {
            "marks": f"{feet}' {inches}\"", "spaced": f"{feet}'-{inches}\"", "dashes": f"{feet}-{inches}",
            "letters": f"{feet} ft {inches} in", "inch heading": f"{feet}'{inches}",
        }[way]  # fmt: skip

    def _heading(self, kind: str) -> str:
        words = HEADINGS[kind]
        way = self.features["headings"]
        plain = words[: len(words) // 2]
        text = self.dice.choice(words if way == "odd" else plain)
        if way == "misspelt" and len(text) > 5 and text.isalpha() and self.dice.random() < 0.5:
            at = self.dice.randrange(1, len(text) - 2)
            text = text[:at] + text[at + 1] + text[at] + text[at + 2 :]
        units = self.features["units"]
        if kind in ("length", "height", "wall_to_fascia"):
            if units == "mm in heading":
                text += self.dice.choice([" (mm)", " mm"])
            elif units == "m":
                text += " (mm)" if kind == "wall_to_fascia" else " (m)"
            elif units == "inch heading" and kind == "wall_to_fascia":
                text += self.dice.choice([" (in)", " in."])
        return text

    # ------------------------------------------------------------------ rows and columns

    def write(self) -> WrittenTable:
        runs = self._house()
        columns = self._columns()
        headings = self._headings(columns)
        if self.features["turned"] == "yes":
            rows = [
                [self._cell(one, column, one.pipes) for one in runs] for column in columns if column != "name"
            ]
            names = [heading for heading, column in zip(headings, columns, strict=True) if column != "name"]
            grid = [["", *(one.whole_name for one in runs)]]
            grid += [[name, *row] for name, row in zip(names, rows, strict=True)]
            lines = self._lay_out(grid)
        else:
            lines = self._lay_out([headings, *self._rows(runs, columns)])
            if self.features["pipes"] == "own table":
                kinds = ["of run", "at", "height", "wall_to_fascia", "ends_at"]
                heads = [self.dice.choice(["Run", "On run", "Eave", "Side"]),
                         self.dice.choice(["At", "Which end", "Position", "End"]),
                         *(self._heading(kind) for kind in kinds[2:])]  # fmt: skip
                lines += ["", *self._lay_out([heads, *self._rows_of_pipes(runs)])]
        above = [self.dice.choice(HEADERS).format(self.dice.choice(TITLES))]
        if self.metric:
            above.append("125 half round, galv steel. Pipes 80 round." + (
                " All sizes in mm." if self.features["units"] in ("mm", "mm above") else ""))  # fmt: skip
        else:
            above.append(self.dice.choice(PIPES_LINES))
            if self.features["units"] == "dashes":
                above[-1] += " " + self.dice.choice(
                    ["All feet-inches.", "Ft-in throughout, overhangs in inches.", "Feet-inches."]
                )
        if self.dice.random() < 0.8:
            above.append("")
        below = []
        if self.features["notes"] == "by number below":
            below = [f"{self.dice.choice(['', '* '])}{one.mark} - {one.remark}" for one in runs if one.remark]
            below = ["", *below] if below else []
        return WrittenTable([*above, *lines, *below], self._sheet(runs), self.features, self.strange)

    def _columns(self) -> list[str]:
        columns = ["name", "length"]
        columns += ["left", "right"] if self.features["ends"] == "two" else ["ends"]
        if self.features["pipes"] != "own table":
            rest = ["outlet", "height", "wall_to_fascia", "ends_at"]
            if self.features["order"] == "shuffled":
                self.dice.shuffle(rest)
            columns += rest
        if self.features["order"] == "shuffled" and self.dice.random() < 0.5:
            columns.remove("length")
            columns.insert(self.dice.randint(1, len(columns)), "length")
        if self.features["buildings"] == "own column":
            columns.insert(0, "building")
        if self.features["names"] != "names":
            columns.insert(0, "mark")
        if self.features["notes"] == "column":
            columns.append("note")
        return columns

    def _headings(self, columns: list[str]) -> list[str]:
        heads = []
        for column in columns:
            text = (
                self.dice.choice(["Building", "Bldg", "Block"])
                if column == "building"
                else self._heading(column)
            )
            while text in heads:
                text = self._heading(column)
            heads.append(text)
        if "left" in columns:
            at = columns.index("left")
            pair = self.dice.randrange(
                len(HEADINGS["left"]) // (1 if self.features["headings"] == "odd" else 2)
            )
            heads[at], heads[columns.index("right")] = HEADINGS["left"][pair], HEADINGS["right"][pair]
        if self.features["headings"] == "one missing":
            heads[
                self.dice.choice([at for at, column in enumerate(columns) if column not in ("left", "right")])
            ] = ""
        return heads

    def _cell(self, one: _Run, column: str, pipes: list[_Pipe]) -> str:
        match column:
            case "mark":
                return one.mark
            case "building":
                return one.building or "House"
            case "name":
                return one.whole_name if self.features["buildings"] == "in the name" else one.name
            case "length":
                return self._length(one.length, "length")
            case "left" | "right":
                return self.end_words[one.ends[column == "right"]]
            case "ends":
                return "/".join(self.end_words[end].replace("/", "") for end in one.ends)
            case "note":
                return one.remark
        if not pipes:
            return self.none if column == "outlet" else self.blank
        cells = [self._pipe_cell(spout, column) for spout in pipes]
        return cells[0] if len(set(cells)) == 1 and column != "outlet" else self.joint.join(cells)

    def _pipe_cell(self, spout: _Pipe, column: str) -> str:
        match column:
            case "outlet":
                return self.side_words[spout.side]
            case "ends_at":
                return self.ending_words[spout.ends_at]
            case "height":
                return self._length(spout.height, column)
        return self._length(spout.reach, column)

    def _rows(self, runs: list[_Run], columns: list[str]) -> list[list[str]]:
        rows: list[list[str]] = []
        above: list[str] | None = None
        number = 0
        buildings = list(dict.fromkeys(one.building for one in runs))
        for building in buildings:
            mine = [one for one in runs if one.building == building]
            if self.features["buildings"] == "sections" and (len(buildings) > 1 or self.dice.random() < 0.3):
                words = (building or "House").upper() if self.dice.random() < 0.6 else building or "House"
                at = columns.index("name") if self.dice.random() < 0.7 else 0
                rows.append(["" if place != at else words for place in range(len(columns))])
            for one in mine:
                number += 1
                apart = self.features["pipes"] == "second rows" and len(one.pipes) > 1
                first = [self._cell(one, column, one.pipes[:1] if apart else one.pipes) for column in columns]
                rows.append(self._dittoed(first, above, columns, one))
                above = first if not apart else None
                for spout in one.pipes[1:] if apart else ():
                    more = [self._pipe_cell(spout, column)
                            if column in ("outlet", "height", "wall_to_fascia", "ends_at") else "" for column in columns]  # fmt: skip
                    rows.append(more)
            if self.features["totals"] == "subtotals":
                words = self.dice.choice(SUBTOTAL_WORDS).format(building or "house")
                rows.append(self._sum_row(words, mine, columns))
        if self.features["totals"] != "none":
            rows.append(self._sum_row(self.dice.choice(TOTAL_WORDS), runs, columns))
        return rows

    def _dittoed(self, cells: list[str], above: list[str] | None, columns: list[str], one: _Run) -> list[str]:
        if self.features["dittos"] != "yes" or above is None or not one.pipes:
            return cells
        return [
            self.ditto if cell == before and cell not in ("", "?") and column in ("length", "left", "right", "wall_to_fascia", "ends_at") and before not in BLANK_WORDS
            and self.joint not in cell else cell
            for cell, before, column in zip(cells, above, columns, strict=True)
        ]  # fmt: skip

    def _sum_row(self, words: str, runs: list[_Run], columns: list[str]) -> list[str]:
        row = ["" for _ in columns]
        at = columns.index("name")
        if self.dice.random() < 0.3 and columns.index("length") > 0:
            at = columns.index("length") - 1
        row[at] = words
        row[columns.index("length")] = self._length(sum((one.length for one in runs), Fraction(0)), "length")
        if "outlet" in columns and self.dice.random() < 0.6 and columns.index("outlet") != at:
            row[columns.index("outlet")] = str(sum(len(one.pipes) for one in runs))
        return row

    def _rows_of_pipes(self, runs: list[_Run]) -> list[list[str]]:
        return [
            [one.mark if self.features["names"] != "names" else one.whole_name, self.side_words[spout.side],
             *(self._pipe_cell(spout, kind) for kind in ("height", "wall_to_fascia", "ends_at"))]
            for one in runs for spout in one.pipes
        ]  # fmt: skip

    # ------------------------------------------------------------------ on paper

    def _lay_out(self, grid: list[list[str]]) -> list[str]:
        ways: dict[str, Callable[[list[list[str]]], list[str]]] = {
            "pipes": self._bars, "bare pipes": self._bare_bars, "tabs": lambda g: ["\t".join(row) for row in g],
            "csv": lambda g: _as_csv(g, ","), "semicolons": lambda g: _as_csv(g, ";"), "blanks": self._blanks,
        }  # fmt: skip
        return ways[self.features["bars"]](grid)

    def _bars(self, grid: list[list[str]]) -> list[str]:
        wide = [max(len(row[at]) for row in grid) for at in range(len(grid[0]))]
        lines = [
            "| " + " | ".join(cell.ljust(w) for cell, w in zip(row, wide, strict=True)) + " |" for row in grid
        ]
        lines.insert(1, "|" + "|".join("-" * (w + 2) for w in wide) + "|")
        return lines

    def _bare_bars(self, grid: list[list[str]]) -> list[str]:
        lines = [" | ".join(row) for row in grid]
        if self.dice.random() < 0.5:
            lines.insert(1, "-" * len(lines[0]))
        return lines

    def _blanks(self, grid: list[list[str]]) -> list[str]:
        wide = [max(len(row[at]) for row in grid) + 3 for at in range(len(grid[0]))]
        lines = ["".join(cell.ljust(w) for cell, w in zip(row, wide, strict=True)).rstrip() for row in grid]
        if self.dice.random() < 0.5:
            lines.insert(1, "=" * len(lines[0]))
        return lines


def _as_csv(grid: list[list[str]], mark: str) -> list[str]:
    text = io.StringIO()
    csv.writer(text, delimiter=mark, lineterminator="\n").writerows(grid)
    return text.getvalue().splitlines()


def _mixed(value: Fraction) -> str:
    """A number as a tape is read: `7 1/2`."""
    whole, rest = divmod(value, 1)
    return f"{whole} {rest}" if rest and whole else str(rest or whole)


def held_against(written: WrittenTable, seen: Sheet) -> list[tuple[str, str, Any, Any]]:
    """Each value of the house with how it was read: right, asked, missed, or wrong (shown as certain)."""
    marks: list[tuple[str, str, Any, Any]] = []

    def mark(path: str, told: Any, got: Any) -> None:
        value = None if told is None else told.value
        if value is None:
            if got is not None and got.value is not None and got.status not in ("doubtful", "missing"):
                marks.append(("wrong", path, value, got.value))
            elif told is not None:
                marks.append(("right", path, "not known", got))
        elif got is None:
            marks.append(("missed", path, value, None))
        elif got.status in ("doubtful", "missing"):
            marks.append(("asked", path, value, got.value))
        else:
            same = got.value.inches == value.inches if hasattr(value, "inches") else got.value == value
            marks.append(("right" if same else "wrong", path, value, got.value))

    for one in written.sheet.runs:
        found = seen.run(one.id)
        for name in ("length", "left_end", "right_end"):
            mark(f"{one.id}.{name}", getattr(one, name), None if found is None else getattr(found, name))
        mine = {out.from_: out for out in seen.outlets_of(one.id)}
        for out in written.sheet.outlets_of(one.id):
            told = written.sheet.downpipes_of(out.id)[0]
            there = mine.pop(out.from_, None)
            mark(f"{one.id}.{out.from_}.outlet", out.place, None if there is None else there.place)
            pipes = seen.downpipes_of(there.id) if there is not None else []
            for name in ("wall_to_fascia", "height", "ends_at"):
                mark(
                    f"{one.id}.{out.from_}.{name}",
                    getattr(told, name),
                    getattr(pipes[0], name) if pipes else None,
                )
        marks += [
            ("wrong", f"{one.id}.{out.from_}.outlet", None, out.from_)
            for out in mine.values()
            if out.place is not None and out.place.status not in ("doubtful", "missing")
        ]
    for run_ in seen.runs:
        if written.sheet.run(run_.id) is None:
            certain = [
                r
                for r in (run_.length, run_.left_end, run_.right_end)
                if r is not None and r.status == "read"
            ]
            marks.append(("wrong" if certain else "asked", f"{run_.id}: no such run", None, run_.name))
    return marks
