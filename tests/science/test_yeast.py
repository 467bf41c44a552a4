"""Yeast: pitching against the trade's worked example, bounds of attenuation against measured beers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from presenter.quantities import Q
from presenter.science.composition import table
from presenter.science.formula import OutOfRangeError, WrongUnitError
from presenter.science.ingredients import ingredient_named, ingredient_names
from presenter.science.yeast import (
    ExtractPart,
    NoYeastError,
    attenuation_limits,
    cells_to_pitch,
    mixed_fermentable_share,
    pitch_rate,
    sugars_fermented,
    yeast_for_cells,
    yeast_of,
)
from presenter.sources import package_bibliography

YEASTS = [ingredient_named(name) for name in ingredient_names() if ingredient_named(name).yeast]
MALT, HONEY = ingredient_named("pale barley malt"), ingredient_named("honey")


def test_cells_to_pitch_matches_published():
    """This test ensures that 19 litres at 12 degrees Plato, at 0.75 million per millilitre and degree, want 1.71e11
    cells (rate of G. Fix as quoted by fix_via_bkyeast; the product is arithmetic)."""
    found = cells_to_pitch(Q(19, "litre"), Q(12, "degPlato"), Q(0.75, "million_cells_per_plato"))
    assert found.magnitude == pytest.approx(1.71e11, rel=1e-9)


def test_pitch_rate_matches_published():
    """This test ensures that 17.1 g of dried yeast at 1e10 cells to the gram give 19 litres of wort of 12 degrees
    Plato the 0.75 million per millilitre and degree that it was reckoned for (rate of G. Fix, as quoted)."""
    rate = pitch_rate(Q(17.1, "gram"), Q(1e10, "cell / gram"), Q(19, "litre")).magnitude
    assert rate / 12 == pytest.approx(0.75e6, rel=0.001)


def test_yeast_for_cells_matches_published():
    """This test ensures that 1.71e11 cells are 17.1 g of dried yeast at 1e10 to the gram, 4.3 level US teaspoons of
    4.0 g (usda_sr28), and that a packet of 7.2 g holds 3.6e10 to 1.44e11 cells."""
    grams = yeast_for_cells(Q(1.71e11, "cell"), Q(1e10, "cell / gram")).magnitude
    assert grams == pytest.approx(17.1, abs=0.05)
    assert grams / 4.0 == pytest.approx(4.3, abs=0.05)
    low, typical, high = yeast_of(ingredient_named("dried baker's yeast")).cells_per_gram
    assert [7.2 * count for count in (low, typical, high)] == pytest.approx([3.6e10, 7.2e10, 1.44e11])


def test_cells_per_gram_fit_the_size_of_a_cell():
    """This test ensures that no band holds more cells in a gram than spheres of 6 micrometres can be, 2.7e10
    (bionumbers_size; density 1.1 and 30 percent dry matter from memory), nor fewer than the maker's least, 5e9."""
    cell = 4 / 3 * 3.141592653589793 * (3e-4) ** 3 * 1.1 * 0.30
    assert 1 / cell == pytest.approx(2.7e10, rel=0.01)
    low, typical, high = yeast_of(ingredient_named("dried ale yeast")).cells_per_gram
    assert low == 5e9
    assert low == typical / 2
    assert high == typical * 2
    assert high < 1 / cell


@given(
    mass=st.floats(min_value=0.1, max_value=1e3),
    cells=st.floats(min_value=1e9, max_value=2e10),
    volume=st.floats(min_value=1, max_value=1e3),
)
def test_pitching_goes_there_and_back(mass, cells, volume):
    """This test ensures that the yeast worked from the cells of a rate is the yeast that gave the rate."""
    rate = pitch_rate.plain(mass, cells, volume)
    assert yeast_for_cells.plain(rate * 1000 * volume, cells) == pytest.approx(mass)
    assert pitch_rate.plain(2 * mass, cells, volume) == pytest.approx(2 * rate)


@pytest.mark.parametrize("entry", YEASTS, ids=lambda entry: entry.name)
def test_every_yeast_is_honest(entry):
    """This test ensures that each yeast's sources exist, its bands are in order, it ferments no dextrin, and that it
    refuses a count in words where it has none."""
    yeast = yeast_of(entry)
    assert yeast.rests_on
    assert all(key in package_bibliography() for key in yeast.sources)
    assert all(0 <= low <= high <= 1 for low, high in yeast.takes.values())
    assert 0 < yeast.malt_attenuation[0] < yeast.malt_attenuation[1] < 100
    assert yeast.ceiling == (9, 16)
    assert (yeast.cells_per_gram is None) == bool(yeast.refuses)
    assert sugars_fermented(yeast, {"dextrin": 1.0, "lactose": 1.0}) == (0, 0)


def test_yeasts_without_published_attenuation_are_wider():
    """This test ensures that baker's yeast, for which nobody printed an attenuation, gets the wider band and is marked
    unpublished."""
    ale, baker = (yeast_of(ingredient_named(name)) for name in ("dried ale yeast", "dried baker's yeast"))
    assert baker.status == "unpublished"
    assert baker.malt_attenuation[1] - baker.malt_attenuation[0] > ale.malt_attenuation[1] - ale.malt_attenuation[0]


