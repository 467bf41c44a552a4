"""Household measures to mass, and period measures to litres, against definitions and against each other."""

from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS97

from presenter.quantities import Q
from presenter.science.composition import table
from presenter.science.formula import WrongUnitError
from presenter.science.ingredients import ingredient_named
from presenter.science.measures import (
    NoHouseholdWeightError,
    UnknownMeasureError,
    grain_weights,
    mass_from_bulk_density,
    mass_of_pieces,
    mass_of_volume,
    period_measure_named,
    period_measures,
    pieces_of,
)
from presenter.sources import package_bibliography

HOUSEHOLD = yaml.safe_load((Path(__file__).parent / "published" / "household_measures.yaml").read_text("utf-8"))


@pytest.mark.parametrize(
    ("food", "cup_grams", "spoon", "spoon_grams"),
    [
        ("honey", 339.0, "us_tablespoon", 21.0),
        ("malt_syrup", 332.0, "us_tablespoon", 21.0),
        ("salt_table", 292.0, "us_teaspoon", 6.0),
        ("sugar_granulated", 200.0, "us_teaspoon", 4.2),
    ],
)
def test_mass_from_bulk_density_matches_published(food, cup_grams, spoon, spoon_grams):
    """This test ensures that a spoon worked from the cup's bulk density meets the spoon's own printed weight within 1.5
    percent (usda_sr28: both were weighed)."""
    density = Q(cup_grams, "gram") / Q(1, "us_cup")
    found = mass_from_bulk_density(density.to("gram / millilitre"), Q(1, spoon))
    assert found.to("gram").magnitude == pytest.approx(spoon_grams, rel=0.015), food


def test_mass_of_a_litre_of_water_matches_an_independent_library():
    """This test ensures that a litre of water comes within 1 percent of what iapws gives at 20 degC; the food table
    prints 29.6 g for a fluid ounce, to 0.1 g."""
    density = IAPWS97(T=293.15, P=0.101325).rho
    found = mass_of_volume(ingredient_named("water"), Q(1, "litre")).mass.to("gram").magnitude
    assert found == pytest.approx(density, rel=0.01)


@pytest.mark.parametrize(
    ("name", "count", "unit", "grams"),
    [
        ("honey", 1, "us_cup", 339.0),
        ("honey", 1, "us_tablespoon", 21.0),
        ("cane sugar", 1, "us_cup", 200.0),
        ("cane sugar", 1, "us_teaspoon", 4.2),
        ("dried baker's yeast", 1, "us_teaspoon", 4.0),
        ("dried baker's yeast", 1, "us_tablespoon", 12.0),
        ("rolled oats", 1, "us_cup", 81.0),
        ("raisins", 1, "us_cup", 145.0),
        ("brown sugar", 1, "us_cup", 145.0),
        ("salt", 1, "us_teaspoon", 6.0),
        ("rye flour", 1, "us_cup", 102.0),
    ],
)
def test_mass_of_volume_matches_published(name, count, unit, grams):
    """This test ensures that spoons and cups give the printed weight within 1.5 percent, not packed where both are
    printed (usda_sr28)."""
    found = mass_of_volume(ingredient_named(name), Q(count, unit))
    assert found.mass.to("gram").magnitude == pytest.approx(grams, rel=0.015)
    assert found.source in package_bibliography()


@pytest.mark.parametrize(
    ("name", "count", "piece", "grams"),
    [
        ("dried baker's yeast", 1, "packet", 7.2),
        ("dried baker's yeast", 2, "packets", 14.4),
        ("fresh baker's yeast", 1, "cake", 17.0),
        ("rye bread", 3, "slices", 96.0),
        ("dates", 10, "dates", 71.0),
        ("raisins", 50, "raisins", 26.0),
        ("egg", 1, "medium", 44.0),
    ],
)
def test_mass_of_pieces_matches_published(name, count, piece, grams):
    """This test ensures that packets, slices and fruits weigh what the table prints (usda_sr28)."""
    found = mass_of_pieces(ingredient_named(name), count, piece)
    assert found.mass.to("gram").magnitude == pytest.approx(grams, abs=0.05)
    assert 0 < found.spread.to("gram").magnitude < 0.5 * grams


def test_spoon_of_yeast_is_wider_than_a_packet():
    """This test ensures that a spoon is trusted less than a packet of the same yeast."""
    yeast = ingredient_named("dried baker's yeast")
    spoon, packet = mass_of_volume(yeast, Q(1, "us_tablespoon")), mass_of_pieces(yeast, 1, "packet")
    assert (spoon.spread / spoon.mass).magnitude > (packet.spread / packet.mass).magnitude


@given(first=st.floats(min_value=0.1, max_value=90), second=st.floats(min_value=0.1, max_value=90))
def test_mass_of_volume_is_in_proportion(first, second):
    """This test ensures that twice the spoons weigh twice as much, up to the size of a cup."""
    honey = ingredient_named("honey")
    one = mass_of_volume(honey, Q(first, "millilitre")).mass.magnitude / first
    assert mass_of_volume(honey, Q(second, "millilitre")).mass.magnitude / second == pytest.approx(one)


