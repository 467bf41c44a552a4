"""Text that an author wrote, into a quantity of the kind that is wanted there.

In: ``"66 degC"``, ``"1 h 15 min"``, ``"3 degC per hour"``, ``"1.048"`` and the kind wanted.
Out: a quantity in the unit the author used; or :class:`UnreadableQuantityError` with one sentence that says
what is wrong and one that says what would do. Numbers are read here, not by the registry, so that no
``1e400`` becomes infinite and no ``nan`` passes.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from presenter.problems import BrewingPresenterError, nearest
from presenter.quantities.kinds import KINDS, Kind, kind_of_unit
from presenter.quantities.registry import Q, Quantity, registry, unit_named

__all__ = ["UnreadableQuantityError", "quantity_from_text"]

# How people write units, beside the names that the registry knows.
_SPELLINGS: dict[str, str] = {
    "c": "degC", "f": "degF", "°c": "degC", "°f": "degF", "deg c": "degC", "deg f": "degF", "degrees celsius": "degC",
    "degrees c": "degC", "degrees f": "degF", "degrees fahrenheit": "degF", "celsius": "degC",
    "fahrenheit": "degF", "centigrade": "degC", "º c": "degC", "ºc": "degC", "° c": "degC", "° f": "degF",
    "kgs": "kg", "kilo": "kg", "kilos": "kg", "kilogrammes": "kg", "grams": "g", "grammes": "g", "gramme": "g",
    "litres": "L", "liters": "L", "ltr": "L", "ml": "mL", "millilitres": "mL", "milliliters": "mL",
    "mins": "min", "minutes": "min", "hours": "hour", "hrs": "hour", "hr": "hour", "days": "day", "weeks": "week",
    "seconds": "second", "secs": "second", "pounds": "pound", "lbs": "pound", "ounces": "ounce",
    "uk gallon": "imperial_gallon",
    "imperial gallons": "imperial_gallon", "us gallons": "us_gallon", "us gallon": "us_gallon",
    "imperial gallon": "imperial_gallon", "us pint": "us_pint", "us pints": "us_pint",
    "imperial pint": "imperial_pint", "imperial pints": "imperial_pint", "us cup": "us_cup", "cups": "us_cup",
    "teaspoons": "teaspoon", "tablespoons": "tablespoon", "metres": "metre", "meters": "metre", "feet": "foot",
    "m3": "metre ** 3", "m^3": "metre ** 3", "m³": "metre ** 3", "cubic metres": "metre ** 3",
    "per cent": "percent", "pc": "percent", "vol%": "abv", "% abv": "abv", "percent abv": "abv",
    "percent by volume": "abv", "%vol": "abv", "% vol": "abv", "degp": "degPlato", "°p": "degPlato",
    "plato": "degPlato", "degrees plato": "degPlato", "points": "gravity_point", "gravity points": "gravity_point",
    "sg": "gravity", "volumes": "volume_co2", "volumes co2": "volume_co2", "vol": "volume_co2",
    "loaves": "piece", "loaf": "piece", "pieces": "piece", "kw": "kilowatt", "w": "watt",
    "degree celsius": "degC", "degree fahrenheit": "degF", "us gal": "us_gallon", "imp gal": "imperial_gallon",
    "imp pt": "imperial_pint", "imp fl oz": "imperial_fluid_ounce", "imperial quart": "imperial_quart",
    "imperial quarts": "imperial_quart", "imperial gal": "imperial_gallon", "us fluid ounce": "us_fluid_ounce",
    "us fluid ounces": "us_fluid_ounce", "imperial fluid ounce": "imperial_fluid_ounce",
    "imperial fluid ounces": "imperial_fluid_ounce", "us qt": "us_quart",
    "us quarts": "us_quart", "us quart": "us_quart", "us fl oz": "us_fluid_ounce", "ale gal": "ale_gallon",
    "kj/(kg °c)": "kilojoule / kilogram / kelvin", "kj/kg/k": "kilojoule / kilogram / kelvin",
    "inches": "inch", "ale gallons": "ale_gallon",
    "ale gallon": "ale_gallon", "bars": "bar", "units": "alcohol_unit",
}  # fmt: skip

_NUMBER = re.compile(
    r"[+-]?(?:(?P<whole>\d+)\s+)?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)(?=\s*[^\d\s.]|\s*$)"
    r"|[+-]?\d[\d,]*\.?\d*|[+-]?\.\d+"
)
_USUAL = ("degC", "degF", "kg", "g", "L", "mL", "min", "hour", "day", "percent", "gravity", "degPlato")
_UNIT_NAME = re.compile(r"[°%µ]|[°µ]?[A-Za-z][A-Za-z_]*")
_CLOCK = re.compile(r"^(\d{1,3}):([0-5]\d)(?:\s*(?:h|hours?))?$")
_RANGE = re.compile(r"^[\d.,]+\s*[^\d\s]{0,6}\s*(?:to|-|\u2013|\u2014)\s*\d")
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8"}
_LARGEST = 1e12
LONGEST = 80  # characters; nobody writes a quantity at greater length


@dataclass
class UnreadableQuantityError(BrewingPresenterError):
    """The text is no quantity of the kind wanted. ``wrong`` and ``remedy`` are whole sentences."""

    wrong: str
    remedy: str = ""

    def __str__(self) -> str:
        return f"{self.wrong} {self.remedy}".rstrip()


# Kinds whose names do not read on after "a" or "an".
_ONE = {"pieces": "a number of pieces", "degrees Plato": "a number of degrees Plato", "time": "a time"}


# Measures whose imperial and United States sizes differ by a fifth: which one is meant has to be said.
_TWO_SIZES = {
    "gallon": "gallon",
    "gal": "gallon",
    "pint": "pint",
    "pt": "pint",
    "quart": "quart",
    "fluid ounce": "fluid ounce",
}


def _one(kind_name: str) -> str:
    """The kind's name with its article: "a mass", "an attenuation"."""
    return _ONE.get(kind_name) or f"{'an' if kind_name[0] in 'aeiou' else 'a'} {kind_name}"


