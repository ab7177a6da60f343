"""The metals gutter is made of, with their densities and where those are from: `metals.toml`."""

from __future__ import annotations

import difflib
import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files

METALS_FILE = "metals.toml"


class MetalError(ValueError):
    """A metal that is not known, or a row of the file that cannot be used."""


@dataclass(frozen=True, slots=True)
class Metal:
    """A metal, its density [lb/in3], and the source of that."""

    name: str
    words: tuple[str, ...]
    density: Fraction
    source: str


def read_metals(text: str, file: str = METALS_FILE) -> tuple[Metal, ...]:
    """The metals of a TOML text. Raises MetalError, naming file and row."""
    try:
        rows = tomllib.loads(text).get("metals", [])
    except tomllib.TOMLDecodeError as error:
        raise MetalError(f"{file}: this is not TOML that can be read: {error}") from None
    out: list[Metal] = []
    for number, row in enumerate(rows, start=1):
        try:
            metal = Metal(row["name"], tuple(row["words"]), Fraction(row["density"]), row["source"])
        except (KeyError, TypeError, ValueError, ZeroDivisionError) as error:
            raise MetalError(f"{file}, row {number}: {error!r}: give name, words, density, source") from None
        if not 0 < metal.density < 1:
            raise MetalError(f"{file}, row {number}: {metal.density} lb/in3 is the density of no such metal")
        if not metal.source:
            raise MetalError(f"{file}, row {number}: {metal.name} has no source")
        out.append(metal)
    return tuple(out)


@cache
def metals() -> tuple[Metal, ...]:
    """The shipped metals."""
    return read_metals((files("gutterance.stock") / METALS_FILE).read_text(encoding="utf-8"))


def metal_of(name: str) -> Metal:
    """The metal of that name, or called so too. Raises MetalError with the nearest name.

    >>> metal_of("Aluminum").density
    Fraction(49, 500)
    """
    wanted = " ".join(name.casefold().split())
    every = {word.casefold(): metal for metal in metals() for word in (metal.name, *metal.words)}
    if wanted in every:
        return every[wanted]
    near = difflib.get_close_matches(wanted, every, n=1)
    hint = f"did you mean {near[0]!r}?" if near else f"there are {', '.join(one.name for one in metals())}"
    raise MetalError(f"no metal is called {name!r}: {hint}")
