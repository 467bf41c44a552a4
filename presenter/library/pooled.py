"""One piece of work for each of many lessons, over several processes; one that breaks down never stops the others.

In: a function of one argument and an argument for each name. Out: each name with what the function gave, or with the
words of what went wrong in the process itself, in the order in which they are done.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from typing import TypeVar

__all__ = ["in_processes"]

Given = TypeVar("Given")
Gave = TypeVar("Gave")

FEW = 3  # so few pieces of work are not worth starting further processes for


def in_processes(
    work: Callable[[Given], Gave], jobs: Mapping[str, Given], workers: int, few: int = FEW
) -> Iterator[tuple[str, Gave | str]]:
    """Each name of ``jobs`` with what ``work`` gave for it, as they come; a text where the work itself broke down.

    With one worker and ``few`` jobs or fewer the work is done in this process.
    """
    if len(jobs) <= few:
        for name, given in jobs.items():
            yield name, work(given)
        return
    left = dict(jobs)
    try:
        with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
            for name, gave in _done(pool, work, left):
                yield name, gave
    except BrokenProcessPool:
        # a process died (out of memory, say): the rest are done one to a process, so that only the guilty one fails
        for name, given in list(left.items()):
            yield name, _alone(work, given)


def _done(
    pool: ProcessPoolExecutor, work: Callable[[Given], Gave], left: dict[str, Given]
) -> Iterator[tuple[str, Gave | str]]:
    waiting: dict[Future[Gave], str] = {pool.submit(work, given): name for name, given in left.items()}
    while waiting:
        finished, _ = wait(waiting, return_when=FIRST_COMPLETED)
        for future in finished:
            name = waiting.pop(future)
            error = future.exception()
            if isinstance(error, BrokenProcessPool):
                raise error
            del left[name]
            yield name, future.result() if error is None else _broke_down(error)


def _alone(work: Callable[[Given], Gave], given: Given) -> Gave | str:
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
        future = pool.submit(work, given)
        error = future.exception()
    return future.result() if error is None else _broke_down(error)


def _broke_down(error: BaseException) -> str:
    if isinstance(error, BrokenProcessPool):
        return "The work on this lesson stopped without a word; was there enough memory?"
    return f"The work on this lesson broke down, which is a mistake of the program itself: {error}"
