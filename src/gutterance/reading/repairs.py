"""Numbers that a phone's ear wrote as other words (`for`, `ate`), put right where their company shows it."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


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
class NumberRule:
    """Words heard for a numeral, and in what company."""

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
def _rules() -> tuple[NumberRule, ...]:
    return rules_from_toml(
        resources.files("gutterance.reading").joinpath("repairs.toml").read_text("utf-8"), "repairs.toml"
    )


def rules_from_toml(text: str, name: str) -> tuple[NumberRule, ...]:
    """Read a repairs file. Raises RepairsError naming the file and the row that is wrong."""
    try:
        rows = tomllib.loads(text).get("repair", [])
    except tomllib.TOMLDecodeError as error:
        raise RepairsError(f"{name}: not a TOML file: {error}") from error
    rules: list[NumberRule] = []
    for number, row in enumerate(rows, start=1):
        try:
            means = str(row["means"])
            rule = number_rule(row["heard"], means, row["before"], row["after"])
        except (KeyError, TypeError, re.error) as error:
            raise RepairsError(
                f"{name}, repair {number}: {error}: a repair has heard, means, before and after"
            ) from error
        if any(len(means) > len(word) for word in row["heard"]):
            raise RepairsError(f"{name}, repair {number}: {means!r} is longer than what was heard")
        rules.append(rule)
    return tuple(rules)


def number_rule(heard: Sequence[str], means: str, before: str, after: str) -> NumberRule:
    """Words heard for the numeral `means`, where the patterns `before` and `after` stand beside them.

    Raises re.error for a pattern that is none.
    """
    words = "|".join(re.escape(word) for word in sorted(heard, key=len, reverse=True))
    pattern = re.compile(f"(?:{before})(?P<heard>{words}){after}", re.IGNORECASE)
    return NumberRule(pattern, means, tuple(word.lower() for word in heard))


def repair_numbers(text: str, own: tuple[NumberRule, ...] = ()) -> tuple[str, list[Repaired]]:
    """The text with mis-heard numerals put right, every other character in its place; and what was.

    `own` are a shop's rules, beside the built-in ones.
    """
    done: list[Repaired] = []
    for rule in (*_rules(), *own):
        if not rule.may_be_in(text):
            continue
        for match in list(rule.pattern.finditer(text)):
            start, end = match.span("heard")
            done.append(Repaired(start, end, match["heard"], rule.means))
            text = text[:start] + rule.means.ljust(end - start) + text[end:]
    return text, done
