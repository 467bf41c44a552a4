"""Strength, Balling's balance, alcohol and water, and a serving, each against its published figures."""

import math

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from presenter.quantities import Q
from presenter.science.alcohol_water import ALCOHOL_DENSITY, alcohol_water_by_volume, alcohol_water_density
from presenter.science.balling import (
    alcohol_by_mass_balling,
    attenuation_quotient,
    original_extract_aoac_935_20,
    real_extract_balling,
)
from presenter.science.fermentation import (
    alcohol_from_fermented_extract,
    alcohol_in_serving,
    carbon_dioxide_from_fermented_extract,
    carbon_dioxide_gas_volume,
    energy_in_serving,
    fermented_extract,
    yeast_from_fermented_extract,
)
from presenter.science.formula import OutOfRangeError
from presenter.science.strength import (
    alcohol_by_volume_balling,
    alcohol_by_volume_duty_table,
    alcohol_by_volume_fixed_weights,
    alcohol_by_volume_from_mass,
    alcohol_by_volume_rule_of_thumb,
    duty_factor_for,
)

RULES = (alcohol_by_volume_balling, alcohol_by_volume_fixed_weights)
DROP_RULES = (alcohol_by_volume_duty_table, alcohol_by_volume_rule_of_thumb)


def by(rule, original, final):
    """Strength by any rule, whichever way it takes its gravities."""
    return rule.plain(original, final) if rule in RULES else rule.plain(original - final)


def cells(rows):
    """Every printed cell of one of Balling's tables: (label, difference, original extract, figure)."""
    for row in rows:
        for column, figure in row.items():
            if column.startswith("p"):
                yield (
                    f"D {row['difference']}, p {column[1:]}",
                    float(row["difference"]),
                    float(column[1:]),
                    float(figure),
                )


def example(rows, name):
    """One of Balling's worked examples as numbers."""
    row = next(row for row in rows if row["name"] == name)
    return {key: float(figure) for key, figure in row.items() if key != "name"}


def test_quotient_matches_published(published, compared):
    """This test ensures that the quotient gives every cell of Balling's table A (balling_gaerungschemie)."""
    compared(
        attenuation_quotient,
        [
            (label, 1 + difference / figure, attenuation_quotient.plain(extract))
            for label, difference, extract, figure in cells(published("balling_table_a"))
        ],
        kind="published",
        against="balling_gaerungschemie",
        what="table A, 39 cells from 9 to 16 degrees Plato",
        tolerance=0.0002,
        because="0.003 in a cell of 4.2 to 6.5, as the pack's index gives it, is 0.0002 in the quotient",
    )


def test_table_a_matches_published(published):
    """This test ensures that the real attenuation of table A (balling_gaerungschemie) comes out within 0.003."""
    for label, difference, extract, figure in cells(published("balling_table_a")):
        assert difference / (attenuation_quotient.plain(extract) - 1) == pytest.approx(figure, abs=0.003), label


def test_alcohol_by_mass_matches_published(published, compared):
    """This test ensures that alcohol by mass is that of Balling's table B, of his beer test and of his full
    fermentation (balling_gaerungschemie)."""
    table = [
        (label, alcohol_by_mass_balling.plain(p, p - difference / (attenuation_quotient.plain(p) - 1)), figure)
        for label, difference, p, figure in cells(published("balling_table_b"))
    ]
    examples = published("balling_worked_examples")
    beer, full = example(examples, "beer test"), example(examples, "full fermentation")
    worked = [
        ("beer test", alcohol_by_mass_balling.plain(beer["original"], beer["real"]), beer["alcohol"]),
        ("full fermentation of 12", alcohol_by_mass_balling.plain(12, full["real"]), full["alcohol"]),
    ]
    compared(
        alcohol_by_mass_balling,
        table + worked,
        kind="published",
        against="balling_gaerungschemie",
        what="table B and two worked examples",
        tolerance=0.003,
        because="the pack's index: three units of the last digit in a table with cut figures",
    )


