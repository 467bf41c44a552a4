"""Loaves in a lesson: dough, bake, and bread in a mash with and without malt.

In: small lessons written here. Out: what their numbers must hold whatever the figures are. Conduction and the decay of
enzymes are checked in ``tests/science``; here it is the wiring: masses close, nothing sweet comes of nothing, and what
the oven killed stays dead.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from presenter.cautions import cautions_of
from presenter.cautions.facts_of_lesson import facts_of
from presenter.lesson import lesson_from_text, package_house
from presenter.working import WorkedLesson, work_out

HEAD = """\
title: A loaf at Harrowmere (invented)
scene: Harrowmere, the bakehouse (invented)
date: 2026-05-02
site: {altitude: 0 m, indoors: yes, room: 90 m3, heat: electric oven, water: mains, who brews: museum}
audience: {youngest: 12, tasting: none}
kit:
  thermometer: {right within: 1 degC}
  jar: {of: stainless steel, holds: 20 L, weighs: 1 kg}
  other jar: {of: stainless steel, holds: 20 L, weighs: 1 kg}
ingredients:
  flour: {what: rye flour, amount: 1 kg, from: our choice}
  leaven: {what: rye leaven, amount: 200 g, from: our choice}
  malt flour: {what: pale barley malt, amount: 100 g, from: our choice}
  malt: {what: pale barley malt, amount: 30 g, from: our choice}
  bought: {what: rye bread, amount: 500 g, from: our choice}
  crumbs: {what: loaf, amount: 500 g, from: our choice}
  one: {what: loaf, amount: 1, from: our choice}
