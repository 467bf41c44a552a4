"""The one unit registry, built from ``units.txt`` alone.

In: nothing. Out: ``registry``, and ``Q(value, unit)`` to make a quantity in it.
"""

from __future__ import annotations

from importlib.resources import as_file, files
from typing import TYPE_CHECKING, Any, TypeAlias

import pint

__all__ = ["Q", "Quantity", "registry", "unit_named"]

if TYPE_CHECKING:
    Quantity: TypeAlias = pint.Quantity[Any]
    _Registry: TypeAlias = pint.UnitRegistry[Any]
else:
    Quantity = pint.Quantity
    _Registry = pint.UnitRegistry

_DEFINITIONS = files("presenter.quantities").joinpath("units.txt")

with as_file(_DEFINITIONS) as _path:
    registry: _Registry = pint.UnitRegistry(str(_path), cache_folder=None)


def Q(value: float, unit: str) -> Quantity:  # noqa: N802 - the trade sign for a quantity
    """A quantity of ``value`` in ``unit``, in the project's own registry.

    >>> Q(66, "degC").to("degF").magnitude.__round__(1)
    150.8
    """
    return registry.Quantity(value, unit_named(unit))


_units: dict[str, pint.Unit] = {}


def unit_named(name: str) -> pint.Unit:
    """The unit called ``name``, looked up once."""
    found = _units.get(name)
    if found is None:
        found = _units[name] = registry.Unit(name)
    return found
