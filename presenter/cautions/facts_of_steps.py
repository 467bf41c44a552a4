"""The facts of one step of a worked lesson: how hot, heated by what, in which vessel, how heavy, alive or not.

In: the worked lesson, the step, and what was in the vessels before it. Out: :class:`StepFacts`.
"""

from __future__ import annotations

from collections.abc import Iterable

from presenter.cautions.facts import NOT_APPLICABLE, UNKNOWN, Absent, NumberFact, StepFacts, WordsFact
from presenter.cautions.words_of_facts import container_of, heat_sources_of, materials_of
from presenter.lesson import Lesson, Step, slug
from presenter.lesson.model import IngredientUse, KitItem
from presenter.quantities import KINDS, UnreadableQuantityError, quantity_from_text
from presenter.working import WorkedLesson
from presenter.working.ingredients import known_ingredient
from presenter.working.vessels import Liquid, Vessels

__all__ = ["facts_of_step"]

_HEATS = frozenset({"heat", "mash", "raise", "boil", "bake"})  # kinds that need a source of heat
_STANDS = frozenset({"cool", "hold", "pitch", "ferment", "rack", "strain", "chill"})  # a liquid may stand shut in
_SERVES = frozenset({"serve", "prime and bottle"})
_LIFTS = frozenset({"draw off", "boil", "strain", "rack", "cool", "join", "pour"})  # a full vessel changes place
_HOT = 48.0  # degC, where the scald caution begins: water so hot was heated by something
_GRIST = frozenset({"malt", "unmalted grain", "flour", "bread"})
_LIVING = frozenset({"yeast", "souring culture"})


def facts_of_step(worked: WorkedLesson, step: Step, before: Vessels | None) -> StepFacts:
    """The facts of ``step``; ``before`` is what the vessels held when it began (None at the first step)."""
    lesson, kind = worked.lesson, str(step.do)
    after = worked.after.get(step.id, Vessels())
    before = before or Vessels()
    liquids = _in_hand(step, before, after)
    temperature = _hottest(worked, step, liquids, before, after)
    heated = kind in _HEATS or (kind == "clean" and (temperature is UNKNOWN or _is_hot(temperature)))
    sources = heat_sources_of(lesson.file.site.heat)
    if str(getattr(step, "by", "")) == "hot stones" and not isinstance(sources, Absent):
        sources = (*sources, "hot stones")
    indoors: bool | Absent | None = lesson.file.site.indoors
    if kind == "ferment" and indoors is False:
        indoors = UNKNOWN  # brewed in the yard; for days, and warm, it will stand in some room that is not told
    held_in = getattr(step, "container", None) or next((liquid.container for liquid in liquids), "")
    container = container_of(held_in) if kind in _SERVES else NOT_APPLICABLE
    packed = kind in _SERVES and container != "open"
    return StepFacts(
        step=step.id,
        kind=kind,
        also=_also(lesson, step),
        name=str(step.name),
        temp_c=temperature,
        heat_source=sources if heated else NOT_APPLICABLE,  # nothing is heated at the other steps
        indoors=UNKNOWN if indoors is None else indoors,
        room_volume_m3=_room(lesson),
        vessel_material=_materials(lesson, step, liquids),
        container=container,  # only a drink that is packed or served is in a container
        closed=_closed(lesson, step, liquids),
        # bubbles and their end matter only where a drink is held in; poured from an open jug it cannot burst
        carbonation_volumes=_carbonation(liquids) if packed else NOT_APPLICABLE,
        finished=_finished(liquids) if packed else NOT_APPLICABLE,
        live=_live(lesson, step, liquids),
        stones=_names(sources, "hot stones") if heated else NOT_APPLICABLE,
        open_fire=_names(sources, "open fire") if heated else NOT_APPLICABLE,
        lifting_kg=_lifting(worked, step, liquids),
    )


def _is_hot(temperature: NumberFact) -> bool:
    return not isinstance(temperature, Absent) and temperature >= _HOT


def _room(lesson: Lesson) -> NumberFact:
    site = lesson.file.site
    if site.indoors is False:
        return NOT_APPLICABLE  # out of doors there is no room
    return UNKNOWN if site.room is None else site.room.number()


def _names(sources: tuple[str, ...] | Absent, word: str) -> bool | Absent:
    return sources if isinstance(sources, Absent) else word in sources


def _in_hand(step: Step, before: Vessels, after: Vessels) -> list[Liquid]:
    """The liquids of the step, as they were before it and as it leaves them."""
    names = [slug(name) for name in (*step.uses(), *step.makes())]
    return [state.liquids[name] for name in names for state in (before, after) if name in state.liquids]


def _hottest(worked: WorkedLesson, step: Step, liquids: list[Liquid], before: Vessels, after: Vessels) -> NumberFact:
    """The highest temperature of the step in degC, strike heat and the liquid's heat at its start included."""
    if step.do == "show":
        return NOT_APPLICABLE  # nothing is brewed or heated
    found = [liquid.temperature.value for liquid in liquids]
    found += [
        float(number.quantity.magnitude)
        for number in worked.numbers.values()
        if number.step == step.id and str(number.quantity.units) == "degree_Celsius"
    ]
    vessels = {str(name) for name in step.vessels()}
    for state in (before, after):
        found += [bed.temperature.value for name, bed in state.beds.items() if name in vessels]
    return max(found) if found else UNKNOWN


def _kit(lesson: Lesson, vessel: str) -> KitItem | None:
    return next((item for name, item in lesson.file.kit.items() if str(name) == vessel), None)


