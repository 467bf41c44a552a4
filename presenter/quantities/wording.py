"""The only place that rounds a number or puts it into words, on paper and aloud.

In: a quantity and, where there is one, its give-or-take. Out: ``"66.0 °C"`` with a space that does not break,
``"± 0.4 °C"``, or ``"about sixty-six degrees"``.

The rule is our own: the give-or-take is rounded first, to two digits when it begins with 1 or 2 and to one digit
otherwise; the value is then rounded to match. It keeps within JCGM 100:2008, 7.2.6, which asks for at most two
digits of uncertainty and for values rounded to match them. No number is printed finer than a presenter could
read or weigh it, which :data:`PRINTED` states for each unit.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import cast

import num2words

from presenter.quantities.registry import Quantity, registry, unit_named

__all__ = [
    "MEASURES",
    "PRINTED",
    "Printed",
    "decimals_written",
    "give_or_take_in_words",
    "in_words",
    "said_aloud",
    "shown_in",
    "unit_sign",
]

NO_BREAK_SPACE = "\u00a0"


@dataclass(frozen=True)
class Printed:
    """How a unit is printed: its sign, the decimals beyond which nobody could read it, and its spoken names."""

    sign: str
    decimals: int
    one: str
    many: str


PRINTED: dict[str, Printed] = {
    "kilogram": Printed("kg", 2, "kilogram", "kilograms"),
    "gram": Printed("g", 1, "gram", "grams"),
    "milligram": Printed("mg", 1, "milligram", "milligrams"),
    "pound": Printed("lb", 2, "pound", "pounds"),
    "ounce": Printed("oz", 1, "ounce", "ounces"),
    "litre": Printed("L", 1, "litre", "litres"),
    "millilitre": Printed("mL", 0, "millilitre", "millilitres"),
    "cubic_metre": Printed("m³", 1, "cubic metre", "cubic metres"),
    "metre ** 3": Printed("m³", 1, "cubic metre", "cubic metres"),
    "us_gallon": Printed("US gal", 2, "US gallon", "US gallons"),
    "us_quart": Printed("US qt", 2, "US quart", "US quarts"),
    "us_fluid_ounce": Printed("US fl oz", 1, "US fluid ounce", "US fluid ounces"),
    "imperial_gallon": Printed("imp gal", 2, "imperial gallon", "imperial gallons"),
    "imperial_pint": Printed("imp pt", 1, "imperial pint", "imperial pints"),
    "imperial_fluid_ounce": Printed("imp fl oz", 1, "imperial fluid ounce", "imperial fluid ounces"),
    "teaspoon": Printed("tsp", 1, "teaspoon", "teaspoons"),
    "tablespoon": Printed("tbsp", 1, "tablespoon", "tablespoons"),
    "ale_gallon": Printed("ale gal", 2, "ale gallon", "ale gallons"),
    "degree_Celsius": Printed("°C", 1, "degree", "degrees"),
    "degree_Fahrenheit": Printed("°F", 0, "degree Fahrenheit", "degrees Fahrenheit"),
    "delta_degree_Celsius": Printed("°C", 1, "degree", "degrees"),
    "delta_degree_Fahrenheit": Printed("°F", 1, "degree Fahrenheit", "degrees Fahrenheit"),
    "delta_degree_Celsius / hour": Printed("°C per hour", 1, "degree an hour", "degrees an hour"),
    "second": Printed("s", 0, "second", "seconds"),
    "minute": Printed("min", 0, "minute", "minutes"),
    "hour": Printed("h", 1, "hour", "hours"),
    "day": Printed("days", 0, "day", "days"),
    "week": Printed("weeks", 0, "week", "weeks"),
    "gravity": Printed("", 3, "", ""),
    "gravity_point": Printed("points", 0, "point of gravity", "points of gravity"),
    "degree_Plato": Printed("°P", 1, "degree Plato", "degrees Plato"),
    "percent_by_volume": Printed("% vol", 1, "percent", "percent"),
    "attenuation_percent": Printed("%", 0, "percent", "percent"),
    "percent": Printed("%", 0, "percent", "percent"),
    "pH": Printed("", 1, "", ""),
    "kilojoule": Printed("kJ", 0, "kilojoule", "kilojoules"),
    "megajoule": Printed("MJ", 1, "megajoule", "megajoules"),
    "watt": Printed("W", 0, "watt", "watts"),
    "kilowatt": Printed("kW", 1, "kilowatt", "kilowatts"),
    "metre": Printed("m", 1, "metre", "metres"),
    "millimetre": Printed("mm", 0, "millimetre", "millimetres"),
    "inch": Printed("in", 1, "inch", "inches"),
    "millimetre ** 2 / second": Printed("mm²/s", 2, "square millimetre a second", "square millimetres a second"),
    "foot": Printed("ft", 0, "foot", "feet"),
    "litre / hour": Printed("L per hour", 1, "litre an hour", "litres an hour"),
    "litre / kilogram": Printed("L/kg", 2, "litre a kilogram", "litres a kilogram"),
    "gram / litre": Printed("g/L", 1, "gram a litre", "grams a litre"),
    "kilojoule / kilogram / delta_degree_Celsius": Printed(
        "kJ/(kg °C)", 2, "kilojoule per kilogram and degree", "kilojoules per kilogram and degree"
    ),
    "volume_co2": Printed("volumes", 1, "volume of gas", "volumes of gas"),
    "pasteurisation_unit": Printed("PU", 0, "pasteurisation unit", "pasteurisation units"),
    "cell / millilitre": Printed("million cells/mL", 0, "million cells a millilitre", "million cells a millilitre"),
    "log_reduction": Printed("log", 1, "tenfold cut", "tenfold cuts"),
    "alcohol_unit": Printed("units", 1, "unit", "units"),
    "bar": Printed("bar", 1, "bar", "bar"),
    "psi": Printed("psi", 0, "psi", "psi"),
    "piece": Printed("", 0, "", ""),
    "kilopascal": Printed("kPa", 0, "kilopascal", "kilopascals"),
    "kilojoule / delta_degree_Celsius": Printed("kJ/°C", 1, "kilojoule a degree", "kilojoules a degree"),
    "kilojoule / kilogram": Printed("kJ/kg", 0, "kilojoule a kilogram", "kilojoules a kilogram"),
    "kilogram / litre": Printed("kg/L", 3, "kilogram a litre", "kilograms a litre"),
    "ppm": Printed("ppm", 0, "part in a million", "parts in a million"),
    "gram / piece": Printed("g each", 1, "gram each", "grams each"),
    "milligram / litre": Printed("mg/L", 2, "milligram a litre", "milligrams a litre"),
    "milligram / kilogram": Printed("mg/kg", 0, "milligram a kilogram", "milligrams a kilogram"),
    "millimole": Printed("mmol", 1, "millimole", "millimoles"),
    "millimole / litre": Printed("mmol/L", 1, "millimole a litre", "millimoles a litre"),
    "millimole / litre / pH": Printed(
        "mmol/L for each pH", 1, "millimole a litre for each pH", "millimoles a litre for each pH"
    ),
    "dimensionless": Printed("", 2, "", ""),
    "cell / gram": Printed("cells/g", 0, "cell a gram", "cells a gram"),
    "cell": Printed("cells", 0, "cell", "cells"),
    "litre_degree / kilogram": Printed("L°/kg", 0, "litre-degree a kilogram", "litre-degrees a kilogram"),
}

# The unit a reader of each system of measures is shown, for each working unit. Temperatures in US measures only.
MEASURES: dict[str, dict[str, str]] = {
    "metric": {},
    "us": {
        "kilogram": "pound", "gram": "ounce", "litre": "us_gallon", "millilitre": "us_fluid_ounce",
        "degree_Celsius": "degree_Fahrenheit", "delta_degree_Celsius": "delta_degree_Fahrenheit",
        "metre": "foot", "millimetre": "inch", "bar": "psi", "litre / hour": "us_gallon / hour",
        "delta_degree_Celsius / hour": "delta_degree_Fahrenheit / hour", "litre / kilogram": "us_quart / pound",
    },
    "imperial": {
        "kilogram": "pound", "gram": "ounce", "litre": "imperial_gallon", "millilitre": "imperial_fluid_ounce",
        "metre": "foot", "millimetre": "inch", "litre / hour": "imperial_gallon / hour",
        "litre / kilogram": "imperial_pint / pound",
    },
}  # fmt: skip
PRINTED["us_gallon / hour"] = Printed("US gal per hour", 2, "US gallon an hour", "US gallons an hour")
PRINTED["imperial_gallon / hour"] = Printed("gal per hour", 2, "gallon an hour", "gallons an hour")
PRINTED["delta_degree_Fahrenheit / hour"] = Printed(
    "°F per hour", 0, "degree Fahrenheit an hour", "degrees Fahrenheit an hour"
)
PRINTED["us_quart / pound"] = Printed("US qt/lb", 2, "US quart a pound", "US quarts a pound")
PRINTED["imperial_pint / pound"] = Printed("pt/lb", 2, "pint a pound", "pints a pound")


_BY_UNIT = {str(unit_named(unit)): printed for unit, printed in PRINTED.items()}


def _printed(unit: str) -> Printed:
    found = _BY_UNIT.get(unit) or _BY_UNIT.get(str(unit_named(unit)))
    if found is None:
        raise ValueError(f"the unit {unit} has no printed form; give it one in quantities/wording.py")
    return found


def unit_sign(unit: str) -> str:
    """The sign of ``unit`` as it is printed ("°C"), or its name in words where none is printed."""
    found = _BY_UNIT.get(str(unit_named(unit)))
    return found.sign if found is not None else unit.replace("_", " ")


GRAMS_KEPT = 30.0  # a smaller mass is shown in grams in every system of measures: ounces would round it away


def shown_in(quantity: Quantity, measures: str = "metric") -> Quantity:
    """``quantity`` in the unit that a reader of ``measures`` is shown, small amounts in the small unit."""
    unit = str(quantity.units)
    if unit == "minute" and abs(quantity.magnitude) >= 48 * 60:
        return quantity.to("day")
    if unit == "minute" and abs(quantity.magnitude) >= 180:
        return quantity.to("hour")
    if unit == "kilojoule" and abs(quantity.magnitude) >= 1000:
        return quantity.to("megajoule")
    if unit == "kilogram" and abs(quantity.magnitude) < 1:
        quantity, unit = quantity.to("gram"), "gram"
    if unit == "litre" and abs(quantity.magnitude) < 1:
        quantity, unit = quantity.to("millilitre"), "millilitre"
    target = MEASURES[measures].get(unit)
    if target is None or (unit == "gram" and abs(quantity.magnitude) < GRAMS_KEPT):
        return quantity
    converted = quantity.to(target)
    if target == "pound" and abs(converted.magnitude) < 1:
        return quantity.to("ounce")
    if target in {"us_gallon", "imperial_gallon"} and abs(converted.magnitude) < 0.5:
        return quantity.to(target.replace("gallon", "fluid_ounce"))
    return converted


def _difference_unit(unit: str) -> str:
    return {"degree_Celsius": "delta_degree_Celsius", "degree_Fahrenheit": "delta_degree_Fahrenheit"}.get(unit, unit)


def _spread_decimals(spread: float) -> int:
    """Decimals of a give-or-take rounded to two digits when it begins with 1 or 2, to one otherwise."""
    exponent = math.floor(math.log10(spread))
    first_digits = spread / 10.0**exponent
    if round(first_digits, 1) >= 10:
        exponent, first_digits = exponent + 1, 1.0
    return 1 - exponent if first_digits < 2.95 else -exponent


def decimals_for(unit: str, spread: float | None) -> int:
    """Decimals to print for a value in ``unit``: no finer than its give-or-take, nor than anyone can read."""
    finest = _printed(unit).decimals
    if spread is None or not 1e-15 < spread < math.inf:  # far below any last digit there is nothing to match
        return finest
    return min(finest, _spread_decimals(spread))


def _rounded(value: float, decimals: int) -> str:
    rounded = round(value, decimals) + 0.0
    return f"{rounded:.{max(0, decimals)}f}".replace("-", "\u2212")


def _magnitudes(quantity: Quantity, spread: Quantity | None, measures: str) -> tuple[float, float | None, str]:
    shown = shown_in(quantity, measures)
    unit = str(shown.units)
    give = None if spread is None else float(spread.to(_difference_unit(unit)).magnitude)
    value = float(shown.magnitude)
    if unit == "cell / millilitre":
        return value / 1e6, None if give is None else give / 1e6, unit
    return value, give, unit


def decimals_written(written: str) -> int | None:
    """Decimals of the one number in what an author wrote; None where there is no such number or several."""
    found = re.findall(r"\d+(?:\.(\d+))?", written)
    return len(found[0]) if len(found) == 1 else None


def in_words(quantity: Quantity, spread: Quantity | None = None, measures: str = "metric", *, written: str = "") -> str:
    """``quantity`` as it is printed, rounded to match its give-or-take, sign and number never split over lines.

    A quantity that somebody stated keeps the decimals that were ``written``, where its unit is printed as it was.

    >>> in_words(Q(73.46, "degC"), Q(1.1, "delta_degC")).replace(NO_BREAK_SPACE, " ")
    '73.5 °C'
    """
    value, give, unit = _magnitudes(quantity, spread, measures)
    printed = _printed(unit)
    decimals = decimals_for(unit, give)
    stated = decimals_written(written)
    if stated is not None and stated < decimals and abs(round(value, stated) - value) < 1e-9:
        decimals = stated
    text = _rounded(value, decimals)
    sign = printed.sign
    if unit == "day":
        sign = "day" if text == "1" else "days"
    return f"{text}{NO_BREAK_SPACE}{sign}".replace(" ", NO_BREAK_SPACE) if sign else text


def give_or_take_in_words(quantity: Quantity, spread: Quantity, measures: str = "metric") -> str:
    """The give-or-take of ``quantity`` as it is printed after the value, or "under half the last digit" in figures.

    >>> give_or_take_in_words(Q(73.46, "degC"), Q(1.14, "delta_degC")).replace(NO_BREAK_SPACE, " ")
    '± 1.1 °C'
    """
    _, give, unit = _magnitudes(quantity, spread, measures)
    if give is None:
        raise ValueError("a give-or-take is needed to put it into words")
    printed = _printed(unit)
    decimals = decimals_for(unit, give)
    step = 10.0**-decimals
    text = _rounded(max(step, math.floor(give / step + 0.5 + 1e-9) * step) if give > 0 else 0.0, decimals)
    words = f"±{NO_BREAK_SPACE}{text}"
    sign = printed.sign if printed.sign not in {"day", "days"} else "days"
    return f"{words}{NO_BREAK_SPACE}{sign}".replace(" ", NO_BREAK_SPACE) if sign else words


def _number_words(value: float, decimals: int) -> str:
    rounded = round(value, max(0, decimals)) + 0.0
    if decimals < 0:
        rounded = round(value, decimals)
    if rounded < 0:
        return f"minus {_number_words(-rounded, decimals)}"
    if rounded == int(rounded):
        return cast(str, num2words.num2words(int(rounded)))
    return cast(str, num2words.num2words(rounded)).replace(" zero", " oh")


def _thousandths(value: float) -> int:
    """A gravity in whole thousandths, rounded as it is printed, so that print and voice never differ at a tie."""
    return round(round(value, 3) * 1000)


def _gravity_words(value: float) -> str:
    """A gravity as brewers say it: 1.048 is "ten forty-eight", 1.005 "ten oh five", 0.998 "nine ninety-eight"."""
    first, last = divmod(_thousandths(value), 100)
    opening = cast(str, num2words.num2words(first))
    if last == 0:
        return f"{opening} hundred" if first != 10 else "one thousand"
    if last < 10:
        return f"{opening} oh {num2words.num2words(last)}"
    return f"{opening} {num2words.num2words(last)}"


def _in_halves(value: float, printed: Printed) -> str:
    """A value to the nearest half: "seventy-three and a half degrees", "half a degree", "minus three degrees"."""
    half = round(abs(value) * 2) / 2
    whole = math.floor(half)
    minus = "minus " if value < 0 and half > 0 else ""
    if half == 0.5:
        return f"{minus}half a {printed.one}"
    number = cast(str, num2words.num2words(whole))
    tail = " and a half" if half != whole else ""
    return f"{minus}{number}{tail} {printed.one if half == 1 else printed.many}"


def said_aloud(quantity: Quantity, spread: Quantity | None = None, measures: str = "metric") -> str:
    """``quantity`` as a presenter says it: "about seventy-three and a half degrees", "ten sixty-five".

    Numbers worked out with a give-or-take wider than their last printed digit are said with "about".
    """
    value, give, unit = _magnitudes(quantity, spread, measures)
    printed = _printed(unit)
    half_digit = 0.5 * 10.0 ** -decimals_for(unit, give)
    about = "about " if give is not None and give >= half_digit * (1 - 1e-9) else ""
    if unit == "gravity" and abs(value) < 0.5:  # a drop, or a give-or-take
        points = _thousandths(value)
        return f"{about}{num2words.num2words(points)} {'point' if points == 1 else 'points'}"
    if unit == "gravity":
        return f"{about}{_gravity_words(value)}"
    decimals = decimals_for(unit, give)
    if unit in {"degree_Celsius", "delta_degree_Celsius"} and give is not None and give >= 0.5:
        return f"{about}{_in_halves(value, printed)}"
    if unit == "minute" and about:
        decimals = min(decimals, 0)
    words = _number_words(value, decimals)
    name = printed.one if words == "one" else printed.many
    if unit == "pH":
        return f"{about}p H {words}"
    return f"{about}{words} {name}".rstrip()


def registry_unit_signs() -> dict[str, str]:
    """Every printed unit and its sign, for the numbers sheet's key."""
    return {unit: printed.sign for unit, printed in PRINTED.items() if printed.sign and unit in registry}
