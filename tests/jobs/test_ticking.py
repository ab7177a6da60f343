"""Ticks and states: a hold has no tick, a tick keeps its numbers, and the job's state follows."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from offices import ANA, CREW, a_job, an_office, given, say

from gutterance.jobs.errors import Clashes, NotThere, OnHold, Unusable
from gutterance.jobs.job import the_job
from gutterance.jobs.listing import lists_of_job
from gutterance.jobs.making import made_by, things_to_make
from gutterance.jobs.settling import amend
from gutterance.jobs.states import keep_state, say_measured, state_of
from gutterance.jobs.ticking import tick, ticks_in
from gutterance.jobs.undoing import undo

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from gutterance.jobs.office import Office

READY = "Front 42-6 end caps both ends, drop left, w/f 24, height 9-4 to splash block"
HELD = "Garage 20-0 end caps both ends, drop right, w/f about 24, height 9-2 to splash block"
PIECE = "pieces.front-1"


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    opened = an_office(tmp_path)
    yield opened
    opened.database.close()


def ticked(office: Office, job: str) -> set[tuple[str, str]]:
    return set(ticks_in(lists_of_job(office, job).stands.events))


def put(
    office: Office, job: str, path: str, what: str, *, on: bool = True, numbers: str | None = None
) -> int:
    revision = lists_of_job(office, job).stands.job.revision
    return tick(office, job, path, what, given(revision), CREW, on=on, numbers=numbers)


def test_hung_counts_as_made_and_not_made_as_not_hung(office: Office) -> None:
    job = a_job(office, READY)
    put(office, job, PIECE, "hung")
    assert ticked(office, job) == {(PIECE, "made"), (PIECE, "hung")}
    put(office, job, PIECE, "made", on=False)
    assert ticked(office, job) == set()


def test_a_tick_that_stands_already_changes_nothing(office: Office) -> None:
    job = a_job(office, READY)
    first = put(office, job, PIECE, "made")
    assert put(office, job, PIECE, "made") == first


def test_what_is_on_hold_cannot_be_ticked_and_says_what_frees_it(office: Office) -> None:
    job = a_job(office, READY, HELD)
    with pytest.raises(OnHold) as refused:
        put(office, job, "downpipes.garage-1", "made")
    assert "24" in refused.value.next
    assert ticked(office, job) == set()


def test_numbers_that_have_changed_since_are_refused_with_both(office: Office) -> None:
    job = a_job(office, READY)
    seen = made_by(dict(things_to_make(lists_of_job(office, job).lists))[PIECE])
    amend(office, job, "runs.front.length", "43-0", given(1), ANA)
    with pytest.raises(Clashes) as refused:
        put(office, job, PIECE, "made", numbers=seen)
    assert "42' 6" in refused.value.data["yours"]
    assert "43' 0" in refused.value.data["theirs"]


def test_a_tick_by_an_old_paper_is_refused(office: Office) -> None:
    job = a_job(office, READY)
    code = lists_of_job(office, job).code
    tick(office, job, PIECE, "made", given(1), CREW, code=code)
    amend(office, job, "runs.front.length", "43-0", given(2), ANA)
    with pytest.raises(Clashes):
        tick(office, job, "downpipes.front-1", "made", given(3), CREW, code=code)


def test_a_tick_keeps_the_numbers_it_was_made_by(office: Office) -> None:
    job = a_job(office, READY)
    put(office, job, PIECE, "made")
    amend(office, job, "runs.front.length", "43-0", given(2), ANA)
    lists = lists_of_job(office, job)
    kept = ticks_in(lists.stands.events)[PIECE, "made"]
    assert "42' 6" in kept.numbers
    assert kept.numbers != made_by(dict(things_to_make(lists.lists))[PIECE])
    assert kept.by == "the van"


@pytest.mark.parametrize(("path", "what"), [("pieces.nowhere-1", "made"), ("runs.front", "made")])
def test_what_is_not_on_the_lists_cannot_be_ticked(office: Office, path: str, what: str) -> None:
    job = a_job(office, READY)
    with pytest.raises(NotThere):
        put(office, job, path, what)


def test_only_made_and_hung_can_be_ticked(office: Office) -> None:
    job = a_job(office, READY)
    with pytest.raises(Unusable):
        put(office, job, PIECE, "painted")


def test_a_tick_can_be_undone(office: Office) -> None:
    job = a_job(office, READY)
    put(office, job, PIECE, "hung")
    event = lists_of_job(office, job).stands.events[-1]
    undo(office, job, str(event["id"]), given(2), ANA)
    assert ticked(office, job) == set()


def test_the_state_follows_the_work(office: Office) -> None:
    job = a_job(office, READY, HELD)

    def state() -> str:
        kept = keep_state(office, job)
        assert the_job(office, job).state == kept
        return kept

    assert state() == "measuring"
    say_measured(office, job, given(2), ANA)
    assert state() == "to settle"
    amend(office, job, "downpipes.garage-1.wall_to_fascia", "24", given(3), ANA)
    assert state() == "ready"
    paths = [path for path, _ in things_to_make(lists_of_job(office, job).lists)]
    for path in paths:
        put(office, job, path, "made")
    assert state() == "made"
    for path in paths:
        put(office, job, path, "hung")
    assert state() == "hung"
    say(office, job, "Shed 20-0 end cap left")
    assert state() == "to settle"


def test_measuring_goes_on_when_somebody_says_so(office: Office) -> None:
    job = a_job(office, READY)
    say_measured(office, job, given(1), ANA)
    assert state_of(lists_of_job(office, job)) == "ready"
    say_measured(office, job, given(2), ANA, done=False)
    assert state_of(lists_of_job(office, job)) == "measuring"


def test_a_job_with_nothing_on_it_is_measured_still(office: Office) -> None:
    job = a_job(office)
    say_measured(office, job, given(0), ANA)
    assert state_of(lists_of_job(office, job)) == "measuring"
