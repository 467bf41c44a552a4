"""What is in a measure: alcohol, standard drinks by country, constituents of herbs at most, allergens; and refusals."""

from __future__ import annotations

from typing import Any

import pytest

from presenter.problems import ProblemsFoundError
from presenter.science.ingredients import ingredient_names
from presenter.science.plants import plant_rows
from presenter.working.allergens import allergen_lines, ingredients_unknown_to_allergens
from presenter.working.plants import plant_lines
from presenter.working.serving import countries_of

POUR = "  - {name: Pour, do: serve, what: [strong], measure: 100 mL, container: open}\n"


def _ale(harrowmere: Any, bought: str = "", herb: str = "", top: str = "", spreads: bool = False) -> Any:
    steps = harrowmere.two_worts() + harrowmere.TO_ALE.replace("for: 15 min}", f"for: 15 min{herb}}}") + POUR
    return harrowmere.worked(steps, bought=bought, spreads=spreads, top=top)


def test_alcohol_is_counted_in_each_country_of_the_short_table(harrowmere: Any) -> None:
    """This test ensures that the grams in a measure are counted by each country's own grams, 8 to 20 of them."""
    worked = _ale(harrowmere)
    value = {name: number.quantity.magnitude for name, number in worked.numbers.items()}
    grams = value["pour.strong-alcohol-in-measure"]
    for country in countries_of(worked.lesson):
        key = country.country.lower().replace(" ", "-")
        assert value[f"pour.strong-in-standard-drinks-{key}"] == pytest.approx(grams / country.grams)
        number = worked.numbers[f"pour.strong-in-standard-drinks-{key}"]
        assert f"({country.grams:g} g, source of " in number.label
        assert worked.lesson.bibliography[number.sources[-1]].year in number.label
    assert [country.grams for country in countries_of(worked.lesson)] == [8, 10, 14, 20]


def test_a_lesson_names_its_own_countries(harrowmere: Any) -> None:
    """This test ensures that the audience's countries take the short table's place."""
    worked = _ale(harrowmere, top="audience: {standard drinks of: [Ireland, Hungary]}\n")
    counted = [name for name in worked.numbers if "-in-standard-drinks-" in name]
    assert counted == ["pour.strong-in-standard-drinks-ireland", "pour.strong-in-standard-drinks-hungary"]


def test_nobody_tastes_and_nothing_is_summed(harrowmere: Any) -> None:
    """This test ensures that a lesson without a tasting has no sums of a serving, herbs' included."""
    worked = _ale(
        harrowmere, "  spice: {what: cassia cinnamon, amount: 5 g}\n", ", with: [spice]", "audience: {tasting: none}\n"
    )
    assert [number.id for number in worked.of_step("pour")] == ["pour.measure"]


def test_a_constituent_is_the_most_there_can_be(harrowmere: Any) -> None:
    """This test ensures that a measure's coumarin is that of all the cinnamon, at the most a stick was found to hold
    (woehrlin_2010: 10 g in a kilogram)."""
    worked = _ale(harrowmere, "  spice: {what: cinnamon, amount: 5 g}\n", ", with: [spice]")
    volume = worked.vessels.liquids["strong"].volume.value
    number = worked.numbers["pour.strong-spice-coumarin-in-measure"]
    assert number.quantity.magnitude == pytest.approx(0.005 * 10000 / volume * 0.1)
    assert "at most" in number.label
    assert "woehrlin_2010" in number.sources
    assert not [
        name for name in _ale(harrowmere, "  spice: {what: cinnamon, amount: 5 g}\n").numbers if "coumarin" in name
    ]


def test_a_spoon_of_cinnamon_counts_too(harrowmere: Any) -> None:
    """This test ensures that a spice measured by the spoon is weighed by the table, and one that nobody weighed is
    said to be unknown, never left out."""
    spoon = _ale(harrowmere, "  spice: {what: cinnamon, amount: 2 teaspoons}\n", ", with: [spice]")
    mass = spoon.numbers["pour.strong-spice-coumarin-plant"].quantity.to("gram").magnitude
    assert 3 < mass < 8
    pieces = _ale(harrowmere, "  spice: {what: cinnamon, amount: 3 cloves}\n", ", with: [spice]")
    assert [kept.id for kept in pieces.withheld] == ["pour.strong-spice-coumarin-in-measure"]


def test_gaps_are_said_in_sentences(harrowmere: Any) -> None:
    """This test ensures that a herb's line says its origin, its limits, its look-alikes and what is not known."""
    bought = (
        "  gale: {what: bog myrtle, amount: 5 g, origin: bought}\n  worm: {what: wormwood, amount: 1 g}\n"
        "  berries: {what: juniper berries, amount: 5 g, origin: the hedge}\n"
        "  seed: {what: coriander seed, amount: 5 g, origin: bought}\n"
    )
    lines = {line.ingredient: line for line in plant_lines(_ale(harrowmere, bought).lesson)}
    assert set(lines) == {"bog myrtle", "wormwood", "juniper berries"}
    said = {name: " ".join(line.sentences) for name, line in lines.items()}
    assert "No published limit and no published intake value was read for it" in said["bog myrtle"]
    assert "35 mg in a kilogram (alcoholic drinks made from Artemisia, European Union)" in said["wormwood"]
    assert "6.6 mg for an adult of 60 kg" in said["wormwood"]
    assert "counts as gathered" in said["wormwood"]
    assert "Origin: the hedge. Easily taken for it: savin juniper and yew, both deadly." in said["juniper berries"]
    assert all("safe" not in words for words in said.values())


@pytest.mark.parametrize("plant", [key for key, row in plant_rows().items() if row.level == "never"])
def test_no_plant_for_show_is_an_ingredient(harrowmere: Any, plant: str) -> None:
    """This test ensures that each plant for show only is refused as an ingredient and may be shown in a step."""
    name = plant_rows()[plant].name.split(",")[0]
    with pytest.raises(ProblemsFoundError) as caught:
        _ale(harrowmere, f"  herb: {{what: dried {name}, amount: 5 g}}\n")
    (problem,) = caught.value.problems
    assert problem.wrong.startswith(f"dried {name} must never go into a drink")
    shown = f"  - {{name: Show, do: show, what: [a sprig of {name}]}}\n"
    assert harrowmere.worked(harrowmere.two_worts() + shown, spreads=False).lesson.steps[-1].do == "show"


def test_no_ingredient_of_the_tables_is_a_plant_for_show(harrowmere: Any) -> None:
    """This test ensures that no ingredient that the toolkit knows by name is refused as a plant for show."""
    from presenter.science.ingredients import ingredient_named

    levels = {name: plant_rows()[ingredient_named(name).plant].level for name in ingredient_names()
              if ingredient_named(name).plant}  # fmt: skip
    assert "never" not in levels.values()


def test_allergens_are_never_rounded_away(harrowmere: Any) -> None:
    """This test ensures that possible allergens stand with the certain ones, and that an ingredient of no table is
    named as unknown."""
    bought = "  raisins: {what: dark raisins, amount: 5 g}\n  weed: {what: cow parsley, amount: 5 g}\n"
    lesson = _ale(harrowmere, bought).lesson
    lines = {line.group: line for line in allergen_lines(lesson)}
    assert set(lines) == {"cereals containing gluten", "sulphur dioxide and sulphites"}
    assert lines["cereals containing gluten"].certain
    assert lines["sulphur dioxide and sulphites"].brought_by == (("dark raisins", "possible"),)
    assert ingredients_unknown_to_allergens(lesson) == ("cow parsley",)
