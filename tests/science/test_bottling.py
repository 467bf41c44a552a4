"""Bottling: gas that adds, goods for sugar, the alcohol of priming, and what a hydrometer can hide."""

import pytest
from chemicals import search_chemical
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from presenter.science.bottling import (
    carbonation_to_add,
    carbonation_together,
    gas_hidden_by_hydrometer,
    priming_goods,
    strength_after_priming,
)
from presenter.science.carbon_dioxide import gas_hidden_in_gravity
from presenter.science.ingredients import ingredient_named

GAS_AT_FREEZING = PropsSI("D", "T", 273.15, "P", 101325, "CarbonDioxide")  # g/L
ALCOHOL_AT_20 = PropsSI("D", "T", 293.15, "P", 101325, "Ethanol")  # g/L


def test_gas_adds_up(compared):
    """This test ensures that what is to be added, together with what is held, is what was wanted."""
    points = [
        (f"{wanted} over {held}", carbonation_together.plain(held, carbonation_to_add.plain(wanted, held)), wanted)
        for wanted in (1.8, 2.4, 3.0)
        for held in (0.7, 0.9)
    ]
    for formula in (carbonation_to_add, carbonation_together):
        compared(
            formula, points, kind="balance", against="what is held and what is added make what is wanted",
            what="six pairs of wanted and held", tolerance=1e-12, because="a conserved total",
        )  # fmt: skip


def test_goods_for_priming_balance(compared):
    """This test ensures that the goods weighed hold the extract asked for, by the survey of 490 honeys (78.1 percent)
    and by the molar masses of glucose and its hydrate (chemicals)."""
    hydrate = 100 * search_chemical("glucose").MW / (search_chemical("glucose").MW + search_chemical("water").MW)
    points = [
        (share, priming_goods.plain(60, share) * share / 100, 60) for share in (78.1, hydrate, 100.0)
    ]  # fmt: skip
    compared(
        priming_goods, points, kind="balance", against="share times weight is the extract",
        what="honey, hydrate, sugar", tolerance=1e-12, because="a conserved mass",
    )  # fmt: skip
    known = ingredient_named("corn sugar")
    assert known.extract_share == pytest.approx(hydrate / 100, abs=1e-4)


def test_strength_after_priming_matches_independent_library(compared):
    """This test ensures that a volume of gas in the bottle brings the alcohol that molar masses (chemicals) and the
    densities of gas and alcohol (CoolProp) give, and a little less than Balling's own quotient of gas and alcohol."""
    moles = search_chemical("ethanol").MW / search_chemical("carbon dioxide").MW
    rise = 100 * GAS_AT_FREEZING * moles / ALCOHOL_AT_20
    compared(
        strength_after_priming,
        [(volumes, strength_after_priming.plain(5, volumes), 5 + rise * volumes) for volumes in (0.5, 1.6, 3.0)],
        kind="library", against="chemicals, molar masses; CoolProp, densities of gas and alcohol",
        what="0.5 to 3 volumes made in a bottle of 5 percent", tolerance=0.002,
        because="the two libraries' densities differ in the fourth digit",
    )  # fmt: skip


def test_gas_hidden_by_hydrometer_matches_hidden_gas(compared):
    """This test ensures that the hydrometer hides what the same step of unfinished gravity would hold."""
    cases = [(1.050, 1.012, 0.001), (1.048, 1.010, 0.002), (1.080, 1.020, 0.0005)]
    compared(
        gas_hidden_by_hydrometer,
        [
            (
                (original, final, within),
                gas_hidden_by_hydrometer.plain(original, final, within),
                gas_hidden_in_gravity.plain(original, final + within, final),
            )
            for original, final, within in cases
        ],
        kind="balance", against="gas of the same step of gravity", what="three drinks and instruments",
        tolerance=1e-12, because="the same balance read once more",
    )  # fmt: skip


def test_gas_hidden_by_a_perfect_balling_step_matches_published(compared):
    """This test ensures that a thousandth of gravity hides the gas of the extract it stands for by Balling's own
    figures (balling_gaerungschemie): a real drop of 0.8192 of the apparent one, 46.286 of gas from 100 of extract."""
    from presenter.science.gravity import degrees_plato_from_gravity

    apparent = degrees_plato_from_gravity.plain(1.013) - degrees_plato_from_gravity.plain(1.012)
    extract = 0.8192 * apparent * 10 * 1.050 * 0.998207  # grams in a litre of the wort
    compared(
        gas_hidden_by_hydrometer,
        [("in 1.050", gas_hidden_by_hydrometer.plain(1.050, 1.012, 0.001), extract * 0.46286 / GAS_AT_FREEZING)],
        kind="published", against="balling_gaerungschemie", what="a thousandth at 1.012, volumes in a litre of wort",
        tolerance=0.03, because="extract used up counts the alcohol and gas lost, a few percent beside the real drop",
    )  # fmt: skip


@given(original=st.floats(1.03, 1.1), share=st.floats(0.1, 0.6), within=st.floats(0.0001, 0.005))
def test_a_worse_hydrometer_hides_more(original, share, within):
    """This test ensures that gas hidden grows with how far the hydrometer may be off."""
    final = 1 + (original - 1) * share
    less, more = (gas_hidden_by_hydrometer.plain(original, final, each) for each in (within, 2 * within))
    assert 0 < less < more