def _write(kind: Kind) -> str:
    """One sentence that shows how a quantity of ``kind`` is written."""
    return f"Write {_one(kind.name)}, such as {kind.example}."


def _was(unit: str) -> str:
    """What a quantity in ``unit`` is, in words: "a mass", or "measured in degree Lintner" where no kind fits."""
    name = kind_of_unit(unit)
    return _one(name) if name in KINDS else f"measured in {name.replace('_', ' ')}"


def quantity_from_text(text: str, kind: Kind) -> Quantity:
    """Read ``text`` as a quantity of ``kind``.

    Returns the quantity in the unit that the author used ("66 degF" stays in degF).
    Raises :class:`UnreadableQuantityError`, whose sentences can stand in a Problem as they are.

    >>> from presenter.quantities.kinds import KINDS
    >>> quantity_from_text("1 h 15 min", KINDS["time"]).to("minute").magnitude
    75.0
    """
    written = text.strip().replace("\u2212", "-").replace("℃", "°C").replace("℉", "°F")
    if len(written) > LONGEST:
        raise UnreadableQuantityError(f"This is too long to be {_one(kind.name)}.", _write(kind))
    for sign, fraction in _VULGAR.items():
        written = re.sub(rf"(\d?){sign}", lambda m, f=fraction: f"{m[1]} {f}" if m[1] else f, written)  # type: ignore[misc]
    if not written:
        raise UnreadableQuantityError(f"No {kind.name} is written here.", _write(kind))
    clock = _CLOCK.match(written)
    if clock and kind.fits("minute"):
        return Q(int(clock[1]) * 60.0 + int(clock[2]), "minute")
    if _RANGE.match(written):
        raise UnreadableQuantityError(
            f"{text} is a range; one value is wanted here.", f"Write one, as in {kind.example}."
        )
    parts = _split(written, kind)
    total = _one_part(*parts[0], kind=kind, text=text)
    for number, unit in parts[1:]:
        further = _one_part(number, unit, kind=kind, text=text)
        if kind.unit != "minute" and kind.unit not in {"kilogram", "litre", "metre"}:
            raise UnreadableQuantityError(f"{text} reads as two numbers.", f"Write one, such as {kind.example}.")
        total = total + further.to(total.units)
    return total


