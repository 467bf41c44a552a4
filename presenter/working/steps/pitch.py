"""Pitch: yeast goes in. The gravity now is the original gravity of the drink."""

from __future__ import annotations

from presenter.lesson.amounts import Wish, piece_word
from presenter.lesson.model import IngredientUse
from presenter.lesson.steps import slug
from presenter.lesson.steps.pitch import Pitch
from presenter.problems import Problem
from presenter.quantities import Origin
from presenter.science.gravity import degrees_plato_from_gravity
from presenter.science.portion import mass_in_grams
from presenter.science.yeast import NoYeastError, pitch_rate, yeast_of
from presenter.working.amounts import Measured, mass_of_amount
from presenter.working.germs import minutes_before_yeast
from presenter.working.ingredients import known_ingredient
from presenter.working.pouring import carried
from presenter.working.vessels import StepProblemError
from presenter.working.walk import Walk, wort_called

__all__ = ["KILLS_YEAST", "walk_pitch"]

KILLS_YEAST = 40.0  # degC; common practice: bread and ale yeast begin to die above about 40


def walk_pitch(step: Pitch, walk: Walk) -> None:
    """Put yeast into a cooled wort."""
    liquid = walk.vessels.liquid(slug(step.what))
    if walk.ledger.watchful and liquid.temperature.value > KILLS_YEAST:
        raise walk.refuse(
            step.what,
            "what",
            f"The {wort_called(step.what)} is still at {liquid.temperature.value:.0f} degC;"
            f" above {KILLS_YEAST:.0f} degC yeast dies.",
            "Cool it first, to about 20 degC.",
        )
    if liquid.pitched:
        raise walk.refuse(step.what, "what", f"Yeast is in the {step.what} already.", "Leave this step out.")
    walk.must_go_into(liquid.name, liquid.volume.value, step.in_, "in", f"The {step.what}")
    use = next(use for key, use in walk.lesson.file.ingredients.items() if str(key) == str(step.with_))
    known = known_ingredient(str(use.what))
    where = f"ingredients.{step.with_}.what"
    if known is None or not known.yeast:
        raise StepProblemError(
            Problem(
                use.what.place,
                where,
                str(use.what),
                f"{use.what} is no yeast that this toolkit knows.",
                "Write for instance dried ale yeast, or name another ingredient under with.",
            )
        )
    amount = step.amount or use.amount
    field_name = f"steps[{walk.index + 1}].amount" if step.amount else f"ingredients.{step.with_}.amount"
    if isinstance(amount, Wish):
        wrong = "Yeast is pitched by a stated amount; how much is enough is a question of cells, not of gravity."
        raise StepProblemError(
            Problem(amount.place, field_name, amount.written, wrong, "Write it as 11 g, or 1 packet.")
        )
    _must_have_been_bought(step, walk, use)
    evidence = "" if step.amount else str(use.from_ or "")
    mass = mass_of_amount(
        walk, amount, Measured(walk.id, "amount", str(use.what), known, field_name, evidence=evidence)
    )
    grams = walk.ledger.work(walk.id, "amount-in-grams", "the same in grams", mass_in_grams, mass=mass, on_sheets=False)
    try:
        yeast = yeast_of(known)
    except NoYeastError:
        yeast = None
    if yeast is not None and yeast.cells_per_gram is not None:
        low, typical, high = yeast.cells_per_gram
        cells = walk.ledger.state(
            walk.id,
            "cells-per-gram",
            f"cells in a gram of {known.name}",
            typical,
            "cell / gram",
            origin=Origin(
                "package", None, f"{low:.0e} to {high:.0e}", "maker's and handbook figures, a factor of two either way"
            ),
            influences={f"the cells in a gram of {known.name}": (high - low) / 2},
            sources=yeast.sources,
            on_sheets=False,
            rests_on="; ".join(yeast.rests_on),
        )
        walk.ledger.work(
            walk.id,
            "pitch-rate",
            "yeast in the wort",
            pitch_rate,
            yeast_mass=grams,
            cells_per_gram=cells,
            volume=liquid.volume,
            remark="right within a factor of two",
        )
    walk.ledger.work(
        walk.id,
        "original-extract",
        f"original extract of the {wort_called(step.what)}",
        degrees_plato_from_gravity,
        gravity=liquid.gravity,
    )
    minutes_before_yeast(walk, liquid.minutes_warm, liquid.temperature)
    walk.vessels.liquids[liquid.name] = carried(
        liquid, pitched=True, yeast=known, original_gravity=liquid.gravity, vessel=str(step.in_ or liquid.vessel)
    )


def _must_have_been_bought(step: Pitch, walk: Walk, use: IngredientUse) -> None:
    """Refuse to pitch more of a yeast, over all steps so far, than the ingredients list."""
    earlier = [
        each for each in walk.lesson.steps[: walk.index + 1] if isinstance(each, Pitch) and each.with_ == step.with_
    ]
    amounts = [each.amount or use.amount for each in earlier]
    if {(amount.kind, piece_word(amount)) for amount in amounts} != {(use.amount.kind, piece_word(use.amount))}:
        return  # measured in several ways: a spoon is not held against a packet
    needed = sum(amount.number() for amount in amounts)
    if walk.ledger.watchful and needed > use.amount.number() * (1 + 1e-9):
        said = f"{needed * 1000:g} g of" if use.amount.kind == "mass" else "more of"
        wrong = f"The steps so far pitch {said} {step.with_}; the ingredients list {use.amount.written}."
        at, field_name = (step.amount, "amount") if step.amount else (step.with_, "with")
        raise walk.refuse(at, field_name, wrong, "Raise the amount there, or pitch less.")