def test_alcohol_by_mass_meets_modern_means(published, compared):
    """This test ensures that alcohol by mass agrees with the means of five sets of modern beers (cutaia2009)."""
    compared(
        alcohol_by_mass_balling,
        [
            (
                row["set"],
                alcohol_by_mass_balling.plain(float(row["original"]), float(row["real"])),
                float(row["alcohol"]),
            )
            for row in published("modern_beer_means")
        ],
        kind="published",
        against="cutaia2009",
        what="means of five sets of beers",
        tolerance=0.13,
        because="scatter of real beers: 0.25 degrees Plato in the original extract",
    )


def test_real_extract_matches_published(published, compared):
    """This test ensures that real extract is that of Balling's beer test (balling_gaerungschemie) and of the means
    of five sets of modern beers (cutaia2009)."""
    beer = example(published("balling_worked_examples"), "beer test")
    compared(
        real_extract_balling,
        [("beer test", real_extract_balling.plain(beer["original"], beer["apparent"]), beer["real"])],
        kind="published",
        against="balling_gaerungschemie",
        what="the beer test worked on two pages",
        tolerance=0.005,
        because="the example's original extract is cut, not rounded",
    )
    compared(
        real_extract_balling,
        [
            (row["set"], real_extract_balling.plain(float(row["original"]), float(row["apparent"])), float(row["real"]))
            for row in published("modern_beer_means")
        ],
        kind="published",
        against="cutaia2009",
        what="means of five sets of beers",
        tolerance=0.1,
        because="0.01 to 0.09 degrees Plato of real scatter",
    )


def test_original_extract_matches_published(published, compared):
    """This test ensures that the wort is found back for Balling's beer test (balling_gaerungschemie), for five sets
    of modern beers (cutaia2009) and, below the rule of its day, for five beers of 1917 (usda_bulletin_493)."""
    beer = example(published("balling_worked_examples"), "beer test")
    compared(
        original_extract_aoac_935_20,
        [("beer test", original_extract_aoac_935_20.plain(beer["alcohol"], beer["real"]), beer["original"])],
        kind="published",
        against="balling_gaerungschemie",
        what="the beer test worked on two pages",
        tolerance=0.01,
        because="the example's figures are cut, not rounded",
    )
    compared(
        original_extract_aoac_935_20,
        [
            (
                row["set"],
                original_extract_aoac_935_20.plain(float(row["alcohol"]), float(row["real"])),
                float(row["original"]),
            )
            for row in published("modern_beer_means")
        ],
        kind="published",
        against="cutaia2009",
        what="means of five sets of beers",
        tolerance=0.25,
        because="real scatter, not rounding",
    )
    for row in published("us_beers_1917"):
        alcohol, extract, original = (float(row[key]) for key in ("alcohol", "extract", "original"))
        assert 2 * alcohol + extract == pytest.approx(original, abs=0.011)
        lower = original - original_extract_aoac_935_20.plain(alcohol, extract)
        assert 0.16 < lower < 0.23, row["sample"]


def test_balance_matches_published(published, compared):
    """This test ensures that a full fermentation of a 12 percent wort gives Balling's masses of alcohol, gas and
    yeast (balling_gaerungschemie) and that grain yields (balling_yield) are extract over 2.0665."""
    full = example(published("balling_worked_examples"), "full fermentation")
    used = fermented_extract.plain(full["wort"], 12, 0)
    compared(
        fermented_extract,
        [("12 percent wort", used, full["extract"])],
        kind="published",
        against="balling_gaerungschemie",
        what="full fermentation of a 12 percent wort, per 100 of drink",
        tolerance=0.002,
        because="half of the last digit, and one more in the printed wort mass",
    )
    for formula, printed in (
        (alcohol_from_fermented_extract, full["alcohol"]),
        (carbon_dioxide_from_fermented_extract, full["gas"]),
        (yeast_from_fermented_extract, full["yeast"]),
    ):
        compared(
            formula,
            [("12 percent wort", formula.plain(full["extract"]), printed)],
            kind="published",
            against="balling_gaerungschemie",
            what="full fermentation of a 12 percent wort",
            tolerance=0.002,
            because="half of the last digit of each of two figures",
        )
    grains = [row for row in published("balling_raw_material_yield") if row["material"] != "sugar beet"]
    compared(
        alcohol_from_fermented_extract,
        [
            (row["material"], alcohol_from_fermented_extract.plain(float(row["extract_low"])), float(row["alcohol"]))
            for row in grains
        ],
        kind="published",
        against="balling_yield",
        what="eleven raw materials, pounds per hundred",
        tolerance=0.01,
        because="two decimals, worked with a rounded share",
    )


