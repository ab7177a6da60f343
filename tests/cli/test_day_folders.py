"""Each job of a day has a folder of its own, named for its note, in whatever order the notes are given."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gutterance.cli.day_folders import day_folders, path_from

OUT = Path("day")


def names(*notes: str, **known: str) -> list[str]:
    return list(day_folders(notes, OUT, {at: path_from(OUT, note) for at, note in known.items()}).values())


@pytest.mark.parametrize(
    ("notes", "folders"),
    [
        (["a.txt", "b.txt"], ["a", "b"]),
        (["mon/job.txt", "tue/job.txt"], ["mon-job", "tue-job"]),
        (["job.txt", "job.vtt"], ["job-txt", "job-vtt"]),
        (["mon/job.txt", "tue/JOB.txt"], ["mon-job", "tue-JOB"]),
        (["mon/job.txt", "mon/job.vtt", "tue/job.txt"], ["mon-job-txt", "mon-job-vtt", "tue-job-txt"]),
        (["x/mon/job.txt", "y/mon/job.txt"], ["job", "job-2"]),
        ([".txt", "...txt", "a\x1bb.txt"], ["txt", "note", "a_b"]),
        (["jobs.txt.txt"], ["jobs.txt"]),
        (["caf\u00e9.txt", "cafe\u0301.txt"], ["caf\u00e9", "cafe\u0301-2"]),
    ],
)
def test_the_names(notes: list[str], folders: list[str]) -> None:
    assert names(*notes) == folders


def test_the_order_of_the_notes_does_not_matter() -> None:
    notes = ["mon/job.txt", "tue/job.txt", "job.vtt", "a.txt"]
    first = day_folders(notes, OUT, {})
    for order in itertools.permutations(notes):
        assert day_folders(order, OUT, {}) == first


def test_a_note_seen_before_keeps_its_folder_and_no_other_gets_it() -> None:
    assert names("mon/job.txt", job="mon/job.txt") == ["job"]
    assert names("tue/job.txt", job="mon/job.txt") == ["tue-job"]
    assert names("tue/job.txt", "mon/job.txt", job="mon/job.txt") == ["tue-job", "job"]


def test_the_days_own_files_are_no_folders_names() -> None:
    assert list(day_folders(["jobs.txt.txt"], OUT, {}, ["jobs.txt"]).values()) != ["jobs.txt"]


def test_a_name_of_any_length_is_cut() -> None:
    (first, second) = names(f"{'n' * 240}1.txt", f"{'n' * 240}2.txt")
    assert first != second
    assert max(len(first), len(second)) < 110


SIGNS = st.text(st.sampled_from("aAß. -_\u0301\u202e\x00é"), min_size=1, max_size=5)


@given(st.lists(st.tuples(SIGNS, SIGNS, SIGNS), max_size=6, unique=True))
def test_no_two_notes_share_a_folder(parts: list[tuple[str, str, str]]) -> None:
    notes = list({f"{folder}/{stem}.{end}".replace("\x00", "0") for folder, stem, end in parts})
    folders = day_folders(notes, OUT, {})
    assert set(folders) == set(notes)
    assert len({one.casefold() for one in folders.values()}) == len(notes)
    assert not any("/" in one or one.startswith(".") or one == "" for one in folders.values())
