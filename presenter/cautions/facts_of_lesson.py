"""From a worked lesson to the facts that cautions read, and to the cautions themselves.

In: a :class:`~presenter.working.WorkedLesson`. Out: the facts of its sheet and of each step. What the lesson does
not state is UNKNOWN and raises; what cannot arise is NOT_APPLICABLE, with the reason beside it. What the lesson
*uses* is what it lists: an ingredient, a chemical or a thing on show that it never names is not there.
"""

from __future__ import annotations

import re

from presenter.cautions.choosing import Cautioned, cautions_that_apply
from presenter.cautions.conditions import ingredient_words
from presenter.cautions.facts import NOT_APPLICABLE, UNKNOWN, Absent, NumberFact, Plant, SheetFacts, StepFacts
from presenter.cautions.facts_of_steps import facts_of_step
from presenter.cautions.words_of_facts import (
    chemicals_in,
    is_plain_water,
    origin_of,
    tasting_of,
    things_shown,
    water_source_of,
    who_brews_of,
)
from presenter.lesson import Lesson, slug
from presenter.lesson.model import IngredientUse
from presenter.science.plants import harmful_plants_in, plant_named
from presenter.working import WorkedLesson
from presenter.working.ingredients import known_ingredient
from presenter.working.vessels import Liquid

__all__ = ["cautions_of", "facts_of"]

_HOLDS_ALCOHOL = frozenset({"beer", "wine", "mead", "distillate", "low wines", "frozen ale", "ice lifted off"})
_CULTURES = frozenset({"souring culture", "sourdough"})
_WHOLE = {"malt": "whole malt", "unmalted grain": "whole grain"}
_NEVER_GATHERED = frozenset({"honey", "dried fruit", "juice"})  # goods that are bought, unless the lesson says other


def facts_of(worked: WorkedLesson) -> tuple[SheetFacts, tuple[StepFacts, ...]]:
    """The facts of the sheet, and those of every step in order."""
    ids = [step.id for step in worked.lesson.steps]
    befores = [None, *(worked.after.get(id_) for id_ in ids[:-1])]
    steps = tuple(
        facts_of_step(worked, step, before) for step, before in zip(worked.lesson.steps, befores, strict=True)
    )
    return _sheet_facts(worked), steps


def cautions_of(worked: WorkedLesson) -> Cautioned:
    """Every caution that a worked lesson raises, each at its places."""
    return cautions_that_apply(*facts_of(worked))


def _sheet_facts(worked: WorkedLesson) -> SheetFacts:
    lesson = worked.lesson
    site, audience = lesson.file.site, lesson.file.audience
    drinks = _drinks(worked)
    words, plants = _what_goes_in(lesson)
    who = who_brews_of(site.who_brews)
    working_yeast = [liquid for liquid in worked.vessels.liquids.values() if liquid.pitched]
    return SheetFacts(
        contains_alcohol=bool(working_yeast) or not _HOLDS_ALCOHOL.isdisjoint(words),
        abv_percent=_strengths(drinks),
        hours_between_5_and_57_c_before_pitching=_hours_warm(worked),
        water_source=water_source_of(site.water),
        co2_litres=_gas(worked, working_yeast),
        # no drink at the end: nothing that could have been boiled
        boiled=all(liquid.boiled for liquid in drinks) if drinks else NOT_APPLICABLE,
        # no kind of step pasteurises; no drink: nothing that could be
        pasteurised=False if drinks else NOT_APPLICABLE,
        ph=_acidity(drinks),
        plants=plants,
        ingredients=words,
        cleaners=_cleaners(lesson),
        chemicals=_chemicals(lesson),
        who_brews=who,
        audience_youngest=UNKNOWN if audience.youngest is None else audience.youngest,
        tasting=tasting_of(audience.tasting),
        display_only=_on_show(lesson),
        public_sheet=who != "household",
    )


def _drinks(worked: WorkedLesson) -> list[Liquid]:
    """The drinks that are served; where none is, every liquid that is left at the end."""
    liquids = worked.vessels.liquids
    served = [slug(name) for step in worked.lesson.steps if step.do == "serve" for name in step.uses()]
    return [liquids[name] for name in served if name in liquids] or list(liquids.values())


def _strengths(drinks: list[Liquid]) -> float | tuple[float | Absent, ...] | Absent:
    """Weakest and strongest in per cent by volume; UNKNOWN among them for one whose yeast has not been followed."""
    if not drinks:
        return NOT_APPLICABLE  # nothing to drink comes of this lesson
    known = [drink.strength.value for drink in drinks if drink.strength is not None]
    known += [0.0 for drink in drinks if drink.strength is None and not drink.pitched]
    unsure = len(known) < len(drinks)
    ends = sorted({min(known), max(known)}) if known else []
    return (*ends, UNKNOWN) if unsure else tuple(ends)


def _acidity(drinks: list[Liquid]) -> NumberFact:
    """The highest pH among the drinks, where each was acidified after it fermented; UNKNOWN for any other."""
    known = [drink.ph.value for drink in drinks if drink.ph is not None]
    return max(known) if known and len(known) == len(drinks) else UNKNOWN


def _hours_warm(worked: WorkedLesson) -> NumberFact:
    """The longest time that any wort spent between 5 and 57 degC before its yeast went in, in hours.

    A wort that never gets yeast stands for a time that no lesson states, so it is UNKNOWN.
    """
    hours = []
    for step in worked.lesson.steps:
        if step.do != "pitch":
            continue
        liquids = worked.after[step.id].liquids
        hours += [liquids[slug(name)].minutes_warm / 60 for name in step.uses() if slug(name) in liquids]
    left = worked.vessels.liquids.values()
    if any(not liquid.pitched for liquid in left) or (worked.vessels.beds and not left):
        return UNKNOWN
    return max(hours) if hours else NOT_APPLICABLE  # no wort at all


