"""The example notes that come with gutterance."""

from __future__ import annotations

from pathlib import Path

from gutterance.cli.refusals import Refusal

EXAMPLE = "31-fennel-hill.txt"


def examples_folder() -> Path:
    """Where the examples are: inside an installed package, or at the root of a checkout."""
    package = Path(__file__).parents[1]
    places = (package / "examples", package.parents[1] / "examples")
    return next((place for place in places if place.is_dir()), places[0])


def example_note() -> Path:
    """The note that `demo` works on. Raises Refusal where the installation lacks it."""
    note = examples_folder() / EXAMPLE
    if not note.is_file():
        raise Refusal(f"{note} is missing: install gutterance again")
    return note
