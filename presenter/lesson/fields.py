"""The fields that models are made of: a quantity of a kind, a yes or no, a date, plain words.

In: the author's text. Out: :class:`Stated` values that keep the text and its place beside what it means.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import (
    BaseModel,
    ConfigDict,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    PlainValidator,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError, core_schema

from presenter.lesson.reading import MappingNode, SequenceNode, Written
from presenter.problems import Place
from presenter.quantities import KINDS, Kind, Quantity, UnreadableQuantityError, quantity_from_text
from presenter.quantities.clock import clock_from_text

__all__ = [
    "PH",
    "Attenuation",
    "BoilOffRate",
    "Brix",
    "Carbonation",
    "Clock",
    "ClockTime",
    "CoolingRate",
    "Date",
    "Gravity",
    "Length",
    "Mass",
    "MassPerVolume",
    "Model",
    "Power",
    "RoomVolume",
    "Share",
    "Stated",
    "Strength",
    "Temperature",
    "Text",
    "Thickness",
    "Time",
    "Volume",
    "WholeNumber",
    "Words",
    "YesNo",
    "given_as",
    "listed",
    "problem_sentence",
]  # fmt: skip

NOWHERE = Place("")


@dataclass(frozen=True)
class Stated:
    """A quantity that the author stated: what it means, the text, and where it stands."""

    quantity: Quantity
    written: str
    place: Place
    kind: str

    def number(self) -> float:
        """The value in the working unit of its kind (kg, litre, degC, minute ...)."""
        return float(self.quantity.to(KINDS[self.kind].unit).magnitude)


class Model(BaseModel):
    """A part of a lesson file: frozen, and refusing keys that it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True, validate_by_alias=True)


def problem_sentence(wrong: str, remedy: str = "") -> PydanticCustomError:
    """An error that carries whole sentences through pydantic to a Problem."""
    return PydanticCustomError("sentence", "{wrong}", {"wrong": wrong, "remedy": remedy})


def plain_text(value: Any) -> Written:
    """The author's text, which knows its place; refused where it is empty, a list or further keys."""
    if isinstance(value, Written):
        if not value.strip():
            raise problem_sentence("There is nothing written here.")
        return value
    if isinstance(value, MappingNode | SequenceNode):
        raise problem_sentence("A line of words is wanted here, not a list or further keys.")
    return Written(str(value), NOWHERE)


def _stated(kind: Kind) -> Any:
    def read(value: Any) -> Stated:
        if isinstance(value, Stated):
            return value
        text = plain_text(value)
        try:
            quantity = quantity_from_text(text, kind)
        except UnreadableQuantityError as error:
            raise problem_sentence(error.wrong, error.remedy) from None
        return sensible(Stated(quantity, str(text), getattr(text, "place", NOWHERE), kind.name))

    return read


# The least and the most that a kind of quantity can be in any lesson, in its working unit, and both in words.
_BOUNDS: dict[str, tuple[float, float, str]] = {
    "gravity": (0.95, 1.2, "0.950 and 1.200"),
    "share": (0.0, 100.0, "0 and 100 percent"),
    "strength": (0.0, 100.0, "0 and 100 percent"),
    "attenuation": (0.0, 110.0, "0 and 110 percent"),
    "temperature": (-60.0, 2000.0, "-60 and 2000 degC"),
    "pH": (0.0, 14.0, "0 and 14"),
    "Brix reading": (0.0, 60.0, "0 and 60"),
    "length": (-500.0, 9000.0, "-500 and 9000 m"),
}
_NEVER_BELOW_NOTHING = {
    "mass", "volume", "time", "cooling rate", "boil-off rate", "room volume", "power", "pieces", "carbonation",
    "thickness",
    "mass per volume",
}  # fmt: skip


def sensible(stated: Stated) -> Stated:
    """``stated``, unless nothing of its kind can be so much or so little."""
    value = stated.number()
    if stated.kind in _NEVER_BELOW_NOTHING and value < 0:
        raise problem_sentence(f"{stated.written} is less than nothing.", "Leave out the minus sign.")
    low, high, words = _BOUNDS.get(stated.kind, (value, value, ""))
    if not low - 1e-9 <= value <= high + 1e-9:
        thousandth = value / 1000
        remedy = f"Did you mean {thousandth:.3f}?" if stated.kind == "gravity" and low <= thousandth <= high else ""
        article = "An" if stated.kind[0] in "aeiou" else "A"
        raise problem_sentence(f"{article} {stated.kind} lies between {words}; {stated.written} does not.", remedy)
    return stated


def _yes_no(value: Any) -> bool:
    text = str(plain_text(value)).strip().casefold()
    if text in {"yes", "true", "on"}:
        return True
    if text in {"no", "false", "off"}:
        return False
    raise problem_sentence(f"{value} is neither yes nor no.", "Write yes or no.")


def _date(value: Any) -> datetime.date:
    text = str(plain_text(value)).strip()
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise problem_sentence(f"{text} is no date.", "Write year, month and day, such as 2026-05-02.") from None


def _words(value: Any) -> tuple[Written, ...]:
    if isinstance(value, SequenceNode | list | tuple):
        return tuple(plain_text(item) for item in value)
    return (plain_text(value),)