@given(extract=st.floats(0, 40), left=st.floats(0, 1))
def test_fermentation_closes(extract, left):
    """This test ensures that alcohol, gas and yeast together are the extract used, and that what was used and what
    is left were the wort's."""
    real = extract * left
    used = fermented_extract.plain(100.0, extract, real)
    gas, yeast = carbon_dioxide_from_fermented_extract.plain(used), yeast_from_fermented_extract.plain(used)
    assert alcohol_from_fermented_extract.plain(used) + gas + yeast == pytest.approx(used, abs=1e-9)
    drink = 100 - gas - yeast
    assert used + drink * real / 100 == pytest.approx(extract, abs=1e-9)


@given(extract=st.floats(1, 25), left=st.floats(0, 1))
def test_original_extract_is_found_back(extract, left):
    """This test ensures that the official method finds the wort again from Balling's alcohol."""
    real = extract * left
    alcohol = alcohol_by_mass_balling.plain(extract, real)
    assert original_extract_aoac_935_20.plain(alcohol, real) == pytest.approx(extract, abs=1e-9)


def test_alcohol_and_water_match_published(published, compared):
    """This test ensures that the international formula (oiml_r22) agrees with the handbook's older table (perry7)
    and with the two ends that the recommendation prints."""
    compared(
        alcohol_water_density,
        [
            (f"{row['percent']} %", alcohol_water_density.plain(float(row["percent"]), 20), float(row["density"]))
            for row in published("ethanol_water_density_perry")
        ],
        kind="published",
        against="perry7",
        what="0 to 12.9 percent by mass at 20 degC",
        tolerance=6e-5,
        because="independent data on water 0.029 kg/m3 heavier, printed to 0.01 kg/m3",
    )
    compared(
        alcohol_water_density,
        [
            ("water", alcohol_water_density.plain(0, 20), 0.9982012),
            ("lowest density of tables Va and Vb", alcohol_water_density.plain(100, 20), 0.7893),
        ],
        kind="published",
        against="oiml_r22",
        what="the two ends of the density range at 20 degC",
        tolerance=1e-4,
        because="the lower end is printed to 0.1 kg/m3",
    )


def test_pure_liquids_match_independent_library(compared):
    """This test ensures that pure alcohol and pure water have the densities of an independent library (CoolProp)
    from 0 to 40 degC."""
    points = []
    for temperature in range(1, 41, 3):
        for percent, fluid in ((0, "Water"), (100, "Ethanol")):
            there = PropsSI("D", "T", temperature + 273.15, "P", 101325, fluid) / 1000
            points.append((f"{fluid} {temperature} degC", alcohol_water_density.plain(percent, temperature), there))
    compared(
        alcohol_water_density,
        points,
        kind="library",
        against="CoolProp, water and ethanol",
        what="pure liquids, 1 to 40 degC",
        tolerance=0.0006,
        because="the library's ethanol equation claims 0.05 percent in density",
    )


