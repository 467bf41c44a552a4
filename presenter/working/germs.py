"""Heat against germs, step by step: pasteurisation units and tenfold cuts along each step's own course of temperature.

In: the course of one step (minutes, degC). Out: numbers of that step, and sentences for a sheet. Teaching numbers from
the media that their sources name: they say what one heating does, never that a drink may be drunk. Minutes colder than
an organism's coldest published figure count for nothing, hotter ones as if at the hottest, so the cuts are the least.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from presenter.lesson.steps import slug
from presenter.science.germs import (
    boil_hold,
    log_reduction_along,
    organisms,
    organisms_without_a_usable_value,
    pasteurisation_units,
    pasteurisation_units_along,
)
from presenter.working.ledger import Figure
from presenter.working.walk import Walk

__all__ = [
    "GERM_SENTENCES",
    "boiling_rule",
    "counted_organisms",
    "germs_along",
    "minutes_before_yeast",
    "while_it_cools",
    "without_a_value",
]

COUNTED_FROM = 50.0  # degC: colder than this nothing is counted
PIECES = 60  # straight pieces of a cooling curve
ENOUGH = 12.0  # tenfold cuts; beyond, the arithmetic goes on but says nothing more, and sheets say "over 12"
GERM_SENTENCES = (
    "Spores survive boiling.",
    "These are teaching numbers from the media named; they say what this heating does, not that a drink may be drunk.",
)


def counted_organisms() -> tuple[str, ...]:
    """The organisms that are counted along a course: those with a usable figure below the boil (no spores)."""
    return tuple(name for name, organism in organisms().items() if organism.form != "spore")


def germs_along(
    walk: Walk, times: Sequence[float], temperatures: Sequence[float], inputs: Mapping[str, Figure]
) -> None:
    """Pasteurisation units and tenfold cuts of this step along its course; nothing where it stays under 50 degC."""
    if not walk.ledger.goes(walk.id, "pasteurisation-units", max(temperatures) >= COUNTED_FROM):
        return
    units = pasteurisation_units_along(times, temperatures)
    walk.ledger.found(
        walk.id, "pasteurisation-units", "pasteurisation units of this step", units, "pasteurisation_unit",
        inputs=inputs, influences={"the two published forms of the unit": pasteurisation_units.relative_error * units},
        rests_on="the units of the step's own course of temperature, straight lines between its points",
        sources=("pu_sizes",), on_sheets=False, remark="made for what spoils beer; it says nothing of spores",
    )  # fmt: skip
    for name in counted_organisms():
        organism = organisms()[name]
        walk.ledger.found(
            walk.id, f"cuts-{slug(name)}", f"tenfold cuts in {name}, at least",
            log_reduction_along(organism, times, temperatures), "log_reduction", inputs=inputs,
            rests_on=f"published decimal times in {organism.medium}, along the step's own course of temperature",
            sources=(organism.source,), on_sheets=False,
            remark="; ".join(filter(None, (f"a teaching number from {organism.medium}", organism.note))),
        )  # fmt: skip


def while_it_cools(start: float, end: float, minutes: float) -> tuple[list[float], list[float]]:
    """The course of a liquid that cools in a bath barely colder than its end: fastest while it is hot.

    Of all baths in which it would come from ``start`` to ``end`` in that time, this one leaves the fewest hot minutes,
    so what is counted along it is the least.
    """
    bath = end - 1.0
    rate = math.log((start - bath) / (end - bath)) / minutes
    times = [minutes * piece / PIECES for piece in range(PIECES + 1)]
    return times, [bath + (start - bath) * math.exp(-rate * time) for time in times]


def boiling_rule(walk: Walk, altitude: Figure) -> None:
    """The minutes at a rolling boil that public advice asks here of water that may carry germs."""
    if "lesson.boiling-rule" not in walk.ledger.entries:
        walk.ledger.work(
            "lesson", "boiling-rule", "rolling boil that public advice asks here of doubtful water", boil_hold,
            altitude=altitude, on_sheets=False, remark="spores survive boiling; chemicals stay",
        )  # fmt: skip


def minutes_before_yeast(walk: Walk, minutes: float, temperature: Figure) -> None:
    """How long a wort has been between 57 and 5 degC before its yeast."""
    walk.ledger.found(
        walk.id, "before-yeast", "time between 57 and 5 °C before the yeast went in", minutes, "minute",
        inputs={"temperature": temperature}, rests_on="the steps that cooled it and kept it, added up",
        remark="two hours to 21 °C, six to 5 °C is the rule of a food code for cooked food; pitching ends the count",
        sources=("foodcode_cool",),
    )  # fmt: skip


def without_a_value() -> tuple[str, ...]:
    """Each organism for which nothing is counted, with the reason."""
    return tuple(
        f"{name} ({reason.replace('degC', '°C')})" for name, reason in organisms_without_a_usable_value().items()
    )
