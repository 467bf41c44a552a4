"""One walk through a lesson's steps: the ledger, the vessels, and the ways a step states its figures.

In: a checked lesson and how this walk is shifted or held. Out: the ledger's entries and the Problems met.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from presenter.lesson.fields import Stated
from presenter.lesson.house import HOUSE_VALUES, spread_of, stated
from presenter.lesson.model import KitItem, Lesson
from presenter.lesson.reading import Written
from presenter.lesson.steps import Step, slug
from presenter.problems import Place, Problem
from presenter.quantities import KINDS, Course, Origin
from presenter.working.baked import Baked
from presenter.working.ledger import Figure, Ledger
from presenter.working.vessels import StepProblemError, Vessels

__all__ = ["Comparison", "Walk", "drink_called", "wort_called"]

INSTRUMENT_FOR = {"mass": "scales", "volume": "jug", "temperature": "thermometer", "gravity": "hydrometer"}
_IN_WORDS = {"scales": "the scales", "jug": "the jug", "thermometer": "the thermometer", "hydrometer": "the hydrometer"}


_SPEAKS = ("wort", "ale", "beer", "runnings", "rinsings", "liquor", "drink", "mead", "kvass", "chicha", "water")


def wort_called(name: str) -> str:
    """A liquid before the yeast, in words: "strong" is the strong wort, "farm ale" says enough."""
    return name if name.casefold().split()[-1] in _SPEAKS else f"{name} wort"


def drink_called(name: str) -> str:
    """A fermented liquid, in words: "strong" is the strong ale, "bread kvass" says enough."""
    return name if name.casefold().split()[-1] in _SPEAKS else f"{name} ale"


@dataclass(frozen=True)
class Comparison:
    """What the author expects at a step beside what was worked out: the ids of the two numbers."""

    step: str
    expected: str
    worked: str
    place: Place


@dataclass
class Walk:
    """The state of one walk.

    ``wished`` are the planned kilograms of each ingredient whose amount is a wish; ``brought`` what other lessons bake.
    """

    lesson: Lesson
    ledger: Ledger
    vessels: Vessels = field(default_factory=Vessels)
    problems: list[Problem] = field(default_factory=list)
    comparisons: list[Comparison] = field(default_factory=list)
    failed: set[str] = field(default_factory=set)
    courses: dict[str, Course] = field(default_factory=dict)
    wished: Mapping[str, float] = field(default_factory=dict)
    wish_remarks: Mapping[str, str] = field(default_factory=dict)
    brought: Mapping[str, Baked] = field(default_factory=dict)
    step: Step | None = None
    index: int = 0

    @property
    def id(self) -> str:
        """The id of the step in hand."""
        assert self.step is not None
        return self.step.id

    def refuse(
        self, stated_at: Stated | Written | None, field_name: str, wrong: str, remedy: str = ""
    ) -> StepProblemError:
        """A Problem with the step in hand, at the place of what the author wrote."""
        assert self.step is not None
        where = f"steps[{self.index + 1}].{field_name}"
        if isinstance(stated_at, Stated):
            return StepProblemError(Problem(stated_at.place, where, stated_at.written, wrong, remedy))
        if isinstance(stated_at, Written):
            return StepProblemError(Problem(stated_at.place, where, str(stated_at), wrong, remedy))
        return StepProblemError(Problem(self.step.name.place, where, "", wrong, remedy))

    def author(
        self,
        name: str,
        label: str,
        value: Stated,
        *,
        evidence: str = "",
        step: str | None = None,
        exact: bool = False,
        influences: Mapping[str, float] | None = None,
        on_sheets: bool = True,
    ) -> Figure:
        """A figure that the author stated, in the working unit of its kind, with what may be off about it."""
        number = value.number()
        may_be_off = dict(influences or {})
        instrument = self.lesson.instruments.get(INSTRUMENT_FOR.get(value.kind, ""))
        if instrument is not None and not exact:
            may_be_off[_IN_WORDS[instrument.name]] = spread_of(instrument, number)
        said = evidence or (self.step.evidence_for(name) if self.step is not None else "") or "the author's own figure"
        origin = Origin("lesson", value.place, value.written, said)
        return self.ledger.state(
            step or self.id, slug(name), label, number, KINDS[value.kind].unit, origin=origin, influences=may_be_off,
            on_sheets=on_sheets,
        )  # fmt: skip

    def house(self, name: str) -> Figure:
        """A value of the house (the lesson's own wins), kept once under the lesson's numbers."""
        number_id = f"lesson.{slug(name)}"
        if number_id in self.ledger.entries:
            return self.ledger.again(number_id)
        known = self.lesson.house.values[name]
        value, layer, rests_on, sources = known.value, known.layer, known.rests_on, known.sources
        own = next((text for key, text in self.lesson.file.house.items() if str(key) == name), None)
        if own is not None:
            read = stated(own, (HOUSE_VALUES[name],), f"house.{name}", [])
            if read is not None:
                value, layer, rests_on, sources = read, "lesson", "the author's own figure", ()
        origin = Origin(layer, value.place if layer != "package" else None, value.written, rests_on)
        return self.ledger.state(
            "lesson", slug(name), f"{name}, for the whole lesson", value.number(), KINDS[HOUSE_VALUES[name]].unit,
            origin=origin, influences={name: known.within}, sources=sources, rests_on=rests_on,
        )  # fmt: skip

    def of_vessel(self, vessel: str, field_name: str, house_name: str) -> Figure:
        """A figure of one vessel ("boils away", "cools"), or the house's where the kit does not say."""
        item = self.kit(vessel)
        value: Stated | None = getattr(item, field_name.replace(" ", "_"), None) if item is not None else None
        if value is None:
            return self.house(house_name)
        number_id = f"lesson.{slug(vessel)}-{slug(field_name)}"
        if number_id in self.ledger.entries:
            return self.ledger.again(number_id)
        within = self.lesson.house.values[house_name].within
        spread = min(within, abs(value.number()) * 0.25) if value.kind != "temperature" else within
        origin = Origin("lesson", value.place, value.written, "the author's own figure for this vessel")
        return self.ledger.state(
            "lesson", f"{slug(vessel)}-{slug(field_name)}", f"{vessel}: {field_name}", value.number(),
            KINDS[value.kind].unit, origin=origin, influences={f"{vessel}: {field_name}": spread},
        )  # fmt: skip

    def kit(self, vessel: str) -> KitItem | None:
        """The kit's entry for a vessel, or nothing."""
        return next((item for name, item in self.lesson.file.kit.items() if str(name) == vessel), None)

    def must_fit(self, litres: float, vessel: str, at: Stated | Written | None, field_name: str, what: str) -> None:
        """Refuse more than a vessel holds."""
        item = self.kit(vessel)
        if item is None or item.holds is None or not self.ledger.watchful:
            return
        room = item.holds.number()
        if litres > room:
            raise self.refuse(
                at, field_name, f"{what} comes to {litres:.1f} L; the {vessel} holds {room:g} L.",
                "Use less, or a larger vessel.",
            )  # fmt: skip

    def must_go_into(self, name: str, litres: float, vessel: Written | None, field_name: str, what: str) -> None:
        """Refuse to move a liquid into a vessel that is too small, or that holds another liquid."""
        if vessel is None or not self.ledger.watchful:
            return
        for other in self.vessels.liquids.values():
            if other.name != name and other.vessel == str(vessel):
                wrong = f"The {vessel} holds the {other.name.replace('-', ' ')} already."
                raise self.refuse(vessel, field_name, wrong, "Use another vessel, or join the two on purpose.")
        self.must_fit(litres, str(vessel), vessel, field_name, what)

    def must_lie(
        self, stated_at: Stated, field_name: str, figure: Figure, low: float, high: float, what: str, words: str
    ) -> None:
        """Refuse a temperature that a step of this kind cannot have. ``what`` reads on: "beer ferments at"."""
        if not self.ledger.watchful or low <= figure.value <= high:
            return
        tenth = stated_at.number() / 10
        remedy = f"Did you mean {tenth:.1f} degC?" if low <= tenth <= high and figure.value > high else ""
        wrong = f"{stated_at.written} is outside the range for this step: {what} {words}."
        raise self.refuse(stated_at, field_name, wrong, remedy)

    def must_be_some(self, stated_at: Stated, field_name: str, figure: Figure) -> None:
        """Refuse an amount of nothing."""
        if self.ledger.watchful and figure.value <= 0:
            raise self.refuse(stated_at, field_name, f"{stated_at.written} is nothing at all.", "Write an amount.")

    def compare(self, name: str, worked: Figure) -> None:
        """Hold a worked number against what the author expects at this step."""
        assert self.step is not None
        expectation = self.step.expect
        value: Stated | None = getattr(expectation, name, None) if expectation is not None else None
        if value is None:
            return
        figure = self.author(
            f"expected {name}",
            f"{name} that the author expects",
            value,
            evidence="the author's expectation",
            on_sheets=False,
        )
        self.comparisons.append(Comparison(self.id, figure.id, worked.id, value.place))
