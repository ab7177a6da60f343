"""Numbers with a root of two, against Python's own decimals at fifty digits."""

from __future__ import annotations

from decimal import Decimal, localcontext
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from gutterance.checking.root_two import RootTwo

PARTS = st.fractions(min_value=-5000, max_value=5000, max_denominator=64)
NUMBERS = st.builds(RootTwo, PARTS, PARTS)
MARK = Fraction(1, 16)


def decimal(number: RootTwo) -> Decimal:
    """The number to fifty digits, by the decimal module's own square root."""
    with localcontext() as context:
        context.prec = 50
        plain, roots = (Decimal(part.numerator) / part.denominator for part in (number.plain, number.roots))
        return plain + roots * Decimal(2).sqrt()


def near(number: RootTwo, wanted: Decimal) -> bool:
    return abs(decimal(number) - wanted) < Decimal("1e-30")


@given(NUMBERS, NUMBERS)
def test_sums_products_and_quotients(one: RootTwo, other: RootTwo) -> None:
    with localcontext() as context:
        context.prec = 50
        assert near(one + other, decimal(one) + decimal(other))
        assert near(one - other, decimal(one) - decimal(other))
        assert near(one * other, decimal(one) * decimal(other))
        if other:
            assert (one / other) * other == one


@given(NUMBERS, NUMBERS)
def test_order_and_sign(one: RootTwo, other: RootTwo) -> None:
    difference = decimal(one) - decimal(other)
    assert (one < other) == (difference < Decimal("-1e-30"))
    assert (one == other) == (abs(difference) < Decimal("1e-30"))
    assert abs(one).sign >= 0


@given(NUMBERS)
def test_to_the_nearest_mark(number: RootTwo) -> None:
    mark = number.nearest(MARK)
    assert mark % MARK == 0
    off = abs(decimal(number) - Decimal(mark.numerator) / mark.denominator)
    assert off <= Decimal(1) / 32 + Decimal("1e-30")


def test_the_square_root_itself() -> None:
    # 1.4142135623 7309504880 1688724209 6980785696..., as tables of constants print it (OEIS A002193)
    root = RootTwo(Fraction(0), Fraction(1))
    assert root.nearest(Fraction(1, 10**10)) == Fraction(14142135624, 10**10)
    assert root * root == 2
    assert hash(root * root) == hash(Fraction(2))
