"""Bake: dough of flour, water and leaven becomes loaves, which later steps can use."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from presenter.lesson.fields import Share, Temperature, Text, Thickness, Time, Volume, WholeNumber, Words
from presenter.lesson.fields import problem_sentence as sentence
from presenter.lesson.reading import SequenceNode, Written
from presenter.lesson.steps.step import Step, not_both

__all__ = ["SHAPES_OF_LOAF", "Bake"]

SHAPES_OF_LOAF = ("slab", "cylinder", "ball")


def _several(value: object) -> object:
    """One value alone as a list of one, which knows its place."""
    if isinstance(value, Written):
        alone = SequenceNode([value])
        alone.place = value.place
        return alone
    return value


def _shape(value: object) -> object:
    if isinstance(value, Written) and str(value).strip() not in SHAPES_OF_LOAF:
        raise sentence(
            f"{value} is no shape of loaf that this toolkit works with.",
            "Write slab (flat and wide), cylinder (long and round) or ball.",
        )
    return str(value).strip() if isinstance(value, Written) else value


class Bake(Step):
    """Bake the ingredients under ``with`` and ``water`` as loaves of one ``shape``, in an ``oven`` of some heat.

    Either ``until core``, one temperature or several (a loaf is taken out at each), or ``for`` a time. ``thickness`` is
    that of the baked loaf (the diameter of a round one); a ball's is worked out where it is not given. ``call it``
    names the loaf, or the loaves in the order of their temperatures.
    """

    with_: Words = Field(alias="with")
    water: Volume | None = None
    shape: Annotated[Literal["slab", "cylinder", "ball"], BeforeValidator(_shape)]
    thickness: Thickness | None = None
    oven: Temperature
    until_core: Annotated[tuple[Temperature, ...], BeforeValidator(_several)] = Field((), alias="until core")
    for_: Time | None = Field(None, alias="for")
    call_it: Words = Field(alias="call it")
    loaves: WholeNumber | None = None
    gas_in_the_crumb: Share | None = Field(None, alias="gas in the crumb")
    dough_at: Temperature | None = Field(None, alias="dough at")
    loses: Share | None = None
    in_: Text | None = Field(None, alias="in")

    @model_validator(mode="after")
    def _one_end(self) -> Self:
        cores = self.until_core or None
        not_both(cores, self.for_, "A loaf is baked until its core is hot enough or for a time: write one of the two.")
        if cores is None and self.for_ is None:
            raise sentence("The bake does not say when the loaf is done.", "Add until core: 96 degC, or for: 60 min.")
        named = len(self.call_it)
        if named != max(1, len(self.until_core)):
            raise sentence(
                f"A loaf is taken out at each of {len(self.until_core) or 1} times, and call it: holds {named}"
                f" {'name' if named == 1 else 'names'}.",
                "Give one name under call it: for each temperature under until core:.",
            )
        if len(self.until_core) > 1 and self.loaves is not None:
            raise sentence(
                "With several temperatures one loaf is taken out at each, so their number is known.",
                "Leave out loaves:.",
            )
        return self

    def bakes(self) -> tuple[Written, ...]:
        return self.call_it

    def names_given(self) -> tuple[tuple[str, Written], ...]:
        return ()  # loaves are no liquids

    def vessels(self) -> tuple[Written, ...]:
        return () if self.in_ is None else (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("water", "thickness", "oven", "until core", "for", "gas in the crumb", "dough at", "loses")
