"""Facts for the tests: the quiet case of the data, and a museum's day of two ales from one mash
(invented).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields
from typing import Any

import pytest

from presenter.cautions import (
    NOT_APPLICABLE,
    UNKNOWN,
    Cautioned,
    Plant,
    SheetFacts,
    StepFacts,
    cautions_that_apply,
)
from presenter.cautions.facts import facts_of_cautions


def _value_of(written: Any) -> Any:
    """A fact as the data writes it, as the engine takes it."""
    if written == "unknown":
        return UNKNOWN
    if written == "not applicable":
        return NOT_APPLICABLE
    if isinstance(written, list):
        return tuple(Plant(**one) if isinstance(one, dict) else one for one in written)
    return written


def _quiet_but(changes: Mapping[str, Any], kind: str = "show") -> tuple[SheetFacts, StepFacts]:
    """The quiet case with some facts changed: a sheet, and one step of ``kind``."""
    facts = {name: _value_of(written) for name, written in {**facts_of_cautions().quiet_case, **changes}.items()}
    of_sheet = {field.name for field in fields(SheetFacts)}
    sheet = SheetFacts(**{name: value for name, value in facts.items() if name in of_sheet})
    step = StepFacts(step="only", kind=kind, **{name: value for name, value in facts.items() if name not in of_sheet})
    return sheet, step


_INDOORS: dict[str, Any] = {
    "indoors": True,
    "room_volume_m3": 120,
    "heat_source": NOT_APPLICABLE,
    "container": NOT_APPLICABLE,
    "carbonation_volumes": NOT_APPLICABLE,
    "finished": NOT_APPLICABLE,
    "closed": False,
    "live": False,
    "stones": False,
    "open_fire": False,
    "lifting_kg": 3,
}


def _museum_sheet(**changes: Any) -> SheetFacts:
    """The sheet's facts of a day of two ales from one mash, at a museum, before adults and children of 12."""
    facts: dict[str, Any] = {
        "contains_alcohol": True,
        "abv_percent": (3.0, 6.5),
        "hours_between_5_and_57_c_before_pitching": 1.5,
        "water_source": "mains",
        "co2_litres": 330,
        "boiled": False,
        "pasteurised": False,
        "ph": 4.2,
        "plants": (),
        "ingredients": ("malt", "oats", "water", "yeast"),
        "cleaners": ("oxygen cleaner",),
        "chemicals": (),
        "who_brews": "organisation serving the public",
        "audience_youngest": 12,
        "tasting": "adults of legal age",
        "display_only": (),
        "public_sheet": True,
    }
    return SheetFacts(**{**facts, **changes})


def _museum_steps() -> tuple[StepFacts, ...]:
    """The steps of that day, from cleaning to serving; kitchen gas ring, oak mash tub, stainless kettle."""

    def step(id_: str, kind: str, **facts: Any) -> StepFacts:
        return StepFacts(step=id_, kind=kind, **{**_INDOORS, **facts})

    oak, steel = {"vessel_material": "wood"}, {"vessel_material": "stainless"}
    return (
        step("clean", "clean", temp_c=45, vessel_material=("wood", "stainless")),
        step("first-mash", "mash", temp_c=76, heat_source="gas", lifting_kg=14, **oak),
        step("draw-off-strong", "draw off", temp_c=66, **oak),
        step("second-mash", "mash", temp_c=80, heat_source="gas", lifting_kg=9, **oak),
        step("draw-off-small", "draw off", temp_c=64, **oak),
        step("boil-small", "boil", temp_c=100, heat_source="gas", lifting_kg=9, **steel),
        step("cool", "cool", temp_c=100, lifting_kg=9, **steel),
        step("pitch", "pitch", temp_c=20, live=True, **steel),
        step("ferment", "ferment", temp_c=21, live=True, container="open", **steel),
        step("serve", "serve", temp_c=12, live=True, container="open", **steel),
    )


@pytest.fixture(scope="session")
def quiet_case() -> Callable[..., Cautioned]:
    """The cautions of the quiet case with some facts changed, as one step of a kind."""

    def apply(changes: Mapping[str, Any], kind: str = "show") -> Cautioned:
        sheet, step = _quiet_but(changes, kind)
        return cautions_that_apply(sheet, [step])

    return apply


@pytest.fixture(scope="session")
def museum_sheet() -> Callable[..., SheetFacts]:
    """The museum's sheet, with some facts changed."""
    return _museum_sheet


@pytest.fixture(scope="session")
def museum_steps() -> tuple[StepFacts, ...]:
    """The museum's steps."""
    return _museum_steps()
