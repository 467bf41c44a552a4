"""What an author's amount weighs: scales, spoons and cups, pieces, or an amount that was wished for.

In: the walk, an amount, and the ingredient that it is an amount of. Out: the mass as a figure, which carries the
give-or-take of whatever it was measured by.
"""

from __future__ import annotations

from dataclasses import dataclass

from presenter.lesson.amounts import Wish, piece_word
from presenter.lesson.fields import Stated
from presenter.lesson.house import spread_of
from presenter.problems import Problem
from presenter.quantities import Origin, Q
from presenter.science.household import mass_of_count, mass_of_measure
from presenter.science.ingredients import Ingredient
from presenter.science.measures import NoHouseholdWeightError, mass_of_pieces, mass_of_volume, pieces_of
from presenter.working.ledger import Figure
from presenter.working.vessels import StepProblemError
from presenter.working.walk import Walk

__all__ = ["Measured", "by_scales", "mass_of_amount"]

SPOON = 0.1  # litre: below it spoons are used, whose own give-or-take is in the table; above it the jug's counts


@dataclass(frozen=True)
class Measured:
    """An amount to be weighed: where its numbers go, what it is an amount of, and how a Problem names its field."""

    step: str
    key: str
    what: str
    known: Ingredient | None
    field: str
    name: str = ""
    evidence: str = ""


def mass_of_amount(walk: Walk, amount: Stated, of: Measured) -> Figure:
    """The mass of ``amount`` in kilograms, under ``of.step`` and ``of.key``.

    Raises StepProblemError where nobody weighed the ingredient by that measure.
    """
    if isinstance(amount, Wish):
        return _wished(walk, amount, of)
    if amount.kind == "mass":
        return walk.author(of.key, of.what, amount, evidence=of.evidence, step=of.step)
    return _by_volume(walk, amount, of) if amount.kind == "volume" else _by_pieces(walk, amount, of)


def _refused(amount: Stated, of: Measured, wrong: str, remedy: str) -> StepProblemError:
    return StepProblemError(Problem(amount.place, of.field, amount.written, wrong, remedy))


def _by_volume(walk: Walk, amount: Stated, of: Measured) -> Figure:
    if of.known is None:
        wrong = f"{amount.written} is a volume, and what a measure of {of.what} weighs is not known."
        raise _refused(amount, of, wrong, "Weigh it, and write it as 300 g.")
    try:
        found = mass_of_volume(of.known, amount.quantity)
    except NoHouseholdWeightError as error:
        raise _refused(amount, of, str(error), "Weigh it, and write it as 300 g.") from None
    volume = walk.author(
        f"{of.key} by measure", f"{of.what}, by measure", amount, evidence=of.evidence, step=of.step,
        exact=amount.number() < SPOON,
    )  # fmt: skip
    mass, litres = float(found.mass.to("kilogram").magnitude), amount.number()
    density = mass / litres if litres > 0 else 1.0
    share = float((found.spread / found.mass).to("dimensionless").magnitude) if mass > 0 else 0.0
    bulk = walk.ledger.state(
        of.step, f"{of.key}-weight-by-measure", f"what a litre of {of.what} weighs, filled level", density,
        "kilogram / litre", origin=Origin("package", None, f"{density:.3f} kg/L", found.rests_on),
        influences={f"what a measure of {of.known.name} weighs": share * density}, sources=(found.source,),
        rests_on=found.rests_on, on_sheets=False,
    )  # fmt: skip
    return walk.ledger.work(
        of.step, of.key, _by_weight(amount, of), mass_of_measure, bulk_density=bulk, volume=volume,
        remark=found.rests_on,
    )  # fmt: skip


def _by_pieces(walk: Walk, amount: Stated, of: Measured) -> Figure:
    if of.known is None:
        wrong = f"{amount.written} is a number of pieces, and what one piece of {of.what} weighs is not known."
        raise _refused(amount, of, wrong, "Weigh it, and write it as 300 g.")
    word = piece_word(amount)
    weighed = pieces_of(of.known)
    if not word and not weighed:
        raise _refused(
            amount, of, f"{amount.written} has no unit.", f"Write it with its unit, as in {amount.written} kg."
        )
    if word in {"", "piece"} and len(weighed) == 1:
        word = weighed[0]
    try:
        found = mass_of_pieces(of.known, amount.number(), word or "piece")
    except NoHouseholdWeightError as error:
        raise _refused(amount, of, str(error), "Weigh it, and write it as 300 g.") from None
    count = walk.author(
        f"{of.key} by count", f"{of.what}, by the piece", amount, evidence=of.evidence, step=of.step, exact=True
    )
    number = amount.number()
    grams = float(found.mass.to("gram").magnitude) / number if number > 0 else 1.0
    share = float((found.spread / found.mass).to("dimensionless").magnitude) if number > 0 else 0.0
    each = walk.ledger.state(
        of.step, f"{of.key}-weight-of-one", f"what one piece of {of.what} weighs", grams, "gram / piece",
        origin=Origin("package", None, f"{grams:.3g} g", found.rests_on),
        influences={f"what a piece of {of.known.name} weighs": share * grams}, sources=(found.source,),
        rests_on=found.rests_on, on_sheets=False,
    )  # fmt: skip
    return walk.ledger.work(
        of.step, of.key, _by_weight(amount, of), mass_of_count, each=each, count=count,
        remark=found.rests_on,
    )  # fmt: skip


def _by_weight(amount: Stated, of: Measured) -> str:
    """A measured amount, by its weight: "2 cups of honey, by weight"; "20 dates, by weight"."""
    named = amount.written.casefold().split()[-1:] == of.what.casefold().split()[-1:]
    return f"{amount.written}{'' if named else f' of {of.what}'}, by weight"


def _wished(walk: Walk, wish: Wish, of: Measured) -> Figure:
    """The amount that the plan found to be enough, and the same as it is weighed."""
    found = walk.wished.get(of.name, 1.0)
    goal = walk.author(
        f"{of.key} wish", f"what the {of.what} is to be enough for", wish, evidence=of.evidence, step="lesson",
        exact=True, on_sheets=False,
    )  # fmt: skip
    inputs = {"wish": goal}
    if wish.volume is not None:
        inputs["volume"] = walk.author(
            f"{of.key} wish volume", f"how much the {of.what} is to be enough for", wish.volume,
            evidence=of.evidence, step="lesson", exact=True, on_sheets=False,
        )  # fmt: skip
    enough = walk.ledger.found(
        "lesson", f"{of.key}-enough", f"{of.what} that is {wish.written}", found, "kilogram", inputs=inputs,
        rests_on="solved over the whole lesson: the one amount with which the steps come to what was wished",
        remark=walk.wish_remarks.get(of.name, ""),
    )  # fmt: skip
    scales = walk.lesson.instruments.get("scales")
    off = {"the scales": spread_of(scales, found)} if scales is not None else {}
    return walk.ledger.found(
        "lesson", of.key, f"{of.what}, weighed out", found, "kilogram", inputs={"planned": enough}, influences=off,
        rests_on="the planned amount, as the scales show it",
    )  # fmt: skip


def by_scales(kilograms: float) -> str:
    """So many kilograms in words, for a message: "340 g", "3.2 kg"."""
    return f"{Q(kilograms, 'kilogram').to('gram').magnitude:.0f} g" if kilograms < 1 else f"{kilograms:.2f} kg"