@pytest.mark.parametrize(
    "degree", [61.91, 63.88, 64.32, 66.58, 63.69, 63.47, 62.9, 64.37, 54.16, 58.64, 57.1, 55.13, 58.09, 55.78]
)
def test_attenuation_limits_match_published(degree):
    """This test ensures that the ales and stouts of the study of 1917 lie within the bounds for ale yeast in malt
    wort (usda_bulletin_493, tables I to V: degree of fermentation, real)."""
    band = attenuation_limits(yeast_of(ingredient_named("dried ale yeast")), [ExtractPart(MALT, 1.0)], 16.0)
    assert band.real_low <= degree <= band.real_high


def test_attenuation_of_a_honey_drink_passes_a_hundred():
    """This test ensures that a drink of honey alone may finish below 1.000: apparent attenuation above 100 percent."""
    yeast = yeast_of(ingredient_named("dried wine yeast"))
    band = attenuation_limits(yeast, [ExtractPart(HONEY, 1.0)], 18.0)
    assert 100 < band.apparent_low < band.apparent_high


@given(malt=st.floats(min_value=0.1, max_value=5), honey=st.floats(min_value=0, max_value=5), more=st.floats(0.1, 5))
def test_attenuation_rises_with_honey(malt, honey, more):
    """This test ensures that honey in place of nothing never lowers either bound, and that the bounds stay in order."""
    yeast = yeast_of(ingredient_named("dried baker's yeast"))
    less = attenuation_limits(yeast, [ExtractPart(MALT, malt), ExtractPart(HONEY, honey)], 12.0)
    sweeter = attenuation_limits(yeast, [ExtractPart(MALT, malt), ExtractPart(HONEY, honey + more)], 12.0)
    assert less.apparent_low <= less.apparent_high
    assert sweeter.real_low >= less.real_low - 1e-9
    assert sweeter.real_high >= less.real_high - 1e-9


def test_attenuation_follows_the_mash_where_it_is_known():
    """This test ensures that a mash's own figure replaces the yeast's band for the mashed part."""
    yeast = yeast_of(ingredient_named("dried ale yeast"))
    band = attenuation_limits(yeast, [ExtractPart(MALT, 1.0)], 12.0, mashed=(60.0, 66.0))
    assert (band.real_low, band.real_high) == (60.0, 66.0)
    assert band.rests_on == ("the mash",)


def test_milk_sugar_is_not_fermented():
    """This test ensures that whey's extract stays in the drink (brewing yeast leaves lactose: from memory)."""
    yeast = yeast_of(ingredient_named("dried ale yeast"))
    band = attenuation_limits(yeast, [ExtractPart(ingredient_named("whey"), 1.0)], 6.0)
    assert band.real_high <= 2


@given(share=st.floats(0, 100), sweet=st.floats(0, 100), mashed=st.floats(0, 100))
def test_mixed_fermentable_share_lies_between_its_parts(share, sweet, mashed):
    """This test ensures that a blend ferments no less than its dullest part and no more than its keenest: a closed
    balance."""
    found = mixed_fermentable_share.plain(share, sweet, mashed)
    assert min(sweet, mashed) - 1e-9 <= found <= max(sweet, mashed) + 1e-9


def test_sugars_fermented_follow_the_yeast():
    """This test ensures that ale yeast may leave maltotriose, and takes all glucose."""
    yeast = yeast_of(ingredient_named("dried ale yeast"))
    assert sugars_fermented(yeast, {"glucose": 10.0}) == (10.0, 10.0)
    low, high = sugars_fermented(yeast, {"maltotriose": 10.0, "dextrin": 20.0})
    assert low < high == 10.0


def test_measured_beers_stand_in_the_table():
    """This test ensures that the table keeps the published means of 1911 inside its own printed ranges."""
    measured = table("yeast")["measured"]
    for kind in ("lager", "ale and stout"):
        assert measured[kind]["low"] < measured[kind]["mean"] < measured[kind]["high"]


def test_refusals():
    """This test ensures that malt is no yeast, no extract no ferment, and wrong units and wild counts are refused."""
    with pytest.raises(NoYeastError, match="pale barley malt is no yeast"):
        yeast_of(MALT)
    with pytest.raises(ValueError, match="no extract to ferment"):
        attenuation_limits(yeast_of(YEASTS[0]), [ExtractPart(MALT, 0.0)], 12.0)
    with pytest.raises(OutOfRangeError, match="original extract"):
        attenuation_limits(yeast_of(YEASTS[0]), [ExtractPart(HONEY, 1.0)], 30.0)
    with pytest.raises(OutOfRangeError, match="cells per gram"):
        pitch_rate(Q(10, "gram"), Q(1.5e14, "cell / gram"), Q(20, "litre"))
    with pytest.raises(WrongUnitError, match="yeast_mass is a mass"):
        pitch_rate(Q(1, "litre"), Q(1e10, "cell / gram"), Q(20, "litre"))
