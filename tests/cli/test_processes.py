"""Several processes at once: each task's result comes back; a lost process costs its own task alone."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from gutterance.cli.processes import LostError, each_done

SLEEPING = """
import sys, time
from contextlib import closing
from pathlib import Path
from gutterance.cli.processes import each_done
sys.path.insert(0, sys.argv[1])
import slow
if __name__ == "__main__":
    try:
        with closing(each_done(slow.work, [sys.argv[2]] * 4, 2)) as ended:
            print("begun", flush=True)
            for _ in ended:
                pass
    except KeyboardInterrupt:
        print("stopped", flush=True)
"""
SLOW = """
import os, time
from pathlib import Path

def work(folder):
    mine = Path(folder) / str(os.getpid())
    mine.write_text("")
    try:
        time.sleep(60)
    finally:
        mine.unlink()
"""


def test_each_result_comes_back_with_its_task() -> None:
    with closing(each_done(abs, [-1, -2, -3, 4, -5], 2)) as ended:
        assert sorted(ended) == [(-5, 5), (-3, 3), (-2, 2), (-1, 1), (4, 4)]


def test_more_processes_than_tasks_and_no_task_at_all() -> None:
    assert list(each_done(abs, [-1], 8)) == [(-1, 1)]
    assert list(each_done(abs, [], 8)) == []


def test_a_process_that_is_lost_costs_its_own_task() -> None:
    # os._exit ends the process in the midst of its task, as the system does where memory runs out
    results = dict(each_done(os._exit, [0, 1], 1))
    assert all(isinstance(one, LostError) for one in results.values())
    assert set(results) == {0, 1}


@pytest.mark.skipif(os.name == "nt", reason="no signals to send there")
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGKILL])
def test_ctrl_c_ends_all_processes_each_after_its_clean_up(tmp_path: Path, number: signal.Signals) -> None:
    (tmp_path / "slow.py").write_text(SLOW)
    program = tmp_path / "program.py"
    program.write_text(SLEEPING)
    marks = tmp_path / "marks"
    marks.mkdir()
    child = subprocess.Popen(
        [sys.executable, str(program), str(tmp_path), str(marks)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    until(lambda: len(list(marks.iterdir())) == 2)
    workers = [int(one.name) for one in marks.iterdir()]
    if number == signal.SIGINT:
        os.killpg(child.pid, number)  # as a terminal does: every process of the command gets it
        out, err = child.communicate(timeout=20)
        assert (out, err) == ("begun\nstopped\n", "")
        assert list(marks.iterdir()) == []
    else:
        child.kill()
        child.wait()
        for one in workers:
            os.kill(one, signal.SIGTERM)
        child.communicate()
    until(lambda: not any(alive(one) for one in workers))


def alive(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    try:
        state = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


def until(holds: object) -> None:
    for _ in range(400):
        if holds():  # type: ignore[operator]
            return
        time.sleep(0.05)
    raise AssertionError("it never came to be")
