"""From a worked lesson to its facts and cautions: what it states, what it leaves out, and where each line stands."""

from __future__ import annotations

import functools
import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from presenter.cautions import (
    NOT_APPLICABLE,
    UNKNOWN,
    Cautioned,
    Plant,
    SheetFacts,
    StepFacts,
    caution_book,
    cautions_of,
    facts_of,
)
from presenter.cautions.facts import facts_of_cautions
from presenter.cautions.words_of_facts import (
    chemicals_in,
    container_of,
    heat_sources_of,
    is_plain_water,
    materials_of,
    origin_of,
    tasting_of,
    water_source_of,
    who_brews_of,
)
from presenter.lesson import STEP_KINDS, demo_folder, load_lesson
from presenter.science.plants import harmful_plants_in, plant_named
from presenter.working import WorkedLesson, work_out

sys.path.insert(0, str(Path(__file__).parent))
from small_lessons import TABLE, base, changed, worked

PRINTED = [entry.id for entry in caution_book().cautions if entry.printed]

# Every kind of step that the design names; those that the lesson does not know yet are still kinds for a caution.
KINDS_OF_THE_DESIGN = {
    "bake", "heat", "mash", "hold", "raise", "draw off", "join", "split", "strain", "top up", "boil", "add", "cool",
    "pitch", "ferment", "rack", "prime and bottle", "chill", "serve", "clean", "show",
}  # fmt: skip


@functools.cache
def cautioned_by(name: str, changes: str = "{}") -> Cautioned:
    """The cautions of a base with some changes, written as JSON so that like lessons are worked out once."""
    return cautions_of(worked(changed(base(name), json.loads(changes))))


@functools.cache
def raised_by_base(name: str) -> frozenset[str]:
    """The cautions that a base raises by itself."""
    return frozenset(placed.id for placed in cautioned_by(name).full_words)


def ale(changes: Mapping[str, Any] | None = None) -> tuple[SheetFacts, dict[str, StepFacts]]:
    """The facts of the small ale with some things changed."""
    sheet, steps = facts_of(worked(changed(base("ale"), changes or {})))
    return sheet, {step.step: step for step in steps}


def without(lesson: Mapping[str, Any], *keys: str) -> dict[str, Any]:
    """The lesson with nothing said under these top keys."""
    return {key: value for key, value in lesson.items() if key not in keys}


# --- every caution can be raised by a lesson


@pytest.mark.parametrize("id_", TABLE["raises"])
def test_a_lesson_raises_it_and_its_base_does_not(id_: str) -> None:
    """This test ensures that changing one thing in a lesson raises the caution, and that it stands somewhere."""
    case = TABLE["raises"][id_]
    assert len(case["set"]) == 1
    assert id_ not in raised_by_base(case["base"])
    cautioned = cautioned_by(case["base"], json.dumps(case["set"]))
    assert id_ in {placed.id for placed in cautioned.full_words}
    beside = [placed for step in cautioned.steps for placed in cautioned.at_step(step)]
    assert id_ in {known for placed in (*beside, *cautioned.on_sheet) for known in placed.stands_for}


def test_no_caution_is_one_that_no_lesson_can_raise() -> None:
    """This test ensures that every printed caution has a lesson, is always raised, or says why it cannot be yet."""
    lists = [set(TABLE["raises"]), set(TABLE["always"]), set(TABLE["not_today"])]
    assert set().union(*lists) == set(PRINTED)
    assert sum(len(ids) for ids in lists) == len(PRINTED)
    assert all(len(reason.split()) > 3 for reason in TABLE["not_today"].values())


@pytest.mark.parametrize("name", TABLE["bases"])
def test_what_is_always_raised_is_raised_by_every_base(name: str) -> None:
    """This test ensures that the cautions listed as always raised really are."""
    assert set(TABLE["always"]) <= raised_by_base(name)


def test_a_talk_raises_only_what_is_always_true() -> None:
    """This test ensures that a lesson with nothing to warn of stays nearly silent."""
    assert raised_by_base("talk") == set(TABLE["always"])


def test_kinds_of_step_are_the_lessons_own() -> None:
    """This test ensures that a caution can name each kind of step that lessons have or the design foresees."""
    assert set(facts_of_cautions().kinds_of_step) == set(STEP_KINDS) | KINDS_OF_THE_DESIGN


# --- the demonstration lesson


@functools.cache
def netherfold() -> WorkedLesson:
    """The demonstration lesson, worked out."""
    return work_out(load_lesson(demo_folder("lessons_demo") / "netherfold-two-ales"), spreads=False)


