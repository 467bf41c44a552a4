"""What is in each vessel while a lesson is walked: liquids by name, and the bed of grain.

In: figures. Out: mutable state of one walk; :class:`UnknownContentsError` stops a step whose liquid was lost to an
earlier problem, so that one mistake gives one Problem.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from presenter.problems import BrewingPresenterError, Problem
from presenter.science.ingredients import Ingredient
from presenter.science.mash_state import MashState
from presenter.working.ledger import Figure

__all__ = ["GrainBed", "Liquid", "Loaf", "MashInTub", "Spectrum", "StepProblemError", "UnknownContentsError", "Vessels"]


class UnknownContentsError(BrewingPresenterError):
    """A liquid is not known because an earlier step failed; the step that wants it stays silent."""


@dataclass
class StepProblemError(BrewingPresenterError):
    """A step cannot be done as it is written."""

    problem: Problem

    def __str__(self) -> str:
        return self.problem.wrong


@dataclass(frozen=True)
class Spectrum:
    """What yeast finds in the extract of a wort, in percent of it.

    ``fermentable`` is all the sugar that some brewing yeast can use; ``maltose`` and ``maltotriose`` are the parts of
    it that some yeasts leave. ``remarks`` is what every number that follows from it must say.
    """

    fermentable: Figure
    maltose: Figure
    maltotriose: Figure
    remarks: tuple[str, ...] = ()


@dataclass
class Liquid:
    """One wort or drink. ``sugars`` is what yeast finds in its extract; None until a mash or sugar gave it.

    ``extract`` and ``water`` are those of the wort it is made from, also after it has fermented; ``eaten`` is the share
    of that extract (percent) which yeast has used up so far, and ``yeast`` the yeast that was pitched.

    ``enzymes_ended`` says that a boil ended whatever enzymes it held; ``warmest`` is the highest temperature since it
    fermented; ``carbonation`` the gas it holds as bottled, in its ``container``; ``finished`` that two readings days
    apart have shown it so; ``ph`` what its acid was worked out to, until it ferments.
    """

    name: str
    extract: Figure
    water: Figure
    gravity: Figure
    volume: Figure
    temperature: Figure
    sugars: Spectrum | None = None
    original_gravity: Figure | None = None
    final_gravity: Figure | None = None
    strength: Figure | None = None
    alcohol: Figure | None = None
    carbon_dioxide: Figure | None = None
    eaten: Figure | None = None
    yeast: Ingredient | None = None
    boiled: bool = False
    hottest: float = 0.0
    pitched: bool = False
    fermented: bool = False
    vessel: str = ""
    minutes_warm: float = 0.0
    ingredients: tuple[str, ...] = ()
    enzymes_ended: bool = False
    warmest: Figure | None = None
    carbonation: Figure | None = None
    finished: bool = False
    container: str = ""
    ph: Figure | None = None


@dataclass(frozen=True)
class MashInTub:
    """What the mash model knows of a tub: the state of its starch, sugars and enzymes, and what goes with it.

    ``brought`` and ``other`` are kilograms of sugar and of other extract that no enzyme made, for each kilogram of the
    starch the state stands for; ``undissolved`` is the extract still locked up in starch; ``began`` the id of the step
    that mashed in, ``minutes`` the rests since; ``from_before`` a number of the last rest, for the chain of ``--why``;
    ``starch`` the kilograms of starch that the state stands for.
    """

    state: MashState
    brought: float
    other: float
    undissolved: Figure
    began: str
    starch: float
    minutes: float = 0.0
    remarks: tuple[str, ...] = ()
    from_before: Figure | None = None
    crumb: bool = False


@dataclass(frozen=True)
class Loaf:
    """Loaves of one kind from one bake. Shares (percent) are of the loaf's mass; the rest per kilogram of loaf.

    ``starch`` in kilograms, ``swollen`` the share of it (0 to 1) that the bake gelatinised; ``enzymes`` what the
    dough's malt brought, against pale barley malt for each kilogram of starch, and ``alive`` the shares (0 to 1) of
    alpha-amylase and of beta-amylase's fast and slow fractions that a later mash may count on: none in a finished loaf.
    One of another ``lesson`` names it, and of what is ``used`` (kilograms) the part that is ``used_there``.
    """

    name: str
    pieces: int
    piece_mass: Figure
    extract: Figure
    moisture: Figure
    sugars: Figure
    starch: float
    grain: str
    swollen: float
    enzymes: float
    alive: tuple[float, float, float]
    hottest: float
    ingredients: tuple[str, ...]
    used: float = 0.0
    lesson: str = ""
    used_there: float = 0.0


@dataclass
class GrainBed:
    """Grain and the wort in it. ``grain`` is the mass of grain as weighed, dry of added water."""

    vessel: str
    grain: Figure
    extract: Figure
    water: Figure
    gravity: Figure
    volume: Figure
    temperature: Figure
    sugars: Spectrum
    mash: MashInTub
    ingredients: tuple[str, ...] = ()
    specific_heat: Figure | None = None


@dataclass
class Vessels:
    """Everything that is in some vessel at one moment of a walk."""

    liquids: dict[str, Liquid] = field(default_factory=dict)
    beds: dict[str, GrainBed] = field(default_factory=dict)
    lost: set[str] = field(default_factory=set)
    last_bed: str = ""
    loaves: dict[str, Loaf] = field(default_factory=dict)

    def liquid(self, name: str) -> Liquid:
        """The liquid called ``name`` (as it stands in ids)."""
        if name in self.lost or name not in self.liquids:
            raise UnknownContentsError(name)
        return self.liquids[name]

    def loaf(self, name: str) -> Loaf | None:
        """The loaf called ``name`` (as it stands in ids), or nothing where no bake made one of that name."""
        if f"loaf {name}" in self.lost:
            raise UnknownContentsError(name)
        return self.loaves.get(name)

    def has_bed(self, vessel: str) -> bool:
        """Whether there is grain in ``vessel``, or would be if an earlier step had not failed."""
        return vessel in self.beds or f"bed {vessel}" in self.lost

    def bed(self, vessel: str) -> GrainBed:
        """The bed of grain in ``vessel``."""
        if f"bed {vessel}" in self.lost or vessel not in self.beds:
            raise UnknownContentsError(vessel)
        return self.beds[vessel]
