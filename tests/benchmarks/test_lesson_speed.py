"""How fast a lesson with give-or-take is, as a ratio in one run against its own bare walk; never in seconds."""

import math
from pathlib import Path
from time import perf_counter

from presenter.lesson import load_lesson
from presenter.working import work_out
from presenter.working.ledger import Ledger
from presenter.working.mashing import remembered_ends
from presenter.working.work import walk_through

LESSON = load_lesson(Path(__file__).parents[2] / "lessons_demo" / "netherfold-two-ales" / "lesson.yaml")


def best_of(call, rounds=3):
    """The shortest of several runs, in seconds: only ever divided by another."""
    shortest = math.inf
    for _ in range(rounds):
        remembered_ends.cache_clear()  # each run works its mashes anew
        began = perf_counter()
        call()
        shortest = min(shortest, perf_counter() - began)
    return shortest


def test_a_lesson_takes_at_most_three_times_its_walks(benchmark):
    """This test ensures that a lesson with give-or-take takes at most 3 times as long as so many bare walks, one of
    which is timed in the same run: the plan, and two for each thing that may be off."""
    plan = Ledger()
    assert walk_through(LESSON, plan).problems == []
    walks = 1 + 2 * len(plan.influences)
    assert walks > 40
    benchmark.pedantic(work_out, args=(LESSON,), rounds=1)
    bare = best_of(lambda: walk_through(LESSON, Ledger(watchful=False)))
    ratio = best_of(lambda: work_out(LESSON)) / (walks * bare)
    benchmark.extra_info["times_the_bare_walks"] = round(ratio, 2)
    assert ratio <= 3.0