def test_cautions_of_netherfold_unchanged() -> None:
    """This test ensures that the demonstration's cautions have not moved since a presenter last read the cards."""
    cautioned = cautions_of(netherfold())
    assert {step: [placed.id for placed in cautioned.at_step(step)] for step in cautioned.steps} == {
        "scald-the-gear": ["scald", "fire-indoors", "sanitise", "wood-vessel"],
        "first-mash": [
            "mould",
            "mash-is-hot",
            "fire-indoors",
            "lifting-hot-pots",
            "iodine-test",
            "glass-mercury",
        ],
        "draw-off-the-strong-wort": ["scald", "lifting-hot-pots", "glass-mercury", "sample-time"],
        "second-mash": ["mash-is-hot", "fire-indoors", "iodine-test", "glass-mercury"],
        "boil-the-strong-wort": ["scald", "fire-indoors", "lifting-hot-pots"],
        "cool-the-strong-wort": ["scald", "lifting-hot-pots", "glass-mercury"],
        "draw-off-the-small-wort": ["scald", "lifting-hot-pots", "glass-mercury", "sample-time", "animals"],
        "boil-the-small-wort": ["scald", "fire-indoors", "lifting-hot-pots"],
        "cool-the-small-wort": ["scald", "glass-mercury"],
        "pitch-the-strong-ale": [],
        "pitch-the-small-ale": [],
        "ferment-the-strong-ale": ["co2-space", "glass-mercury"],
        "ferment-the-small-ale": ["co2-space", "glass-mercury"],
        "pour-both-side-by-side": ["minors", "allergen-gluten", "sample-time", "unhopped-risk", "spitting"],
    }
    assert [placed.id for placed in cautioned.on_sheet] == [
        "lab-no-tasting", "minors", "pregnancy", "driving", "law-public", "medicines", "tasting-opt-out",
        "no-safe-level", "standard-drink", "law-local", "law-estimate-label",
    ]  # fmt: skip
    assert cautioned.lines_on_sheet().words == 60


def test_no_card_of_netherfold_is_overloaded() -> None:
    """This test ensures that no step of the demonstration has more than four lines beside its one-line reminders
    and the line of the starch test, which stands only where a class tries iodine on the mash."""
    cautioned = cautions_of(netherfold())
    for step in cautioned.steps:
        placed = [one for one in cautioned.at_step(step) if one.id != "iodine-test"]
        assert len([one for one in placed if not (one.reminds and one.caution.again)]) <= 4
        assert len(cautioned.lines_at_step(step).lines) <= 5 + (len(placed) < len(cautioned.at_step(step)))


@pytest.mark.parametrize("hazard", ["fire-indoors", "glass-mercury", "sample-time"])
def test_what_recurs_is_said_again_in_one_line(hazard: str) -> None:
    """This test ensures that a flame, bare glass and samples are warned of at every step where they come back, in
    full short form at the first and in a reminder of one line later."""
    cautioned = cautions_of(netherfold())
    told = [placed for step in cautioned.steps for placed in cautioned.at_step(step) if placed.id == hazard]
    assert len(told) > 2
    assert told[0].short == told[0].caution.short
    assert {placed.short for placed in told[1:]} == {told[0].caution.again}
    assert len(told[1].short) <= 66


def test_facts_of_netherfold() -> None:
    """This test ensures that the demonstration's facts are those that its file and its worked numbers state."""
    lesson = netherfold()
    sheet, steps = facts_of(lesson)
    step = {one.step: one for one in steps}
    strengths = [lesson.numbers[f"ferment-the-{name}-ale.strength"].quantity.magnitude for name in ("small", "strong")]
    assert sheet.abv_percent == pytest.approx(strengths)
    assert sheet.co2_litres == pytest.approx(lesson.numbers["lesson.gas-volume"].quantity.magnitude)
    assert sheet.hours_between_5_and_57_c_before_pitching == pytest.approx(
        lesson.numbers["cool-the-strong-wort.lukewarm"].quantity.to("hour").magnitude
    )
    assert (sheet.boiled, sheet.cleaners, sheet.chemicals, sheet.public_sheet) == (True, (), ("iodine",), True)
    assert step["first-mash"].temp_c == pytest.approx(
        lesson.numbers["first-mash.strike-heat"].quantity.magnitude, abs=0.1
    )
    assert step["scald-the-gear"].vessel_material == ("food wood", "stainless")
    assert step["pour-both-side-by-side"].container == "open"
    assert [one.live for one in steps] == [one.step.startswith(("pitch", "ferment", "pour")) for one in steps]


