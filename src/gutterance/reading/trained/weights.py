"""The trained weights: for each task, what each feature says for each action."""

from __future__ import annotations

import gzip
import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable

WEIGHTS = Path(__file__).with_name("weights.npz")
NAMES = Path(__file__).with_name("features.json.gz")


@dataclass(frozen=True, slots=True)
class TaskWeights:
    """The weights of one task: `rows` is the row of each feature, `matrix` features by actions."""

    actions: tuple[str, ...]
    rows: dict[str, int]
    matrix: Any
    bias: Any

    def decide(self, features: Iterable[str]) -> tuple[str, float]:
        """The likeliest action and its probability."""
        import numpy as np

        rows = self.rows
        found = [row for feature in set(features) if (row := rows.get(feature)) is not None]
        scores = self.bias + self.matrix[found].sum(axis=0)
        scores = np.exp(scores - scores.max())
        best = int(scores.argmax())
        return self.actions[best], float(scores[best] / scores.sum())


@cache
def trained_weights() -> dict[str, TaskWeights]:
    """The weights of each task, loaded once. Raises FileNotFoundError where the package is incomplete."""
    import numpy as np

    with gzip.open(NAMES, "rt", encoding="utf-8") as file:
        names = json.load(file)
    out = {}
    with np.load(WEIGHTS) as arrays:
        for task, told in names.items():
            matrix = arrays[f"{task} weights"].astype(np.float32)
            rows = {name: row for row, name in enumerate(told["features"])}
            out[task] = TaskWeights(tuple(told["actions"]), rows, matrix, arrays[f"{task} bias"])
    return out
