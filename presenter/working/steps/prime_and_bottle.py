"""Prime and bottle: the gas a drink holds, the sugar that brings the rest, and what presses in the warm.

The weight of sugar is withheld until the drink is shown finished (``working/finished.py``). A drink that is bottled
live, without sugar, is told what gas its own unfinished sugar may yet make.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from presenter.lesson.model import IngredientUse
from presenter.lesson.steps import slug
from presenter.lesson.steps.prime_and_bottle import PrimeAndBottle
from presenter.problems import Problem
from presenter.quantities import Origin
from presenter.science.bottling import (
    carbonation_to_add,
    carbonation_together,
    gas_hidden_by_hydrometer,
    priming_goods,
    strength_after_priming,
)
from presenter.science.carbon_dioxide import bottle_pressure, gas_hidden_in_gravity, residual_carbon_dioxide
from presenter.science.formula import Formula
from presenter.science.ingredients import Ingredient
from presenter.science.priming import (
    priming_extract,
    priming_glucose,
    priming_glucose_monohydrate,
    priming_sucrose,
)
from presenter.science.strength import alcohol_by_volume_balling
from presenter.working.finished import Finish, finish_of, may_hold_enzymes
from presenter.working.ingredients import known_ingredient
from presenter.working.ledger import Figure
from presenter.working.pouring import carried
from presenter.working.vessels import Liquid, StepProblemError
from presenter.working.walk import Walk

__all__ = ["walk_prime_and_bottle"]

MOST_GAS = 6.0  # volumes, where the formula for the pressure ends
WARMEST = 40.0  # degC, likewise
_BY_KIND: dict[str, Formula] = {
    "cane sugar": priming_sucrose,
    "glucose": priming_glucose,
    "glucose monohydrate": priming_glucose_monohydrate,
}
_MAY_BE_LIVE = re.compile(r"\b(plastic|pet|open|jugs?|crocks?|buckets?)\b")
_OPEN = re.compile(r"\b(open|jugs?|crocks?|buckets?)\b")


def walk_prime_and_bottle(step: PrimeAndBottle, walk: Walk) -> None:
    """Shut a drink in, with sugar or live, and say what gas and what pressure come of it."""
    liquid = walk.vessels.liquid(slug(step.what))
    _must_be_a_drink(step, walk, liquid)
    if step.in_ is not None:
        walk.must_fit(liquid.volume.value, str(step.in_), step.in_, "in", f"The {step.what}")
    stored = walk.author("stored at", "warmest place the bottles will stand in", step.stored_at)
    walk.must_lie(step.stored_at, "stored at", stored, 0, WARMEST, "bottles are kept at", f"0 to {WARMEST:.0f} degC")
    warmest = _warmest(step, walk, liquid)
    residual = walk.ledger.work(
        walk.id, "residual-gas", f"gas that the {step.what} holds already, at most", residual_carbon_dioxide,
        highest_temperature=warmest,
    )  # fmt: skip
    finish = finish_of(step, walk, liquid)
    spread = _hidden_by_hydrometer(walk, liquid)
    if step.with_ is None:
        gas, strength = _bottled_live(step, walk, liquid, residual, finish)
    else:
        gas, strength = _primed(step, walk, liquid, residual, finish)
    if gas is not None:
        _pressures(walk, gas, stored, spread)
    walk.vessels.liquids[liquid.name] = carried(
        liquid, carbonation=gas, strength=strength or liquid.strength, warmest=warmest, finished=finish.proven,
        container=str(step.container), vessel=str(step.in_ or ""),
    )  # fmt: skip


def _must_be_a_drink(step: PrimeAndBottle, walk: Walk, liquid: Liquid) -> None:
    if not liquid.pitched or liquid.final_gravity is None or liquid.original_gravity is None:
        raise walk.refuse(
            step.what,
            "what",
            f"The {step.what} has not fermented yet.",
            "Add a step that ferments it, before this one.",
        )
    if liquid.container:
        raise walk.refuse(
            step.what, "what", f"The {step.what} is in {liquid.container} already.", "Leave one step out."
        )
    container = str(step.container).casefold()
    if walk.ledger.watchful and may_hold_enzymes(walk, liquid) and not _MAY_BE_LIVE.search(container):
        wrong = (
            f"Nothing has boiled the {step.what}, so enzymes of the grain may go on freeing sugar in the bottle and"
            " make more gas than anybody can reckon."
        )
        remedy = "Write plastic pressure bottles or an open jug, keep it cold and drink it fresh; or boil the wort."
        raise walk.refuse(step.container, "container", wrong, remedy)
    if step.with_ is not None and step.gas is None:
        wrong = f"The step does not say how lively the {step.what} should be."
        raise walk.refuse(step.with_, "with", wrong, "Add gas: with the volumes wanted, such as gas: 2.2 volumes.")
    if step.with_ is None and step.gas is not None:
        wrong = f"{step.gas.written} are wanted, and the step names no sugar to make them."
        raise walk.refuse(step.gas, "gas", wrong, "Add with: and the sugar's name under ingredients.")
    if step.with_ is not None and _OPEN.search(container):
        wrong = f"No gas stays in {step.container}, so sugar for priming is wasted there."
        raise walk.refuse(step.container, "container", wrong, "Leave out the sugar, or name a bottle.")


def _warmest(step: PrimeAndBottle, walk: Walk, liquid: Liquid) -> Figure:
    """The highest temperature since fermenting: the drink keeps least gas at it."""
    known = liquid.warmest or liquid.temperature
    if step.was_never_above is None:
        return known
    figure = walk.author("was never above", "warmest since it fermented", step.was_never_above)
    walk.must_lie(step.was_never_above, "was never above", figure, 0, WARMEST, "a drink stands at", "0 to 40 degC")
    if walk.ledger.watchful and step.was_never_above.number() < known.value - 1e-9:
        wrong = f"The {step.what} has been at {known.value:.0f} degC, above {step.was_never_above.written}."
        raise walk.refuse(step.was_never_above, "was never above", wrong, "Write the highest temperature it has had.")
    return figure


def _hidden_by_hydrometer(walk: Walk, liquid: Liquid) -> Figure:
    assert liquid.original_gravity is not None
    assert liquid.final_gravity is not None
    hydrometer = walk.lesson.instruments["hydrometer"]
    place = None if hydrometer.layer == "package" else hydrometer.within.place
    within = walk.ledger.state(
        walk.id, "hydrometer-within", "how far the hydrometer may be off", hydrometer.within.number(), "gravity",
        origin=Origin(hydrometer.layer, place, hydrometer.within.written, hydrometer.rests_on), on_sheets=False,
    )  # fmt: skip
    return walk.ledger.work(
        walk.id, "hidden-by-hydrometer", "gas that the hydrometer's own error can hide", gas_hidden_by_hydrometer,
        original_gravity=liquid.original_gravity, final_gravity=liquid.final_gravity, right_within=within,
    )  # fmt: skip


def _hidden(walk: Walk, liquid: Liquid, finish: Finish) -> Figure | None:
    """Gas still to come from the last gravity read down to the end; None where the reading is at the end or under."""
    assert liquid.original_gravity is not None
    assert liquid.final_gravity is not None
    if finish.last is None:
        return None
    if not walk.ledger.goes(walk.id, "hidden-gas", finish.last.value > liquid.final_gravity.value):
        return None
    return walk.ledger.work(
        walk.id, "hidden-gas", "gas to come if it goes on to the gravity expected", gas_hidden_in_gravity,
        original_gravity=liquid.original_gravity, gravity=finish.last, final_gravity=liquid.final_gravity,
    )  # fmt: skip


def _bottled_live(
    step: PrimeAndBottle, walk: Walk, liquid: Liquid, residual: Figure, finish: Finish
) -> tuple[Figure | None, Figure | None]:
    if finish.last is None:
        reason = (
            f"No gravity of the {step.what} as it is bottled is known, so nobody can say how much gas is still to come."
            " Read it, and write it under readings."
        )
        walk.ledger.withhold(walk.id, "carbonation", "gas in the bottle", reason)
        walk.ledger.withhold(walk.id, "bottle-pressure", "pressure in the bottle", reason)
        return None, None
    hidden = _hidden(walk, liquid, finish)
    if hidden is None:
        return residual, None
    gas = walk.ledger.work(
        walk.id, "carbonation", "gas in the bottle if all that sugar ferments there", carbonation_together,
        carbonation=residual, other_carbonation=hidden, remark="a shut bottle; venting lets some of it go",
    )  # fmt: skip
    return gas, None


def _primed(
    step: PrimeAndBottle, walk: Walk, liquid: Liquid, residual: Figure, finish: Finish
) -> tuple[Figure, Figure | None]:
    assert step.gas is not None
    assert step.with_ is not None
    assert liquid.strength is not None
    wanted = walk.author("gas", "gas wanted in the bottle", step.gas, exact=True)
    if walk.ledger.watchful and wanted.value <= residual.value:
        wrong = f"The {step.what} holds up to {residual.value:.1f} volumes already; {step.gas.written} are fewer."
        raise walk.refuse(step.gas, "gas", wrong, "Want more, or bottle it without sugar.")
    rise = walk.ledger.work(
        walk.id, "gas-to-add", "gas that the sugar has to bring", carbonation_to_add,
        carbonation_wanted=wanted, carbonation_held=residual,
    )  # fmt: skip
    _hidden(walk, liquid, finish)
    if not walk.ledger.goes(walk.id, "sugar", finish.proven):
        walk.ledger.withhold(walk.id, "sugar", f"{step.with_} for priming", finish.wanting)
        _sugar_named(step, walk)
        return wanted, None
    sugar = _sugar(step, walk, liquid, rise)
    _must_have_been_bought(step, walk, sugar)
    before = liquid.strength
    if finish.last is not None:
        assert liquid.original_gravity is not None
        before = walk.ledger.work(
            walk.id, "strength-as-read", "strength by the readings, by Balling's route", alcohol_by_volume_balling,
            original_gravity=liquid.original_gravity, final_gravity=finish.last,
        )  # fmt: skip
    strength = walk.ledger.work(
        walk.id, "strength", "strength once the bottle's sugar has fermented", strength_after_priming,
        strength=before, carbonation_rise=rise,
    )  # fmt: skip
    return wanted, strength


def _sugar_named(step: PrimeAndBottle, walk: Walk) -> tuple[IngredientUse, Ingredient]:
    """The sugar's entry in the lesson and in the tables; a Problem where no yeast takes it."""
    use = next(use for key, use in walk.lesson.file.ingredients.items() if str(key) == str(step.with_))
    known = known_ingredient(str(use.what))
    if known is None or not known.soluble or not known.attenuable or not known.extract_share:
        where = f"ingredients.{step.with_}.what"
        wrong = f"{use.what} is no sugar that this toolkit can weigh for priming."
        remedy = "Write for instance cane sugar, glucose, glucose monohydrate or honey."
        raise StepProblemError(Problem(use.what.place, where, str(use.what), wrong, remedy))
    return use, known