# --- facts


def test_what_is_not_stated_is_unknown() -> None:
    """This test ensures that a lesson which says nothing of its site or company leaves those facts unknown."""
    bare = without(base("ale"), "site", "audience", "cleaners", "kit")
    for step in bare["steps"]:
        step.pop("container", None)
    bare["kit"] = {name: {"holds": "25 L"} for name in ("tub", "kettle", "bucket", "pitcher")}
    sheet, steps = facts_of(worked(bare))
    step = {one.step: one for one in steps}
    for fact in ("water_source", "who_brews", "audience_youngest", "tasting", "cleaners", "ph"):
        assert getattr(sheet, fact) is UNKNOWN, fact
    assert sheet.public_sheet is True
    boil, pour = step["boil"], step["pour"]
    assert boil.heat_source is boil.indoors is boil.room_volume_m3 is boil.open_fire is boil.stones is UNKNOWN
    assert boil.vessel_material == (UNKNOWN,)
    assert pour.container is pour.carbonation_volumes is pour.finished is UNKNOWN


def test_what_cannot_arise_is_not_applicable() -> None:
    """This test ensures that a talk has no drink and a mash no bottle, so neither raises what warns of them."""
    sheet, steps = facts_of(worked(base("talk")))
    tell = next(step for step in steps if step.step == "tell")
    assert sheet.abv_percent is sheet.boiled is sheet.hours_between_5_and_57_c_before_pitching is NOT_APPLICABLE
    assert sheet.contains_alcohol is False
    assert sheet.co2_litres == 0
    assert tell.temp_c is tell.vessel_material is tell.heat_source is tell.lifting_kg is NOT_APPLICABLE
    _, brewing = ale()
    assert brewing["mash"].container is brewing["mash"].finished is NOT_APPLICABLE
    assert brewing["mash"].room_volume_m3 is NOT_APPLICABLE


def test_the_heat_of_a_step_is_its_highest() -> None:
    """This test ensures that a mash counts its strike heat, cooling its start, and drawing off the grain's heat."""
    _, steps = ale()
    assert steps["mash"].temp_c > 70
    assert steps["cool"].temp_c > 99
    assert 60 < steps["draw"].temp_c < 66
    assert steps["ferment"].temp_c == pytest.approx(20)
    assert steps["wash"].temp_c == pytest.approx(40)


def test_lifting_counts_wort_and_vessel() -> None:
    """This test ensures that a full kettle weighs its wort and itself, and that the author's own word wins."""
    _, light = ale({"kit.kettle.weighs": "2 kg"})
    _, heavy = ale({"kit.kettle.weighs": "9 kg"})
    assert heavy["boil"].lifting_kg - light["boil"].lifting_kg == pytest.approx(7)
    assert light["boil"].lifting_kg > 2 + 2.5
    assert light["mash"].lifting_kg == pytest.approx(4 + 3, abs=0.05)  # 4 L of water in a kettle of the house's 3 kg
    _, siphoned = ale({"steps.Boil.lifting": "none"})
    assert siphoned["boil"].lifting_kg == 0
    _, unclear = ale({"steps.Boil.lifting": "with a friend"})
    assert unclear["boil"].lifting_kg is UNKNOWN


def test_the_longest_lukewarm_time_counts() -> None:
    """This test ensures that the hours come from the slowest wort, and are unknown for a wort that gets no yeast."""
    slow, _ = ale({"steps.Cool.within": "8 h"})
    quick, _ = ale()
    ratio = slow.hours_between_5_and_57_c_before_pitching / quick.hours_between_5_and_57_c_before_pitching
    assert ratio == pytest.approx(12)
    unpitched, _ = facts_of(worked(base("wort")))
    assert unpitched.hours_between_5_and_57_c_before_pitching is UNKNOWN


def test_yeast_without_fermenting_leaves_strength_and_gas_unknown() -> None:
    """This test ensures that a pitched wort nobody follows counts as alcohol of unknown strength."""
    sheet, _ = ale({"steps.Ferment": None, "steps.Pour": None})
    assert sheet.contains_alcohol is True
    assert sheet.abv_percent == (UNKNOWN,)
    assert sheet.co2_litres is UNKNOWN


