"""Numbers that a phone's ear wrote as other words (`for`, `ate`), put right where their company shows it."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources


class RepairsError(ValueError):
    """A repairs file that cannot be used; the message names the file and the row."""


@dataclass(frozen=True, slots=True)
class Repaired:
    """Words put right: where they stand, what was heard, and the numeral meant."""

    start: int
    end: int
    heard: str
    means: str


@dataclass(frozen=True, slots=True)
class _Rule:
    pattern: re.Pattern[str]
    means: str
    heard: tuple[str, ...]

    def may_be_in(self, text: str) -> bool:
        """Whether one of the words stands in the text at all: cheaper than the pattern, and mostly no."""
        if not text.isascii():
            return True
        words = text.lower()
        return any(word in words for word in self.heard)


@cache
def _rules() -> tuple[_Rule, ...]:
    return rules_from_toml(
        resources.files("gutterance.reading").joinpath("repairs.toml").read_text("utf-8"), "repairs.toml"
    )


def rules_from_toml(text: str, name: str) -> tuple[_Rule, ...]:
    """Read a repairs file. Raises RepairsError naming the file and the row that is wrong."""
    try:
        rows = tomllib.loads(text).get("repair", [])
    except tomllib.TOMLDecodeError as error:
        raise RepairsError(f"{name}: not a TOML file: {error}") from error
    rules: list[_Rule] = []
    for number, row in enumerate(rows, start=1):
        try:
            heard = "|".join(re.escape(word) for word in sorted(row["heard"], key=len, reverse=True))
            pattern = re.compile(f"(?:{row['before']})(?P<heard>{heard}){row['after']}", re.IGNORECASE)
            means = str(row["means"])
        except (KeyError, TypeError, re.error) as error:
            raise RepairsError(
                f"{name}, repair {number}: {error}: a repair has heard, means, before and after"
            ) from error
        if any(len(means) > len(word) for word in row["heard"]):
            raise RepairsError(f"{name}, repair {number}: {means!r} is longer than what was heard")
        rules.append(_Rule(pattern, means, tuple(str(word).lower() for word in row["heard"])))
    return tuple(rules)


def repair_numbers(text: str) -> tuple[str, list[Repaired]]:
    """The text with mis-heard numerals put right, every other character in its place; and what was."""
    done: list[Repaired] = []
    for rule in _rules():
        if not rule.may_be_in(text):
            continue
        for match in list(rule.pattern.finditer(text)):
            start, end = match.span("heard")
            done.append(Repaired(start, end, match["heard"], rule.means))
            text = text[:start] + rule.means.ljust(end - start) + text[end:]
    return text, done
