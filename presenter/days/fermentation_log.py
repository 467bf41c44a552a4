"""The fermentation log: apparent attenuation and strength so far, and when the drink may be finished.

In: a worked day. Out: one :class:`FermentationLog` for each drink that was read. The estimate is our own and rests on
one assumption, which is said beside it: what is still to fall shrinks by the same share each day. It never shows that a
drink has finished; only two equal readings days apart do.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from presenter.days.correcting import Corrected
from presenter.days.fermenting import MAY_MOVE, days_into, still_since
from presenter.days.made import WorkedDay
from presenter.lesson.steps.ferment import Ferment
from presenter.lesson.steps.step import slug
from presenter.science.gravity import apparent_attenuation
from presenter.science.strength import alcohol_by_volume_balling
from presenter.working.finished import DAYS_APART, NEAR
from presenter.working.ingredients import known_ingredient

__all__ = ["ASSUMPTION", "Estimate", "FermentationLog", "LogEntry", "fermentation_logs", "finish_estimate"]

ASSUMPTION = "it assumes that what is still to fall shrinks by the same share each day"
GRAIN = frozenset({"malt", "unmalted grain", "flour", "bread"})
LONGEST = 60.0  # days; an estimate beyond says only that nothing can be estimated


@dataclass(frozen=True)
class LogEntry:
    """One reading of a drink at work: days since the day began, its gravity, and what has happened by then.

    ``attenuation`` (percent, apparent) and ``strength`` (percent by volume) are None where the gravity has not fallen.
    """

    days: float
    gravity: float
    spread: float
    attenuation: float | None
    attenuation_spread: float
    strength: float | None
    strength_spread: float


@dataclass(frozen=True)
class Estimate:
    """When a drink may be finished, in days since the day began, with its band."""

    days: float
    earliest: float
    latest: float


@dataclass(frozen=True)
class FermentationLog:
    """The log of one drink. ``state`` is "finished", "stopped high", "standing still" or "at work"."""

    liquid: str
    step: str
    original: float
    original_spread: float
    expected: float
    expected_spread: float
    pitched: float
    entries: tuple[LogEntry, ...]
    state: str
    estimate: Estimate | None
    enzymes_ended: bool = True

    @property
    def rules(self) -> tuple[str, ...]:
        """What finishing takes, and what to do now, in sentences."""
        wait = f"{DAYS_APART:.0f} days"
        said = {
            "finished": f"Two readings {wait} apart or more agree near what was expected: it has finished.",
            "stopped high": "It stands still well above what was expected: the yeast may only rest. Warm it, rouse the"
            " yeast, and do not bottle it.",
            "standing still": f"It has not moved since the reading before; {wait} of that are asked for.",
            "at work": f"It is at work. Read again, and call it finished when two readings {wait} apart agree.",
        }[self.state]
        if not self.enzymes_ended:
            said += (
                " Nothing has boiled this drink, so enzymes of the grain may free more sugar, and equal readings prove"
                " little: keep it open, and drink it fresh."
            )
        return (said, "A quiet froth proves nothing; never shut a vessel on a drink that has not finished.")


def fermentation_logs(worked: WorkedDay) -> tuple[FermentationLog, ...]:
    """A log for each drink that was read while it fermented, in the order of the lesson."""
    found = []
    for step in worked.made.lesson.steps:
        if not isinstance(step, Ferment):
            continue
        number = f"{step.id}.final-gravity"
        read = [
            each for each in worked.readings if each.fermenting and each.number == number and each.what == "gravity"
        ]
        if read:
            found.append(_log(worked, step, sorted(read, key=lambda each: days_into(worked.day, each.reading))))
    return tuple(found)


def _log(worked: WorkedDay, step: Ferment, read: Sequence[Corrected]) -> FermentationLog:
    liquid = slug(step.what)
    there = worked.made.after[step.id].liquids[liquid]
    assert there.original_gravity is not None
    start = worked.made.numbers[there.original_gravity.id]
    original = float(start.quantity.magnitude)
    original_spread = 0.0 if start.spread is None else float(start.spread.magnitude)
    end = worked.expected[f"{step.id}.final-gravity"]
    expected = float(end.quantity.magnitude)
    expected_spread = 0.0 if end.spread is None else float(end.spread.magnitude)
    entries = []
    for each in read:
        gravity, spread = float(each.quantity.magnitude), float(each.spread.magnitude)
        entries.append(_entry(days_into(worked.day, each.reading), (gravity, spread), (original, original_spread)))
    log = [(each.days, each.gravity) for each in entries]
    since = still_since(log)
    state = "at work"
    if since is not None:
        state = "standing still"
        if log[-1][0] - since >= DAYS_APART - 1e-9:
            state = "finished" if log[-1][1] <= expected + NEAR else "stopped high"
    ended = there.enzymes_ended or not _of_grain(worked, there.ingredients)
    if state == "finished" and not ended:
        state = "standing still"
    pitched = 0.0
    points = [(pitched, original, original_spread), *((each.days, each.gravity, each.spread) for each in entries)]
    estimate = finish_estimate(points, (expected, expected_spread)) if state == "at work" else None
    return FermentationLog(
        liquid, step.id, original, original_spread, expected, expected_spread, pitched, tuple(entries), state, estimate,
        ended,
    )  # fmt: skip


def _of_grain(worked: WorkedDay, names: Sequence[str]) -> bool:
    """Whether any ingredient of a drink is grain, or one that no table knows."""
    uses = {str(name): use for name, use in worked.made.lesson.file.ingredients.items()}
    known = [known_ingredient(str(uses[name].what)) for name in names if name in uses]
    return any(each is None or each.family in GRAIN for each in known)


def _entry(days: float, gravity: tuple[float, float], original: tuple[float, float]) -> LogEntry:
    """What has happened by one reading, each with its give-or-take: both gravities shifted, one at a time."""
    if gravity[0] >= original[0]:
        return LogEntry(days, *gravity, None, 0.0, None, 0.0)

    def both(formula: Callable[[float, float], float]) -> tuple[float, float]:
        centre = formula(original[0], gravity[0])
        moved = (
            formula(original[0] + original[1], gravity[0]) - centre,
            formula(original[0], gravity[0] + gravity[1]) - centre,
        )
        return centre, math.hypot(*moved)

    attenuation, strength = both(apparent_attenuation.plain), both(alcohol_by_volume_balling.plain)
    return LogEntry(days, *gravity, *attenuation, *strength)


def finish_estimate(points: Sequence[tuple[float, float, float]], expected: tuple[float, float]) -> Estimate | None:
    """When the gravity comes within the last digit of the expected end, with its band; None where nothing says so.

    ``points`` are (days, gravity, give-or-take), the first at pitching. The last two say how fast what is still to fall
    shrinks. The band shifts both gravities and the expected end by their give-or-take, one at a time.
    """
    if len(points) < 2:
        return None
    (first_day, first, first_off), (last_day, last, last_off) = points[-2:]
    centre = _days_to_end(first_day, first, last_day, last, expected[0])
    if centre is None or centre > last_day + LONGEST:
        return None
    earlier = later = 0.0
    for moves in (
        (first_off, 0.0, 0.0), (-first_off, 0.0, 0.0), (0.0, last_off, 0.0), (0.0, -last_off, 0.0),
        (0.0, 0.0, expected[1]), (0.0, 0.0, -expected[1]),
    ):  # fmt: skip
        moved = _days_to_end(first_day, first + moves[0], last_day, last + moves[1], expected[0] + moves[2])
        difference = LONGEST if moved is None else moved - centre
        if difference > 0:
            later = math.hypot(later, difference)
        else:
            earlier = math.hypot(earlier, difference)
    return Estimate(centre, max(last_day, centre - earlier), min(centre + later, last_day + LONGEST))


def _days_to_end(first_day: float, first: float, last_day: float, last: float, end: float) -> float | None:
    """The day on which a gravity that nears its end by the same share each day is within a digit of it."""
    left_first, left = first - end, last - end
    if left <= MAY_MOVE:
        return last_day
    if left_first <= left or last_day <= first_day:
        return None
    rate = math.log(left_first / left) / (last_day - first_day)
    return last_day + math.log(left / MAY_MOVE) / rate
