"""How far a job is: measuring, to settle, ready, made, hung."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, get_args

from gutterance.jobs.changing import Change, Given, keep
from gutterance.jobs.decisions import still_done
from gutterance.jobs.job import FIRST_STATE, the_job
from gutterance.jobs.listing import lists_of_job
from gutterance.jobs.making import things_to_make
from gutterance.jobs.ticking import ticks_in
from gutterance.store import jobs as job_rows

if TYPE_CHECKING:
    from gutterance.jobs.listing import JobLists
    from gutterance.jobs.office import Office, Person

State = Literal["measuring", "to settle", "ready", "made", "hung"]
STATES: tuple[State, ...] = get_args(State)
MEASURED = "measured"
MEASURING_AGAIN = "measuring again"


def state_of(lists: JobLists) -> State:
    """The state that follows from what was said, settled and ticked.

    A job is measured until somebody says that it is. Then it waits for what is open; is ready when nothing
    is; made when every piece and pipe is, and hung likewise. A new question takes it back to be settled.
    """
    ticks = ticks_in(lists.stands.events)
    things = list(things_to_make(lists.lists))
    if not things or not (is_measured(lists) or ticks):
        return "measuring"
    if lists.questions or any(thing.hold for _, thing in things):
        return "to settle"
    if all((path, "hung") in ticks for path, _ in things):
        return "hung"
    return "made" if all((path, "made") in ticks for path, _ in things) else "ready"


def is_measured(lists: JobLists) -> bool:
    """Whether somebody said that measuring is done."""
    said = [event["what"] for event in still_done(lists.stands.events)]
    said = [one for one in said if one in (MEASURED, MEASURING_AGAIN)]
    return bool(said) and said[-1] == MEASURED


def say_measured(office: Office, job_id: str, given: Given, person: Person, *, done: bool = True) -> int:
    """Keep that measuring is done, or (`done` False) that it goes on; the job's revision. Raises NotThere."""
    if is_measured(lists_of_job(office, job_id)) == done:
        return lists_of_job(office, job_id).stands.job.revision
    word = MEASURED if done else MEASURING_AGAIN
    return keep(office, job_id, [Change(word, path="job", why=given.why)], given, person)


def keep_state(office: Office, job_id: str) -> State:
    """The job's state, written beside it where it has changed, so that jobs can be found by it."""
    lists = lists_of_job(office, job_id)
    state = state_of(lists)
    if state != the_job(office, job_id).state:
        with office.database.writing() as connection:
            # it follows from the revision it was worked out of: a newer one is not written over
            now = job_rows.job_row(connection, job_id)
            if now is not None and now["revision"] == lists.stands.job.revision:
                job_rows.set_job(connection, job_id, state=state)
    return state


def keep_state_unless_measuring(office: Office, job_id: str) -> None:
    """The same for a job whose measuring was done: one that is measured yet needs no lists for its state."""
    if the_job(office, job_id).state != FIRST_STATE:
        keep_state(office, job_id)
