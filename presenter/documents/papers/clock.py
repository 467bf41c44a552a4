"""The clock of the day: when each step begins, how waits overlap, and who is where.

In: a worked lesson, the hour at which its day begins. Out: a :class:`DayPlan` of one :class:`Slot` for each step, in
the author's order. A step begins as soon as what it works on is ready, its vessels are free and its people have their
hands free; ``begins:`` or ``day:`` on a step fix it, and what then cannot be is told by ``clashes``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from presenter.documents.papers.planning import (
    HotBefore,
    Length,
    beds_used,
    before,
    heating_vessels,
    hot_before,
    length_of,
    loaves_used,
    planning,
)
from presenter.lesson import Step, slug
from presenter.quantities.clock import DAY, clock_from_text
from presenter.working import WorkedLesson

__all__ = ["NINE", "DayPlan", "Slot", "day_plan", "people_of"]

NINE = 9 * 60  # minutes since midnight; taken where neither lesson, library nor command line says when a day begins
THE_PRESENTER = "the presenter"


@dataclass(frozen=True)
class Busy:
    """Until when a person or a vessel is taken, and by which step."""

    until: float
    step: Step


@dataclass(frozen=True)
class Slot:
    """One step on the clock; times are minutes since the midnight before the first day.

    ``late`` is how long a rest has run over when this step begins, because hands were not free before; ``held_by`` is
    who or what kept it. ``over`` are the steps that wait meanwhile. ``refused`` pairs each thing that a fixed time
    does not allow with what takes it: a person's name, a vessel's, or the name of a liquid that is not ready. ``hot``
    is the water that must be hot, put on at ``put_on`` in ``heater``; no heater where everything to heat in is taken.
    """

    number: int
    step: Step
    begins: float
    length: Length
    who: tuple[str, ...]
    late: float = 0.0
    rest: Step | None = None
    held_by: tuple[str, Step] | None = None
    over: tuple[Step, ...] = ()
    refused: tuple[tuple[str, str, Busy], ...] = ()
    hot: HotBefore | None = None
    put_on: float = 0.0
    heater: str = ""

    @property
    def hands_end(self) -> float:
        """When the hands are free again; for an attended wait, when that is over."""
        return self.ends if self.length.attended else self.begins + self.length.hands

    @property
    def ends(self) -> float:
        """When its wait is over."""
        return self.begins + self.length.hands + self.length.wait

    @property
    def day(self) -> int:
        """The day it begins on, counted from 1."""
        return int(self.begins // DAY) + 1


@dataclass(frozen=True)
class DayPlan:
    """Every step on the clock. ``closes`` is the hour of closing in minutes since midnight, or nothing."""

    slots: tuple[Slot, ...]
    begins: int
    stated: bool
    closes: int | None

    @property
    def days(self) -> tuple[int, ...]:
        """The days on which something is done."""
        return tuple(dict.fromkeys(slot.day for slot in self.slots))

    def on(self, day: int) -> tuple[Slot, ...]:
        """The steps that begin on one day."""
        return tuple(slot for slot in self.slots if slot.day == day)


def people_of(worked: WorkedLesson, step: Step) -> tuple[str, ...]:
    """Who does a step, by name; the presenter where the step says nothing."""
    people = worked.lesson.house.people
    names = [str(name) for name in step.who] or ["presenter"]
    return tuple(people[name].split(",")[0] if name in people else _own_name(name) for name in names)


def _own_name(name: str) -> str:
    return THE_PRESENTER if name == "presenter" else name


def day_plan(worked: WorkedLesson, begins: int | None = None) -> DayPlan:
    """The clock of a lesson. ``begins`` (minutes since midnight) goes before the lesson's and the library's hour."""
    written, shut = worked.lesson.file.begins, worked.lesson.file.closes
    start = begins if begins is not None else (clock_from_text(written) if written else NINE)
    slots = _Clock(worked, start).slots()
    return DayPlan(slots, start, begins is not None or written is not None, clock_from_text(shut) if shut else None)


class _Clock:
    """Walks the steps once, carrying until when each thing and person is taken."""

    def __init__(self, worked: WorkedLesson, start: int) -> None:
        self.worked, self.start = worked, start
        self.ready: dict[str, Busy] = {}
        self.vessels: dict[str, Busy] = {}
        self.people: dict[str, Busy] = {}
        self.made: list[Slot] = []

    def slots(self) -> tuple[Slot, ...]:
        """The slots of every step."""
        for number, step in enumerate(self.worked.lesson.steps, start=1):
            self.made.append(self._slot(number, step))
            self._take(self.made[-1])
        return tuple(self.made)

    def _kept(self, step: Step, who: tuple[str, ...]) -> dict[tuple[str, str], Busy]:
        """All that must be over before a step: what it works on, its vessels, its people."""
        own = [*(slug(name) for name in step.uses()), *beds_used(self.worked, step), *loaves_used(self.worked, step)]
        kept = {("ready", name): self.ready[name] for name in own if name in self.ready}
        for vessel in (*step.vessels(), *step.needs):
            if str(vessel) in self.vessels and f"bed {vessel}" not in own:
                kept["vessel", str(vessel)] = self.vessels[str(vessel)]
        for person in who:
            if person in self.people:
                kept["person", person] = self.people[person]
        return kept

    def _slot(self, number: int, step: Step) -> Slot:
        who, length = people_of(self.worked, step), length_of(self.worked, step)
        kept = self._kept(step, who)
        earliest = max([float(self.start), *(slot.begins for slot in self.made[-1:])])
        fixed = self._fixed(step, earliest)
        soonest = max([earliest, *(busy.until for busy in kept.values())])
        hot, heater = hot_before(self.worked, step), ""
        if hot is not None:
            heater = self._heater(step, hot)
            opening = soonest // DAY * DAY + self.start
            soonest = max(soonest, max(opening, self._free(heater)) + hot.minutes)
        begins = soonest if fixed is None else fixed
        refused = () if fixed is None else tuple(
            (sort, name, busy) for (sort, name), busy in kept.items() if busy.until > fixed
        )  # fmt: skip
        over = tuple(slot.step for slot in self.made if slot.ends > begins and slot.length.wait < DAY)
        late, rest, held_by = self._late(step, begins, kept)
        put_on = begins - hot.minutes if hot is not None else begins
        return Slot(number, step, begins, length, who, late, rest, held_by, over, refused, hot, put_on, heater)

    def _free(self, vessel: str) -> float:
        return self.vessels[vessel].until if vessel in self.vessels else 0.0

    def _heater(self, step: Step, hot: HotBefore) -> str:
        """The vessel to heat a step's water in: the first free one that is large enough and holds nothing; or none."""
        full = {liquid.vessel for liquid in before(self.worked, step).liquids.values()}
        found = [name for name in heating_vessels(self.worked, hot.litres) if name not in full]
        return min(found, key=self._free, default="")

    def _fixed(self, step: Step, earliest: float) -> float | None:
        if step.begins is None and step.day is None:
            return None
        day = step.day - 1 if step.day is not None else int(earliest // DAY)
        if step.begins is None:
            opening = float(day * DAY + self.start)
            return opening if opening > earliest else None  # its day has begun already: as soon as it can
        return float(day * DAY + clock_from_text(step.begins))

    def _late(
        self, step: Step, begins: float, kept: Mapping[tuple[str, str], Busy]
    ) -> tuple[float, Step | None, tuple[str, Step] | None]:
        """How long a mash rests beyond its time because hands or vessels were taken, and by what."""
        beds = [busy for (sort, name), busy in kept.items() if sort == "ready" and name.startswith("bed ")]
        if not beds:
            return 0.0, None, None
        rest = beds[0]
        late = begins - rest.until
        if late <= float(planning()["late"]):
            return 0.0, None, None
        others = {name: busy for (sort, name), busy in kept.items() if sort != "ready"}
        last = max(others, key=lambda name: others[name].until, default="")
        return late, rest.step, (last, others[last].step) if last else None

    def _take(self, slot: Slot) -> None:
        """Mark what this step takes up, and until when."""
        step, length = slot.step, slot.length
        done = slot.ends if length.days == 0 else (slot.day - 1 + length.days) * DAY + self.start
        for name in (*(slug(name) for name in step.uses()), *(str(name) for name in step.makes())):
            self.ready[name] = Busy(done, step)
        for loaf in getattr(step, "call_it", ()) if step.do == "bake" else ():
            self.ready[slug(str(loaf))] = Busy(done, step)
        for bed in beds_used(self.worked, step):
            self.ready[bed] = Busy(slot.hands_end if step.do == "draw off" else done, step)
        for vessel in (*step.vessels(), *step.needs):
            self.vessels[str(vessel)] = Busy(done if step.do != "draw off" else slot.hands_end, step)
        if slot.heater:
            self.vessels[slot.heater] = Busy(slot.hands_end, step)
        for person in slot.who:
            self.people[person] = Busy(slot.hands_end, step)