def _gas(worked: WorkedLesson, working_yeast: list[Liquid]) -> NumberFact:
    """Carbon dioxide of the whole brewing in litres; UNKNOWN where yeast went in and no step ferments."""
    if any(not liquid.fermented for liquid in working_yeast):
        return UNKNOWN
    steps = {step.id for step in worked.lesson.steps}
    given_off = [
        float(number.quantity.to("litre").magnitude)
        for number in worked.numbers.values()
        if number.step in steps and number.id == f"{number.step}.gas-volume"
    ]
    return sum(given_off)


def _what_goes_in(lesson: Lesson) -> tuple[tuple[str, ...], tuple[Plant, ...]]:
    """The closed words of every ingredient, and the plants among them with their origin."""
    words: list[str] = []
    plants: list[Plant] = []
    for key, use in lesson.file.ingredients.items():
        if lesson.is_loaf(use):
            words.append("bread")  # what is in a loaf of its own stands among the ingredients already
            for each in lesson.dough_of(use):
                more_words, more_plants = _one_ingredient(str(each.what), each)
                words += [word for word in more_words if word not in _CULTURES]
                plants += more_plants
            continue
        more_words, more_plants = _one_ingredient(str(key), use)
        if _only_baked(lesson, str(key)):  # what lived in it dies in the oven
            more_words = [word for word in more_words if word not in _CULTURES]
        words += more_words
        plants += more_plants
    for chemical in lesson.file.chemicals:  # a food acid written among the chemicals is still food
        known = known_ingredient(str(chemical))
        words += known.caution_words if known is not None else ()
    if re.search(r"vitamin c\b|ascorb", str(lesson.file.site.dechlorinate_with or "").casefold()):
        words.append("vitamin C")
    return tuple(dict.fromkeys(words)), tuple(dict.fromkeys(plants))


def _only_baked(lesson: Lesson, key: str) -> bool:
    """Whether an ingredient goes into dough and nowhere else."""
    kinds = {
        str(step.do)
        for step in lesson.steps
        if key in ({str(named)} if isinstance(named := getattr(step, "with_", ()) or (), str) else set(map(str, named)))
    }
    return kinds == {"bake"}


def _one_ingredient(key: str, use: IngredientUse) -> tuple[list[str], list[Plant]]:
    known, origin = known_ingredient(str(use.what)), origin_of(use.origin)
    if known is None:
        plant = plant_named(str(use.what))
        if plant is not None:
            return ["spices"], [Plant(plant, origin)]
        named = [Plant(name, origin) for name in harmful_plants_in(str(use.what))]
        gathered = [Plant(str(use.what), origin)] if origin == "foraged" else []
        own = str(use.what).casefold()
        return [own if own in ingredient_words() else str(use.what)], [*named, *gathered]
    words = list(known.caution_words)
    said = f"{key} {use.what} {use.origin or ''}"
    if known.family in _WHOLE and re.search(r"\b(whole|uncrushed|unmilled|unground)\b", said.casefold()):
        words.append(_WHOLE[known.family])
    if not known.plant:
        return words, []
    if origin is UNKNOWN and known.family in _NEVER_GATHERED:
        origin = "bought"
    return words, [Plant(known.plant, origin)]


def _cleaners(lesson: Lesson) -> tuple[str | Absent, ...] | Absent:
    """What is cleaned with, plain water apart; UNKNOWN where neither the lesson nor its cleaning says."""
    listed = "cleaners" in lesson.file.model_fields_set
    said = [str(name) for name in lesson.file.cleaners]
    for step in lesson.steps:
        said += [str(name) for name in getattr(step, "with_", None) or () if step.do == "clean"]
    if not said and not listed:
        return UNKNOWN
    return tuple(dict.fromkeys(name for name in said if not is_plain_water(name)))


def _chemicals(lesson: Lesson) -> tuple[str | Absent, ...]:
    """The chemicals listed, and those that a step names in its own words; one off the list is UNKNOWN."""
    found: list[str | Absent] = []
    for chemical in lesson.file.chemicals:
        placed = chemicals_in(str(chemical))
        found += placed or ([] if known_ingredient(str(chemical)) else [UNKNOWN])
    found += chemicals_in(str(lesson.file.site.dechlorinate_with or ""))
    for cleaner in lesson.file.cleaners:
        found += chemicals_in(str(cleaner))
    for step in lesson.steps:
        with_ = getattr(step, "with_", None) or ()
        others = (with_,) if isinstance(with_, str) else tuple(with_)
        found += chemicals_in(" ; ".join(str(said) for said in (step.name, step.what_to_do or "", *others)))
    for use in lesson.file.ingredients.values():
        found += chemicals_in(str(use.what))
    return tuple(dict.fromkeys(found))


def _on_show(lesson: Lesson) -> tuple[str, ...]:
    """The things that steps show, by the plant's key or the caution's word where there is one."""
    shown: list[str] = []
    for step in lesson.steps:
        for thing in getattr(step, "what", ()) if step.do == "show" else ():
            plant = plant_named(str(thing))
            words = (*((plant,) if plant else ()), *harmful_plants_in(str(thing)), *things_shown(str(thing)))
            shown += words or (str(thing),)
    return tuple(dict.fromkeys(shown))
