"""A whole-number program handed to CBC, in a process of its own that is ended when its time is up.

PuLP brings CBC for each platform; it is loaded late, and all works without it but the proofs that need it.
CBC is called here and not through PuLP, which cannot be made to end it in time.
"""

from __future__ import annotations

import math
import os
import re
import shutil
import subprocess
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from gutterance.stock.arc_flow import Model

_GRACE = 0.5
_BOUND = re.compile(r"(?:Lower bound|best possible):?\s+(-?[\d.eE+]+)")
_NEAR = 1e-6


@dataclass(slots=True)
class Solved:
    """The solver's answer: the best values found, the cost no answer goes below, and how it ended."""

    ended: Literal["proven", "none", "out of time", "absent"]
    values: dict[str, int] = field(default_factory=dict)
    bound: int | None = None


def solver_there() -> bool:
    """Whether CBC can be called from here."""
    return _cbc() is not None


def solve(model: Model, seconds: float) -> Solved:
    """Make the model's cost least within `seconds`. Never raises for want of a solver, time or an answer."""
    program = _cbc()
    if program is None:
        return Solved("absent")
    try:
        return _solve(program, model, seconds)
    except OSError:
        # no room for its files, or it cannot be started: the plan is then told as not proven
        return Solved("absent")


def _solve(program: str, model: Model, seconds: float) -> Solved:
    ends = time.monotonic() + seconds
    with tempfile.TemporaryDirectory(prefix="gutterance-") as folder:
        model_file, answer_file = Path(folder) / "model.lp", Path(folder) / "answer.txt"
        model_file.write_text(_lp_text(model), encoding="ascii")
        seconds = ends - time.monotonic()
        if seconds <= 0:
            return Solved("out of time")
        command = [program, str(model_file), "-threads", "1", "-randomSeed", "1", "-timeMode", "elapsed"]
        command += ["-seconds", f"{seconds:.2f}", "-ratio", "0", "-allow", "0.999", "-solve"]
        command += ["-solution", str(answer_file)]
        try:
            done = subprocess.run(
                command, capture_output=True, text=True, timeout=seconds + _GRACE, check=False, cwd=folder
            )
        except subprocess.TimeoutExpired:
            return Solved("out of time")
        if done.returncode != 0 or not answer_file.exists():
            return Solved("absent")
        return _read(answer_file.read_text(encoding="utf-8"), done.stdout, set(model.upper))


def _cbc() -> str | None:
    """The CBC that comes with PuLP 3, else the system's own."""
    try:
        import pulp
    except ImportError:
        return None
    # the class has the path; making one of these warns that PuLP 4 will no longer bring CBC
    own = str(getattr(pulp.PULP_CBC_CMD, "pulp_cbc_path", ""))
    return own if own and os.access(own, os.X_OK) else shutil.which("cbc")


def _lp_text(model: Model) -> str:
    """The model in the LP format, one term a line: CBC reads no line longer than it likes."""
    first = next(iter(model.upper))
    lines = ["Minimize", "cost:", *_terms(model.cost or {first: 0}), "Subject To"]
    for number, (row, sense, amount) in enumerate(model.rows):
        lines += [f"r{number}:", *_terms(row), f"{sense} {amount}"]
    lines += ["Bounds", *(f"0 <= {name} <= {upper}" for name, upper in model.upper.items())]
    return "\n".join([*lines, "Generals", *model.upper, "End", ""])


def _terms(sums: dict[str, int]) -> list[str]:
    return [f"{'-' if factor < 0 else '+'} {abs(factor)} {name}" for name, factor in sums.items()]


def _read(answer: str, log: str, names: set[str]) -> Solved:
    head, *lines = answer.splitlines() or [""]
    if head.startswith("Infeasible") or head.startswith("Integer infeasible"):
        return Solved("none")
    values: dict[str, int] = {}
    for line in lines:
        words = line.replace("**", "").split()
        if len(words) < 3 or words[1] not in names:
            continue
        values[words[1]] = round(float(words[2]))
    if head.startswith("Optimal"):
        return Solved("proven", values)
    bounds = [float(found) for found in _BOUND.findall(log)]
    bound = math.ceil(max(bounds) - _NEAR) if bounds else None
    # what it holds when stopped may be the relaxed answer: the caller checks that it is a plan
    return Solved("out of time", values, bound)
