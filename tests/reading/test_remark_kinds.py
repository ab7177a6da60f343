"""What remarks are about: the kind that weighs most, and a remark of two kinds told as two."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from gutterance.reading.lexicon import LexiconError
from gutterance.reading.remark_kinds import kinds_from_toml

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("trampoline in the way on the left side", "access"),
        ("power line over the left corner", "hazard"),
        ("long ladder for the back", "access"),
        ("scaffold needed at the back", "access"),
        ("loose slates, two have slipped, gone soft below", "repair"),
        ("ring first, lady works nights", "customer"),
        ("old septic tank lid in the lawn", "hazard"),
        ("bring the spare coil", "materials"),
    ],
)
def test_what_a_remark_is_about(read: Callable[..., Any], said: str, kind: str) -> None:
    seen = read("Front 40-0 caps both ends, drop left, w/f 18, 9-4 to splash", said)
    assert {remark.kind for remark in seen.sheet.remarks} == {kind}


def test_a_remark_of_two_kinds_is_two(read: Callable[..., Any]) -> None:
    seen = read("Front 40-0 caps both ends", "dog in the back yard, call ahead so she can take it in")
    assert [remark.kind for remark in seen.sheet.remarks] == ["hazard", "customer"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[[phrase]]\nkind = "danger"\nwords = ["x"]', "phrase 1: 'danger'"),
        ('[[phrase]]\nkind = "access"\nwords = "x"', "phrase 1: words must be"),
        ("[weak]\nwords = [4]", "weak: words must be"),
        ("[[phrase", "not a TOML file"),
    ],
)
def test_a_bad_row_of_kinds_is_named(text: str, said: str) -> None:
    with pytest.raises(LexiconError, match=said.split(":", maxsplit=1)[0]) as error:
        kinds_from_toml(text, "kinds.toml")
    assert said in str(error.value)