def _clock(value: Any) -> int:
    try:
        return clock_from_text(plain_text(value))
    except UnreadableQuantityError as error:
        raise problem_sentence(error.wrong, error.remedy) from None


def _clock_as_written(value: Any) -> Written:
    """A time of day that keeps its text and its place."""
    text = plain_text(value)
    _clock(text)
    return text


def _whole(value: Any) -> int:
    text = str(plain_text(value)).strip()
    if not text.isdecimal() or len(text) > 6:
        raise problem_sentence(f"{text} is no whole number.", "Write a whole number, such as 12.")
    return int(text)


# What the shape of a quantity's text can show to an editor: it begins with a number, and a unit or a clock follows.
_BEGINS_NUMBER = "[0-9.½¼¾⅓⅔⅛]"
_ENDS_UNIT = "([A-Za-zµ°º%]|:[0-5][0-9])"


def _quantity_field(kind: str) -> Any:
    found = KINDS[kind]
    article = "an" if kind[0] in "aeiou" else "a"
    schema: dict[str, Any] = {"description": f"{article} {kind}, such as {found.example}", "examples": [found.example]}
    sign = "" if kind in _NEVER_BELOW_NOTHING else "-"
    text = {"type": "string", "pattern": rf"^\s*[{sign}+]?\s*{_BEGINS_NUMBER}.*{_ENDS_UNIT}"}
    if found.bare:
        low, high, _ = _BOUNDS.get(kind, (None, None, ""))
        number = {"type": "number"} | ({} if low is None else {"minimum": low, "maximum": high})
        schema["anyOf"] = [number, {"type": "string", "pattern": rf"^\s*[{sign}+]?\s*{_BEGINS_NUMBER}"}]
    else:
        schema |= text
    return Annotated[Stated, PlainValidator(_stated(found)), WithJsonSchema(schema)]


Text = Annotated[Written, PlainValidator(plain_text), WithJsonSchema({"type": ["string", "number", "boolean"]})]
YesNo = Annotated[
    bool, PlainValidator(_yes_no), WithJsonSchema({"enum": ["yes", "no", "true", "false", "on", "off", True, False]})
]
_DATE_SCHEMA = {
    "type": "string",
    "format": "date",
    "pattern": r"^\s*[0-9]{4}-[0-9]{2}-[0-9]{2}\s*$",
    "examples": ["2026-05-02"],
}
Date = Annotated[datetime.date, PlainValidator(_date), WithJsonSchema(_DATE_SCHEMA)]
_CLOCK_SCHEMA = WithJsonSchema({"type": "string", "examples": ["10:45"]})
Clock = Annotated[int, PlainValidator(_clock), _CLOCK_SCHEMA]
ClockTime = Annotated[Written, PlainValidator(_clock_as_written), _CLOCK_SCHEMA]
_WHOLE_SCHEMA = {"type": ["integer", "string"], "pattern": r"^\s*[0-9]{1,6}\s*$", "minimum": 0, "examples": [12]}
WholeNumber = Annotated[int, PlainValidator(_whole), WithJsonSchema(_WHOLE_SCHEMA)]
Words = Annotated[
    tuple[Written, ...],
    PlainValidator(_words),
    WithJsonSchema(
        {"oneOf": [{"type": ["string", "number"]}, {"type": "array", "items": {"type": ["string", "number"]}}]}
    ),
]

Mass = _quantity_field("mass")
Volume = _quantity_field("volume")
Temperature = _quantity_field("temperature")
Time = _quantity_field("time")
Gravity = _quantity_field("gravity")
CoolingRate = _quantity_field("cooling rate")
BoilOffRate = _quantity_field("boil-off rate")
Length = _quantity_field("length")
Thickness = _quantity_field("thickness")
RoomVolume = _quantity_field("room volume")
Strength = _quantity_field("strength")
Attenuation = _quantity_field("attenuation")
Share = _quantity_field("share")
Power = _quantity_field("power")
Brix = _quantity_field("Brix reading")
PH = _quantity_field("pH")
MassPerVolume = _quantity_field("mass per volume")
Carbonation = _quantity_field("carbonation")


@dataclass(frozen=True)
class _Widened:
    """A value that may also be written shorter; its JSON Schema says so."""

    widen: Callable[[Any], Any]
    shorter: Callable[[dict[str, Any]], dict[str, Any]]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self.widen, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        full = handler(schema)
        return {"anyOf": [self.shorter(full), full]}


def given_as(*, alone: str) -> Any:
    """Let a mapping be written as one value alone: ``water: 12 L`` for ``water: {amount: 12 L}``."""

    def widen(value: Any) -> Any:
        if isinstance(value, Written):
            wide = MappingNode({Written(alone, value.place): value})
            wide.place = value.place
            return wide
        return value

    return _Widened(widen, lambda _: {"type": ["string", "number"]})


def listed() -> Any:
    """Let a list of one be written without its dash: ``law: Ask first.`` for ``law: [Ask first.]``."""

    def widen(value: Any) -> Any:
        if isinstance(value, Written | MappingNode):
            several = SequenceNode([value])
            several.place = value.place
            return several
        return value

    return _Widened(widen, lambda full: full["items"])
