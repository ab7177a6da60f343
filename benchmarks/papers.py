"""All papers and drawings of a 24-run house, cold, beside the cold start of the PDF setter: aim under 3.

Each is a process of its own, in turns, so that both meet the same load; the middle of the times is taken.
The setter alone sets one page with one word on it. Beside it stands the cold load of the models that lists
and sheet are read into, which any command has behind it before a paper is begun.

The aim is not met, and cannot be with this setter: it starts in 20 ms, twice what a bare Python takes, while
the models alone take 450 ms to load. What is ours to spend goes to the plan's labels (300 of some 600 ms).

    .venv/bin/python benchmarks/papers.py
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

ROUNDS = 9
SETTER = """
import typst
typst.Compiler(b"#set document(date: none)\\nword", ignore_system_fonts=True).compile(format="pdf")
"""
PAPERS = """
import sys
from pathlib import Path
from gutterance.lists.models import Lists
from gutterance.render.papers import papers
from gutterance.sheet.models import Sheet
folder = Path(sys.argv[1])
lists = Lists.model_validate_json((folder / "lists.json").read_text(encoding="utf-8"))
sheet = Sheet.model_validate_json((folder / "sheet.json").read_text(encoding="utf-8"))
for name, data in papers(lists, sheet, [], None, "letter").items():
    (folder / name).write_bytes(data)
"""
MODELS = """
from gutterance.lists.models import Lists
from gutterance.sheet.models import Sheet
"""


def house() -> dict[str, object]:
    """A ring of 24 runs: five wings, an outlet and a downpipe on every second run."""

    def reading(value: object) -> dict[str, object]:
        return {"value": value, "status": "read"}

    corner = {"out": "outside corner", "in": "inside corner"}
    wing = [(180, "out in"), (72, "in out"), (240, "out out"), (72, "out in")]
    sides = [[*wing, *wing, (180, "in out")], *[[*wing, (180, "in out")]] * 3]
    sides[0][4] = (180, "in in")
    sides[2] = [*wing[:3], (72, "out in"), (600, "in out")]
    walk = [one for side in sides for one in side]
    runs, outlets, pipes = [], [], []
    for number, (inches, ends) in enumerate(walk, start=1):
        left, right = ends.split()
        runs.append(
            {
                "id": f"r{number}",
                "name": f"wall {number}",
                "length": reading(f"{inches} in"),
                "left_end": reading(corner[left]),
                "right_end": reading(corner[right]),
                "next_run": f"r{number % len(walk) + 1}",
            }
        )
        if number % 2 == 0:
            pipe = {"wall_to_fascia": reading("18 in"), "height": reading("112 in")}
            outlets.append({"id": f"o{number}", "run": f"r{number}", "from": "left"})
            pipes.append({"id": f"o{number}", "outlet": f"o{number}", **pipe, "ends_at": reading("drain")})
    defaults = {"gutter_size": reading("5 in"), "colour": reading("white"), "downpipe_size": reading("2x3")}
    return {
        "title": "24 Long Row",
        "defaults": defaults,
        "runs": runs,
        "outlets": outlets,
        "downpipes": pipes,
    }


def seconds(program: str, *args: str) -> float:
    """What a process of its own takes of the processor [s]: on a busy machine waiting would hide it."""
    before = os.times()
    subprocess.run([sys.executable, "-c", program, *args], check=True)
    after = os.times()
    return after.children_user + after.children_system - before.children_user - before.children_system


def main() -> None:
    """Print the times and their ratio."""
    from gutterance.lists import make_lists
    from gutterance.sheet.models import Sheet
    from gutterance.shop import load_shop

    with tempfile.TemporaryDirectory() as folder:
        sheet = Sheet.model_validate(house())
        lists = make_lists(sheet, [], load_shop())
        (Path(folder) / "sheet.json").write_text(json.dumps(house()), encoding="utf-8")
        (Path(folder) / "lists.json").write_text(lists.model_dump_json(by_alias=True), encoding="utf-8")
        times: dict[str, list[float]] = {"setter": [], "papers": [], "models": []}
        for _ in range(ROUNDS):
            times["setter"].append(seconds(SETTER))
            times["papers"].append(seconds(PAPERS, folder))
            times["models"].append(seconds(MODELS))
        middle = {name: statistics.median(each) for name, each in times.items()}
        for name, says in (
            ("setter", "the PDF setter alone"),
            ("models", "the models of sheet and lists alone"),
            ("papers", f"all papers and drawings of {len(sheet.runs)} runs"),
        ):
            print(f"{says + ', cold':<46} {middle[name] * 1000:7.0f} ms")
        beyond = middle["papers"] - middle["models"]
        print(f"ratio to the setter {middle['papers'] / middle['setter']:.1f} (aim: under 3)")
        print(f"the same without the models' load {beyond / middle['setter']:.1f}")


if __name__ == "__main__":
    main()
