"""The machine's order: nothing lost, nothing on hold, each coil once, each piece next to one before it."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from gutterance.stock.machine_order import Place, Step, Stretch, coil_changes, hung_last, machine_order


def stretch(words: str, *, loop: bool = False) -> Stretch:
    """`a b* c! d`: a * has an outlet, a ! may not be made."""
    places = [Place(one.strip("*!"), outlet="*" in one, ready="!" not in one) for one in words.split()]
    return Stretch(places, loop)


def order(*stretches: Stretch, **coil_of: str) -> list[str]:
    return [step.piece for step in machine_order(stretches, coil_of)]


def test_a_chain_starts_at_the_end_that_has_the_outlet() -> None:
    assert order(stretch("a* b c")) == ["a", "b", "c"]
    assert order(stretch("a b c*")) == ["c", "b", "a"]
    assert order(stretch("a* b c*")) == ["a", "b", "c"]


def test_from_an_outlet_in_the_middle_the_short_way_comes_first() -> None:
    assert order(stretch("a b* c d e")) == ["b", "a", "c", "d", "e"]
    assert order(stretch("a b c d* e")) == ["d", "e", "c", "b", "a"]


def test_a_loop_is_gone_round_from_its_outlet() -> None:
    assert order(stretch("a b c* d", loop=True)) == ["c", "d", "a", "b"]
    last = machine_order([stretch("a* b c", loop=True)], {})[-1]
    assert last.why == "meets b and a"


def test_what_is_on_hold_is_left_out_and_parts_its_stretch() -> None:
    assert order(stretch("a b! c* d")) == ["a", "c", "d"]
    assert order(stretch("a b! c d*", loop=True)) == ["d", "c", "a"]
    assert order(stretch("a! b!")) == []


def test_each_coil_is_loaded_once_though_a_stretch_is_left_for_it() -> None:
    steps = machine_order(
        [stretch("a* b c"), stretch("d*")], {"a": "white", "b": "brown", "c": "white", "d": "white"}
    )
    assert [step.piece for step in steps] == ["a", "c", "d", "b"]
    assert coil_changes(steps) == 1
    assert steps[1].why == "on the coil that is loaded; what it meets comes later"
    # c meets only b, so it waits on the ground until b hangs
    assert [step.hang for step in steps] == [[], ["a"], [], ["d"]]
    assert hung_last(steps) == ["c", "b"]


def test_what_can_be_hung_while_the_next_is_run() -> None:
    steps = machine_order([stretch("a b* c")], {})
    assert [(step.piece, step.hang) for step in steps] == [("b", []), ("a", ["b"]), ("c", ["a"])]
    assert hung_last(steps) == ["c"]


def test_without_an_outlet_it_says_so() -> None:
    assert machine_order([stretch("a b")], {})[0].why == "starts its row: none of these has an outlet"


@st.composite
def houses(draw: st.DrawFn) -> tuple[list[Stretch], dict[str, str]]:
    out, coils = [], {}
    for number in range(draw(st.integers(0, 3))):
        places = []
        for at in range(draw(st.integers(1, 6))):
            place = Place(f"{number}-{at}", draw(st.booleans()), draw(st.sampled_from([True, True, False])))
            places.append(place)
            coils[place.id] = draw(st.sampled_from(["white", "brown"]))
        out.append(Stretch(places, draw(st.booleans())))
    return out, coils


def meet(stretches: list[Stretch]) -> set[tuple[str, str]]:
    pairs = set()
    for one in stretches:
        ids = [(place.id, place.ready) for place in one.places]
        row = [*ids, ids[0]] if one.loop else ids
        for (left, first), (right, second) in itertools.pairwise(row):
            if first and second:
                pairs |= {(left, right), (right, left)}
    return pairs


@given(houses())
def test_any_house(house: tuple[list[Stretch], dict[str, str]]) -> None:
    stretches, coil_of = house
    ready = {place.id for one in stretches for place in one.places if place.ready}
    outlets = {place.id for one in stretches for place in one.places if place.outlet}
    steps = machine_order(stretches, coil_of)
    ids = [step.piece for step in steps]
    assert sorted(ids) == sorted(ready)
    assert coil_changes(steps) == max(0, len({coil_of[one] for one in ids}) - 1)
    pairs = meet(stretches)
    hung: set[str] = set()
    starts: set[str] = set()
    for number, step in enumerate(steps):
        if step.why.startswith("starts"):
            starts.add(step.piece)
        for one in step.hang:
            assert one in ids[:number]
            assert one not in hung
            assert one in outlets or one in starts or any((one, other) in pairs for other in hung)
            hung.add(one)
    # with one coil only, each piece that starts nothing meets one before it
    plain = machine_order(stretches, {})
    for number, step in enumerate(plain):
        if not step.why.startswith("starts"):
            assert any((step.piece, other.piece) in pairs for other in plain[:number])


def test_ten_thousand_pieces() -> None:
    places = [Place(str(number), outlet=number == 5000) for number in range(10_000)]
    steps: list[Step] = machine_order([Stretch(places)], {})
    assert len({step.piece for step in steps}) == 10_000
