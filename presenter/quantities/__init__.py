"""Quantities: text into a quantity, a quantity into words, and what a worked number is made of."""

from presenter.quantities.kinds import KINDS, Kind
from presenter.quantities.parsing import UnreadableQuantityError, quantity_from_text
from presenter.quantities.registry import Q, Quantity, registry, unit_named
from presenter.quantities.wording import give_or_take_in_words, in_words, said_aloud
from presenter.quantities.worked import Course, GiveOrTake, Origin, Withheld, WorkedNumber

__all__ = [
    "KINDS",
    "Course",
    "GiveOrTake",
    "Kind",
    "Origin",
    "Q",
    "Quantity",
    "UnreadableQuantityError",
    "Withheld",
    "WorkedNumber",
    "give_or_take_in_words",
    "in_words",
    "quantity_from_text",
    "registry",
    "said_aloud",
    "unit_named",
]
