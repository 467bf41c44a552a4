"""The ledger of one walk through a lesson: every number, what it was worked from, and what may be off.

In: figures that the author or the house states, and formulas. Out: entries by id, with their inputs, so that
``--why`` can walk back to what was stated. A walk may be shifted: one input at a time is moved by its own
give-or-take, which is how uncertainty is found (JCGM 100:2008, done numerically).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache

from presenter.quantities import Origin, Withheld
from presenter.science.formula import FORMULAS, Formula, OutOfRangeError

__all__ = ["Entry", "Figure", "Influence", "Ledger"]


@dataclass(frozen=True)
class Figure:
    """A number in hand during a walk: its value, its unit, and the id under which the ledger keeps it."""

    value: float
    unit: str
    id: str


@dataclass(frozen=True)
class Influence:
    """One thing that may be off: its name in words. A walk shifts it by plus or minus its whole give-or-take."""

    name: str


@dataclass(frozen=True)
class Entry:
    """One number as the ledger keeps it."""

    id: str
    step: str
    label: str
    value: float
    unit: str
    formula: str = ""
    inputs: tuple[tuple[str, str], ...] = ()
    sources: tuple[str, ...] = ()
    rests_on: str = ""
    origin: Origin | None = None
    remark: str = ""
    on_sheets: bool = True
    setting: bool = False


@cache
def _words_of(formula_name: str) -> tuple[str, tuple[str, ...]]:
    """A formula's title and source keys, read from its docstring once: a lesson asks ten thousand times."""
    found = FORMULAS[formula_name]
    return found.title, found.sources


