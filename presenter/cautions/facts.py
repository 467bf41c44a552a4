"""The facts that a caution may read: those of the whole sheet, and those of one step.

In: what a lesson supplies. Out: frozen :class:`SheetFacts` and :class:`StepFacts`, checked against
``facts.yaml``: a word that no caution could ever match is refused here, since it would silence a caution. A
fact left out is :data:`UNKNOWN` and raises; one that cannot arise is written :data:`NOT_APPLICABLE`, on
purpose, and never raises.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass, fields
from enum import Enum
from functools import cache
from importlib.resources import files
from typing import Any, Final, Literal, TypeAlias

import yaml

from presenter.problems import BrewingPresenterError, nearest

__all__ = [
    "NOT_APPLICABLE",
    "UNKNOWN",
    "Absent",
    "CautionDataError",
    "FactValue",
    "FactsOfCautions",
    "NumberFact",
    "NumbersFact",
    "Plant",
    "PlantsFact",
    "SheetFacts",
    "StepFacts",
    "WordFact",
    "WordsFact",
    "YesNoFact",
    "facts_of_cautions",
    "read_own_yaml",
]


class CautionDataError(BrewingPresenterError):
    """A caution's data, or a fact handed in, is not of the shape that cautions can be trusted with."""


class Absent(Enum):
    """The two ways in which a fact holds no value."""

    UNKNOWN = "unknown"
    NOT_APPLICABLE = "not applicable"


UNKNOWN: Final = Absent.UNKNOWN
NOT_APPLICABLE: Final = Absent.NOT_APPLICABLE


@dataclass(frozen=True)
class Plant:
    """A herb, spice or fruit: its key in the botanicals table, and whether it was gathered or bought."""

    name: str
    origin: Literal["foraged", "bought"] | Literal[Absent.UNKNOWN] = UNKNOWN


Nothing: TypeAlias = Absent
YesNoFact: TypeAlias = bool | Nothing
NumberFact: TypeAlias = float | Nothing
NumbersFact: TypeAlias = float | tuple[float | Nothing, ...] | Nothing
WordFact: TypeAlias = str | Nothing
WordsFact: TypeAlias = str | tuple[str | Nothing, ...] | Nothing
ListFact: TypeAlias = tuple[str | Nothing, ...] | Nothing
PlantsFact: TypeAlias = tuple[Plant | Nothing, ...] | Nothing
FactValue: TypeAlias = bool | float | str | Absent | tuple[Any, ...]


class _OwnLoader(yaml.CSafeLoader):
    """Our own data files; a doubled key is refused, since the first one would be lost."""

    file = ""

    def construct_mapping(self, node: yaml.MappingNode, deep: bool = False) -> dict[Any, Any]:
        seen: set[str] = set()
        for key, _ in node.value:
            if key.value in seen:
                raise CautionDataError(f"{self.file}, line {key.start_mark.line + 1}: {key.value} is written twice")
            seen.add(key.value)
        return super().construct_mapping(node, deep=deep)


def read_own_yaml(name: str) -> Any:
    """The data file ``name`` of this folder, read."""
    place = files("presenter.cautions").joinpath(name)
    loader = _OwnLoader(place.read_text(encoding="utf-8"))
    loader.file = name
    try:
        return loader.get_single_data()
    finally:
        loader.dispose()


@dataclass(frozen=True)
class FactEntry:
    """One fact of ``facts.yaml``; ``words`` is its closed list, empty where any word may stand."""

    name: str
    kind: Literal["yes or no", "number", "numbers", "word", "words", "list"]
    scope: Literal["sheet", "step"]
    words: tuple[str, ...]
    means: str
    unknown: str


@dataclass(frozen=True)
class FactsOfCautions:
    """The list of facts, the quiet case that raises only what is always true, and the known kinds of step."""

    by_name: Mapping[str, FactEntry]
    quiet_case: Mapping[str, Any]
    kinds_of_step: tuple[str, ...]


@cache
def facts_of_cautions() -> FactsOfCautions:
    """``facts.yaml``, read once."""
    data = read_own_yaml("facts.yaml")
    entries = {
        entry["name"]: FactEntry(
            name=entry["name"],
            kind=entry["kind"],
            scope=entry["scope"],
            words=tuple(entry.get("words", ())),
            means=entry["means"],
            unknown=entry["unknown"],
        )
        for entry in data["facts"]
    }
    return FactsOfCautions(entries, data["quiet_case"], tuple(data["kinds_of_step"]))


def _refuse(entry: FactEntry, value: object, wanted: str) -> CautionDataError:
    written = value.value if isinstance(value, Absent) else value
    return CautionDataError(f"the fact {entry.name} is written {written!r}; it takes {wanted}")


def _check_number(entry: FactEntry, value: object) -> None:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise _refuse(entry, value, "a number, unknown or not applicable")


def _check_word(entry: FactEntry, value: object) -> None:
    if not isinstance(value, str):
        raise _refuse(entry, value, "a word, unknown or not applicable")
    if entry.words and value not in entry.words:
        offer = nearest(value, entry.words)
        wanted = f"one of {', '.join(entry.words)}" + (f"; did you mean {offer}?" if offer else "")
        raise _refuse(entry, value, wanted)


