"""Plants: their table, and the most of a regulated constituent in a drink, against published limits and intakes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from presenter.quantities import Q
from presenter.science.formula import OutOfRangeError
from presenter.science.plant_constituents import (
    ADULT,
    constituent_in_drink,
    constituent_in_measure,
    constituent_of,
    look_alikes_of,
    tolerable_in_a_day,
)
from presenter.science.plants import harmful_plants_in, plant_named, plant_rows
from presenter.sources import package_bibliography


def test_tolerable_intake_is_in_proportion(compared):
    """This test ensures that 0.1 mg of coumarin a day for each kilogram (bfr_2012) is 6 mg for an adult of 60 kg."""
    compared(
        tolerable_in_a_day, [("an adult of 60 kg", tolerable_in_a_day.plain(0.1, ADULT), 6.0)], kind="balance",
        against="60 times what one kilogram may have", what="coumarin, 60 kg", tolerance=1e-9, because="a proportion",
    )  # fmt: skip


def test_all_of_a_constituent_is_found_again(compared):
    """This test ensures that what is spread over the measures of a drink adds up to all that the plant held."""
    points = []
    for grams, content, litres in ((5, 10000, 10), (1, 15000, 8), (20, 15, 4)):
        in_drink = constituent_in_drink.plain(grams / 1000, content, litres)
        measures = [constituent_in_measure.plain(in_drink, litres / 80)] * 80
        points.append((f"{grams} g", sum(measures), grams / 1000 * content))
    for formula in (constituent_in_drink, constituent_in_measure):
        compared(
            formula, points, kind="balance", against="all that the plant held, over 80 measures",
            what="three plants and drinks", tolerance=1e-9, because="a conserved mass",
        )  # fmt: skip


def test_no_drink_holds_no_concentration():
    """This test ensures that a constituent spread over no drink at all is refused."""
    with pytest.raises(OutOfRangeError):
        constituent_in_drink(Q(5, "gram"), Q(100, "mg/kg"), Q(0, "L"))


@given(less=st.floats(0.001, 0.1), volume=st.floats(1, 100))
def test_more_herb_or_less_drink_holds_more(less, volume):
    """This test ensures that the most a drink can hold grows with the herb and falls with the volume."""
    held = constituent_in_drink.plain(less, 1000, volume)
    assert constituent_in_drink.plain(2 * less, 1000, volume) > held
    assert constituent_in_drink.plain(less, 1000, 2 * volume) < held


def test_every_figure_of_a_constituent_names_a_source_that_was_read():
    """This test ensures that no content, limit or intake value of a plant stands without a source, or with one that
    is only remembered, and that each row says what is not known."""
    for plant in plant_rows():
        about = constituent_of(plant)
        if about is None:
            continue
        assert about.gap.endswith(".")
        assert about.most is None or package_bibliography()[about.source].published
        assert about.intake is None or package_bibliography()[about.intake_source].published
        for limit in about.limits:
            assert package_bibliography()[limit.source].published


def test_plants_for_show_have_no_constituent_worked_out():
    """This test ensures that nothing is ever worked out for a plant that must not be drunk."""
    for key, row in plant_rows().items():
        assert row.level != "never" or constituent_of(key) is None


def test_look_alikes_are_of_plants_that_may_be_used():
    """This test ensures that a look-alike's warning stands at the plant that one means to use."""
    assert look_alikes_of("juniper")[0] == "savin juniper and yew, both deadly"
    assert look_alikes_of("caraway")[1] == "dropwort_2002"
    assert plant_named("savin juniper") == "savin_juniper"
    assert look_alikes_of("malt") == ("", "")


POISONS = (
    "foxglove leaves", "Digitalis", "hemlock", "hemlock water-dropwort", "cowbane", "monkshood root", "wolf's bane",
    "Lily of the valley", "meadow saffron", "oleander", "spurge laurel", "white hellebore", "black bryony berries",
    "castor beans", "cherry laurel", "baneberry", "birthwort", "cocculus", "nux vomica", "belladonna", "jimsonweed",
    "wild rosemary",
)  # fmt: skip


@pytest.mark.parametrize("name", POISONS)
def test_a_poison_is_named_by_the_names_people_use(name: str) -> None:
    """This test ensures that a well known poison is for show only (common practice: the botanicals table's own)."""
    assert any(plant_rows()[key].level == "never" for key in harmful_plants_in(name))


@pytest.mark.parametrize(
    "name", ["saffron", "bay leaves", "ground ivy", "rosemary", "parsley", "wild garlic", "laurel"]
)
def test_a_kitchen_herb_is_no_poison(name: str) -> None:
    """This test ensures that a herb whose name stands in a poison's is not refused with it."""
    assert not any(plant_rows()[key].level == "never" for key in harmful_plants_in(name))