def _vessels(step: Step, liquids: Iterable[Liquid]) -> list[str]:
    """The vessels of the step; an empty name where a liquid is in a vessel that the lesson never names.

    A drink that has been bottled is in its container, which is no vessel of the kit.
    """
    own = [str(name) for name in step.vessels()]
    held = [liquid.vessel for liquid in liquids if liquid.vessel or not (own or liquid.container)]
    return list(dict.fromkeys([*own, *held]))


def _materials(lesson: Lesson, step: Step, liquids: list[Liquid]) -> WordsFact:
    if step.do == "show":
        return NOT_APPLICABLE  # what is shown is not drunk from
    found: list[str | Absent] = []
    for vessel in _vessels(step, liquids):
        item = _kit(lesson, vessel)
        found += materials_of(item.of if item is not None else None)
    if step.do != "serve" or not step.vessels():  # what is poured into a jug is drunk from the jug
        found += [word for liquid in liquids if liquid.container for word in _of_container(liquid.container)]
    return tuple(dict.fromkeys(found)) or NOT_APPLICABLE  # no vessel in hand


def _of_container(container: str) -> tuple[str | Absent, ...]:
    """What a bottle or cask is made of; nothing for what is open, since it is a vessel of the kit then."""
    return () if container_of(container) == "open" else materials_of(container)


def _closed(lesson: Lesson, step: Step, liquids: list[Liquid]) -> bool | Absent:
    """Whether gas is shut in. A lid on a mash or a boiling kettle shuts nothing in; a jug is poured open."""
    if step.do == "prime and bottle":
        return _shut_in_bottles(liquids)
    if step.do not in _STANDS:
        return False
    if getattr(step, "closed", False):
        return True
    shut = [item.closed for vessel in _vessels(step, liquids) if (item := _kit(lesson, vessel)) is not None]
    return any(shut)


def _shut_in_bottles(liquids: list[Liquid]) -> bool:
    """Whether a drink not proven finished is shut where nothing lets its gas go.

    A finished drink in its bottle is the one exception that the caution allows; plastic pressure bottles are vented.
    """
    held = [liquid for liquid in liquids if liquid.container and not liquid.finished]
    return any(container_of(liquid.container) not in {"open", "plastic pressure bottle"} for liquid in held)


def _put_in(lesson: Lesson, step: Step) -> list[IngredientUse]:
    """The ingredients that the step names under ``with``."""
    added = getattr(step, "with_", None) or ()
    names = {str(added)} if isinstance(added, str) else {str(name) for name in added}
    return [use for key, use in lesson.file.ingredients.items() if str(key) in names]


def _also(lesson: Lesson, step: Step) -> tuple[str, ...]:
    """A step that puts in more than a mash's grain or a pitch's yeast adds, whatever else it does."""
    for use in _put_in(lesson, step):
        known = known_ingredient(str(use.what))
        if lesson.is_loaf(use):
            continue
        if step.do == "bake" and known is not None and known.family in _LIVING:
            continue  # a leaven is part of the dough
        if step.do != "pitch" and (known is None or known.family not in _GRIST):
            return ("add",)
    return ()


def _carbonation(liquids: list[Liquid]) -> NumberFact:
    """The gas of the liveliest drink in hand, as bottled; UNKNOWN for one that no step has bottled."""
    bottled = [liquid.carbonation for liquid in liquids if liquid.container]
    if not bottled or any(gas is None for gas in bottled):
        return UNKNOWN
    return max(gas.value for gas in bottled if gas is not None)


def _finished(liquids: list[Liquid]) -> str | Absent:
    """Whether every drink in hand is proven finished, by the readings of the step that bottled it."""
    bottled = [liquid for liquid in liquids if liquid.container]
    if not bottled:
        return UNKNOWN
    return "proven" if all(liquid.finished for liquid in bottled) else "not proven"


def _live(lesson: Lesson, step: Step, liquids: list[Liquid]) -> bool:
    if step.do == "bake":
        return False  # yeast dies in a loaf at 50 to 60 degC (hamelman_bread); a loaf is followed above that
    if any(liquid.pitched for liquid in liquids):
        return True
    for use in _put_in(lesson, step):
        known = known_ingredient(str(use.what))
        if known is not None and known.family in _LIVING:
            return True
    return False


def _lifting(worked: WorkedLesson, step: Step, liquids: list[Liquid]) -> NumberFact:
    """The heaviest thing lifted, in kg: a full vessel that the step moves, or the kettle of water for a mash."""
    if step.lifting is not None:
        return _as_written(step.lifting)
    if step.do == "mash":
        moved = [
            float(number.quantity.to("kilogram").magnitude)
            for number in worked.numbers.values()
            if number.id == f"{step.id}.water-mass"
        ]
    elif step.do in _LIFTS:
        moved = [liquid.extract.value + liquid.water.value for liquid in liquids]
    else:
        return NOT_APPLICABLE  # no full vessel is moved by this step's own work
    if not moved:
        return UNKNOWN
    own = [str(name) for name in step.vessels()] if step.do != "mash" else []
    return max(moved) + max([_weight(worked.lesson, name) for name in own or [""]])


def _weight(lesson: Lesson, vessel: str) -> float:
    """What a vessel weighs; the house's weight of a vessel's wall where the kit does not say."""
    item = _kit(lesson, vessel)
    if item is not None and item.weighs is not None:
        return float(item.weighs.number())
    return lesson.house.values["vessel heat"].value.number()


def _as_written(text: str) -> NumberFact:
    """The author's own word on lifting: a mass, or none."""
    if text.strip().casefold() in {"none", "nothing", "no"}:
        return 0.0
    try:
        return float(quantity_from_text(text, KINDS["mass"]).to("kilogram").magnitude)
    except UnreadableQuantityError:
        return UNKNOWN