steps:
"""
BAKE = "  - {name: Bake, do: bake, with: [flour, leaven], water: 700 mL, shape: ball, oven: 220 degC, %scall it: %s}\n"
MALTED = (
    "  - {name: Bake, do: bake, with: [flour, malt flour], water: 700 mL, shape: slab, thickness: 40 mm,"
    " oven: 220 degC, until core: %s, call it: loaf}\n"
)
SOAK = "  - {name: %s, do: mash, in: %s, with: [%s], water: 3 L, reach: 63 degC, hold: 60 min}\n"
DONE = "until core: 96 degC, "


@cache
def worked(steps: str) -> WorkedLesson:
    return work_out(lesson_from_text(HEAD + steps, Path("bakehouse") / "lesson.yaml", package_house()), spreads=False)


def value(of: WorkedLesson, number: str) -> float:
    return float(of.numbers[number].quantity.magnitude)


def test_dough_is_bread_and_steam() -> None:
    """This test ensures that dough is what went in, and that bread and the water the oven took are the dough again."""
    found = worked(BAKE % (DONE + "loaves: 2, ", "loaf"))
    dough = value(found, "bake.dough")
    assert dough == pytest.approx(1.2 + value(found, "bake.water-mass"))
    assert value(found, "bake.bread") + value(found, "bake.water-lost") == pytest.approx(dough)
    assert 2 * value(found, "bake.loaf-mass") == pytest.approx(value(found, "bake.bread"))
    assert 0 < value(found, "bake.moisture") < 100 * value(found, "bake.dough-water") / dough


def test_several_loaves_are_baked_as_each_alone() -> None:
    """This test ensures that loaves taken out at several heats have the times that each would have by itself."""
    three = worked(BAKE % ("until core: [70 degC, 85 degC, 96 degC], ", "[pale, brown, done]"))
    for name, core in (("pale", 70), ("brown", 85), ("done", 96)):
        alone = worked(BAKE % (f"until core: {core} degC, loaves: 3, ", "loaf"))
        for number in ("core-time", "hottest", "alpha-amylase-whole", "alpha-amylase-by-dough", "enzyme-counted"):
            assert value(three, f"bake.{name}-{number}") == pytest.approx(value(alone, f"bake.{number}"))


def test_time_and_core_are_two_ways_to_say_one_bake() -> None:
    """This test ensures that a loaf baked for the time that a core takes comes out with that core."""
    by_core = worked(BAKE % (DONE, "loaf"))
    minutes = value(by_core, "bake.core-time")
    by_time = worked(BAKE % (f"for: {minutes:.4f} min, ", "loaf"))
    assert value(by_time, "bake.core") == pytest.approx(96.0, abs=0.01)
    assert value(by_time, "bake.hottest") == pytest.approx(value(by_core, "bake.hottest"), abs=0.01)


@pytest.mark.parametrize("grist", ["crumbs", "bought"])
def test_bread_alone_gives_what_it_brought(grist: str) -> None:
    """This test ensures that bread without malt makes no sugar: nothing is freed, and a remark says why."""
    found = worked(BAKE % (DONE + "loaves: 1, ", "loaf") + SOAK % ("Soak", "jar", grist))
    assert value(found, "soak.extract-freed") == 0.0
    assert value(found, "soak.starch-dissolved") == 0.0
    assert value(found, "soak.maltose") == 0.0
    assert "what is sweet came with the bread" in found.numbers["soak.starch-dissolved"].remark
    brought = value(found, f"soak.{grist}-sugars")
    assert 0 < brought < 0.05
    assert value(found, "soak.extract") < 0.06
    assert value(found, "soak.gravity") < 1.008


@pytest.mark.parametrize("grist", ["crumbs", "bought"])
def test_a_spoonful_of_malt_opens_the_bread(grist: str) -> None:
    """This test ensures that malt frees the starch of bread, no more than there is, and that the kinds add up."""
    found = worked(BAKE % (DONE, "loaf") + SOAK % ("Soak", "jar", f"{grist}, malt"))
    all_extract = value(found, "soak.all-extract")
    assert value(found, "soak.extract-at-once") + value(found, "soak.extract-freed") == pytest.approx(
        value(found, "soak.extract")
    )
    assert value(found, "soak.extract") <= all_extract * (1 + 1e-9)
    assert value(found, "soak.starch-dissolved") > 90
    kinds = sum(value(found, f"soak.{kind}") for kind in ("glucose", "maltose", "maltotriose", "dextrin"))
    assert kinds == pytest.approx(100.0)
    assert value(found, "soak.gravity") > 1.02


def test_crumbs_keep_their_whole_starch() -> None:
    """This test ensures that starch which nothing thinned stays with the drained crumbs, and that malt finds it."""
    draw = "  - {name: Draw, do: draw off, out of: jar, volume: 1 L, call it: thin}\n"
    again = "  - {name: Again, do: mash, in: jar, with: [malt], water: 1 L, reach: 63 degC, hold: 60 min}\n"
    found = worked(BAKE % (DONE, "loaf") + SOAK % ("Soak", "jar", "crumbs") + draw + again)
    locked = value(found, "soak.extract-undissolved")
    assert value(found, "again.extract-freed") > 0.9 * locked


def test_a_finished_loaf_brings_no_enzyme() -> None:
    """This test ensures that malt baked into a loaf counts for nothing once its middle has passed 90 degC, and that an
    underbaked flat loaf keeps what the decay leaves, which then makes sugar."""
    done, early = (worked(MALTED % core + SOAK % ("Soak", "jar", "crumbs")) for core in ("96 degC", "60 degC"))
    assert value(done, "bake.hottest") > 90
    assert value(done, "bake.enzyme-counted") == 0.0
    assert value(done, "soak.maltose") == 0.0
    assert value(early, "bake.hottest") < 90
    assert value(early, "bake.enzyme-counted") == pytest.approx(value(early, "bake.alpha-amylase-whole"))
    assert value(early, "soak.maltose") > 0.0
    assert value(early, "soak.alpha-amylase-left") <= value(early, "bake.enzyme-counted") + 1e-9
    assert value(early, "soak.extract") > value(done, "soak.extract")


def test_a_loaf_is_counted_by_the_piece() -> None:
    """This test ensures that one loaf in a mash weighs what one loaf of the bake weighs."""
    found = worked(BAKE % (DONE + "loaves: 3, ", "loaf") + SOAK % ("Soak", "jar", "one"))
    assert value(found, "soak.grain") == pytest.approx(value(found, "bake.loaf-mass"))


def test_two_readings_bracket_the_loaf() -> None:
    """This test ensures that by the textbook on dough no less of a loaf keeps amylase than by the flour handbook."""
    found = worked(BAKE % ("until core: [70 degC, 85 degC, 96 degC], ", "[pale, brown, done]"))
    for loaf in ("pale", "brown", "done"):
        for amylase in ("alpha-amylase", "beta-amylase"):
            flour, dough = (value(found, f"bake.{loaf}-{amylase}-by-{by}") for by in ("rye-flour", "dough"))
            assert 0.0 <= flour <= dough <= 100.0
            assert "disagree" in found.numbers[f"bake.{loaf}-{amylase}-by-dough"].remark


def test_a_bake_is_hot_and_its_leaven_is_dead() -> None:
    """This test ensures that cautions see the oven's heat, no living leaven and no unknown ingredient in a loaf."""
    found = worked(BAKE % (DONE, "loaf") + SOAK % ("Soak", "jar", "crumbs, malt"))
    sheet, steps = facts_of(found)
    assert steps[0].temp_c == 220.0
    assert steps[0].live is False
    assert "bread" in sheet.ingredients
    assert not {"sourdough", "souring culture", "loaf"} & set(sheet.ingredients)
    assert {"scald", "mould", "glass-mercury", "allergen-gluten"} <= {
        placed.id for placed in cautions_of(found).full_words
    }


def test_give_or_take_of_the_core_time_names_its_cause() -> None:
    """This test ensures that the time to a hot core carries what conduction leaves out as one of its contributors."""
    text = HEAD + BAKE % (DONE, "loaf")
    found = work_out(lesson_from_text(text, Path("bakehouse") / "lesson.yaml", package_house()))
    given = found.numbers["bake.core-time"].give_or_take
    assert given is not None
    named = {name for name, _ in given.shares}
    assert {"what conduction in a loaf leaves out", "gas in the crumb", "the thermometer"} <= named
