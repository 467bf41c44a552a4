"""The shape of a lesson file, and the checked lesson that comes of it.

In: the tree that ``reading`` gives. Out: frozen models; ``checking`` turns their errors into Problems.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, Any, Literal, NoReturn

from pydantic import BeforeValidator, Discriminator, Field, Tag
from pydantic.json_schema import SkipJsonSchema

from presenter.lesson.amounts import Amount
from presenter.lesson.fields import (
    BoilOffRate,
    ClockTime,
    CoolingRate,
    Date,
    Length,
    Mass,
    MassPerVolume,
    Model,
    Power,
    RoomVolume,
    Share,
    Temperature,
    Text,
    Time,
    Volume,
    WholeNumber,
    Words,
    YesNo,
    given_as,
    listed,
    problem_sentence,
)
from presenter.lesson.house import House, Instrument
from presenter.lesson.notes import Note
from presenter.lesson.papers import ClassPlan, HomePlan
from presenter.lesson.steps import STEP_KINDS, Step, slug
from presenter.problems import nearest
from presenter.sources import Bibliography

__all__ = [
    "Audience",
    "IngredientUse",
    "KitItem",
    "LawLine",
    "LawLines",
    "Lesson",
    "LessonFile",
    "Measures",
    "Paper",
    "Site",
]


Paper = Literal["A4", "Letter"]
Measures = Literal["metric", "us", "imperial"]


class Site(Model):
    """Where we really brew; for mains water, its ``chlorine`` and the salt that is to take it out."""

    altitude: Length | None = None
    indoors: YesNo | None = None
    room: RoomVolume | None = None
    heat: Text | None = None
    water: Text | None = None
    who_brews: Text | None = Field(None, alias="who brews")
    chlorine: MassPerVolume | None = None
    dechlorinate_with: Text | None = Field(None, alias="dechlorinate with")


class Audience(Model):
    """Who is there: the youngest expected, who may taste, and the countries whose standard drinks are counted."""

    youngest: WholeNumber | None = None
    tasting: Text | None = None
    standard_drinks_of: Words = Field((), alias="standard drinks of")


class KitItem(Model):
    """One thing of the kit: a vessel (of, holds, weighs, cools, boils away) or an instrument (right within)."""

    of: Text | None = None
    holds: Volume | None = None
    weighs: Mass | None = None
    cools: CoolingRate | None = None
    boils_away: BoilOffRate | None = Field(None, alias="boils away")
    starts_at: Temperature | None = Field(None, alias="starts at")
    closed: YesNo | None = None
    power: Power | None = None
    right_within: Text | None = Field(None, alias="right within")
    read_to: Text | None = Field(None, alias="read to")
    calibrated_at: Text | None = Field(None, alias="calibrated at")
    rests_on: Text | None = Field(None, alias="rests on")


class IngredientUse(Model):
    """One ingredient: what it is, how much, and the evidence for it ("our choice" is an answer).

    ``what`` names an ingredient of the toolkit's tables or of the library. ``rests on`` says what the author's own
    extract, moisture and enzymes rest on; ``made in`` names the lesson that bakes it, by its folder: ``what`` is then
    the loaf's name there.
    """

    what: Text
    amount: Amount
    from_: Text | None = Field(None, alias="from")
    extract: Share | None = None
    moisture: Share | None = None
    enzymes: Share | None = None
    origin: Text | None = None
    rests_on: Text | None = Field(None, alias="rests on")
    made_in: Text | None = Field(None, alias="made in")


class LawLine(Model):
    """One line on the local law, and the date on which to look at it again."""

    say: Text
    look_again: Date | None = Field(None, alias="look again")


LawLines = Annotated[tuple[Annotated[LawLine, given_as(alone="say")], ...], listed()]


class Myth(Model):
    """A line not to repeat, and what to say instead."""

    do_not_say: Text = Field(alias="do not say")
    say_instead: Text = Field(alias="say instead")


_UNKNOWN = "unknown kind"


def _kind_of_step(value: Any) -> str:
    """The kind that a step says it is; :data:`_UNKNOWN` sends it to :func:`_refused`, which says why."""
    if isinstance(value, Step):
        return next(kind for kind, model in STEP_KINDS.items() if type(value) is model)
    written = value.get("do") if isinstance(value, Mapping) else None
    kind = written.strip() if isinstance(written, str) else ""
    return kind if kind in STEP_KINDS else _UNKNOWN


# Words of the trade for what a kind of step does under another name.
_KINDS_MEANT = {
    "lauter": "draw off", "run off": "draw off", "drain": "draw off", "sparge": "mash", "rinse": "mash", "rest": "hold",
    "stand": "hold", "wash": "clean", "scald": "clean", "sanitise": "clean", "scrub": "clean", "filter": "strain",
    "sieve": "strain", "mix": "join", "blend": "join", "divide": "split", "dilute": "top up", "dissolve": "add",
    "stir in": "add", "steep": "mash", "yeast": "pitch", "taste": "serve", "drink": "serve", "knead": "bake",
    "warm": "heat", "chilled": "chill", "refrigerate": "chill",
}  # fmt: skip


def _kind_meant(written: str) -> str:
    """The kind of step that a word most likely means: one that holds the word, its trade name, a misspelling."""
    word = " ".join(written.casefold().split())
    holding = [kind for kind in STEP_KINDS if word in kind.split() or (len(word) > 2 and word in kind)]
    return _KINDS_MEANT.get(word) or next(iter(holding), "") or nearest(word, STEP_KINDS, alike=0.7)


def _refused(value: Any) -> NoReturn:
    kinds = ", ".join(STEP_KINDS)
    if not isinstance(value, Mapping):
        raise problem_sentence("A step has keys, each with its value.", "Begin it with name: and do:.")
    written = value.get("do")
    if written is None:
        raise problem_sentence("The step does not say what to do.", f"Add do: with one of {kinds}.")
    if not isinstance(written, str):
        raise problem_sentence("A step does one thing.", f"Write do: with one of {kinds}.")
    close = _kind_meant(written)
    remedy = f"Did you mean {close}?" if close else f"The kinds of step are {kinds}."
    raise problem_sentence(f"There is no kind of step called {written}.", remedy)


_step_union: Any = Annotated[SkipJsonSchema[Step], BeforeValidator(_refused), Tag(_UNKNOWN)]
for _name, _model in STEP_KINDS.items():
    _step_union = _step_union | Annotated[_model, Tag(_name)]
AnyStep = Annotated[_step_union, Discriminator(_kind_of_step)]


class LessonFile(Model):
    """A lesson as its author writes it."""

    title: Text
    scene: Text
    invented: Text | None = None
    date: Date
    version: Text = Field("1", validate_default=True)
    state: Literal["sketched", "tried", "taught"] = "sketched"
    author: Text | None = None
    about: Text | None = None
    site: Site = Field(default_factory=lambda: Site.model_validate({}))
    audience: Audience = Field(default_factory=lambda: Audience.model_validate({}))
    kit: dict[Text, KitItem] = Field(default_factory=dict)
    house: dict[Text, Text] = Field(default_factory=dict)
    ingredients: dict[Text, IngredientUse] = Field(default_factory=dict)
    cleaners: Words = ()
    chemicals: Words = ()
    myths: Words = ()
    papers: Words = ()
    begins: ClockTime | None = None
    closes: ClockTime | None = None
    keeps: Time | None = None
    class_: ClassPlan = Field(default_factory=lambda: ClassPlan.model_validate({}), alias="class")
    home: HomePlan = Field(default_factory=lambda: HomePlan.model_validate({}))
    address: Text | None = None
    thanks: Words = ()
    people: dict[Text, Text] = Field(default_factory=dict)
    law: LawLines = ()
    paper: Paper | None = None
    measures: Measures | None = None
    steps: tuple[AnyStep, ...]


@dataclass(frozen=True)
class Lesson:
    """A checked lesson: its file's contents, and everything that nearest-wins found for it.

    ``others`` are the lessons whose loaves it uses, by the names under ``made in``.
    """

    file: LessonFile
    path: Path
    text: str
    house: House
    instruments: Mapping[str, Instrument]
    notes: Mapping[str, Note]
    bibliography: Bibliography
    others: Mapping[str, Lesson] = field(default_factory=dict)

    @property
    def steps(self) -> tuple[Step, ...]:
        """The steps in order."""
        return self.file.steps

    @property
    def loaves(self) -> frozenset[str]:
        """The names, as they stand in ids, of the loaves that this lesson bakes."""
        return frozenset(slug(name) for step in self.steps for name in step.bakes())

    def is_own_loaf(self, use: IngredientUse) -> bool:
        """Whether an ingredient is a loaf that this lesson bakes."""
        return use.made_in is None and slug(use.what) in self.loaves

    def is_loaf(self, use: IngredientUse) -> bool:
        """Whether an ingredient is a loaf of this lesson or of another."""
        return use.made_in is not None or self.is_own_loaf(use)

    def dough_of(self, use: IngredientUse) -> tuple[IngredientUse, ...]:
        """What went into the dough of a loaf that another lesson bakes; a loaf within that loaf is told by its own."""
        if use.made_in is None or (other := self.others.get(str(use.made_in).strip())) is None:
            return ()
        return other._dough_called(slug(use.what))

    def _dough_called(self, loaf: str) -> tuple[IngredientUse, ...]:
        names = {str(n) for step in self.steps if loaf in map(slug, step.bakes()) for n in getattr(step, "with_", ())}
        uses = [use for key, use in self.file.ingredients.items() if str(key) in names]
        found: list[IngredientUse] = []
        for use in uses:
            inner = self._dough_called(slug(use.what)) if self.is_own_loaf(use) else self.dough_of(use)
            found += inner or (use,)
        return tuple(found)

    @property
    def name(self) -> str:
        """The lesson's short name: that of its folder, or of its file."""
        return self.path.resolve().parent.name if self.path.stem == "lesson" else self.path.stem

    @property
    def folder(self) -> Path:
        """The folder that holds the lesson's file."""
        return self.path.parent

    @property
    def paper(self) -> str:
        """The paper of its sheets where nobody asks for another: the lesson's, else the library's, else A4."""
        return self.file.paper or (self.house.shared.paper if self.house.shared else None) or "A4"

    @property
    def measures(self) -> str:
        """The measures of its sheets where nobody asks for others: the lesson's, else the library's, else metric."""
        return self.file.measures or (self.house.shared.measures if self.house.shared else None) or "metric"

    @property
    def address(self) -> str:
        """The web address that its sheets lead to: the lesson's, else the library's, else none."""
        return str(self.file.address or self.house.address)