def test_strength_by_volume_matches_published(compared, published):
    """This test ensures that strength by volume is share of mass times the handbook's density (perry7) over that of
    pure alcohol, in water and, where nothing is left in the drink, in beer."""
    rows = [row for row in published("ethanol_water_density_perry") if float(row["percent"]) > 0]
    expected = {row["percent"]: float(row["percent"]) * float(row["density"]) / 0.78924 for row in rows}
    compared(
        alcohol_water_by_volume,
        [(f"{p} %", alcohol_water_by_volume.plain(float(p)), figure) for p, figure in expected.items()],
        kind="published",
        against="perry7",
        what="0.1 to 12.9 percent by mass, alcohol 789.24 kg/m3",
        tolerance=0.001,
        because="0.06 kg/m3 in 988",
    )
    densities = {row["percent"]: float(row["density"]) for row in rows}
    compared(
        alcohol_by_volume_from_mass,
        [
            (
                f"{p} %",
                alcohol_by_volume_from_mass.plain(float(p), (density - 0.0012) / (0.99823 - 0.0012)),
                expected[p],
            )
            for p, density in densities.items()
        ],
        kind="published",
        against="perry7",
        what="0.1 to 12.9 percent by mass, apparent gravity from the same table",
        tolerance=0.001,
        because="0.03 kg/m3 in the water value",
    )


def test_alcohol_density_matches_published():
    """This test ensures that pure alcohol comes out at the pack's 789.239 kg/m3 (oiml_r22) and within the older
    teaching table's reach."""
    assert pytest.approx(0.789239, abs=1e-6) == ALCOHOL_DENSITY


def test_duty_factors_match_published(published, compared):
    """This test ensures that every band's factor is the notice's (hmrc_notice_226) at both its edges, and that the
    product meets the printed strength."""
    rows = published("duty_factor_bands")
    for row in rows:
        for edge in ("low", "high"):
            assert duty_factor_for(float(row[edge])) == float(row["factor"])
    assert duty_factor_for(6.9) == 0.125
    points = []
    for row in rows:
        for edge, strength in (("low", "weakest"), ("high", "strongest")):
            worked = alcohol_by_volume_duty_table.plain(float(row[edge]) / 1000)
            points.append((f"fall of {row[edge]}", worked, float(row[strength])))
    compared(
        alcohol_by_volume_duty_table,
        points,
        kind="published",
        against="hmrc_notice_226",
        what="both edges of ten bands",
        tolerance=0.13,
        because="the notice's own strengths are rounded to 0.1 and its factors to 0.001",
    )


def test_routes_meet_the_duty_table(compared):
    """This test ensures that the worked routes stay near the duty table (hmrc_notice_226) up to 1.100."""
    drinks = [(1.030, 1.007), (1.040, 1.010), (1.050, 1.012), (1.060, 1.014), (1.080, 1.018), (1.100, 1.020)]
    for rule in RULES:
        compared(
            rule,
            [(f"{og} to {fg}", rule.plain(og, fg), alcohol_by_volume_duty_table.plain(og - fg)) for og, fg in drinks],
            kind="published",
            against="hmrc_notice_226",
            what="six drinks from 1.030 to 1.100 against the factor table",
            tolerance=0.2,
            because="what the pack's index allows between a worked route and the notice",
        )


def test_every_rule_meets_common_practice(compared):
    """This test ensures that a drop from 1.052 to 1.012 is 5.2 to 5.35 percent by every rule offered (common
    practice)."""
    for rule in RULES + DROP_RULES:
        compared(
            rule,
            [("1.052 to 1.012", by(rule, 1.052, 1.012), 5.275)],
            kind="common practice",
            against="common practice",
            what="1.052 to 1.012 is 5.2 to 5.35 percent",
            tolerance=0.0751,
            because="half of the span that brewers accept",
        )


