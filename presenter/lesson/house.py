"""The house: what holds where a lesson does not say otherwise. Nearest wins: lesson, library, package.

In: the package's ``house.yaml`` and, above the lessons, a library's ``library.yaml``. Out: a :class:`House`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from presenter.lesson.fields import Stated
from presenter.lesson.reading import MappingNode, SequenceNode, Written, read_yaml
from presenter.problems import Place, Problem, ProblemsFoundError, nearest
from presenter.quantities import KINDS, UnreadableQuantityError, quantity_from_text

if TYPE_CHECKING:
    from presenter.lesson.library_file import LibraryFile

__all__ = [
    "HOUSE_VALUES",
    "INSTRUMENTS",
    "House",
    "HouseValue",
    "Instrument",
    "demo_folder",
    "house_from",
    "package_house",
]

# The values a house may set, and the kind of each.
HOUSE_VALUES: dict[str, str] = {
    "mash yield": "share",
    "water kept by the grain": "water per mass",
    "grist temperature": "temperature",
    "grist moisture": "share",
    "room temperature": "temperature",
    "cold water": "temperature",
    "boils away": "boil-off rate",
    "cools": "cooling rate",
    "vessel heat": "mass",
    "left behind": "volume",
    "gas in the crumb": "share",
    "dough at": "temperature",
    "bake loss": "share",
    "crust warms in": "time",
    "crust cools in": "time",
}
INSTRUMENTS: dict[str, tuple[str, ...]] = {
    "thermometer": ("temperature difference",),
    "hydrometer": ("gravity difference",),
    "scales": ("share", "mass"),
    "jug": ("share", "volume"),
}


@dataclass(frozen=True)
class HouseValue:
    """One value of the house: the value, how far it may be off (k = 2), what it rests on, where it stands."""

    name: str
    value: Stated
    within: float
    rests_on: str
    sources: tuple[str, ...]
    layer: str


@dataclass(frozen=True)
class Instrument:
    """One measuring instrument: how far it may be off, as an amount or as a share of the reading."""

    name: str
    within: Stated
    rests_on: str
    sources: tuple[str, ...]
    layer: str
    read_to: Stated | None = None
    calibrated_at: Stated | None = None


@dataclass(frozen=True)
class House:
    """What holds for every lesson below it, and the folders in which nearest-wins looks things up."""

    name: str
    values: Mapping[str, HouseValue]
    instruments: Mapping[str, Instrument]
    law: tuple[str, ...] = ()
    folder: Path | None = None
    people: Mapping[str, str] = field(default_factory=dict)
    address: str = ""
    shared: LibraryFile | None = None


def _text(tree: Any, key: str, fallback: str = "") -> str:
    value = tree.get(key) if isinstance(tree, MappingNode) else None
    return str(value) if isinstance(value, Written) else fallback


def _sources(tree: Mapping[str, Any]) -> tuple[str, ...]:
    found = tree.get("sources", ())
    return (str(found),) if isinstance(found, Written) else tuple(str(item) for item in found)


def _group(tree: MappingNode, key: str, problems: list[Problem]) -> dict[Any, Any]:
    """The names and values under ``key``; a Problem where something else stands there."""
    found = tree.get(key)
    if found is None or isinstance(found, MappingNode):
        return found or {}
    written = str(found) if isinstance(found, Written) else ""
    problems.append(Problem(found.place, key, written, "Names are wanted here, each with its value."))
    return {}


def stated(text: Any, kinds: tuple[str, ...], where: str, problems: list[Problem]) -> Stated | None:
    """``text`` as the first of ``kinds`` that it fits; a Problem where none does."""
    if not isinstance(text, Written):
        problems.append(Problem(getattr(text, "place", Place("")), where, "", "A quantity is wanted here."))
        return None
    failure: UnreadableQuantityError | None = None
    for kind in kinds:
        try:
            return Stated(quantity_from_text(text, KINDS[kind]), str(text), text.place, kind)
        except UnreadableQuantityError as error:
            failure = failure or error
    assert failure is not None
    problems.append(Problem(text.place, where, str(text), failure.wrong, failure.remedy))
    return None


def instrument_from(name: str, tree: MappingNode, layer: str, problems: list[Problem], where: str) -> Instrument | None:
    """An instrument of the kit from its keys ("right within", "read to", "calibrated at")."""
    if "right within" not in tree:
        problems.append(
            Problem(tree.place, where, "", f"The {name} does not say how far it may be off.", "Add right within.")
        )
        return None
    within = stated(tree["right within"], INSTRUMENTS[name], f"{where}.right within", problems)
    read_to = stated(tree["read to"], INSTRUMENTS[name], f"{where}.read to", problems) if "read to" in tree else None
    calibrated = (
        stated(tree["calibrated at"], ("temperature",), f"{where}.calibrated at", problems)
        if "calibrated at" in tree
        else None
    )
    if within is None:
        return None
    rests_on = _text(tree, "rests on", "the author's own figure")
    return Instrument(name, within, rests_on, _sources(tree), layer, read_to, calibrated)


def house_from(tree: MappingNode, layer: str, below: House | None, folder: Path | None) -> House:
    """The house that ``tree`` lays over the one ``below``. Raises ProblemsFoundError with every Problem in it."""
    problems: list[Problem] = []
    values = dict(below.values) if below else {}
    for name, entry in _group(tree, "values", problems).items():
        where = f"values.{name}"
        if name not in HOUSE_VALUES:
            close = nearest(name, HOUSE_VALUES)
            remedy = f"Did you mean {close}?" if close else f"The house values are {', '.join(HOUSE_VALUES)}."
            problems.append(Problem(name.place, where, str(name), f"There is no house value called {name}.", remedy))
            continue
        kind = HOUSE_VALUES[name]
        pair = entry if isinstance(entry, MappingNode) else {"value": entry}
        value = stated(pair.get("value"), (kind,), f"{where}.value", problems)
        spread_kind = {"temperature": "temperature difference"}.get(kind, kind)
        within = stated(pair["within"], (spread_kind,), f"{where}.within", problems) if "within" in pair else None
        if value is not None:
            earlier = values.get(name)
            spread = within.number() if within else (earlier.within if earlier else 0.0)
            rests = _text(entry, "rests on", f"{layer} value")
            values[str(name)] = HouseValue(
                str(name), value, spread, rests, _sources(pair) if "sources" in pair else (), layer
            )
    instruments = dict(below.instruments) if below else {}
    for name, entry in _group(tree, "kit", problems).items():
        if name in INSTRUMENTS and isinstance(entry, MappingNode):
            instrument = instrument_from(str(name), entry, layer, problems, f"kit.{name}")
            if instrument is not None:
                instruments[str(name)] = instrument
        elif isinstance(entry, MappingNode) and "right within" in entry:
            wrong = f"Only an instrument is right within a limit, and {name} is none that this toolkit knows."
            remedy = f"The instruments are {', '.join(INSTRUMENTS)}."
            problems.append(Problem(name.place, f"kit.{name}", str(name), wrong, remedy))
    people = _group(tree, "people", problems)
    if problems:
        raise ProblemsFoundError(tuple(problems))
    law = tree.get("law", ())
    listed = law if isinstance(law, SequenceNode | tuple) else (law,)
    lines = tuple(_text(line, "say") if isinstance(line, MappingNode) else str(line) for line in listed)
    return House(
        name=_text(tree, "name", layer),
        values=values,
        instruments=instruments,
        law=(below.law if below and not lines else lines),
        folder=folder,
        people={str(k): str(v) for k, v in people.items()},
        address=_text(tree, "address"),
    )


@cache
def package_house() -> House:
    """The package's own house."""
    text = files("presenter.lesson").joinpath("house.yaml").read_text(encoding="utf-8")
    return house_from(read_yaml(text, "presenter/lesson/house.yaml"), "package", None, None)


def demo_folder(name: str) -> Path:
    """A folder that comes with the package (``templates``, ``lessons_demo``), in a wheel or a checkout."""
    package = Path(str(files("presenter")))
    inside = package / name
    return inside if inside.is_dir() else package.parent / name


def spread_of(instrument: Instrument, value: float) -> float:
    """How far a reading of ``value`` may be off, in the value's own working unit."""
    within = instrument.within
    if within.kind == "share":
        return float(within.quantity.to("percent").magnitude) / 100.0 * abs(value)
    return within.number() if within.kind in {"mass", "volume"} else float(within.quantity.magnitude)
