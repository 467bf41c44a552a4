"""Prime and bottle: sugar that makes a finished drink lively, and the container that has to hold the gas."""

from __future__ import annotations

from pydantic import Field

from presenter.lesson.fields import Carbonation, Gravity, Model, Temperature, Text, Time
from presenter.lesson.reading import Written
from presenter.lesson.steps.step import Step

__all__ = ["GravityReading", "PrimeAndBottle"]


class GravityReading(Model):
    """One reading of the drink's gravity, ``after`` so long since the yeast went in, of a sample ``at`` some warmth."""

    gravity: Gravity
    after: Time
    at: Temperature | None = None


class PrimeAndBottle(Step):
    """Shut ``what`` in a ``container``, with the sugar under ``with`` for ``gas`` volumes of carbon dioxide.

    ``stored at`` is the warmest place the bottles will stand in; ``was never above`` the warmest the drink has been
    since it fermented (the heat of its fermenting where nothing is said). ``readings`` are the last gravities read:
    the sugar's weight is withheld until two that are days apart show the drink finished.
    """

    what: Text
    container: Text
    stored_at: Temperature = Field(alias="stored at")
    with_: Text | None = Field(None, alias="with")
    gas: Carbonation | None = None
    was_never_above: Temperature | None = Field(None, alias="was never above")
    readings: tuple[GravityReading, ...] = ()
    in_: Text | None = Field(None, alias="in")

    def uses(self) -> tuple[Written, ...]:
        return (self.what,)

    def vessels(self) -> tuple[Written, ...]:
        return () if self.in_ is None else (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("gas", "stored at", "was never above", "readings")
