"""What to bring, what to buy and what to clean: sizes that fit the worked volumes, amounts as shops sell them.

In: a worked lesson and the plan of its day. Out: words for lists; the figures are the lesson's own, rounded up.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from presenter.documents.number_blocks import capital
from presenter.documents.papers.clock import DayPlan, Slot
from presenter.lesson import slug
from presenter.quantities import Q, Quantity, in_words
from presenter.quantities.clock import clock_in_words
from presenter.quantities.wording import shown_in
from presenter.working import WorkedLesson
from presenter.working.ingredients import known_ingredient

__all__ = ["Fit", "cleaning_lines", "fits_of", "kit_lines", "shopping_rows"]


@cache
def _shops() -> Mapping[str, Any]:
    text = files("presenter.documents.papers").joinpath("shops.yaml").read_text(encoding="utf-8")
    loaded: Mapping[str, Any] = yaml.safe_load(text)
    return loaded


@dataclass(frozen=True)
class Fit:
    """One vessel: the most that is in it, at which step, the size that fits, what the kit says it holds; litres."""

    vessel: str
    most: float
    step: str
    wants: float
    holds: float | None

    @property
    def too_small(self) -> bool:
        """Whether there is less room above than a brewer would like."""
        return self.holds is not None and self.holds < self.wants


def fits_of(worked: WorkedLesson, plan: DayPlan) -> list[Fit]:
    """Each vessel that ever holds something, in the order of the kit."""
    most: dict[str, tuple[float, str, str]] = {}

    def holds(vessel: str, litres: float, slot: Slot) -> None:
        if vessel and litres > most.get(vessel, (0.0, "", ""))[0]:
            most[vessel] = (litres, str(slot.step.name), str(slot.step.do))

    for slot in plan.slots:
        step = slot.step
        room = worked.numbers.get(f"{step.id}.mash-volume")
        if room is not None:
            holds(str(getattr(step, "in_", "")), float(room.quantity.to("litre").magnitude), slot)
        water = worked.numbers.get(f"{step.id}.water")
        if slot.heater and water is not None and slot.hot is not None:
            holds(slot.heater, float(water.quantity.to("litre").magnitude), slot)
        for liquid in worked.after[step.id].liquids.values():
            holds(liquid.vessel, liquid.volume.value, slot)
    found = []
    for name, item in worked.lesson.file.kit.items():
        if str(name) in most:
            litres, step_name, kind = most[str(name)]
            above = _shops()["room above"]
            wanted = litres * (1 + float(above.get(kind, above["other"])))
            size = next((each for each in _shops()["sizes in litres"] if each >= wanted), math.ceil(wanted))
            room_there = item.holds.number() if item.holds is not None else None
            found.append(Fit(str(name), litres, step_name, float(size), room_there))
    return found


def kit_lines(worked: WorkedLesson, plan: DayPlan, measures: str) -> list[str]:
    """The kit to bring, each vessel with the size that fits; instruments with how far they may be off."""
    fits = {fit.vessel: fit for fit in fits_of(worked, plan)}
    lines = []
    for name, item in worked.lesson.file.kit.items():
        words = [str(item.of)] if item.of else []
        fit = fits.get(str(name))
        if fit is not None:
            words.append(
                f"of {_litres(fit.wants, measures)} or more; the most in it is {_litres(fit.most, measures)},"
                f" at {fit.step}"
            )
            if fit.holds is not None:
                judged = "which is tight: watch it, or take a larger one" if fit.too_small else "which does"
                words.append(f"yours holds {_litres(fit.holds, measures)}, {judged}")
        instrument = worked.lesson.instruments.get(str(name))
        if item.right_within is not None and instrument is not None:
            within = instrument.within
            words.append(f"right within {in_words(within.quantity, measures=measures, written=within.written)}")
        lines.append(f"{capital(str(name))}: {'; '.join(words)}" if words else capital(str(name)))
    return lines


def _litres(litres: float, measures: str) -> str:
    whole = abs(litres - round(litres)) < 1e-9
    return in_words(Q(litres, "litre"), measures=measures, written=f"{litres:.0f}" if whole else "")


def shopping_rows(worked: WorkedLesson, measures: str) -> list[dict[str, str]]:
    """Each ingredient: what, how much the lesson takes, and what to buy."""
    rows = []
    for name, use in worked.lesson.file.ingredients.items():
        number = worked.numbers.get(f"lesson.{slug(str(name))}")
        amount = number.quantity if number is not None else use.amount.quantity
        needed = (
            number.words(measures)
            if number is not None
            else in_words(shown_in(amount), measures=measures, written=use.amount.written)
        )
        buy = _to_buy(str(use.what), amount, measures)
        if use.made_in is not None:
            needed = f"{use.amount.written}, {needed}" if use.amount.kind == "pieces" else needed
            buy = f"nothing: bake it first, in {worked.others[str(use.made_in).strip()].lesson.file.title}"
        rows.append({"what": capital(str(use.what)), "needed": needed, "buy": buy})
    return rows


def _to_buy(what: str, amount: Quantity, measures: str) -> str:
    known = known_ingredient(what)
    if str(amount.units) == "piece":
        count = math.ceil(float(amount.magnitude) - 1e-9)
        return f"{count} whole"
    if amount.check("[length] ** 3"):
        pack, sizes, unit = _shops()["litres"], [float(size) for size in _shops()["litres"]["litres"]], "litre"
    else:
        pack = _shops()["packs"].get(known.family if known is not None else "", _shops()["other"])
        sizes, unit = [float(size) / 1000 for size in pack["grams"]], "kilogram"
    count, per = _packs(float(amount.to(unit).magnitude), sizes)
    size = in_words(shown_in(Q(per, unit)), measures=measures, written=f"{per:g}" if per >= 1 else f"{per * 1000:g}")
    called = str(pack["called"])
    many = "loaves" if called == "loaf" else f"{called}{'es' if called.endswith('x') else 's'}"
    return f"{count} {called if count == 1 else many} of {size}"


def _packs(needed: float, sizes: Sequence[float]) -> tuple[int, float]:
    """How many packs of which size: as few as leave little over; else the smallest that there are."""
    found = math.ceil(needed / sizes[0] - 1e-9), sizes[0]
    for size in sizes[1:]:
        count = math.ceil(needed / size - 1e-9)
        if count * size <= needed * (1 + float(_shops()["spare"])):
            found = count, size
    return found


def cleaning_lines(worked: WorkedLesson, plan: DayPlan) -> list[str]:
    """What is cleaned when, and what touches cooled wort or a drink without any step that cleans it."""
    lines, cleaned = [], set()
    several = len(plan.days) > 1
    for slot in plan.slots:
        if slot.step.do != "clean":
            continue
        things = [str(thing) for thing in getattr(slot.step, "what", ())]
        cleaned |= set(things)
        when = f"day {slot.day}, {clock_in_words(slot.begins)}" if several else clock_in_words(slot.begins)
        lines.append(f"{when}, {slot.step.name}: {', '.join(things) or 'everything'}")
    touched: dict[str, Slot] = {}
    for slot in plan.slots:
        if slot.step.do in {"cool", "pitch", "ferment", "rack", "prime and bottle", "serve", "chill"}:
            for vessel in slot.step.vessels():
                touched.setdefault(str(vessel), slot)
    for thing, slot in touched.items():
        if thing not in cleaned:
            when = f"before {slot.step.name}, {f'day {slot.day}, ' if several else ''}{clock_in_words(slot.begins)}"
            lines.append(f"{when}: {thing}, which no step of the lesson cleans; clean and sanitise it")
    lines.append("as each thing comes free: rinse at once, before it dries")
    return [capital(line) for line in lines]
