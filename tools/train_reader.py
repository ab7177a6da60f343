"""Make the trained reader's weights anew from the marked notes of the corpus (corpus/README.md).

    python tools/train_reader.py            the weights of the package, from corpus/marked/
    python tools/train_reader.py DIR... -o OUT   others, to try

Only notes with marked words (NAME.words.json) teach; held notes never do. The weights are those of a
logistic regression, one for each task, made by scikit-learn: the same notes give the same weights.
Run it in an environment of its own that has scikit-learn: quantulum3 reads units otherwise beside it.
"""

from __future__ import annotations

import argparse
import gzip
import json
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from gutterance.scoring.teaching import Examples

ROOT = Path(__file__).resolve().parent.parent
SEEN_AT_LEAST = 2
"""A feature that stands in fewer examples than this is left out: it says nothing of other notes."""
STRENGTH = 0.3
"""How freely the weights may grow (scikit-learn's C)."""


def examples_from(folders: list[Path]) -> Examples:
    """What the marked notes of the folders teach."""
    from gutterance.notes import open_note
    from gutterance.reading import read_by_rules
    from gutterance.scoring.marked_words import load_marked_words
    from gutterance.scoring.teaching import Examples, examples_of

    out = Examples()
    count = 0
    for folder in folders:
        for marked in sorted(folder.glob("*.words.json")):
            stem = marked.name.removesuffix(".words.json")
            path = next(
                path
                for path in sorted(folder.glob(f"{stem}.*"))
                if not path.name.endswith((".gold.json", ".words.json"))
            )
            note = open_note(path)
            _, heard = read_by_rules(note)
            marks = load_marked_words(marked, note.lines_text())
            examples_of(heard.symbols, marks, metric=heard.metric, into=out)
            count += 1
    print(f"{count} notes, {sum(map(len, out.actions.values()))} decisions")
    print("runs whose names no action makes:", Counter(out.unnamed).most_common(12), len(out.unnamed))
    return out


def train(examples: Examples) -> dict[str, dict[str, Any]]:
    """For each task its actions, features, weights and bias."""
    import numpy as np
    from sklearn.feature_extraction import DictVectorizer
    from sklearn.linear_model import LogisticRegression

    out = {}
    for task, rows in sorted(examples.features.items()):
        seen = Counter(feature for row in rows for feature in set(row))
        kept = [{feature: 1 for feature in row if seen[feature] >= SEEN_AT_LEAST} for row in rows]
        columns = DictVectorizer(dtype=np.float32)
        matrix = columns.fit_transform(kept)
        model = LogisticRegression(C=STRENGTH, max_iter=300).fit(matrix, examples.actions[task])
        weights, bias = model.coef_, model.intercept_
        if len(model.classes_) == 2:
            weights, bias = np.vstack([-weights, weights]) / 2, np.concatenate([-bias, bias]) / 2
        out[task] = {
            "actions": [str(action) for action in model.classes_],
            "features": list(columns.feature_names_),
            "weights": weights.T.astype(np.float16),
            "bias": bias.astype(np.float32),
        }
        print(f"{task:10} {len(rows):6} examples {len(columns.feature_names_):6} features")
    return out


def write(tasks: dict[str, dict[str, Any]], folder: Path) -> None:
    """Write the weights as the package loads them."""
    import numpy as np

    arrays = {}
    for task, told in tasks.items():
        arrays[f"{task} weights"], arrays[f"{task} bias"] = told["weights"], told["bias"]
    np.savez_compressed(folder / "weights.npz", **arrays)
    names = {task: {"actions": told["actions"], "features": told["features"]} for task, told in tasks.items()}
    with (
        (folder / "features.json.gz").open("wb") as file,
        gzip.GzipFile("", "wb", 9, file, mtime=0) as packed,
    ):
        packed.write(json.dumps(names, ensure_ascii=False).encode())


if __name__ == "__main__":
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("folders", nargs="*", type=Path, default=[ROOT / "corpus" / "marked"])
    parser.add_argument("-o", "--out", type=Path, default=ROOT / "src/gutterance/reading/trained")
    given = parser.parse_args()
    write(train(examples_from(given.folders)), given.out)
