"""Which cautions a lesson raises, where they stand, and that none is lost on the way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeAlias

import pytest

from presenter.cautions import (
    UNKNOWN,
    CautionDataError,
    Cautioned,
    Plant,
    SheetFacts,
    StepFacts,
    caution_book,
    cautions_that_apply,
    short_lines,
)
from presenter.cautions.facts import facts_of_cautions
from presenter.science.plants import botanical_levels

ALWAYS = {"sanitise", "glass-mercury", "law-local", "no-bac"}
ENTRIES = caution_book().cautions
KINDS = facts_of_cautions().kinds_of_step
Quiet: TypeAlias = Callable[..., Cautioned]
Sheet: TypeAlias = Callable[..., SheetFacts]
Steps: TypeAlias = tuple[StepFacts, ...]


def raised_ids(cautioned: Cautioned) -> set[str]:
    """Every caution raised, those covered and those never printed included."""
    return {placed.id for placed in cautioned.full_words} | {rule.id for rule in cautioned.rules}


# --- each is raised, each can be silent


@pytest.mark.parametrize("kind", KINDS)
def test_the_quiet_case_raises_only_what_is_always_true(kind: str, quiet_case: Quiet) -> None:
    """This test ensures that a sheet with nothing to warn of prints what is always printed, and no more."""
    assert raised_ids(quiet_case({}, kind)) == ALWAYS


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.id)
def test_each_is_raised_by_its_change(entry: Any, quiet_case: Quiet) -> None:
    """This test ensures that each caution is raised by its own change to the quiet case, and stands
    somewhere.
    """
    cautioned = quiet_case(entry.raised_by)
    assert entry.id in raised_ids(cautioned)
    if entry.printed:
        stands = {id_ for placed in (*cautioned.at_step("only"), *cautioned.on_sheet) for id_ in placed.stands_for}
        assert entry.id in stands
    if entry.id not in ALWAYS:
        assert entry.id not in raised_ids(quiet_case({}))


@pytest.mark.parametrize("plant", [key for key, level in botanical_levels().items() if level == "never"])
def test_every_plant_that_is_for_show_only_raises_a_never(plant: str, quiet_case: Quiet) -> None:
    """This test ensures that a plant the table keeps out of drinks raises a never, used or shown."""
    used = quiet_case({"plants": [{"name": plant, "origin": "bought"}]}, "add")
    shown = quiet_case({"display_only": [plant]}, "show")
    for cautioned in (used, shown):
        assert any(placed.severity == "never" for placed in cautioned.at_step("only"))


@pytest.mark.parametrize("plant", [key for key, level in botanical_levels().items() if level == "notice"])
def test_common_kitchen_herbs_are_quiet(plant: str, quiet_case: Quiet) -> None:
    """This test ensures that a bought kitchen herb raises nothing but its own listed allergen or infant
    warning.
    """
    told = {"mustard_seed": "allergen-other", "celery_seed": "allergen-other", "honey": "honey-infant",
            "date": "dried-fruit-so2", "fig": "dried-fruit-so2", "hops": "animals"}  # fmt: skip
    more = raised_ids(quiet_case({"plants": [{"name": plant, "origin": "bought"}]})) - ALWAYS
    assert more == ({told[plant]} if plant in told else set())


# Regulation (EU) No 1169/2011, Annex II (source key eu1169_annex2): the fourteen groups, and a word of ours
# for each.
ANNEX_II = {
    "cereals containing gluten": "barley", "crustaceans": "crustaceans", "eggs": "egg", "fish": "fish",
    "peanuts": "peanut", "soybeans": "soya", "milk": "milk", "nuts": "tree nuts", "celery": "celery",
    "mustard": "mustard", "sesame seeds": "sesame", "lupin": "lupin", "molluscs": "molluscs",
}  # fmt: skip


@pytest.mark.parametrize("group", [*ANNEX_II, "sulphur dioxide and sulphites"])
def test_every_allergen_group_is_told_matches_published(group: str, quiet_case: Quiet) -> None:
    """This test ensures that each of the fourteen groups of Annex II raises a mandatory caution at the
    serving.
    """
    changes = {"ingredients": [ANNEX_II[group]]} if group in ANNEX_II else {"chemicals": ["sulfite"]}
    told = [placed for placed in quiet_case(changes, "serve").at_step("only") if placed.mandatory]
    assert {placed.id for placed in told} & {"allergen-gluten", "allergen-other", "sulfite-asthma"}


# --- placing


def test_places_of_the_museum_day(museum_sheet: Sheet, museum_steps: Steps) -> None:
    """This test ensures that a usual day has few cautions, each beside the step that it belongs to."""
    cautioned = cautions_that_apply(museum_sheet(), museum_steps)
    ids = {step: [placed.id for placed in cautioned.at_step(step)] for step in cautioned.steps}
    assert ids == {
        "clean": ["sanitiser-mix", "wood-toxic", "sanitise", "wood-vessel"],
        "first-mash": ["mould", "mash-is-hot", "fire-indoors", "lifting-hot-pots", "glass-mercury"],
        "draw-off-strong": ["scald", "glass-mercury", "sample-time"],
        "second-mash": ["mash-is-hot", "fire-indoors", "glass-mercury"],
        "draw-off-small": ["scald", "glass-mercury", "sample-time", "animals"],
        "boil-small": ["scald", "fire-indoors"],
        "cool": ["scald", "glass-mercury"],
        "pitch": [],
        "ferment": ["finished-enzymes", "co2-space", "glass-mercury"],
        "serve": ["minors", "not-pasteurised", "allergen-gluten", "sample-time", "unhopped-risk", "spitting"],
    }
    assert cautioned.at_step("first-mash")[1].stands_for == ("mash-is-hot", "scald", "burns-first-aid")
    assert cautioned.at_step("cool")[0].stands_for == ("scald", "burns-first-aid")
    assert "scald" in {placed.id for placed in cautioned.full_words}


@pytest.mark.parametrize("who", ["organisation serving the public", "household"])
def test_sheet_lines_of_a_usual_day_stay_within_sixty_words(who: str, museum_sheet: Sheet, museum_steps: Steps) -> None:
    """This test ensures that a usual lesson's sheet lines have at most 60 words, with none mandatory left
    out.
    """
    cautioned = cautions_that_apply(museum_sheet(who_brews=who), museum_steps)
    lines = cautioned.lines_on_sheet()
    assert sum(len(line.words.split()) for line in lines.lines) == lines.words <= 60
    mandatory = {placed.id for placed in cautioned.on_sheet if placed.mandatory}
    assert mandatory <= {id_ for line in lines.lines for id_ in line.stands_for}
    assert {"law-local", "minors", "pregnancy", "driving", "medicines"} <= mandatory
    assert lines.left_out
    assert not mandatory & set(lines.left_out)


def test_sheet_lines_unchanged(museum_sheet: Sheet, museum_steps: Steps) -> None:
    """This test ensures that the lines of a museum's sheet have not moved since they were last read over."""
    lines = cautions_that_apply(museum_sheet(), museum_steps).lines_on_sheet()
    assert [line.words for line in lines.lines] == [
        "No alcohol: under legal age; pregnant, trying or breastfeeding; before driving, cycling, swimming, "
        "machinery or fire; in recovery; on medicine or ill, ask a doctor.",
        "Local law first: to serve the public ask about licence, food registration, duty, age checks; "
        "on brewing, serving, selling, ages the stricter rule holds.",
        "Nobody has to taste; no amount is free of risk.",
    ]


