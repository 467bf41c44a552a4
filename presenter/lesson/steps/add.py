"""Add: honey, sugar, fruit, syrup, bread, herbs or spices go into a liquid, or into water to make one."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import Field, model_validator

from presenter.lesson.amounts import StatedAmount
from presenter.lesson.fields import Temperature, Text, Words, given_as, problem_sentence
from presenter.lesson.reading import Written
from presenter.lesson.steps.mash import MashWater
from presenter.lesson.steps.step import Step, not_both, slug

__all__ = ["Add"]


class Add(Step):
    """Put the ingredients under ``with`` into ``what``; ``amount`` where not all of one ingredient goes in.

    In place of ``what``, ``water`` and ``call it`` make a new liquid, ``in`` a vessel; the water is cold unless
    its heat is given, as in ``water: {amount: 8 L, at: 45 degC}``. ``at`` is the temperature of what goes in; where it
    is not given, the liquid keeps its own.
    """

    what: Text | None = None
    with_: Words = Field(alias="with")
    amount: StatedAmount | None = None
    at: Temperature | None = None
    water: Annotated[MashWater | None, given_as(alone="amount")] = None
    call_it: Text | None = Field(None, alias="call it")
    in_: Text | None = Field(None, alias="in")

    @model_validator(mode="after")
    def _one_place_and_one_amount(self) -> Self:
        not_both(
            self.what, self.water, "Ingredients go into a liquid under what: or into fresh water: write one of them."
        )
        not_both(self.what, self.call_it, "A liquid keeps its name when something goes in: leave out call it:.")
        if self.what is None and (self.water is None or self.call_it is None):
            raise problem_sentence(
                "The step does not say what the ingredients go into.",
                "Add what: with the name of a liquid, or water: and call it: to make one.",
            )
        if self.amount is not None and len(self.with_) != 1:
            raise problem_sentence(
                "One amount stands here for several ingredients.", "Add them in steps of their own, one to a step."
            )
        return self

    @property
    def liquid(self) -> Written:
        """The name of the liquid that the ingredients go into."""
        named = self.what or self.call_it
        assert named is not None
        return named

    def uses(self) -> tuple[Written, ...]:
        return () if self.what is None else (self.what,)

    def makes(self) -> tuple[Written, ...]:
        return () if self.call_it is None else (Written(slug(self.call_it), self.call_it.place),)

    def vessels(self) -> tuple[Written, ...]:
        return () if self.in_ is None else (self.in_,)

    def figures(self) -> tuple[str, ...]:
        return ("amount", "at", "water", "water heat")
