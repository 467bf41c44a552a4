"""The ingredients of a walk: how much of each, how much extract and water it brings, and what is known of it.

In: the lesson's ingredients. Out: figures kept once under the lesson's numbers.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from presenter.lesson.model import IngredientUse
from presenter.lesson.steps import slug
from presenter.problems import Problem, nearest
from presenter.quantities import Origin
from presenter.science.ingredients import Ingredient, UnknownIngredientError, ingredient_named
from presenter.science.portion import extract_at_moisture
from presenter.working.amounts import Measured, mass_of_amount
from presenter.working.bread import loaf_taken
from presenter.working.ledger import Figure
from presenter.working.vessels import Loaf, StepProblemError
from presenter.working.walk import Walk

__all__ = ["Portion", "known_ingredient", "portion"]


@dataclass(frozen=True)
class Portion:
    """One ingredient in hand: its mass, its extract and moisture as shares, and what the tables know of it."""

    name: str
    use: IngredientUse
    known: Ingredient | None
    mass: Figure
    extract_share: Figure
    moisture: Figure
    loaf: Loaf | None = None

    @property
    def flavours_only(self) -> bool:
        """Whether it brings flavour and no extract, as herbs do: it is no part of the grain."""
        return self.use.extract is None and self.known is not None and self.known.extract_share == 0


@cache
def known_ingredient(what: str) -> Ingredient | None:
    """The tables' entry for what the author wrote, or nothing."""
    try:
        return ingredient_named(what)
    except UnknownIngredientError:
        return None


def portion(walk: Walk, name: str) -> Portion:
    """The ingredient called ``name``, its figures kept under the lesson.

    Raises StepProblemError where the tables do not know it and the author gave no extract of their own, or where
    nobody weighed it by the measure that the author wrote.
    """
    use = next(use for key, use in walk.lesson.file.ingredients.items() if str(key) == name)
    taken = loaf_taken(walk, name, use)
    if taken is not None:
        loaf, mass = taken
        return Portion(name, use, None, mass, loaf.extract, loaf.moisture, loaf)
    known = known_ingredient(str(use.what))
    place = use.what.place
    where = f"ingredients.{name}"
    if known is None and use.extract is None:
        meant = nearest(str(use.what), [str(each) for step in walk.lesson.steps for each in step.bakes()])
        remedy = f"Did you mean {meant}?" if meant else _remedy(str(use.what))
        raise StepProblemError(
            Problem(
                place, f"{where}.what", str(use.what), f"{use.what} is no ingredient that this toolkit knows.", remedy
            )
        )
    key = slug(name)
    if f"lesson.{key}" in walk.ledger.entries:
        again = walk.ledger.again
        own = f"lesson.{key}-extract-as-it-is"
        extract = again(own if own in walk.ledger.entries else f"lesson.{key}-extract")
        return Portion(name, use, known, again(f"lesson.{key}"), extract, again(f"lesson.{key}-moisture"))
    mass = mass_of_amount(
        walk, use.amount,
        Measured(
            "lesson", key, str(use.what), known, f"{where}.amount", name, str(use.from_ or "the author's own figure")
        ),
    )  # fmt: skip
    if use.extract is not None:
        extract = walk.author(
            f"{key}-extract", f"extract of {use.what}, laboratory yield", use.extract, step="lesson", exact=True,
            evidence=str(use.rests_on or ""),
        )  # fmt: skip
    else:
        assert known is not None
        if known.extract_share is None:
            raise StepProblemError(
                Problem(
                    place,
                    f"{where}.what",
                    str(use.what),
                    known.refuses or "Its extract is not known.",
                    "Give the extract of your own analysis: extract: 70 percent.",
                )
            )
        extract = walk.ledger.state(
            "lesson",
            f"{key}-extract",
            f"extract of {known.name}" + (", laboratory yield" if known.attenuable is None else ""),
            known.extract_share * 100,
            "percent",
            origin=Origin("package", None, f"{known.extract_share * 100:.1f} percent", known.rests_on),
            influences={f"the extract of {known.name}": known.extract_spread * 100},
            sources=known.sources,
            rests_on=known.rests_on,
            remark=known.stands_in,
            on_sheets=known.extract_share > 0,
        )
    if use.moisture is not None:
        moisture = walk.author(
            f"{key}-moisture", f"moisture of {use.what}", use.moisture, step="lesson", exact=True,
            evidence=str(use.rests_on or ""),
        )  # fmt: skip
        if use.extract is None and known is not None and known.moisture is not None:
            extract = _at_own_moisture(walk, key, str(use.what), known.moisture, extract, moisture)
    elif known is not None and known.moisture is not None:
        moisture = walk.ledger.state(
            "lesson",
            f"{key}-moisture",
            f"moisture of {known.name}",
            known.moisture * 100,
            "percent",
            origin=Origin("package", None, f"{known.moisture * 100:.1f} percent", known.rests_on),
            influences={f"the moisture of {known.name}": 2.0},
            sources=known.sources,
            rests_on=known.rests_on,
            on_sheets=False,
        )
    elif known is not None and known.family == "souring culture":
        moisture = walk.ledger.state(
            "lesson", f"{key}-moisture", f"moisture of {use.what}", 50.0, "percent",
            origin=Origin("package", None, "50 percent", "our choice: flour and water in equal weights"),
            influences={f"the moisture of {use.what}": 10.0}, on_sheets=False,
        )  # fmt: skip
    else:
        house = walk.house("grist moisture")
        moisture = walk.ledger.state(
            "lesson", f"{key}-moisture", f"moisture of {use.what}", house.value, "percent",
            origin=Origin("package", None, "", "the house's grist moisture"), on_sheets=False,
        )  # fmt: skip
    return Portion(name, use, known, mass, extract, moisture)


def _at_own_moisture(
    walk: Walk, key: str, what: str, table_moisture: float, extract: Figure, moisture: Figure
) -> Figure:
    """The tables' extract, for goods that are wetter or drier than the tables' own."""
    usual = walk.ledger.state(
        "lesson", f"{key}-moisture-in-table", f"moisture of {what} in the tables", 100 * table_moisture, "percent",
        origin=Origin("package", None, f"{100 * table_moisture:.1f} percent", "the tables"), on_sheets=False,
    )  # fmt: skip
    return walk.ledger.work(
        "lesson", f"{key}-extract-as-it-is", f"extract of {what}, at its own moisture", extract_at_moisture,
        extract_share=extract, moisture=usual, own_moisture=moisture,
    )  # fmt: skip


def _remedy(what: str) -> str:
    try:
        ingredient_named(what)
    except UnknownIngredientError as error:
        if error.close:
            return f"Did you mean {error.close[0]}?"
    return "If you are sure that it is food, give the extract of your own analysis: extract: 70 percent."