def test_measures_that_nobody_weighed_are_refused():
    """This test ensures that a loaf, a spoon of malt and a mass where a volume is meant are refused in words."""
    bread = ingredient_named("rye bread")
    assert "slice, regular" in pieces_of(bread)
    with pytest.raises(NoHouseholdWeightError) as caught:
        mass_of_pieces(bread, 1, "loaf")
    assert str(caught.value) == (
        "There is no weight for rye bread by the loaf. Weighed are: slice, regular; slice, snack-size; slice, thin."
    )
    with pytest.raises(NoHouseholdWeightError, match="no weight for bog myrtle by the spoon or cup"):
        mass_of_volume(ingredient_named("bog myrtle"), Q(1, "us_teaspoon"))
    with pytest.raises(WrongUnitError, match="volume must be a volume"):
        mass_of_volume(bread, Q(1, "kg"))


@pytest.mark.parametrize("row", HOUSEHOLD["rows"], ids=lambda row: row["unit"])
def test_household_units_match_published(row):
    """This test ensures that each cup and spoon of the registry holds what its law says, to its last digit."""
    assert Q(1, row["unit"]).to("millilitre").magnitude == pytest.approx(row["millilitres"], rel=1e-9)


@pytest.mark.parametrize("measure", [m for m in period_measures() if m.unit], ids=lambda measure: measure.name)
def test_period_units_match_published(measure):
    """This test ensures that each period unit holds the litres its source prints, to the rounding of the
    printed figure (the source stands in each row of the table)."""
    assert measure.litres is not None
    found = Q(1, measure.unit).to("litre").magnitude
    digits = len(f"{measure.litres:.10g}".partition(".")[2])
    assert found == pytest.approx(measure.litres, abs=0.5001 * 10**-digits)


@pytest.mark.parametrize("measure", period_measures(), ids=lambda measure: measure.name)
def test_period_measures_say_how_firm_they_are(measure):
    """This test ensures that a measure lies within its own range, that an approximate one says so in its precision, and
    that its source exists or it says derived or from memory."""
    assert measure.litres is None or measure.low <= measure.litres <= measure.high
    doubtful = any(word in measure.precision for word in ("approximate", "uncertain"))
    assert measure.approximate == doubtful
    if measure.source:
        assert measure.source in package_bibliography()
    else:
        assert measure.status in {"derived", "from memory"}
    assert measure.precision in measure.words()


@pytest.mark.parametrize(
    ("first", "second", "ratio"),
    [
        ("ale_barrel", "imperial_gallon", 32.53),
        ("ale_barrel", "ale_gallon", 32),
        ("beer_barrel_english", "ale_gallon", 36),
        ("roman_amphora", "roman_sextarius", 48),
        ("roman_amphora", "roman_congius", 8),
        ("winchester_quarter", "winchester_bushel", 8),
        ("swedish_kanna", "swedish_jungfru", 32),
        ("egyptian_heqat", "egyptian_hin", 10),
        ("imperial_barrel", "imperial_gallon", 36),
    ],
)
def test_period_ratios_match_published(first, second, ratio):
    """This test ensures that the measures stand to each other as their sources say (sizes_barrel, smith_quadrantal,
    carlsson_1993, digital_egypt)."""
    assert (Q(1, first) / Q(1, second)).to("").magnitude == pytest.approx(ratio, rel=2e-4)


def test_period_measures_are_found_by_name():
    """This test ensures that a measure is found by its trade name, its unit's name and in the plural, and that a slip
    gets the nearest."""
    for written in ("barrel of ale", "ale barrel", "ale_barrel", "Ale Barrels"):
        assert period_measure_named(written).unit == "ale_barrel"
    assert period_measure_named("askr").high == 15.44
    with pytest.raises(UnknownMeasureError, match="Did you mean ale barrel"):
        period_measure_named("ale barel")


@pytest.mark.parametrize("weight", grain_weights(), ids=lambda weight: weight.unit)
def test_grain_units_match_published(weight):
    """This test ensures that each bushel and quarter by weight has the table's kilograms in the registry (mbs_units,
    bushel_page, as quoted)."""
    assert Q(1, weight.unit).to("kilogram").magnitude == pytest.approx(weight.kilograms, abs=0.6e-5)
    assert not weight.source or weight.source in package_bibliography()


def test_quarter_of_malt_fits_the_bushel_of_volume():
    """This test ensures that malt weighed by the quarter and measured by it agree with a plausible bulk density
    of 0.45 to 0.6 kg/L (common practice)."""
    density = (Q(1, "quarter_of_malt") / Q(1, "imperial_quarter")).to("kilogram / litre").magnitude
    assert 0.45 < density < 0.6


def test_household_rows_have_density_of_their_weight():
    """This test ensures that each derived bulk density is the printed weight over the legal volume of its measure."""
    units = {"cup": "us_cup", "tbsp": "us_tablespoon", "tsp": "us_teaspoon"}
    checked = 0
    for row in table("household_weights")["rows"]:
        if row["measure"] in units and "bulk_density" in row:
            volume = Q(row["amount"], units[row["measure"]]).to("millilitre").magnitude
            assert row["bulk_density"] == pytest.approx(row["grams"] / volume, abs=6e-5)
            checked += 1
    assert checked > 80
