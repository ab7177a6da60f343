"""The shop's rates for a quote: what cannot be is named with its file and mend."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from gutterance.shop import ShopError, load_shop

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[quote]\ncurrency = "=CAD"\n', "is no currency"),
        ('[quote]\ncurrency = "12345678"\n', "is no currency"),
        ('[quote]\nhour = "5O.00"\n', "is no decimal number"),
        ('[[labour]]\nwork = "hang"\nfor_each = "corner"\n', "give hours or price for each corner"),
        ('[[labour]]\nwork = "hang"\nfor_each = "corner"\nhours = "1"\nprice = "2"\n', "one of the two"),
        ('[[labour]]\nwork = "hang"\nfor_each = "corners"\nhours = "1"\n', "Did you mean 'corner'?"),
        (
            '[[labour]]\nwork = "hang"\nfor_each = "job"\nhours = "1"\n' * 2,
            "two [[labour]] are called 'hang'",
        ),
    ],
)
def test_rates_that_cannot_be_are_named(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "shop.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ShopError) as error:
        load_shop(path)
    assert says in str(error.value)
    assert str(path) in str(error.value)
