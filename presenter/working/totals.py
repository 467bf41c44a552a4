"""The lesson's totals: all the extract, all the water, all the gas; what went where adds up.

In: a walk that reached its end. Out: numbers of the lesson as a whole.
"""

from __future__ import annotations

from presenter.science.balance import sum_of_masses, sum_of_volumes
from presenter.working.dechlorination import walk_dechlorination
from presenter.working.ledger import Figure
from presenter.working.pouring import nothing_more
from presenter.working.walk import Walk

__all__ = ["walk_totals"]


def _total(walk: Walk, name: str, label: str, figures: list[Figure], volumes: bool = False) -> None:
    if not figures:
        return
    total = figures[0]
    if len(figures) == 1:
        figures = [total, nothing_more(walk, name, "lesson", total.unit)]
    for count, more in enumerate(figures[1:], start=2):
        last = count == len(figures)
        step_name = name if last else f"{name}-{count}"
        if volumes:
            total = walk.ledger.work(
                "lesson", step_name, label, sum_of_volumes, volume=total, other_volume=more, on_sheets=last
            )
        else:
            total = walk.ledger.work(
                "lesson", step_name, label, sum_of_masses, mass=total, other_mass=more, on_sheets=last
            )


def walk_totals(walk: Walk) -> None:
    """Add up water, extract and gas over the whole lesson."""
    again = walk.ledger.again
    entries = walk.ledger.entries
    of = {step.id: step for step in walk.lesson.steps}
    waters = [
        again(e.id) for e in list(entries.values()) if e.id.endswith(".water") and e.unit == "litre" and e.step in of
    ]
    _total(walk, "water-needed", "water for the whole brewing", waters, volumes=True)
    if "lesson.water-needed" in entries:
        walk_dechlorination(walk, again("lesson.water-needed"))
    gases = [again(e.id) for e in list(entries.values()) if e.id.endswith(".gas-volume")]
    _total(walk, "gas-volume", "carbon dioxide from the whole brewing", gases, volumes=True)
    extracts = [
        again(f"{step.id}.{name}")
        for step in walk.lesson.steps
        for name in ("extract-at-once", "extract-boiled-free", "extract-freed")
        if f"{step.id}.{name}" in entries
    ]
    _total(walk, "extract", "extract brought into all mashes", extracts)
