"""The examples that come with gutterance."""

from __future__ import annotations

from pathlib import Path

from gutterance.cli.refusals import Refusal

EXAMPLE = "31-fennel-hill.txt"
EXAMPLE_PRICES = "31-fennel-hill.prices.csv"


def examples_folder() -> Path:
    """Where the examples are: inside an installed package, or at the root of a checkout."""
    package = Path(__file__).parents[1]
    places = (package / "examples", package.parents[1] / "examples")
    return next((place for place in places if place.is_dir()), places[0])


def example_note() -> Path:
    """The note that `demo` works on. Raises Refusal where the installation lacks it."""
    return _there(examples_folder() / EXAMPLE)


def example_prices() -> Path:
    """Its price list, all invented. Raises Refusal where the installation lacks it."""
    return _there(examples_folder() / EXAMPLE_PRICES)


def _there(file: Path) -> Path:
    if not file.is_file():
        raise Refusal(f"{file} is missing: install gutterance again")
    return file