def test_the_unusual_sheet_grows_rather_than_lose_a_mandatory_line(museum_sheet: Sheet, museum_steps: Steps) -> None:
    """This test ensures that past 60 words all advice is gone first, and no mandatory line ever is."""
    sheet = museum_sheet(who_brews=UNKNOWN, chemicals=("iodine",), abv_percent=UNKNOWN)
    cautioned = cautions_that_apply(sheet, [step for step in museum_steps if step.kind == "mash"])
    lines = cautioned.lines_on_sheet()
    assert lines.words > 60
    assert all(line.mandatory for line in lines.lines)
    said = {id_ for line in lines.lines for id_ in line.stands_for}
    assert {
        "no-distil",
        "freeze-concentration",
        "lab-no-tasting",
        "law-school",
        "law-public",
        "law-no-sale",
    } <= said


def test_a_line_for_one_caution_is_its_own_short_form(quiet_case: Quiet) -> None:
    """This test ensures that a merged line is made only where two or more of its cautions apply."""
    lines = quiet_case({}).lines_on_sheet().lines
    assert caution_book()["law-local"].short in [line.words for line in lines]


def test_a_merged_line_holds_the_part_of_each_it_stands_for() -> None:
    """This test ensures that merging drops no part: each caution of a line is in its words."""
    for line in caution_book().merged_lines:
        ids = tuple(line.parts)
        assert len(line.because.split()) > 5
        for part in line.parts.values():
            assert part.lower() in line.words_for(ids).lower()


