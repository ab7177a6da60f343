"""Work done by several processes at once, so that one that is lost costs its own task and no other."""

from __future__ import annotations

import contextlib
import multiprocessing
import signal
import sys
from dataclasses import dataclass
from multiprocessing.connection import wait
from typing import TYPE_CHECKING, Any, Generic, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Iterator, Sequence
    from multiprocessing.connection import Connection
    from multiprocessing.context import SpawnProcess

Task = TypeVar("Task")
Result = TypeVar("Result")
_PATIENCE = 5.0
"""How long a process may take to end after it is told to [s]; then it is ended for it."""


@dataclass(slots=True)
class _Worker(Generic[Task]):
    process: SpawnProcess
    pipe: Connection
    task: Task | None = None


class LostError(Exception):
    """A process ended in the midst of its task: it was ended from outside, or its memory ran out."""


def each_done(
    work: Callable[[Task], Result], tasks: Sequence[Task], processes: int
) -> Generator[tuple[Task, Result | LostError], None, None]:
    """Each task with its result as it comes, done by so many processes at once (one for each task at most).

    `work` is a function of a module; what it takes and gives is pickled. A task whose process is lost comes
    with LostError, and another process takes the rest. On Ctrl-C, or where the caller stops asking, all
    processes are ended, each after its clean-up.
    """
    todo = list(reversed(tasks))
    workers: list[_Worker[Task]] = []
    try:
        workers += [_started(work) for _ in range(min(processes, len(todo)))]
        for one in workers:
            _give(one, todo.pop())
        while busy := [one for one in workers if one.task is not None]:
            ready = wait([one.pipe for one in busy])
            for one in [one for one in busy if one.pipe in ready]:
                task, one.task = one.task, None
                assert task is not None
                try:
                    result: Result | LostError = one.pipe.recv()
                except (EOFError, OSError):
                    result = LostError()
                    _ended(one)
                    workers.remove(one)
                    if todo:
                        one = _started(work)
                        workers.append(one)
                if todo:
                    _give(one, todo.pop())
                yield task, result
    finally:
        for one in workers:
            _told_to_end(one)
        for one in workers:
            _ended(one)


def _started(work: Callable[[Any], Any]) -> _Worker[Any]:
    """A new process that waits for tasks. It is not to hear of Ctrl-C: its parent does, and ends it."""
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_serve, args=(theirs, work), daemon=True)
    with _ctrl_c_later():
        process.start()
    theirs.close()
    return _Worker(process, ours)


@contextlib.contextmanager
def _ctrl_c_later() -> Iterator[None]:
    """Holds Ctrl-C back until after; a process begun within never hears of it (on Windows it may)."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGINT])
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _give(worker: _Worker[Task], task: Task) -> None:
    worker.task = task
    # where the process is gone already, the pipe's end says so when it is next looked at
    with contextlib.suppress(OSError):
        worker.pipe.send(task)


def _told_to_end(worker: _Worker[Any]) -> None:
    worker.pipe.close()
    if worker.task is not None:
        worker.process.terminate()


def _ended(worker: _Worker[Any]) -> None:
    worker.process.join(_PATIENCE)
    if worker.process.is_alive():
        worker.process.kill()
        worker.process.join()
    worker.process.close()


def _serve(pipe: Connection, work: Callable[[Any], Any]) -> None:
    """What a process does: task by task, until there are no more or its parent is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # told to end, it leaves by the way of an error, so that what is written aside is taken away
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    with contextlib.suppress(EOFError, OSError):
        while True:
            pipe.send(work(pipe.recv()))