def _check_yes_or_no(entry: FactEntry, value: object) -> None:
    if not isinstance(value, bool):
        raise _refuse(entry, value, "true, false, unknown or not applicable")


def _check_plant(entry: FactEntry, value: object) -> None:
    if not isinstance(value, Plant):
        raise _refuse(entry, value, "plants, each with its name and origin")
    if value.origin not in ("foraged", "bought", UNKNOWN):
        raise _refuse(entry, value.origin, "the origin foraged, bought or unknown")


_CHECK_OF_ONE = {
    "yes or no": _check_yes_or_no,
    "number": _check_number,
    "numbers": _check_number,
    "word": _check_word,
    "words": _check_word,
    "list": _check_word,
}


def _check_fact(entry: FactEntry, value: object) -> None:
    """Raise CautionDataError where ``value`` could silence a caution by being of the wrong shape."""
    if isinstance(value, Absent):
        return
    check = _check_plant if entry.name == "plants" else _CHECK_OF_ONE[entry.kind]
    if isinstance(value, tuple):
        if entry.kind not in ("numbers", "words", "list"):
            raise _refuse(entry, value, "one value, not several")
        if entry.kind != "list" and not value:
            raise _refuse(entry, value, "at least one value; write not applicable where there is none")
        for one in value:
            if one is NOT_APPLICABLE:
                raise _refuse(entry, one, "not applicable only as a whole")
            if one is not UNKNOWN:
                check(entry, one)
        return
    if entry.kind == "list":
        raise _refuse(entry, value, "several values, none, unknown or not applicable")
    check(entry, value)


@dataclass(frozen=True, kw_only=True)
class SheetFacts:
    """The facts of the whole sheet; the list with its meanings stands in ``facts.yaml``.

    ``abv_percent`` holds the weakest and the strongest drink served; ``ingredients`` the words of
    ``tables/ingredient_words.yaml``, or the lesson's own name where none fits (it then raises the
    unknown-item caution); hours, litres and per cent are plain numbers in the unit of the name.
    """

    contains_alcohol: YesNoFact = UNKNOWN
    abv_percent: NumbersFact = UNKNOWN
    hours_between_5_and_57_c_before_pitching: NumberFact = UNKNOWN
    water_source: WordFact = UNKNOWN
    co2_litres: NumberFact = UNKNOWN
    boiled: YesNoFact = UNKNOWN
    pasteurised: YesNoFact = UNKNOWN
    ph: NumberFact = UNKNOWN
    plants: PlantsFact = UNKNOWN
    ingredients: ListFact = UNKNOWN
    cleaners: ListFact = UNKNOWN
    chemicals: ListFact = UNKNOWN
    who_brews: WordFact = UNKNOWN
    audience_youngest: NumberFact = UNKNOWN
    tasting: WordFact = UNKNOWN
    display_only: ListFact = UNKNOWN
    public_sheet: YesNoFact = UNKNOWN

    def __post_init__(self) -> None:
        _check_fields(self, "sheet")


@dataclass(frozen=True, kw_only=True)
class StepFacts:
    """The facts of one step, of the liquid or vessel in hand. ``step`` is the step's id, ``kind`` its kind.

    ``also`` are kinds whose work it does besides: a boil with herbs adds them, so an added herb's caution is its own.

    What a step has not is written NOT_APPLICABLE, or the step speaks of bottles at the mash: ``container``,
    ``carbonation_volumes`` and ``finished`` wherever no drink is packed or served, ``heat_source`` where
    nothing is heated, ``vessel_material`` where no vessel is used, ``room_volume_m3`` out of doors.
    """

    step: str
    kind: str
    also: tuple[str, ...] = ()
    name: str = ""
    temp_c: NumberFact = UNKNOWN
    heat_source: WordsFact = UNKNOWN
    indoors: YesNoFact = UNKNOWN
    room_volume_m3: NumberFact = UNKNOWN
    vessel_material: WordsFact = UNKNOWN
    container: WordsFact = UNKNOWN
    closed: YesNoFact = UNKNOWN
    carbonation_volumes: NumberFact = UNKNOWN
    finished: WordFact = UNKNOWN
    live: YesNoFact = UNKNOWN
    stones: YesNoFact = UNKNOWN
    open_fire: YesNoFact = UNKNOWN
    lifting_kg: NumberFact = UNKNOWN

    def __post_init__(self) -> None:
        _check_fields(self, "step")

    def is_of(self, kinds: Collection[str]) -> bool:
        """Whether the step is of one of ``kinds``, or does the work of one besides its own."""
        return self.kind in kinds or any(kind in kinds for kind in self.also)


def _check_fields(facts: SheetFacts | StepFacts, scope: str) -> None:
    for name, entry in facts_of_cautions().by_name.items():
        if entry.scope == scope:
            _check_fact(entry, getattr(facts, name))


def facts_by_name(facts: SheetFacts | StepFacts) -> dict[str, FactValue]:
    """The facts alone, by their names in ``facts.yaml``: nothing else can be read by a condition."""
    known = facts_of_cautions().by_name
    return {field.name: getattr(facts, field.name) for field in fields(facts) if field.name in known}