def test_plants_and_ingredients_are_named_for_cautions() -> None:
    """This test ensures that an ingredient becomes its listed words and its plant, with the origin it states."""
    sheet, steps = ale({"ingredients.hops": {"what": "wormwood", "amount": "5 g"}})
    assert sheet.plants == (Plant("wormwood", UNKNOWN),)
    assert "spices" in sheet.ingredients
    assert steps["boil"].also == ("add",)
    unlisted, _ = ale({"ingredients.hops": {"what": "cow parsley", "amount": "5 g", "origin": "the hedge"}})
    assert "cow parsley" in unlisted.ingredients
    assert unlisted.plants == (Plant("cow parsley", "foraged"),)
    honeyed, _ = ale({"ingredients.honey": {"what": "honey", "amount": "1 kg"}})
    assert Plant("honey", "bought") in honeyed.plants
    milled, _ = ale({"ingredients.malt.what": "pale barley malt"})
    assert "whole malt" not in milled.ingredients


def test_an_herb_in_the_boil_is_warned_of_at_that_boil() -> None:
    """This test ensures that a herb's caution stands beside the step that puts it in."""
    for what, id_ in (("wormwood", "bot-wormwood"), ("Labrador tea", "bot-labrador-tea")):
        cautioned = cautioned_by("ale", json.dumps({"ingredients.hops.what": what}))
        assert id_ in {placed.id for placed in cautioned.at_step("boil")}
        assert id_ not in {placed.id for placed in cautioned.at_step("mash")}


# --- the author's words


@pytest.mark.parametrize(
    ("read", "text", "word"),
    [
        (heat_sources_of, "gas ring", ("gas",)),
        (heat_sources_of, "induction hob", ("electric",)),
        (heat_sources_of, "oak logs on the hearth", ("open fire",)),
        (heat_sources_of, "hot stones", ("open fire", "hot stones")),
        (heat_sources_of, "gas or an open fire", ("gas", "open fire")),
        (heat_sources_of, "no open fire", UNKNOWN),
        (heat_sources_of, "the stove", UNKNOWN),
        (heat_sources_of, None, UNKNOWN),
        (water_source_of, "tap", "mains"),
        (water_source_of, "the well in the yard", "private"),
        (water_source_of, "tap, fed by the stream", "surface"),
        (water_source_of, "not mains", UNKNOWN),
        (who_brews_of, "museum", "organisation serving the public"),
        (who_brews_of, "a primary school", "school"),
        (who_brews_of, "home", "household"),
        (who_brews_of, "museum with a school", UNKNOWN),
        (tasting_of, "none", "none"),
        (tasting_of, "adults", "adults of legal age"),
        (tasting_of, "whoever likes", UNKNOWN),
        (materials_of, "oak", ("food wood",)),
        (materials_of, "oak, iron-hooped", ("food wood",)),
        (materials_of, "oak, iron hoops", ("food wood",)),
        (materials_of, "pine", ("wood",)),
        (materials_of, "stainless steel", ("stainless",)),
        (materials_of, "earthenware", ("unglazed",)),
        (materials_of, "glazed earthenware", (UNKNOWN,)),
        (materials_of, "unglazed earthenware", ("unglazed",)),
        (materials_of, "lead-glazed earthenware", ("lead-glazed",)),
        (materials_of, "tinned copper", ("copper", UNKNOWN)),
        (materials_of, "bronze", (UNKNOWN,)),
        (materials_of, "not copper", (UNKNOWN,)),
        (materials_of, "linen cloth", ()),
        (materials_of, None, (UNKNOWN,)),
        (container_of, "open jug", "open"),
        (container_of, "brown glass bottles", "glass bottle"),
        (container_of, "plastic pressure bottle", "plastic pressure bottle"),
        (container_of, "bottles", UNKNOWN),
        (origin_of, "bought from the grocer", "bought"),
        (origin_of, "the museum's garden", "foraged"),
        (origin_of, "bought plants, picked by us", "foraged"),
        (origin_of, None, UNKNOWN),
        (chemicals_in, "a Campden tablet and lye", ("sulfite", "caustic")),
        (chemicals_in, "sodium thiosulphate", ("thiosulfate",)),
        (is_plain_water, "very hot water", True),
        (is_plain_water, "water with bleach", False),
        (plant_named, "dried Henbane root", "henbane"),
        (plant_named, "Artemisia vulgaris", "mugwort"),
        (plant_named, "cow parsley", None),
        (harmful_plants_in, "a nosegay of tansy, rosemary and yew", ("tansy", "yew")),
    ],
)  # fmt: skip
def test_words_are_placed_or_left_unknown(read: Any, text: str | None, word: Any) -> None:
    """This test ensures that the author's words become the cautions' words, and doubtful ones count as unknown."""
    assert read(text) == word
