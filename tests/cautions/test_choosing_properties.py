"""What holds of every lesson: forgetting raises, nothing mandatory is lost, the gravest line stands first."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from presenter.cautions import (
    NOT_APPLICABLE,
    UNKNOWN,
    Cautioned,
    Plant,
    SheetFacts,
    StepFacts,
    caution_book,
    cautions_that_apply,
)
from presenter.cautions.conditions import ingredient_words
from presenter.cautions.facts import facts_of_cautions
from presenter.science.plants import botanical_levels

ENTRIES = caution_book().cautions
KINDS = facts_of_cautions().kinds_of_step


def _raised_ids(cautioned: Cautioned) -> set[str]:
    return {placed.id for placed in cautioned.full_words} | {rule.id for rule in cautioned.rules}


def _value(fact: Any) -> st.SearchStrategy[Any]:
    absent = st.sampled_from([UNKNOWN, NOT_APPLICABLE])
    if fact.name == "plants":
        names = st.sampled_from([*botanical_levels(), "some weed"])
        origin = st.sampled_from(["foraged", "bought", UNKNOWN])
        return absent | st.lists(st.builds(Plant, names, origin), max_size=3).map(tuple)
    if fact.name == "ingredients":
        return absent | st.lists(st.sampled_from([*sorted(ingredient_words()), "unicorn"]), max_size=4).map(tuple)
    if fact.kind == "list":
        words = fact.words or ("bleach", "henbane", "yew", "still", "old pewter")
        return absent | st.lists(st.sampled_from(words), max_size=2).map(tuple)
    if fact.kind == "yes or no":
        return absent | st.booleans()
    if fact.kind in ("number", "numbers"):
        limits = st.sampled_from([0, 1, 2, 2.4, 2.5, 3, 5, 6.5, 9.9, 10, 17, 20, 20.5, 21, 48, 66, 80, 90])
        return absent | limits
    return absent | st.sampled_from(fact.words)


FACTS = facts_of_cautions().by_name
sheets = st.fixed_dictionaries({name: _value(fact) for name, fact in FACTS.items() if fact.scope == "sheet"})
step_facts = st.fixed_dictionaries({name: _value(fact) for name, fact in FACTS.items() if fact.scope == "step"})
lessons = st.tuples(sheets, st.lists(st.tuples(st.sampled_from(KINDS), step_facts), min_size=0, max_size=4))


def _built(
    lesson: tuple[dict[str, Any], list[tuple[str, dict[str, Any]]]],
) -> tuple[SheetFacts, list[StepFacts]]:
    sheet, steps = lesson
    return SheetFacts(**sheet), [StepFacts(step=f"s{at}", kind=kind, **facts) for at, (kind, facts) in enumerate(steps)]


def _said_at(cautioned: Cautioned) -> set[tuple[str, str]]:
    """Every caution that a line says, with its place; those covered, merged and standing alone alike."""
    said = {
        (step, id_)
        for step in cautioned.steps
        for line in cautioned.lines_at_step(step).lines
        for id_ in line.stands_for
    }
    return said | {("sheet", id_) for line in cautioned.lines_on_sheet().lines for id_ in line.stands_for}


@settings(deadline=None, max_examples=150)
@given(lesson=lessons, data=st.data())
def test_forgetting_a_fact_never_silences_a_caution(lesson: Any, data: Any) -> None:
    """This test ensures that making any one fact unknown raises at least what was raised before.

    What was not applicable stays so: it is a statement, not a gap.
    """
    sheet, steps = _built(lesson)
    before = cautions_that_apply(sheet, steps)
    at = data.draw(st.integers(-1, len(steps) - 1))
    target: Any = sheet if at < 0 else steps[at]
    names = [field.name for field in fields(target) if field.name in FACTS]
    name = data.draw(st.sampled_from(names))
    changed = replace(target, **{name: UNKNOWN})
    after = cautions_that_apply(changed, steps) if at < 0 else cautions_that_apply(
        sheet, [changed if place == at else step for place, step in enumerate(steps)]
    )  # fmt: skip
    assert _raised_ids(before) <= _raised_ids(after)
    # Those that stand at every step that raises them keep each place too, under their own or a covering line.
    plain = {entry.id for entry in ENTRIES if entry.at == "step" and not entry.beside and entry.where == "each"}
    assert {(place, id_) for place, id_ in _said_at(before) if id_ in plain} <= _said_at(after)


@settings(deadline=None, max_examples=150)
@given(lesson=lessons)
def test_no_raised_caution_is_without_a_line(lesson: Any) -> None:
    """This test ensures that covering, merging and the word limit leave every mandatory caution said
    somewhere.
    """
    cautioned = cautions_that_apply(*_built(lesson))
    said = _said_at(cautioned)
    for placed in cautioned.full_words:
        if placed.mandatory:
            assert placed.id in {id_ for _, id_ in said}
    for placed in cautioned.mandatory_for(cautioned.steps):
        place = placed.place.step or "sheet"
        assert all((place, id_) in said for id_ in placed.stands_for)
    left_out = set(cautioned.lines_on_sheet().left_out)
    assert not any(placed.mandatory for placed in cautioned.on_sheet if placed.id in left_out)


@settings(deadline=None, max_examples=60)
@given(lesson=lessons)
def test_lines_stand_in_order_of_severity(lesson: Any) -> None:
    """This test ensures that at every place the gravest line stands first."""
    cautioned = cautions_that_apply(*_built(lesson))
    order = ["never", "danger", "warning", "caution", "notice"]
    for lines in (*(cautioned.lines_at_step(step) for step in cautioned.steps), cautioned.lines_on_sheet()):
        ranks = [order.index(line.severity) for line in lines.lines]
        assert ranks == sorted(ranks)