def _sugar(step: PrimeAndBottle, walk: Walk, liquid: Liquid, rise: Figure) -> Figure:
    """The weight of the sugar, by its kind."""
    use, known = _sugar_named(step, walk)
    formula = _BY_KIND.get(known.name, priming_extract)
    work: Callable[..., Figure] = walk.ledger.work
    if formula is not priming_extract:
        return work(
            walk.id, "sugar", f"{use.what} for priming", formula, carbonation_rise=rise, volume=liquid.volume,
            remark="for all of the drink; dissolve it, and stir it in evenly",
        )  # fmt: skip
    assert known.extract_share is not None
    assert known.attenuable is not None
    extract = work(
        walk.id, "sugar-as-extract", "fermentable extract for priming", priming_extract,
        carbonation_rise=rise, volume=liquid.volume, on_sheets=False,
    )  # fmt: skip
    percent = 100 * known.extract_share * known.attenuable
    share = walk.ledger.state(
        walk.id, "sugar-share", f"share of {known.name} that yeast can take", percent, "percent",
        origin=Origin("package", None, f"{percent:.1f} percent", f"{known.rests_on}; {known.attenuable_rests_on}"),
        influences={f"what yeast can take of {known.name}": 100 * known.attenuable_spread * known.extract_share},
        sources=known.sources, on_sheets=False,
    )  # fmt: skip
    return work(
        walk.id, "sugar", f"{use.what} for priming", priming_goods, extract=extract, fermentable_share=share,
        remark="for all of the drink; dissolve it, and stir it in evenly",
    )  # fmt: skip


