"""What cannot be on the day as it is planned: a kettle needed twice, a person in two places, a wait that ends after
closing time, a liquid that is not ready.

In: a :class:`~presenter.documents.papers.clock.DayPlan`. Out: Problems at the author's line, and the remarks on rests
that run over because nobody had a hand free. Only a lesson whose author, library or command line says when the day
begins has a clock to clash with.
"""

from __future__ import annotations

from collections.abc import Iterable

from presenter.documents.number_blocks import capital
from presenter.documents.papers.clock import DayPlan, Slot
from presenter.documents.papers.planning import before, heating_vessels, minutes_in_words
from presenter.lesson import Step, slug
from presenter.lesson.reading import Written
from presenter.problems import Place, Problem
from presenter.quantities.clock import DAY, clock_in_words
from presenter.working import WorkedLesson
from presenter.working.walk import wort_called

__all__ = ["clashes_of", "late_rests"]


def clashes_of(worked: WorkedLesson, plan: DayPlan) -> list[Problem]:
    """Every clash, in the order of the steps; none where no hour was stated."""
    if not plan.stated:
        return []
    found: list[Problem] = []
    late_days: set[int] = set()
    for slot in plan.slots:
        found += _fixed_too_early(slot)
        found += _nothing_to_heat_in(worked, slot)
        found += _kettle_full(worked, slot)
        if slot.day not in late_days:  # what is late makes all later steps of its day late: told once
            late = list(_after_closing(plan, slot))
            found += late
            late_days |= {slot.day} if late else set()
    return found


def _said(text: str) -> str:
    return text.replace("\u00a0", " ")


def _fixed_too_early(slot: Slot) -> Iterable[Problem]:
    """What a step's own hour does not allow."""
    at = slot.step.begins
    if at is None:
        return
    where = f"steps[{slot.number}].begins"
    worst = max((busy.until for _, _, busy in slot.refused), default=0.0)
    for sort, name, busy in [each for each in slot.refused if each[2].until == worst][:1]:
        until = _hour(busy.until, slot)
        if sort == "person":
            wrong = f"{capital(name)} is needed in two places at {at}: {busy.step.name} lasts until {until}."
            remedy = f"Begin at {until}, or give one of the two steps to somebody else with who."
        elif sort == "vessel":
            wrong = f"The {name} is needed twice at {at}: {busy.step.name} has it until {until}."
            remedy = f"Begin at {until}, or use another vessel."
        else:
            what = (
                f"The mash in the {name.removeprefix('bed ')}"
                if name.startswith("bed ")
                else f"The {wort_called(name)}"
            )
            wrong = f"{what} is not ready at {at}: {busy.step.name} lasts until {until}."
            remedy = f"Begin at {until} or later."
        yield Problem(at.place, where, str(at), wrong, remedy)


def _hour(minutes: float, slot: Slot) -> str:
    day = int(minutes // DAY) + 1
    return clock_in_words(minutes) if day == slot.day else f"{clock_in_words(minutes)} on day {day}"


def _nothing_to_heat_in(worked: WorkedLesson, slot: Slot) -> Iterable[Problem]:
    """Hot water is wanted while everything to heat it in is full."""
    if slot.hot is None or slot.heater or not heating_vessels(worked):
        return
    vessel = heating_vessels(worked)[0]
    inside = _inside(before(worked, slot.step).liquids.values(), vessel)
    water = getattr(slot.step, "water", None)
    stated = getattr(water, "amount", water)
    written: Place | None = getattr(stated, "place", None)
    wrong = f"The {vessel} is needed twice: this step begins with {_said(slot.hot.words)}, and the {inside} is in it."
    remedy = "Add another pot to the kit, or put this step before the wort goes into that one."
    place, field = (written, "water") if written is not None else (slot.step.name.place, "name")
    text = str(getattr(stated, "written", slot.step.name))
    yield Problem(place, f"steps[{slot.number}].{field}", text, wrong, remedy)


def _inside(liquids: Iterable[object], vessel: str) -> str:
    names = [
        wort_called(str(getattr(liquid, "name", ""))) for liquid in liquids if getattr(liquid, "vessel", "") == vessel
    ]
    return " and the ".join(names)


def _kettle_full(worked: WorkedLesson, slot: Slot) -> Iterable[Problem]:
    """A liquid is heated in a vessel that still holds another."""
    step = slot.step
    if step.do not in {"boil", "heat"}:
        return
    vessel = getattr(step, "in_", None)
    own = {slug(name) for name in step.uses()}
    others = [one for one in before(worked, step).liquids.values() if one.vessel == vessel and one.name not in own]
    if not others:
        return
    said = isinstance(vessel, Written) and bool(vessel.place.file)
    at = vessel if said and isinstance(vessel, Written) else step.name
    mine, theirs = " and the ".join(wort_called(name) for name in own), _inside(others, str(vessel))
    wrong = f"The {vessel} is needed twice: this step heats the {mine} in it, and the {theirs} is still there."
    remedy = "Move one of them before, or use another vessel."
    yield Problem(at.place, f"steps[{slot.number}].{'in' if said else 'name'}", str(at), wrong, remedy)


def _after_closing(plan: DayPlan, slot: Slot) -> Iterable[Problem]:
    """Hands, or a wait of less than a day, that end after closing."""
    if plan.closes is None:
        return
    step, shut = slot.step, (slot.day - 1) * DAY + plan.closes
    closing = clock_in_words(plan.closes)
    if slot.hands_end > shut and not (slot.length.attended and slot.length.stated is not None):
        wrong = f"{step.name} keeps hands busy until {_hour(slot.hands_end, slot)}, after closing at {closing}."
        remedy = "Begin the day earlier, or put this step on another day with day."
        yield Problem(step.name.place, f"steps[{slot.number}].name", str(step.name), wrong, remedy)
        return
    stated = slot.length.stated
    if stated is None or slot.length.days or not _while_closed(plan, slot.ends) or _settled(plan, slot):
        return
    wrong = f"This wait ends at {_hour(slot.ends, slot)}, after closing at {closing}."
    remedy = "Shorten it, begin the day earlier, or say with day and begins when the next step takes it up."
    yield Problem(stated.place, f"steps[{slot.number}].{_key(step)}", stated.written, wrong, remedy)


def _while_closed(plan: DayPlan, minutes: float) -> bool:
    assert plan.closes is not None
    hour = minutes % DAY
    return hour > plan.closes or hour < plan.begins


def _settled(plan: DayPlan, slot: Slot) -> bool:
    """Whether a later step that takes up the same liquid or mash has an hour or a day of its own."""
    own = {slug(name) for name in (*slot.step.uses(), *slot.step.makes())} | {str(name) for name in slot.step.vessels()}
    for later in plan.slots[slot.number :]:
        theirs = {slug(name) for name in later.step.uses()} | {str(name) for name in later.step.vessels()}
        if own & theirs:
            return later.step.begins is not None or later.step.day is not None
    return False


def _key(step: Step) -> str:
    return next(key for name, key in (("hold", "hold"), ("for_", "for"), ("within", "within")) if hasattr(step, name))


def late_rests(plan: DayPlan) -> list[str]:
    """A sentence for each rest that runs over because hands or a vessel were taken."""
    lines = []
    for slot in plan.slots:
        if slot.late and slot.rest is not None:
            kept = f", because {slot.held_by[0]} is at {slot.held_by[1].name} until then" if slot.held_by else ""
            lines.append(
                f"{slot.rest.name} rests {_said(minutes_in_words(slot.late))} longer than planned{kept};"
                f" {slot.step.name} begins at {clock_in_words(slot.begins)}."
            )
    return lines
