"""How long each step keeps hands busy, how long it then goes by itself, and what must be hot before it.

In: a worked lesson's steps and the table ``planning.yaml``. Out: minutes, each stated by the lesson or, where it is
silent, taken from the table as a planning figure. No number of the brewing is made here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from presenter.lesson import Step, slug
from presenter.lesson.fields import Stated
from presenter.quantities import Q, in_words
from presenter.quantities.clock import DAY
from presenter.working import WorkedLesson
from presenter.working.vessels import Vessels

__all__ = [
    "HotBefore",
    "Length",
    "beds_used",
    "before",
    "heating_vessels",
    "hot_before",
    "length_of",
    "loaves_used",
    "minutes_in_words",
    "planning",
]


@cache
def planning() -> Mapping[str, Any]:
    """The table of planning figures."""
    text = files("presenter.documents.papers").joinpath("planning.yaml").read_text(encoding="utf-8")
    loaded: Mapping[str, Any] = yaml.safe_load(text)
    return loaded


@dataclass(frozen=True)
class Length:
    """Minutes of hands and of waiting. ``stated`` is the author's figure for the wait; ``ours`` says that the hands
    are the table's planning figure; ``attended`` that somebody stays through the wait."""

    hands: float
    wait: float
    attended: bool
    stated: Stated | None
    ours: bool

    @property
    def days(self) -> int:
        """Whole days of waiting; a wait of a day or more is counted in days."""
        return round(self.wait / DAY) if self.wait >= DAY else 0


def _waiting(step: Step) -> Stated | None:
    for name in ("hold", "for_", "within"):
        found = getattr(step, name, None)
        if isinstance(found, Stated):
            return found
    return None


def length_of(worked: WorkedLesson, step: Step) -> Length:
    """The length of one step."""
    table = planning()
    kind = str(step.do)
    stated = _waiting(step)
    wait = stated.number() if stated is not None else 0.0
    hands = float(table["hands"].get(kind, table["other kinds"]))
    attended = kind in table["attended"]
    if kind == "raise" and str(getattr(step, "by", "")) != "fire":
        attended = False
    if kind == "bake" and stated is None:  # until the core is hot: the times are worked
        times = [number for number in worked.of_step(step) if number.id.endswith("core-time")]
        wait = max((float(number.quantity.to("minute").magnitude) for number in times), default=0.0)
    if kind == "clean":
        hands, wait = hands + wait, 0.0
    if kind in {"boil", "heat"}:
        earlier = before(worked, step)
        own = [earlier.liquids[slug(name)] for name in step.uses() if slug(name) in earlier.liquids]
        cold = [liquid.volume.value for liquid in own if liquid.temperature.value < _HOT_ALREADY]
        wait += sum(cold) * float(table["minutes to heat a litre"])
    if step.takes is not None:
        hands = step.takes.number()
    return Length(hands, wait, attended, stated, step.takes is None)


def before(worked: WorkedLesson, step: Step) -> Vessels:
    """What is in each vessel when a step begins."""
    ids = [each.id for each in worked.lesson.steps]
    place = ids.index(step.id)
    return worked.after[ids[place - 1]] if place else Vessels()


def beds_used(worked: WorkedLesson, step: Step) -> tuple[str, ...]:
    """The tubs whose grain a step works on, as ``bed`` and the vessel's name."""
    if step.do in {"mash", "hold", "raise"}:
        return (f"bed {getattr(step, 'in_', '')}",)
    if step.do == "draw off":
        return (f"bed {getattr(step, 'from_vessel', None) or before(worked, step).last_bed}",)
    return ()


def loaves_used(worked: WorkedLesson, step: Step) -> tuple[str, ...]:
    """The loaves of this lesson that a step takes or shows, as they stand in ids."""
    with_ = getattr(step, "with_", None) or ()
    goods = {slug(with_)} if isinstance(with_, str) else {slug(str(name)) for name in with_}
    if step.do == "show":  # what is shown must be there
        shown = [slug(str(thing)) for thing in getattr(step, "what", ())]
        return tuple(loaf for loaf in sorted(worked.lesson.loaves) if any(loaf in thing for thing in shown))
    uses = worked.lesson.file.ingredients.items()
    return tuple(slug(use.what) for key, use in uses if slug(str(key)) in goods and worked.lesson.is_own_loaf(use))


@dataclass(frozen=True)
class HotBefore:
    """Water that must be hot when a step begins: how much and how hot in words, litres, and minutes to heat it."""

    words: str
    litres: float
    minutes: float


_HOT_ALREADY = 95.0  # degC; such a wort boils at once
_HOT = 40.0  # degC; cooler water comes from the tap or is mixed


def hot_before(worked: WorkedLesson, step: Step, measures: str = "metric") -> HotBefore | None:
    """The hot water that a step begins with, or nothing."""
    numbers = worked.numbers
    heat = next(
        (numbers[f"{step.id}.{name}"] for name in ("strike-heat", "at") if f"{step.id}.{name}" in numbers), None
    )
    if step.do not in {"mash", "clean", "top up"} or heat is None or heat.quantity.to("degC").magnitude < _HOT:
        return None
    water = numbers.get(f"{step.id}.water")
    if water is None:
        return HotBefore(f"hot water, {heat.words(measures)}", 5.0, float(planning()["minutes to heat a litre"]) * 5)
    litres = float(water.quantity.to("litre").magnitude)
    minutes = litres * float(planning()["minutes to heat a litre"])
    return HotBefore(f"{water.words(measures)} of water at {heat.words(measures)}", litres, minutes)


def heating_vessels(worked: WorkedLesson, litres: float = 0.0) -> tuple[str, ...]:
    """The things of the kit in which so many litres of water can be heated."""
    used = {str(getattr(step, "in_", "")) for step in worked.lesson.steps if step.do in {"boil", "heat"}}
    words = set(planning()["heats"])
    found = []
    for name, item in worked.lesson.file.kit.items():
        heats = item.boils_away is not None or item.power is not None or bool(words & set(str(name).split()))
        room = item.holds is None or item.holds.number() >= litres
        if room and (heats or str(name) in used):
            found.append(str(name))
    return tuple(found)


def minutes_in_words(minutes: float) -> str:
    """A length of time as it is printed, to five minutes."""
    return in_words(Q(max(5, round(minutes / 5) * 5), "minute"))
