"""Settling: each decision kept once, with who and why; nobody's is lost to somebody else's."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from offices import ANA, JO, a_job, an_office, given, say

from gutterance.jobs.errors import Clashes, NotThere, Stale, Unusable
from gutterance.jobs.listing import lists_of_job
from gutterance.jobs.questions import finding_id, offers_of, question_id
from gutterance.jobs.settling import Answer, amend, see, settle
from gutterance.jobs.undoing import last_done, undo

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from gutterance.checking import Question
    from gutterance.jobs.office import Office

NOTE = (
    "Front 42-6 end caps both ends, drop left, w/f about 24, height 9-4 to splash block",
    "Back 30-0 end caps both ends, drop right, w/f 24, height 9-2 to splash block, 17",
)


@pytest.fixture(scope="module", params=["SQLite", "PostgreSQL"])
def url(request: pytest.FixtureRequest) -> str | None:
    """None for SQLite, then the address of a PostgreSQL that these tests share: each has jobs of its own."""
    return None if request.param == "SQLite" else request.getfixturevalue("postgres").fresh()


@pytest.fixture
def office(tmp_path: Path, url: str | None) -> Iterator[Office]:
    opened = an_office(tmp_path, url)
    yield opened
    opened.database.close()


def asked(office: Office, job: str, about: str) -> Question:
    return next(one for one in lists_of_job(office, job).questions if about in one.about)


def value(office: Office, job: str, path: str) -> tuple[str, str, str | None]:
    reading = lists_of_job(office, job).stands.sheet.reading_at(path)
    assert reading is not None
    return reading.value.tape_text(), reading.status, reading.by


def revision(office: Office, job: str) -> int:
    return lists_of_job(office, job).stands.job.revision


WF = "downpipes.front-1.wall_to_fascia"


def test_a_value_is_amended_in_the_words_of_the_trade_and_the_note_stays(office: Office) -> None:
    job = a_job(office, *NOTE)
    amend(
        office,
        job,
        "runs.front.length",
        "forty three two",
        given(revision(office, job), "measured again"),
        ANA,
    )
    assert value(office, job, "runs.front.length") == ("43' 2\"", "corrected", "Ana")
    stands = lists_of_job(office, job).stands
    assert [line["text"] for line in stands.lines] == list(NOTE)
    event = stands.events[-1]
    assert (event["before"], event["after"], event["said"], event["why"]) == (
        "510 in", "518 in", "forty three two", "measured again",
    )  # fmt: skip
    assert stands.read.reading_at("runs.front.length").value.file_text() == "510 in"  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("path", "said", "part"),
    [
        ("runs.front.length", "about 43", "leaves room"),
        ("runs.front.length", "purple", "“purple” cannot be the length of the front"),
        ("runs.front.length", "  ", "nothing was given"),
        ("runs.front", "43", "whole part"),
    ],
)
def test_what_cannot_stand_is_refused_with_what_to_do_and_nothing_is_kept(
    office: Office, path: str, said: str, part: str
) -> None:
    job = a_job(office, *NOTE)
    with pytest.raises(Unusable, match=part) as refused:
        amend(office, job, path, said, given(revision(office, job)), ANA)
    assert refused.value.next
    assert not lists_of_job(office, job).stands.events


def test_a_path_that_leads_nowhere_names_the_nearest(office: Office) -> None:
    job = a_job(office, *NOTE)
    with pytest.raises(NotThere, match=r"runs\.front\.length"):
        amend(office, job, "runs.front.lenght", "43-2", given(2), ANA)


def test_the_same_change_twice_is_one(office: Office) -> None:
    job = a_job(office, *NOTE)
    one = given(revision(office, job))
    first = amend(office, job, "runs.front.length", "43-2", one, ANA)
    assert amend(office, job, "runs.front.length", "43-2", one, ANA) == first
    assert len(lists_of_job(office, job).stands.events) == 1


def test_another_change_under_an_id_that_is_taken_is_refused_and_said(office: Office) -> None:
    job, other = a_job(office, *NOTE), a_job(office, *NOTE)
    one = given(2)
    amend(office, job, "runs.front.length", "43-2", one, ANA)
    for where, said in ((job, "44-0"), (other, "43-2")):
        with pytest.raises(Clashes, match="used for another"):
            amend(office, where, "runs.front.length", said, one, ANA)
    assert value(office, other, "runs.front.length")[0] == "42' 6\""


def test_an_answer_sent_twice_is_one_and_another_under_its_id_is_told_of(office: Office) -> None:
    """A form gone back to in the browser, and sent again with another answer."""
    job = a_job(office, *NOTE)
    question, one = question_id(asked(office, job, WF)), given(revision(office, job))
    first = settle(office, job, question, Answer(typed="yes", about=(WF,)), one, ANA)
    assert settle(office, job, question, Answer(typed="yes", about=(WF,)), one, ANA) == first
    with pytest.raises(Stale, match="changed the same"):
        settle(office, job, question, Answer(typed="26", about=(WF,)), one, ANA)
    assert value(office, job, WF)[0] == "2' 0\""


def test_a_doubt_is_confirmed_by_yes_and_frees_what_it_held(office: Office) -> None:
    job = a_job(office, *NOTE)
    assert next(one for one in lists_of_job(office, job).lists.downpipes if one.id == "front-1").hold
    question = asked(office, job, WF)
    settle(office, job, question_id(question), Answer(typed="yes"), given(revision(office, job)), ANA)
    assert value(office, job, WF) == ("2' 0\"", "corrected", "Ana")
    assert lists_of_job(office, job).stands.events[-1]["why"] == "confirmed as read"
    assert not next(one for one in lists_of_job(office, job).lists.downpipes if one.id == "front-1").hold


def test_an_offer_with_several_values_is_one_step_and_one_undo_takes_it_back(office: Office) -> None:
    job = a_job(office, "Front 42-6, drop left, w/f 24, height 9-4 to splash block")
    before = revision(office, job)
    question = next(one for one in lists_of_job(office, job).questions if len(one.about) == 2)
    offers = offers_of(question, lists_of_job(office, job).stands.sheet)
    number = [one.value for one in offers].index("end cap") + 1
    after = settle(office, job, question_id(question), Answer(offer=number), given(before), ANA)
    assert after == before + 1
    sheet = lists_of_job(office, job).stands.sheet
    assert [sheet.runs[0].left_end.value, sheet.runs[0].right_end.value] == ["end cap", "end cap"]  # type: ignore[union-attr]
    event = last_done(lists_of_job(office, job).stands.events)
    assert event is not None
    undo(office, job, event["id"], given(after, "not sure"), JO)
    assert any(question_id(one) == question_id(question) for one in lists_of_job(office, job).questions)
    assert lists_of_job(office, job).stands.sheet.runs[0].left_end is None


def test_words_not_understood_are_struck_out(office: Office) -> None:
    job = a_job(office, *NOTE)
    question = next(one for one in lists_of_job(office, job).questions if "unread-number" in one.codes)
    settle(office, job, question_id(question), Answer(offer=1), given(revision(office, job)), ANA)
    sheet = lists_of_job(office, job).stands.sheet
    assert not sheet.unread
    assert any("17" in one.text and "taken off the sheet" in one.text for one in sheet.remarks)


def test_an_outlet_that_is_missing_is_added_by_a_line_of_the_office(office: Office) -> None:
    job = a_job(office, NOTE[0], "Garage 20-0 end caps both ends")
    question = next(one for one in lists_of_job(office, job).questions if one.codes == ["outlet-missing"])
    settle(office, job, question_id(question), Answer(offer=2), given(revision(office, job)), ANA)
    stands = lists_of_job(office, job).stands
    assert stands.lines[-1]["by"] == "Ana"
    assert [one.from_ for one in stands.sheet.outlets_of("garage")] == ["right"]


def test_asking_the_crew_is_kept_and_settles_nothing(office: Office) -> None:
    job = a_job(office, *NOTE)
    question = asked(office, job, WF)
    settle(office, job, question_id(question), Answer(decided="asked"), given(2, "rang Lee"), ANA)
    lists = lists_of_job(office, job)
    assert question_id(question) in {question_id(one) for one in lists.questions}
    assert [one.why for one in lists.decisions.values()] == ["rang Lee"]


CONFLICT = (*NOTE, "5 outlets in all")


def test_a_conflict_left_as_it_stands_needs_a_reason_and_every_list_tells_of_it(office: Office) -> None:
    job = a_job(office, *CONFLICT)
    question = next(one for one in lists_of_job(office, job).questions if "total-mismatch" in one.codes)
    with pytest.raises(Unusable, match="needs a reason"):
        settle(office, job, question_id(question), Answer(decided="stands"), given(3), ANA)
    settle(office, job, question_id(question), Answer(decided="stands"), given(3, "garage counted in"), ANA)
    lists = lists_of_job(office, job)
    assert question_id(question) not in {question_id(one) for one in lists.questions}
    told = [one for one in lists.lists.assumed if "garage counted in" in one]
    assert len(told) == 1
    assert "Left as it stands by Ana" in told[0]


def test_left_as_it_stands_falls_when_the_finding_changes(office: Office) -> None:
    job = a_job(office, *CONFLICT)
    question = next(one for one in lists_of_job(office, job).questions if "total-mismatch" in one.codes)
    settle(office, job, question_id(question), Answer(decided="stands"), given(3, "garage counted in"), ANA)
    say(office, job, "Shed 10-0 end caps both ends, drop left, w/f 12, height 7-0")
    assert any("total-mismatch" in one.codes for one in lists_of_job(office, job).questions)


LONG = "Front 100-0 end caps both ends, drop left, w/f 24, height 9-4 to splash block"


def test_a_doubt_of_the_layout_left_as_it_stands_frees_what_it_held(office: Office) -> None:
    job = a_job(office, LONG)
    question = next(one for one in lists_of_job(office, job).questions if "fall-too-great" in one.codes)
    assert any(piece.hold for piece in lists_of_job(office, job).lists.pieces)
    settle(office, job, question_id(question), Answer(decided="stands"), given(1, "deep fascia there"), ANA)
    lists = lists_of_job(office, job)
    assert not any(piece.hold for piece in lists.lists.pieces)
    assert lists.lists.machine_order
    assert any("deep fascia there" in one for one in lists.lists.assumed)


def test_a_gap_cannot_be_left_as_it_stands(office: Office) -> None:
    job = a_job(office, "Front 42-6, drop left, w/f 24, height 9-4")
    question = next(one for one in lists_of_job(office, job).questions if "end-missing" in one.codes)
    with pytest.raises(Unusable, match="nothing yet that could stand"):
        settle(office, job, question_id(question), Answer(decided="stands"), given(1, "why not"), ANA)


def test_what_somebody_saw_is_kept(office: Office) -> None:
    job = a_job(office, *NOTE, "Power line over the front")
    hazard = next(one for one in lists_of_job(office, job).findings if one.kind == "hazard")
    see(office, job, finding_id(hazard), given(3), JO)
    assert lists_of_job(office, job).decisions[finding_id(hazard)].by == "Jo"


def test_two_people_on_one_value_get_both_and_nothing_is_lost(office: Office) -> None:
    job = a_job(office, *NOTE)
    seen = revision(office, job)
    amend(office, job, "runs.front.length", "43-2", given(seen, "rang the customer"), ANA)
    with pytest.raises(Stale) as stale:
        amend(office, job, "runs.front.length", "41-0", given(seen), JO)
    told = stale.value.data
    assert (told["theirs"], told["yours"], told["by"], told["why"]) == (
        "43-2", "41-0", "Ana", "rang the customer",
    )  # fmt: skip
    assert value(office, job, "runs.front.length")[0] == "43' 2\""
    amend(office, job, "runs.front.length", "41-0", given(told["revision"]), JO)
    assert value(office, job, "runs.front.length")[0] == "41' 0\""


def test_two_people_on_two_values_do_not_disturb_each_other(office: Office) -> None:
    job = a_job(office, *NOTE)
    seen = revision(office, job)
    amend(office, job, "runs.front.length", "43-2", given(seen), ANA)
    amend(office, job, "runs.back.length", "31-0", given(seen), JO)
    assert value(office, job, "runs.front.length")[0] == "43' 2\""
    assert value(office, job, "runs.back.length")[0] == "31' 0\""


def test_a_question_that_somebody_settled_meanwhile_tells_who_and_how(office: Office) -> None:
    job = a_job(office, *NOTE)
    seen = revision(office, job)
    question = asked(office, job, WF)
    settle(office, job, question_id(question), Answer(typed="yes"), given(seen), ANA)
    with pytest.raises(Stale) as stale:
        settle(office, job, question_id(question), Answer(typed="26", about=(WF,)), given(seen), JO)
    assert (stale.value.data["theirs"], stale.value.data["yours"], stale.value.data["by"]) == (
        "yes",
        "26",
        "Ana",
    )


def test_undo_is_an_event_and_can_be_undone(office: Office) -> None:
    job = a_job(office, *NOTE)
    done = amend(office, job, "runs.front.length", "43-2", given(revision(office, job)), ANA)
    event = last_done(lists_of_job(office, job).stands.events)
    assert event is not None
    undone = undo(office, job, event["id"], given(done), JO)
    assert value(office, job, "runs.front.length") == ("42' 6\"", "read", None)
    undoing = lists_of_job(office, job).stands.events[-1]
    assert undoing["undoes"] == event["id"]
    undo(office, job, undoing["id"], given(undone), ANA)
    assert value(office, job, "runs.front.length")[0] == "43' 2\""
    assert len(lists_of_job(office, job).stands.events) == 3


def test_what_was_changed_again_is_not_undone_under_the_later_change(office: Office) -> None:
    job = a_job(office, *NOTE)
    amend(office, job, "runs.front.length", "43-2", given(revision(office, job)), ANA)
    first = lists_of_job(office, job).stands.events[-1]
    amend(office, job, "runs.front.length", "44-0", given(revision(office, job)), JO)
    with pytest.raises(Stale, match="Jo changed the same after that"):
        undo(office, job, str(first["id"]), given(revision(office, job)), ANA)


def test_undone_twice_is_refused(office: Office) -> None:
    job = a_job(office, *NOTE)
    amend(office, job, "runs.front.length", "43-2", given(revision(office, job)), ANA)
    event = lists_of_job(office, job).stands.events[-1]
    again = given(revision(office, job))
    assert undo(office, job, str(event["id"]), again, ANA) == undo(office, job, str(event["id"]), again, ANA)
    with pytest.raises(Unusable, match="undone already"):
        undo(office, job, str(event["id"]), given(revision(office, job)), ANA)


def test_a_line_taken_back_comes_back(office: Office) -> None:
    from gutterance.jobs.note_lines import take_back

    job = a_job(office, *NOTE)
    line = lists_of_job(office, job).stands.lines[0]
    change = given(0).id
    take_back(office, job, str(line["id"]), change, ANA)
    assert len(lists_of_job(office, job).stands.lines) == 1
    undo(office, job, change, given(revision(office, job)), ANA)
    assert [one["text"] for one in lists_of_job(office, job).stands.lines] == list(NOTE)
    undoing = lists_of_job(office, job).stands.events[-1]
    undo(office, job, str(undoing["id"]), given(revision(office, job)), ANA)
    assert len(lists_of_job(office, job).stands.lines) == 1
