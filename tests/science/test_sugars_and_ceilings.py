"""What yeast takes of a wort's sugars, where its alcohol stops it, and the gas in the room."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from presenter.quantities import Q
from presenter.science.alcohol_ceiling import gravity_at_strength
from presenter.science.blending import mixed_share
from presenter.science.formula import OutOfRangeError
from presenter.science.gravity import gravity_from_degrees_plato
from presenter.science.household import mass_of_measure
from presenter.science.ingredients import ingredient_named
from presenter.science.mixing_heat import specific_heat_of_goods
from presenter.science.room_air import share_of_room
from presenter.science.strength import alcohol_by_volume_balling, alcohol_by_volume_from_mass
from presenter.science.sugars_taken import fermented_share
from presenter.science.yeast import sugars_fermented, yeast_of

shares = st.floats(0, 100)


def test_gravity_at_strength_matches_published(published, compared):
    """This test ensures that the gravity found for a beer's strength is that of five sets of modern beers
    (cutaia2009), to the scatter of real beers."""
    points = []
    for row in published("modern_beer_means"):
        original, final = (gravity_from_degrees_plato.plain(float(row[name])) for name in ("original", "apparent"))
        strength = alcohol_by_volume_from_mass.plain(float(row["alcohol"]), final)
        points.append((row["set"], gravity_at_strength.plain(original, strength), final))
    compared(
        gravity_at_strength,
        points,
        kind="published",
        against="cutaia2009",
        what="means of five sets of beers",
        tolerance=0.0012,
        because="scatter of real beers: 0.13 percent of alcohol by mass",
    )


@given(original=st.floats(1.02, 1.1), share=st.floats(0.05, 0.95))
def test_gravity_at_strength_turns_the_route_round(original, share):
    """This test ensures that a wort whose gravity stands where it was found has the strength that was asked for."""
    strength = share * alcohol_by_volume_balling.plain(original, 1.0)
    found = gravity_at_strength.plain(original, strength)
    assert alcohol_by_volume_balling.plain(original, found) == pytest.approx(strength, abs=1e-8)


def test_gravity_at_strength_refuses_more_than_the_sugar_gives():
    """This test ensures that a strength beyond the wort's sugar is refused, in words that say the most there is."""
    with pytest.raises(OutOfRangeError, match=r"a wort of 1\.030 holds sugar for \d\.\d percent by volume at most"):
        gravity_at_strength(Q(1.030, "gravity"), Q(9, "percent_by_volume"))


@pytest.mark.parametrize("name", ["dried ale yeast", "dried lager yeast", "dried baker's yeast", "sourdough starter"])
def test_what_a_yeast_takes_is_what_its_table_says(name):
    """This test ensures that a wort's fermented share at both ends of a yeast's band is the sum over its sugars."""
    yeast = yeast_of(ingredient_named(name))
    sugars = {"glucose": 9.0, "maltose": 45.0, "maltotriose": 12.0, "dextrin": 34.0}
    for end, expected in enumerate(sugars_fermented(yeast, sugars)):
        found = fermented_share.plain(
            66.0, 45.0, 100 * yeast.takes["maltose"][end], 12.0, 100 * yeast.takes["maltotriose"][end]
        )
        assert found == pytest.approx(expected, abs=1e-9)


@given(first=st.floats(0.01, 100), second=st.floats(0.01, 100), one=shares, other=shares)
def test_a_blend_lies_between_and_keeps_every_gram(first, second, one, other):
    """This test ensures that a blend's share lies between those of its parts and that the sugar adds up."""
    found = mixed_share.plain(first, one, second, other)
    assert min(one, other) - 1e-9 <= found <= max(one, other) + 1e-9
    assert found * (first + second) == pytest.approx(first * one + second * other, abs=1e-6)


def test_household_measures_match_published(compared):
    """This test ensures that a cup and three spoons of honey weigh what the food table says (usda_sr28)."""
    cup, spoons = (
        float(Q(number, unit).to("litre").magnitude) for number, unit in ((1, "us_cup"), (3, "us_tablespoon"))
    )
    compared(
        mass_of_measure,
        [
            ("a cup", mass_of_measure.plain(1.4329, cup), 0.339),
            ("three spoons", mass_of_measure.plain(1.4202, spoons), 0.063),
        ],
        kind="published",
        against="usda_sr28",
        what="honey by the cup and the spoon",
        tolerance=5e-5,
        because="the table's densities are rounded to four places",
    )


def test_specific_heat_of_goods_matches_independent_library(compared):
    """This test ensures that goods that are all water have water's specific heat, by an independent library."""
    water = PropsSI("C", "T", 293.15, "P", 101325, "Water") / 1000
    compared(
        specific_heat_of_goods,
        [("all water", specific_heat_of_goods.plain(100), water)],
        kind="library",
        against="CoolProp",
        what="goods that are all water",
        tolerance=0.01,
        because="the table of water's specific heat is printed to two places",
    )


@given(moisture=shares)
def test_goods_lie_between_dry_and_wet(moisture):
    """This test ensures that goods are never harder to warm than water nor easier than when dry."""
    low, found, high = (specific_heat_of_goods.plain(wet) for wet in (0, moisture, 100))
    assert low - 1e-12 <= found <= high + 1e-12


def test_gas_in_a_room_refuses_no_room():
    """This test ensures that a room of no size is refused."""
    with pytest.raises(OutOfRangeError):
        share_of_room(Q(100, "litre"), Q(0, "cubic_metre"))