def _must_have_been_bought(step: PrimeAndBottle, walk: Walk, sugar: Figure) -> None:
    """Refuse to take more of a sugar, over all bottlings so far, than the ingredients list."""
    use, _ = _sugar_named(step, walk)
    earlier = [
        walk.ledger.entries[f"{each.id}.sugar"].value
        for each in walk.lesson.steps[: walk.index]
        if isinstance(each, PrimeAndBottle) and each.with_ == step.with_ and f"{each.id}.sugar" in walk.ledger.entries
    ]
    needed = sugar.value + sum(earlier)
    if not walk.ledger.watchful or use.amount.kind != "mass" or needed <= 1000 * use.amount.number():
        return
    whole = "The bottlings so far take" if earlier else "Priming takes"
    wrong = f"{whole} about {needed:.0f} g of {use.what}; the ingredients list {use.amount.written}."
    assert step.with_ is not None
    raise walk.refuse(step.with_, "with", wrong, "Raise the amount there, or want less gas.")


def _pressures(walk: Walk, gas: Figure, stored: Figure, spread: Figure) -> None:
    """What presses in the warmest place, and what would if the hydrometer were as far off as it may be."""
    most = walk.ledger.work(
        walk.id, "carbonation-at-most", "gas in the bottle if the hydrometer read too low", carbonation_together,
        carbonation=gas, other_carbonation=spread, on_sheets=False,
    )  # fmt: skip
    for name, label, figure in (
        ("bottle-pressure", "pressure in the bottle with that gas, in the warmest place", gas),
        ("bottle-pressure-at-most", "pressure there if the hydrometer read too low", most),
    ):
        if not walk.ledger.goes(walk.id, name, figure.value <= MOST_GAS):
            reason = (
                f"There may be {figure.value:.0f} volumes of gas, more than the {MOST_GAS:.0f} up to which pressure can"
                " be worked out, and more than a bottle should be asked to hold. Let it ferment out, or leave it open."
            )
            walk.ledger.withhold(walk.id, name, label, reason)
            continue
        walk.ledger.work(
            walk.id, name, label, bottle_pressure, carbonation=figure, temperature=stored,
            remark="over the air's; it is what presses, never what a bottle bears",
        )  # fmt: skip
