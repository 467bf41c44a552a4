"""Acidify: the pH to expect after vinegar or lactic acid, with a band as wide as what is known of buffering.

The direction is always right; the size is to be measured. A souring culture's acid cannot be reckoned beforehand, so
its pH is withheld.
"""

from __future__ import annotations

from presenter.lesson.model import IngredientUse
from presenter.lesson.steps import slug
from presenter.lesson.steps.acidify import Acidify
from presenter.problems import Problem
from presenter.quantities import Origin
from presenter.science.acid import (
    ACETIC_CONSTANT,
    LACTIC_CONSTANT,
    acetic_acid_in_vinegar,
    acid_in_a_litre,
    lactic_acid_in_solution,
    ph_after_acid,
    wort_buffering,
)
from presenter.science.gravity import degrees_plato_from_gravity
from presenter.science.ingredients import Ingredient
from presenter.working.ingredients import known_ingredient
from presenter.working.ledger import Figure
from presenter.working.pouring import carried
from presenter.working.vessels import Liquid, StepProblemError
from presenter.working.walk import Walk

__all__ = ["walk_acidify"]

USUAL = {  # pH, how far it may be off, and what that rests on
    "wort": (
        5.5,
        0.4,
        "pale malt's laboratory wort is 5.6 to 5.9 in a trade standard; a boil lowers it (common practice)",
    ),
    "drink": (4.2, 0.3, "most beers lie between 4.0 and 4.5, as quoted by a trade page"),
}
MUCH = 0.05  # of the liquid's volume: more acid than that is no longer a little, and thins the drink
VINEGAR, LACTIC = 5.0, 80.0  # percent, usual labels (common practice)


def walk_acidify(step: Acidify, walk: Walk) -> None:
    """Say where the pH goes, or why nobody can say."""
    liquid = walk.vessels.liquid(slug(step.what))
    use = next(use for key, use in walk.lesson.file.ingredients.items() if str(key) == str(step.with_))
    known = known_ingredient(str(use.what))
    named = tuple(dict.fromkeys((*liquid.ingredients, str(step.with_))))
    if known is not None and known.family == "souring culture":
        reason = (
            "How much acid a culture makes depends on its kind, its warmth and its time, so no pH can be worked out."
            " Measure it, and write the reading down."
        )
        walk.ledger.withhold(walk.id, "ph", f"pH of the {step.what} once it is sour", reason)
        walk.vessels.liquids[liquid.name] = carried(liquid, ph=None, ingredients=named)
        return
    before = _before(step, walk, liquid)
    per_litre, constant = _acid(step, walk, liquid, use, known)
    extract = walk.ledger.work(
        walk.id, "extract", f"extract of the {step.what}, as its gravity reads", degrees_plato_from_gravity,
        gravity=liquid.original_gravity or liquid.gravity, on_sheets=False,
    )  # fmt: skip
    buffering = walk.ledger.work(
        walk.id, "buffering", "acid that the liquid takes up for one step of pH", wort_buffering, extract=extract,
        on_sheets=False,
    )  # fmt: skip
    after = walk.ledger.work(
        walk.id, "ph", f"pH of the {step.what} to expect", ph_after_acid, start=before, acid=per_litre,
        acid_constant=constant, buffering=buffering, remark="the direction is right; the size is to be measured",
    )  # fmt: skip
    walk.vessels.liquids[liquid.name] = carried(liquid, ph=after, ingredients=named)


def _before(step: Acidify, walk: Walk, liquid: Liquid) -> Figure:
    if step.ph_before is not None:
        return walk.author("pH before", f"pH of the {step.what}, as read", step.ph_before)
    if liquid.ph is not None:
        return liquid.ph
    usual, within, rests_on = USUAL["drink" if liquid.fermented else "wort"]
    return walk.ledger.state(
        walk.id, "ph-before", f"pH of the {step.what} before, nobody having read it", usual, "pH",
        origin=Origin("package", None, f"{usual}", rests_on), influences={"the pH that nobody has read": within},
        on_sheets=False,
    )  # fmt: skip


def _acid(
    step: Acidify, walk: Walk, liquid: Liquid, use: IngredientUse, known: Ingredient | None
) -> tuple[Figure, Figure]:
    """Millimoles of acid in a litre of the liquid, and the acid's constant."""
    vinegar = known is not None and "vinegar" in known.name
    if known is None or not (vinegar or known.name == "lactic acid"):
        where = f"ingredients.{step.with_}.what"
        wrong = f"{use.what} is no acid that this toolkit can reckon with."
        raise StepProblemError(
            Problem(use.what.place, where, str(use.what), wrong, "Write for instance wine vinegar or lactic acid.")
        )
    amount = step.amount or use.amount
    wanted, said = ("volume", "Vinegar is measured.") if vinegar else ("mass", "Strong acid is weighed.")
    if amount.kind != wanted:
        remedy = "Write it as 50 mL." if vinegar else "Write it as 5 g."
        raise walk.refuse(amount, "amount", f"{amount.written} is a {amount.kind}. {said}", remedy)
    if walk.ledger.watchful and amount.number() > MUCH * liquid.volume.value:
        wrong = f"{amount.written} is a lot for {liquid.volume.value:.1f} L: the acid would thin it too."
        raise walk.refuse(amount, "amount", wrong, "Add less, or a stronger acid.")
    ledger = walk.ledger
    given = walk.author("amount", f"{use.what} added", amount)
    percent = (VINEGAR if vinegar else LACTIC) if step.strength is None else step.strength.number()
    factor, unit = (10.0, "gram / litre") if vinegar else (1.0, "percent")
    unsure = 0.0 if step.strength else 0.2 * percent * factor
    strength = ledger.state(
        walk.id, "acid-strength", f"acid in the {use.what}", percent * factor, unit,
        origin=_label(step, percent), influences={"the acid's strength": unsure},
        on_sheets=False,
    )  # fmt: skip
    small = ledger.state(
        walk.id, "amount-in-small", "the same, in the small unit", given.value * 1000,
        "millilitre" if vinegar else "gram",
        origin=Origin("lesson", amount.place, amount.written, "the amount above"), on_sheets=False,
    )  # fmt: skip
    if vinegar:
        acid = ledger.work(
            walk.id, "acid", "acetic acid added", acetic_acid_in_vinegar, volume=small, strength=strength,
            on_sheets=False,
        )  # fmt: skip
    else:
        acid = ledger.work(
            walk.id, "acid", "lactic acid added", lactic_acid_in_solution, mass=small, strength=strength,
            on_sheets=False,
        )  # fmt: skip
    per_litre = ledger.work(
        walk.id, "acid-in-a-litre", "acid in a litre", acid_in_a_litre, acid=acid, volume=liquid.volume,
        on_sheets=False,
    )  # fmt: skip
    constant = ledger.state(
        walk.id, "acid-constant", "the acid's own constant", ACETIC_CONSTANT if vinegar else LACTIC_CONSTANT, "pH",
        origin=Origin("package", None, "", "published pKa"),
        sources=("libretexts_e1",) if vinegar else ("echa_lactic",), on_sheets=False,
    )  # fmt: skip
    return per_litre, constant


def _label(step: Acidify, percent: float) -> Origin:
    if step.strength is None:
        return Origin("package", None, f"{percent:g} percent", "a usual label (common practice): read your own")
    return Origin("lesson", step.strength.place, step.strength.written, "the label, as the author read it")