@pytest.mark.parametrize("rule", RULES + DROP_RULES, ids=lambda rule: rule.name)
@given(final=st.floats(1.0, 1.02), small=st.floats(0.001, 0.07), large=st.floats(0.001, 0.07))
def test_more_drop_is_more_alcohol(rule, final, small, large):
    """This test ensures that no rule gives the weaker drink for the greater fall; the duty table, whose factor goes
    up in steps, included."""
    small, large = sorted((small, large))
    assert by(rule, final + small, final) <= by(rule, final + large, final) + 1e-12


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_no_fall_is_no_alcohol(rule):
    """This test ensures that a wort that has not fermented holds no alcohol by any route."""
    assert rule.plain(1.050, 1.050) == pytest.approx(0, abs=1e-12)


def test_alcohol_in_a_glass_matches_published(compared):
    """This test ensures that 500 mL at 5 percent hold 19.7 g, the figure beside the standard drinks (computed there
    from the density of alcohol), and that 10 mL of alcohol are 7.9 g (std_enc)."""
    compared(
        alcohol_in_serving,
        [
            ("500 mL at 5 percent", alcohol_in_serving.plain(0.5, 5), 19.7),
            ("10 mL of alcohol", alcohol_in_serving.plain(0.01, 100), 7.9),
        ],
        kind="published",
        against="std_enc",
        what="half a litre at 5 percent; one United Kingdom unit",
        tolerance=0.05,
        because="printed to 0.1 g",
    )


def test_energy_matches_published(compared):
    """This test ensures that the energy of 355 mL is that of the older committee rule (fix1992), which prints its
    own factors for 12 fluid ounces."""
    points = []
    for alcohol, extract, gravity in ((3.0, 3.5, 1.008), (4.1, 4.4, 1.010), (6.5, 6.0, 1.016)):
        kilocalories = (24.495 * alcohol + 14.2 * (extract - 0.1)) * gravity
        points.append((f"{alcohol} %", energy_in_serving.plain(0.355, gravity, alcohol, extract), kilocalories * 4.184))
    compared(
        energy_in_serving,
        points,
        kind="published",
        against="fix1992",
        what="three beers of 12 US fluid ounces",
        tolerance=0.003,
        because="the older rule takes a millilitre of water for a gram, worth 0.18 percent",
        relative=True,
    )


def test_gas_volume_matches_independent_library(compared):
    """This test ensures that a kilogram of carbon dioxide takes the room that the library has for the real gas
    (CoolProp)."""
    points = []
    for temperature in range(0, 41, 5):
        litres = 1e3 / PropsSI("D", "T", temperature + 273.15, "P", 101325, "CarbonDioxide")
        points.append((f"{temperature} degC", carbon_dioxide_gas_volume.plain(1, temperature), litres))
    compared(
        carbon_dioxide_gas_volume,
        points,
        kind="library",
        against="CoolProp, carbon dioxide",
        what="1 kg from 0 to 40 degC at 101.325 kPa",
        tolerance=0.005,
        because="the formula's stated error: warmth is taken as for an ideal gas",
        relative=True,
    )


def test_serving_outside_is_refused():
    """This test ensures that a strength over 100 percent is refused."""
    with pytest.raises(OutOfRangeError, match="strength"):
        alcohol_in_serving(Q(0.5, "L"), Q(101, "percent_by_volume"))


def test_strength_routes_refuse_a_syrup():
    """This test ensures that a gravity over Balling's reach is refused, never clipped."""
    with pytest.raises(OutOfRangeError, match=r"original gravity is 1\.15"):
        alcohol_by_volume_balling(Q(1.150, "gravity"), Q(1.02, "gravity"))


def test_strength_computed_unchanged():
    """This test ensures that the pack's own computed strengths by the two routes have not moved (computed there, no
    published figure)."""
    expected = {(1.030, 1.007): (3.03, 3.01), (1.060, 1.014): (6.15, 6.08), (1.100, 1.020): (10.89, 10.69)}
    for (original, final), (fixed, balling) in expected.items():
        assert math.isclose(alcohol_by_volume_fixed_weights.plain(original, final), fixed, abs_tol=0.011)
        assert math.isclose(alcohol_by_volume_balling.plain(original, final), balling, abs_tol=0.011)
