"""What every number on any sheet is made of: its value, how sure we are, and where it comes from.

In: the values that ``working`` finds. Out: :class:`WorkedNumber`, :class:`Withheld` and :class:`Course`, frozen.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from presenter.problems import Place
from presenter.quantities.registry import Quantity
from presenter.quantities.wording import give_or_take_in_words, in_words, said_aloud

__all__ = ["Course", "GiveOrTake", "Origin", "Withheld", "WorkedNumber"]


@dataclass(frozen=True)
class Origin:
    """Where a stated number stands and what it rests on.

    ``kind`` is one of "lesson", "library", "package", "reading", "made". ``evidence`` is a note's id, "our choice",
    or words such as "house default". A "made" number was worked in another ``lesson``, under the id ``number``.
    """

    kind: str
    place: Place | None
    written: str
    evidence: str
    lesson: str = ""
    number: str = ""


@dataclass(frozen=True)
class GiveOrTake:
    """An expanded uncertainty (k = 2, about 95 %), in the unit of a difference, and what contributes most."""

    spread: Quantity
    largest: str
    shares: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class WorkedNumber:
    """One number of a lesson.

    ``id`` is ``step.name`` in words joined by hyphens; ``inputs`` pairs each argument of ``formula`` with the id
    of the number that filled it; a number that was stated rather than worked has an ``origin`` and no
    formula; one that a model of many equations found has inputs and neither.
    """

    id: str
    step: str
    label: str
    quantity: Quantity
    give_or_take: GiveOrTake | None = None
    formula: str = ""
    inputs: tuple[tuple[str, str], ...] = ()
    sources: tuple[str, ...] = ()
    rests_on: str = ""
    origin: Origin | None = None
    remark: str = ""
    on_sheets: bool = True

    @property
    def spread(self) -> Quantity | None:
        """The give-or-take as a quantity, or nothing."""
        return None if self.give_or_take is None else self.give_or_take.spread

    def words(self, measures: str = "metric") -> str:
        """The value as it is printed; a stated one keeps the decimals in which it was stated."""
        written = self.origin.written if self.origin is not None else ""
        return in_words(self.quantity, self.spread, measures, written=written)

    def spread_words(self, measures: str = "metric") -> str:
        """The give-or-take as it is printed, or an empty string."""
        return "" if self.spread is None else give_or_take_in_words(self.quantity, self.spread, measures)

    def say(self, measures: str = "metric") -> str:
        """The value as a presenter says it: without "about" where the author stated it."""
        stated = self.origin is not None and self.origin.kind == "lesson" and not self.formula
        return said_aloud(self.quantity, None if stated else self.spread, measures)


@dataclass(frozen=True)
class Withheld:
    """A number that is not given, and the reason in one sentence."""

    id: str
    step: str
    label: str
    reason: str
    sources: tuple[str, ...] = ()


@dataclass(frozen=True)
class Course:
    """A curve in time: ``times`` in minutes, ``values`` in ``unit``, an optional band, and its sources."""

    id: str
    step: str
    label: str
    times: tuple[float, ...]
    values: tuple[float, ...]
    unit: str
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()
    sources: tuple[str, ...] = ()
    remark: str = ""
    marks: tuple[tuple[float, str], ...] = field(default=())
