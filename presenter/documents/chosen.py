"""Which numbers a sheet shows for each kind of step, and which one matters most there.

In: a kind of step. Out: the names of its numbers, the one that matters most first. Every other number is on the
numbers list (``presenter numbers``).
"""

from __future__ import annotations

from collections.abc import Mapping

from presenter.quantities import Withheld, WorkedNumber
from presenter.working import WorkedLesson
from presenter.working.gristing import STAYS_STARCH

__all__ = ["CARD_NUMBERS", "SHEET_NUMBERS", "numbers_shown", "withheld_at"]

SHEET_NUMBERS: Mapping[str, tuple[str, ...]] = {
    "clean": ("at", "for"),
    "bake": ("core-time", "core", "for", "oven", "water", "thickness", "loaf-mass"),
    "heat": ("reach", "for"),
    "mash": ("strike-heat", "reach", "at", "hold", "water", "end-heat", "gravity", "attenuation-limit"),
    "hold": ("for", "end-heat", "attenuation-limit"),
    "raise": ("hot-water", "stones", "drawn-share", "reach", "at", "for"),
    "draw off": ("wort-gravity", "volume", "wort-volume"),
    "join": ("gravity", "volume"),
    "strain": ("volume", "leave"),
    "rack": ("volume", "leave"),
    "top up": ("gravity", "water", "volume"),
    "acidify": ("amount", "ph"),
    "boil": ("for", "boiled-away", "gravity", "volume"),
    "add": ("amount", "*-amount", "water", "water-heat", "at", "gravity", "volume"),
    "cool": ("to", "within"),
    "pitch": ("amount", "before-yeast"),
    "ferment": (
        "for",
        "at",
        "final-gravity",
        "strength",
        "gas-volume",
        "gas-in-room",
        "ceiling",
        "gravity-if-it-stops",
    ),
    "split": ("volume",),
    "pour": ("poured", "gravity", "volume"),
    "prime and bottle": (
        "sugar",
        "gas",
        "carbonation",
        "bottle-pressure",
        "bottle-pressure-at-most",
        "residual-gas",
        "hidden-gas",
        "hidden-by-hydrometer",
        "strength",
    ),
    "chill": ("at", "for", "bottle-pressure"),
    "serve": ("measure",),
    "show": (),
}
CARD_NUMBERS: Mapping[str, tuple[str, ...]] = {
    "bake": ("core-time", "core", "for", "oven", "water"),
    "mash": ("strike-heat", "reach", "at", "water", "hold"),
    "hold": ("for", "end-heat"),
    "raise": ("hot-water", "stones", "drawn-share", "reach", "at", "for"),
    "draw off": ("volume", "wort-gravity"),
    "boil": ("for", "gravity"),
    "add": ("amount", "*-amount", "water", "water-heat", "at", "gravity"),
    "cool": ("to", "within"),
    "ferment": ("for", "at", "final-gravity"),
    "pitch": ("amount",),
    "prime and bottle": ("sugar", "gas", "bottle-pressure"),
}


def numbers_shown(worked: WorkedLesson, step_id: str, kind: str, *, card: bool = False) -> tuple[WorkedNumber, ...]:
    """The numbers of one step that a sheet shows, the one that matters most first."""
    names = CARD_NUMBERS.get(kind) if card else None
    if names is None:
        names = SHEET_NUMBERS.get(kind, ())
    found: list[WorkedNumber] = []
    for name in names:
        if name.startswith("*"):  # one for each ingredient
            found += [number for number in worked.of_step(step_id) if number.id.endswith(name[1:])]
        elif f"{step_id}.{name}" in worked.numbers:
            number = worked.numbers[f"{step_id}.{name}"]
            if name != "attenuation-limit" or STAYS_STARCH not in number.remark:  # no wort yet, to ferment
                found.append(number)
    if kind == "bake":  # several loaves have a core each: the last is the one that is baked through
        each = [
            number for number in worked.of_step(step_id) if number.id.endswith(("-core", "-core-time"))
            and number not in found
        ]  # fmt: skip
        found = [*reversed(each), *found]
    if kind == "serve" and not card:
        herbs = ("-plant", "-plant-enough")  # weighed at the mash or the boil, not at the pouring
        more = [number for number in worked.of_step(step_id) if not number.id.endswith(herbs)]
        found += [number for number in more if number not in found]
    return tuple(found)


def withheld_at(worked: WorkedLesson, step_id: str) -> tuple[Withheld, ...]:
    """The numbers of one step that are not given, each with its reason."""
    return tuple(kept for kept in worked.withheld if kept.step == step_id)