@dataclass
class Ledger:
    """The entries of one walk.

    ``shifts`` moves influences by so many of their own give-or-takes; ``settings`` are the planned values of what
    the presenter sets (the strike heat), held while something else is shifted; ``held`` are readings, which
    replace worked values at their place. ``watchful`` walks refuse what lies outside a formula's range; shifted
    walks do not, since a shift that crosses an edge is no mistake of the author's.
    ``planned`` are the ids of the plan's numbers, in a shifted walk: it works the same ones (:meth:`goes`).
    ``accepted`` names the formulas that the step in hand accepts outside their range; its numbers then say so.
    """

    shifts: Mapping[str, float] = field(default_factory=dict)
    settings: Mapping[str, float] = field(default_factory=dict)
    held: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    watchful: bool = True
    planned: frozenset[str] | None = None
    accepted: frozenset[str] = frozenset()
    entries: dict[str, Entry] = field(default_factory=dict)
    influences: dict[str, Influence] = field(default_factory=dict)
    gaps: dict[str, float] = field(default_factory=dict)
    withheld: dict[str, Withheld] = field(default_factory=dict)

    def _keep(self, entry: Entry) -> None:
        if entry.id in self.entries:
            raise ValueError(f"the number {entry.id} is worked twice")
        self.entries[entry.id] = entry

    def _shift(self, name: str, spread: float) -> float:
        if spread <= 0:
            return 0.0
        self.influences.setdefault(name, Influence(name))
        return self.shifts.get(name, 0.0) * spread

    def may_be_off(self, names: Iterable[str]) -> None:
        """Name what may be off about figures that come with shifts of their own: another lesson's loaves."""
        for name in names:
            self.influences.setdefault(name, Influence(name))

    def _read(self, number_id: str, worked: float, label: str) -> float:
        """The reading held for a number; what it differs by from the worked value is kept as its gap."""
        read, spread = self.held[number_id]
        self.gaps[number_id] = read - worked
        return read + self._shift(f"the reading of {label}", spread)

    def state(
        self,
        step: str,
        name: str,
        label: str,
        value: float,
        unit: str,
        *,
        origin: Origin,
        influences: Mapping[str, float] | None = None,
        sources: Iterable[str] = (),
        rests_on: str = "",
        on_sheets: bool = True,
        remark: str = "",
    ) -> Figure:
        """A stated number. ``influences`` maps what may be off to how far, in ``unit`` of a difference.

        A held reading replaces what was stated, and its own give-or-take replaces ``influences``.
        """
        number_id = f"{step}.{name}"
        if number_id in self.held:
            moved = self._read(number_id, value, label)
            origin = Origin("reading", origin.place, origin.written, "a reading, in place of what was planned")
            rests_on = ""
        else:
            moved = value + sum(self._shift(what, spread) for what, spread in (influences or {}).items())
        self._keep(
            Entry(
                number_id,
                step,
                label,
                moved,
                unit,
                "",
                (),
                tuple(sources),
                rests_on or origin.evidence,
                origin,
                remark,
                on_sheets,
            )
        )
        return Figure(moved, unit, number_id)

    def found(
        self,
        step: str,
        name: str,
        label: str,
        value: float,
        unit: str,
        *,
        inputs: Mapping[str, Figure],
        rests_on: str,
        influences: Mapping[str, float] | None = None,
        sources: Iterable[str] = (),
        on_sheets: bool = True,
        remark: str = "",
    ) -> Figure:
        """A number that a model of many equations found, with the figures that went into it.

        ``influences`` as in :meth:`state`. A held reading replaces the number.
        """
        number_id = f"{step}.{name}"
        value += sum(self._shift(what, spread) for what, spread in (influences or {}).items())
        if number_id in self.held:
            value = self._read(number_id, value, label)
        fed = tuple((argument, figure.id) for argument, figure in inputs.items())
        self._keep(
            Entry(number_id, step, label, value, unit, "", fed, tuple(sources), rests_on, None, remark, on_sheets)
        )
        return Figure(value, unit, number_id)

    def goes(self, step: str, name: str, when: bool) -> bool:
        """Whether a number is worked at all: ``when`` decides in the plan, and a shifted walk does as the plan did."""
        return when if self.planned is None else f"{step}.{name}" in self.planned

    def withhold(self, step: str, name: str, label: str, reason: str, sources: Iterable[str] = ()) -> None:
        """Keep a number back: sheets print ``reason``, a sentence or two, in its place."""
        number_id = f"{step}.{name}"
        self.withheld[number_id] = Withheld(number_id, step, label, reason, tuple(sources))

    def again(self, figure_id: str) -> Figure:
        """A number kept earlier, as a figure."""
        entry = self.entries[figure_id]
        return Figure(entry.value, entry.unit, entry.id)

    def work(
        self,
        step: str,
        name: str,
        label: str,
        formula: Formula,
        *,
        on_sheets: bool = True,
        remark: str = "",
        setting: bool = False,
        more_sources: Iterable[str] = (),
        **inputs: Figure,
    ) -> Figure:
        """Work a number out by ``formula``; its inputs must be in the formula's own units.

        Raises OutOfRangeError in a watchful walk when an input lies outside the formula's stated range.
        A ``setting`` is recorded as it would be set again now, but the walk goes on with the planned value.
        """
        number_id = f"{step}.{name}"
        for argument, figure in inputs.items():
            if figure.unit != formula.takes[argument]:
                raise TypeError(f"{formula.name} takes {argument} in {formula.takes[argument]}, not in {figure.unit}")
        values = {argument: figure.value for argument, figure in inputs.items()}
        if self.watchful:
            try:
                formula.check(**values)
            except OutOfRangeError:
                if formula.name not in self.accepted:
                    raise
                remark = "; ".join(
                    filter(None, (remark, "outside its formula's stated range, which the author accepts"))
                )
        value = float(formula.plain(**values))
        spread = formula.error + abs(value) * formula.relative_error
        value += self._shift(f"the formula: {_words_of(formula.name)[0]}", spread)
        if number_id in self.held:
            value = self._read(number_id, value, label)
        self._keep(
            Entry(
                number_id,
                step,
                label,
                value,
                formula.gives,
                formula.name,
                tuple((argument, figure.id) for argument, figure in inputs.items()),
                tuple(dict.fromkeys((*_words_of(formula.name)[1], *more_sources))),
                formula.rests_on,
                None,
                remark,
                on_sheets,
                setting,
            )
        )
        if setting and number_id in self.settings:
            return Figure(self.settings[number_id], formula.gives, number_id)
        return Figure(value, formula.gives, number_id)