def _split(text: str, kind: Kind) -> list[tuple[float, str]]:
    """Pairs of number and unit text; "1 h 15 min" gives two."""
    matches = list(_NUMBER.finditer(text))
    starts_well = matches and not text[: matches[0].start()].strip()
    if not starts_well:
        raise UnreadableQuantityError(
            f"{text} is not {_one(kind.name)}: it does not begin with a number.",
            _write(kind),
        )
    taken = [matches[0]]
    for match in matches[1:]:
        before = text[match.start() - 1]
        if before.isspace() or before in "hndsm":  # "1h15min"; but the 3 of "m3" belongs to the unit
            follows_unit = text[taken[-1].end() : match.start()].strip()
            if follows_unit and not re.fullmatch(r"\d.*", follows_unit):
                rest = text[match.end() :].strip()
                if before.isspace() or rest:
                    taken.append(match)
    ends = [match.start() for match in taken[1:]] + [len(text)]
    return [
        (_number(match.group(0), text, kind), text[match.end() : end].strip().rstrip(",").strip())
        for match, end in zip(taken, ends, strict=True)
    ]


def _number(text: str, whole_text: str, kind: Kind) -> float:
    digits = text.replace(",", "")
    if "/" in digits:
        found = re.fullmatch(r"([+-]?)(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)", digits)
        if found is None or float(found[4]) == 0:
            raise UnreadableQuantityError(f"{whole_text} is not {_one(kind.name)}.", _write(kind))
        value = float(found[2] or 0) + float(found[3]) / float(found[4])
        return -value if found[1] == "-" else value
    if "," in text and not re.fullmatch(r"[+-]?\d{1,3}(?:,\d{3})+(?:\.\d*)?", text):
        raise UnreadableQuantityError(
            f"{whole_text} has a comma that could be a decimal sign.",
            "Write decimals with a point, as in 2.5.",
        )
    value = float(digits)
    if not math.isfinite(value) or abs(value) > _LARGEST:
        raise UnreadableQuantityError(f"{whole_text} is larger than any {kind.name} this toolkit works with.")
    return value


def _one_part(number: float, unit_text: str, *, kind: Kind, text: str) -> Quantity:
    if re.match(r"e[+-]?\d", unit_text, re.IGNORECASE):
        raise UnreadableQuantityError(
            f"{text} is not {_one(kind.name)}.", f"Write the number out, as in {kind.example}."
        )
    if not unit_text:
        if kind.bare:
            return Q(number, kind.bare)
        raise UnreadableQuantityError(
            f"{text} has no unit.", f"Write {_one(kind.name)} with its unit, such as {kind.example}."
        )
    unit = _unit(unit_text, kind, text)
    if kind.unit == "percent_by_volume" and unit == "percent":
        unit = "percent_by_volume"
    if kind.unit == "attenuation_percent" and unit == "percent":
        unit = "attenuation_percent"
    if kind.name == "temperature" and unit_named(unit).dimensionality == unit_named("kelvin").dimensionality:
        return Q(number, unit)
    if kind.unit.startswith("delta_degree_Celsius"):
        unit = re.sub(r"\b(?:degC|degree_Celsius)\b", "delta_degree_Celsius", unit)
        unit = re.sub(r"\b(?:degF|degree_Fahrenheit)\b", "delta_degree_Fahrenheit", unit)
    if not kind.fits(unit):
        raise UnreadableQuantityError(
            f"{text} is {_was(unit)}; {_one(kind.name)} is wanted here.",
            _write(kind),
        )
    return Q(number, unit)


def _unit(unit_text: str, kind: Kind, text: str) -> str:
    """The registry's spelling of the unit that was written, possibly with one "per"."""
    sides = re.split(r"\s*(?:\bper\b|\ba\b|/)\s*", unit_text.strip(), maxsplit=1)
    lowered = " ".join(unit_text.casefold().split())
    plain = lowered.removesuffix("s")
    if plain in _TWO_SIZES:
        raise UnreadableQuantityError(
            f"{unit_text} in {text} could be of two sizes.",
            f"Write imperial {_TWO_SIZES[plain]} or US {_TWO_SIZES[plain]}.",
        )
    if lowered in _SPELLINGS:
        return _SPELLINGS[lowered]
    if len(sides) == 2 and sides[0] and sides[1]:
        return f"{_unit(sides[0], kind, text)} / ({_unit(sides[1], kind, text)})"
    for spelling in (unit_text, lowered.removesuffix("s"), lowered, lowered.replace(" ", "_")):
        if _UNIT_NAME.fullmatch(spelling) and not spelling.startswith("delta_") and registry.parse_unit_name(spelling):
            return str(unit_named(spelling))
    close = nearest(unit_text, [*_SPELLINGS, *_USUAL])
    remedy = f"Did you mean {close}?" if close else _write(kind)
    raise UnreadableQuantityError(f"{unit_text} in {text} is no unit that this toolkit knows.", remedy)