def test_first_and_last_are_counted_in_the_document_at_hand(museum_sheet: Sheet, museum_steps: Steps) -> None:
    """This test ensures that a document of some steps carries at its own first step what the whole has
    earlier.
    """
    cautioned = cautions_that_apply(museum_sheet(), museum_steps)
    later = cautioned.for_steps(["second-mash", "draw-off-strong"])
    assert later.steps == ("draw-off-strong", "second-mash")
    assert "wood-toxic" in [placed.id for placed in later.at_step("draw-off-strong")]
    assert "animals" in [placed.id for placed in later.at_step("draw-off-strong")]
    assert later.at_step("clean") == ()
    with pytest.raises(CautionDataError, match="there is no step lauter"):
        cautioned.for_steps(["lauter"])


def test_mandatory_for_a_document(museum_sheet: Sheet, museum_steps: Steps) -> None:
    """This test ensures that a document is held to each mandatory caution at each of its places."""
    cautioned = cautions_that_apply(museum_sheet(), museum_steps)
    held = [(placed.id, str(placed.place)) for placed in cautioned.mandatory_for(["cool"])]
    assert held == [
        ("scald", "step cool"),
        ("glass-mercury", "step cool"),
        ("minors", "the sheet"),
        ("pregnancy", "the sheet"),
        ("driving", "the sheet"),
        ("law-public", "the sheet"),
        ("medicines", "the sheet"),
        ("law-local", "the sheet"),
    ]
    assert {placed.place.kind for placed in cautioned.mandatory_for([])} == {"sheet"}


def test_a_caution_without_its_kind_of_step_is_not_lost(museum_sheet: Sheet, museum_steps: Steps) -> None:
    """This test ensures that with no serving step the allergens go to the sheet, and a copper kettle to
    its boil.
    """
    no_serving = [step for step in museum_steps if step.kind != "serve"]
    on_sheet = {placed.id for placed in cautions_that_apply(museum_sheet(), no_serving).on_sheet}
    assert {"allergen-gluten", "not-pasteurised"} <= on_sheet
    kettle = [replace(step, vessel_material="copper") if step.kind == "boil" else step for step in no_serving]
    assert "copper-vessel" in {
        placed.id for placed in cautions_that_apply(museum_sheet(), kettle).at_step("boil-small")
    }


def test_what_raised_it_is_named(museum_sheet: Sheet, museum_steps: Steps) -> None:
    """This test ensures that allergens and unlisted things are named, and what is unsure is said to be."""
    steps = museum_steps
    sheet = museum_sheet(ingredients=("milk", "egg", "malt"), plants=(Plant("celery_seed", "bought"),))
    short = {placed.id: placed.short for placed in cautions_that_apply(sheet, steps).at_step("serve")}
    assert short["allergen-other"] == "Contains milk, egg and celery. Name it, and ask everyone before anyone tastes."
    unsure = museum_sheet(ingredients=("milk", UNKNOWN), plants=(Plant("nettle", "bought"),))
    short = {placed.id: placed.short for placed in cautions_that_apply(unsure, steps).at_step("serve")}
    assert short["allergen-other"].startswith("Contains milk and an allergen not yet ruled out.")
    assert short["unknown-item"].startswith("No safety record for nettle and an item of unstated kind:")


def test_two_steps_of_one_name_are_refused(museum_steps: Steps) -> None:
    """This test ensures that a caution can always tell which step it stands beside."""
    with pytest.raises(CautionDataError, match="two steps are called clean"):
        cautions_that_apply(SheetFacts(), [museum_steps[0]] * 2)


def test_nothing_known_raises_everything() -> None:
    """This test ensures that with every fact unknown each caution is raised."""
    cautioned = cautions_that_apply(SheetFacts(), [StepFacts(step="only", kind="serve")])
    silent = {entry.id for entry in ENTRIES} - raised_ids(cautioned)
    assert silent == set()


def test_short_lines_of_nothing() -> None:
    """This test ensures that no caution gives no line."""
    assert short_lines(()).lines == ()
