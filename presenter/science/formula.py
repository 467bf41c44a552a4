"""What a formula of this project is: one short cited function that works in named units.

In: a plain function of numbers, with the unit of each argument and of the answer. Out: a :class:`Formula`,
called with quantities at the door (dimensions checked, converted, range checked) or with plain numbers
through ``plain`` inside a solver or a walk, where the units are the ones it names.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import pint

from presenter.problems import BrewingPresenterError
from presenter.quantities import Q, Quantity, unit_named
from presenter.quantities.kinds import kind_of_unit

__all__ = ["FORMULAS", "Formula", "OutOfRangeError", "WrongUnitError", "formula"]


class WrongUnitError(BrewingPresenterError):
    """An argument has another dimension than the formula takes; the message names it."""


@dataclass
class OutOfRangeError(BrewingPresenterError):
    """A value lies outside a formula's stated range. The formula refuses; it never clips."""

    formula: str
    argument: str
    value: float
    unit: str
    low: float
    high: float
    reason: str = ""

    def __str__(self) -> str:
        name = self.argument.replace("_", " ")
        if self.reason:
            return self.reason
        return (
            f"{name} is {self.value:.6g} {self.unit}; {self.formula} holds from {self.low:.6g} to {self.high:.6g}"
            f" {self.unit}"
        )


@dataclass(frozen=True)
class Formula:
    """One formula: its function, the unit of each argument, the unit it gives, its valid range and its error.

    ``error`` is the expanded uncertainty (k = 2) that the formula adds of itself, in the unit of a difference
    of what it gives; ``relative_error`` the same as a share of the answer. ``rests_on`` says in words what an
    uncited formula rests on ("mass balance", "common practice").
    """

    name: str
    plain: Callable[..., Any]
    takes: Mapping[str, str]
    gives: str
    valid: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    error: float = 0.0
    relative_error: float = 0.0
    error_because: str = ""
    rests_on: str = ""

    def __call__(self, *args: Quantity, **kwargs: Quantity) -> Quantity:
        given = dict(zip(self.takes, args, strict=False)) | kwargs
        numbers = {name: self._number(name, quantity) for name, quantity in given.items()}
        self.check(**numbers)
        return Q(self.plain(**numbers), self.gives)

    def _number(self, name: str, quantity: Quantity) -> float:
        unit = self.takes.get(name)
        if unit is None:
            raise WrongUnitError(f"{self.name} takes no {name}; it takes {', '.join(self.takes)}")
        if not isinstance(quantity, pint.Quantity):
            raise WrongUnitError(f"{self.name}: {name} must be a quantity in {unit}, not a bare number")
        if unit_named(unit).dimensionality != quantity.dimensionality:
            raise WrongUnitError(
                f"{self.name}: {name} is a {kind_of_unit(unit)},"
                f" but {quantity:~P} is a {kind_of_unit(str(quantity.units))}"
            )
        try:
            return float(quantity.to(unit).magnitude)
        except pint.DimensionalityError:  # a reading on a temperature scale where a difference is meant, or the reverse
            meant, given = ("a difference of temperature", "a temperature")
            if not unit.startswith("delta_"):
                meant, given = given, meant
            raise WrongUnitError(f"{self.name}: {name} is {meant}, but {quantity:~P} is {given}") from None

    def check(self, **numbers: float) -> None:
        """Raise OutOfRangeError if a number, in the formula's own unit, lies outside its stated range."""
        for name, (low, high) in self.valid.items():
            value = numbers.get(name)
            if value is not None and not low <= value <= high:
                raise OutOfRangeError(self.name, name, value, self.takes[name], low, high)

    @property
    def title(self) -> str:
        """The first line of the docstring: what the formula gives, in words."""
        return (self.plain.__doc__ or "").strip().splitlines()[0].rstrip(".")

    @property
    def sources(self) -> tuple[str, ...]:
        """The source keys under References, in order."""
        return tuple(re.findall(r"^\s*- `([a-z0-9_]+)`", self.section("References"), flags=re.MULTILINE))

    def section(self, heading: str) -> str:
        """The text of one section of the docstring, or an empty string."""
        lines = inspect.cleandoc(self.plain.__doc__ or "").splitlines()
        taken: list[str] = []
        inside = False
        for index, line in enumerate(lines):
            following = lines[index + 1] if index + 1 < len(lines) else ""
            if following.strip() and set(following.strip()) == {"-"}:
                inside = line.strip() == heading
                continue
            if inside and not (line.strip() and set(line.strip()) == {"-"}):
                taken.append(line)
        return "\n".join(taken).strip()


FORMULAS: dict[str, Formula] = {}


def formula(
    *,
    gives: str,
    valid: Mapping[str, tuple[float, float]] | None = None,
    error: float = 0.0,
    relative_error: float = 0.0,
    error_because: str = "",
    rests_on: str = "",
    **takes: str,
) -> Callable[[Callable[..., Any]], Formula]:
    """Make a function of plain numbers into a :class:`Formula` and enter it in :data:`FORMULAS`.

    ``takes`` names the unit of each argument, in the order of the function's own arguments.
    """

    def made(function: Callable[..., Any]) -> Formula:
        arguments = list(inspect.signature(function).parameters)
        if arguments != list(takes):
            raise TypeError(f"{function.__name__}: units are given for {list(takes)}, arguments are {arguments}")
        new = Formula(
            name=function.__name__,
            plain=function,
            takes={name: str(unit_named(unit)) for name, unit in takes.items()},
            gives=str(unit_named(gives)),
            valid=dict(valid or {}),
            error=error,
            relative_error=relative_error,
            error_because=error_because,
            rests_on=rests_on,
        )
        if new.name in FORMULAS:
            raise TypeError(f"two formulas are called {new.name}")
        FORMULAS[new.name] = new
        return new

    return made
