"""Random houses, seeded: rings with wings and bays, loose runs, unknown lengths, storeys, many outlets."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING, Any

from houses import outlet, pipe, reading, run, sheet

if TYPE_CHECKING:
    from gutterance.sheet.models import Sheet

NAMES = ["front", "right side", "back", "left side", "porch front", "bay", "garage front", "entry", "kitchen",
         "north wing of the old dairy", "conservatory left", "dormer"]  # fmt: skip


def random_house(seed: int) -> Sheet:
    """A house of 1 to 24 runs; the same seed gives the same house."""
    dice = random.Random(seed)
    runs: list[dict[str, Any]] = []
    storeys = dice.choice([[None], [None], ["upper", "lower"]])
    for storey in storeys:
        kind = dice.choice(["ring", "ring", "loose", "chain"])
        mine = _ring(dice) if kind == "ring" else _chain(dice) if kind == "chain" else _loose(dice)
        for one in mine:
            number = len(runs) + 1
            one["id"] = f"r{number}"
            one["name"] = (
                f"{dice.choice(NAMES)} {number}"
                if dice.random() < 0.7
                else dice.choice(["front", "left", "r"])
            )
            one["storey"] = storey
            runs.append(one)
        first = len(runs) - len(mine)
        for at, one in enumerate(mine):
            if kind != "loose" and (kind == "ring" or at + 1 < len(mine)):
                one["next_run"] = runs[first + (at + 1) % len(mine)]["id"]
    outlets, pipes = [], []
    for one in runs:
        for _ in range(dice.choice([0, 0, 0, 1, 1, 2])):
            name = f"{one['id']}-{len(outlets) + 1}"
            place = dice.choice(["left", "right", "centre"])
            outlets.append(
                outlet(name, one["id"], place, f"{dice.randint(4, 90)} in" if dice.random() < 0.4 else None)
            )
            height = f"{dice.randint(80, 240)} in" if dice.random() < 0.8 else None
            pipes.append(pipe(name, f"{dice.randint(3, 30)} in", height))
        if dice.random() < 0.15 and "length" in one:
            one["length"] = reading(None, "missing")
    remarks = [
        {"kind": "hazard", "about": one["id"], "text": "Power line over it, keep the ladder clear",
         "source": {"line": 1, "start": 0, "end": 1, "text": "x"}}
        for one in runs if dice.random() < 0.1
    ]  # fmt: skip
    return sheet(runs, outlets, pipes, remarks=remarks)


def _inches(dice: random.Random) -> str:
    return f"{dice.randint(24, 900)} {dice.randint(0, 15)}/16 in"


def _ring(dice: random.Random) -> list[dict[str, Any]]:
    """A closed walk: a rectangle with square wings and bays pushed out of its sides."""
    out: list[dict[str, Any]] = []
    wide, deep = dice.randint(240, 800), dice.randint(240, 600)
    for side, long in enumerate((wide, deep, wide, deep)):
        bump = dice.random()
        if bump < 0.45 and len(out) < 15:
            part, reach = long // 3, dice.randint(24, 160)
            left, right = dice.randint(20, long // 3), 0
            right = long - part - left
            out += [run("a", f"{left} in", "out in"), run("a", f"{reach} in", "in out"),
                    run("a", f"{part} in", "out out"), run("a", f"{reach} in", "out in"),
                    run("a", f"{right} in", "in out")]  # fmt: skip
        elif bump < 0.55 and len(out) < 15:
            angle = reading(45)
            out += [run("a", f"{long // 3} in", "out in", right_angle=angle),
                    run("a", "34 in", "in out", left_angle=angle, right_angle=angle),
                    run("a", f"{long // 3 - 48} in", "out out", left_angle=angle, right_angle=angle),
                    run("a", "34 in", "out in", left_angle=angle, right_angle=angle),
                    run("a", f"{long // 3} in", "in out", left_angle=angle)]  # fmt: skip
        else:
            slip = dice.randint(-30, 30) if side == 3 and dice.random() < 0.3 else 0
            out.append(run("a", f"{long + slip} in", "out out"))
    return out


def _chain(dice: random.Random) -> list[dict[str, Any]]:
    count = dice.randint(2, 9)
    corners = [dice.choice(["out", "in"]) for _ in range(count - 1)]
    ends = [dice.choice(["cap", "wall", "-"]), *corners, dice.choice(["cap", "wall", "-"])]
    return [run("a", _inches(dice), f"{ends[at]} {ends[at + 1]}") for at in range(count)]


def _loose(dice: random.Random) -> list[dict[str, Any]]:
    return [
        run(
            "a",
            _inches(dice) if dice.random() < 0.8 else None,
            f"{dice.choice(['cap', 'wall', 'out', '-'])} cap",
        )
        for _ in range(dice.randint(1, 10))
    ]
