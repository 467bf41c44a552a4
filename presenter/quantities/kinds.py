"""The kinds of quantity that a lesson can state, each with the one unit that the work is done in.

In: a kind's name. Out: its working unit, what an author may write for it, and an example to offer.
"""

from __future__ import annotations

from dataclasses import dataclass

from presenter.quantities.registry import registry, unit_named

__all__ = ["KINDS", "Kind", "kind_of_unit"]


@dataclass(frozen=True)
class Kind:
    """One kind of quantity: its name in words, its working unit, an example, and a number's own reading.

    ``bare`` is the unit that a number without a unit takes (a gravity of 1.048); empty where a unit is needed.
    """

    name: str
    unit: str
    example: str
    bare: str = ""

    def fits(self, unit: str) -> bool:
        """Whether a quantity in ``unit`` is of this kind."""
        return bool(unit_named(unit).dimensionality == unit_named(self.unit).dimensionality)


_ALL = (
    Kind("mass", "kilogram", "3 kg"),
    Kind("volume", "litre", "12 L"),
    Kind("temperature", "degree_Celsius", "66 degC"),
    Kind("temperature difference", "delta_degree_Celsius", "1 degC"),
    Kind("cooling rate", "delta_degree_Celsius / hour", "3 degC per hour"),
    Kind("time", "minute", "75 min"),
    Kind("boil-off rate", "litre / hour", "2.4 L per hour"),
    Kind("gravity", "gravity", "1.048", bare="gravity"),
    Kind("gravity difference", "gravity", "0.001", bare="gravity"),
    Kind("degrees Plato", "degree_Plato", "12 degPlato"),
    Kind("Brix reading", "degree_Plato", "12.5", bare="degree_Plato"),
    Kind("strength", "percent_by_volume", "5 percent"),
    Kind("attenuation", "attenuation_percent", "78 percent"),
    Kind("share", "percent", "80 percent"),
    Kind("pH", "pH", "5.4", bare="pH"),
    Kind("length", "metre", "90 m"),
    Kind("thickness", "millimetre", "90 mm"),
    Kind("room volume", "cubic_metre", "120 m3"),
    Kind("energy", "kilojoule", "500 kJ"),
    Kind("power", "watt", "3 kW"),
    Kind("heat capacity", "kilojoule / kilogram / delta_degree_Celsius", "0.84 kJ/kg/K"),
    Kind("water per mass", "litre / kilogram", "1 L/kg"),
    Kind("mass per volume", "gram / litre", "6 g/L"),
    Kind("carbonation", "volume_co2", "2.4 volumes", bare="volume_co2"),
    Kind("pressure", "bar", "2 bar"),
    Kind("pieces", "piece", "2", bare="piece"),
)
KINDS: dict[str, Kind] = {kind.name: kind for kind in _ALL}


def kind_of_unit(unit: str) -> str:
    """The kind's name that a reader would use for ``unit``, for messages; the unit itself if none fits."""
    wanted = registry.get_dimensionality(unit_named(unit))
    for kind in _ALL:
        if unit_named(kind.unit).dimensionality == wanted and not kind.name.endswith("difference"):
            return kind.name
    return unit
