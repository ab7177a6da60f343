"""A job's lists as it stands now, kept by its revision: worked out once, however many look at them."""

from __future__ import annotations

import threading
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from gutterance.checking import open_questions
from gutterance.jobs.decisions import Decision, decisions_in, let_stand
from gutterance.jobs.questions import finding_id
from gutterance.jobs.standing import MOST_KEPT, JobStanding, standing_of_job
from gutterance.lists import make_lists
from gutterance.render.sheet_code import sheet_code

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from gutterance.checking import Finding, Question
    from gutterance.jobs.office import Office
    from gutterance.lists import Lists


@dataclass(frozen=True, slots=True)
class JobLists:
    """A job with its lists. `findings` and `questions` have those of the layout besides the checker's.

    `code` is the short code of this version of sheet and lists, as printed on the papers.
    """

    stands: JobStanding
    lists: Lists
    findings: Sequence[Finding]
    questions: Sequence[Question]
    decisions: Mapping[str, Decision]
    code: str


@dataclass(slots=True)
class _Kept:
    at: OrderedDict[tuple[str, str, int], JobLists] = field(default_factory=OrderedDict)
    lock: threading.Lock = field(default_factory=threading.Lock)


_kept = _Kept()


def lists_of_job(office: Office, job_id: str) -> JobLists:
    """The lists of a job as it stands now. Raises NotThere."""
    stands = standing_of_job(office, job_id)
    key = (str(office.folder), job_id, stands.job.revision)
    with _kept.lock:
        known = _kept.at.get(key)
        if known is not None:
            _kept.at.move_to_end(key)
            return known
    made = _work_out(office, stands)
    with _kept.lock:
        _kept.at[key] = made
        while len(_kept.at) > MOST_KEPT:
            _kept.at.popitem(last=False)
    return made


def _work_out(office: Office, stands: JobStanding) -> JobLists:
    decisions = decisions_in(stands.events)

    def left(found: Finding) -> bool:
        decision = decisions.get(finding_id(found))
        return decision is not None and decision.what == "stands"

    lists = make_lists(stands.sheet, stands.findings, office.shop, left=left)
    lists.title = lists.title or stands.job.title
    lists.findings = let_stand(lists.findings, decisions)
    findings = [*stands.findings, *lists.findings]
    # what somebody left as it stands is a guess like any other: the papers say so
    lists.assumed += [one.says for one in findings if " Left as it stands by " in one.says]
    questions = open_questions(stands.sheet, findings)
    return JobLists(stands, lists, findings, questions, decisions, sheet_code(stands.sheet, lists))
