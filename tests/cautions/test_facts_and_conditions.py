"""The facts a caution may read, and the little language of tests over them."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import pytest

from presenter.cautions import NOT_APPLICABLE, UNKNOWN, CautionDataError, Plant, SheetFacts, StepFacts
from presenter.cautions.conditions import ingredient_words, read_condition
from presenter.cautions.facts import facts_of_cautions
from presenter.science.plants import botanical_levels, source_of_botanicals


def test_the_classes_hold_exactly_the_listed_facts() -> None:
    """This test ensures that the fields are the facts of the list, each in its scope, each unknown if
    left out.
    """
    listed = facts_of_cautions().by_name
    of_sheet = {field.name: field.default for field in fields(SheetFacts)}
    of_step = {field.name: field.default for field in fields(StepFacts)}
    assert set(of_sheet) == {name for name, fact in listed.items() if fact.scope == "sheet"}
    assert set(of_step) - {"step", "kind", "also", "name"} == {
        name for name, fact in listed.items() if fact.scope == "step"
    }
    assert all(of_sheet[name] is UNKNOWN for name in of_sheet)
    assert all(of_step[name] is UNKNOWN for name in of_step if name in listed)
    assert set(facts_of_cautions().quiet_case) == set(listed)


@pytest.mark.parametrize(
    ("fact", "value", "sentence"),
    [
        ("water_source", "main", "the fact water_source is written 'main'; it takes one of mains, private, "
         "surface; did you mean mains?"),
        ("abv_percent", float("nan"), "the fact abv_percent is written nan; it takes a number, unknown "
         "or not applicable"),
        ("abv_percent", True, "the fact abv_percent is written True; it takes a number, unknown "
         "or not applicable"),
        ("boiled", "yes", "the fact boiled is written 'yes'; it takes true, false, unknown "
         "or not applicable"),
        ("ph", (4.0, 5.0), "the fact ph is written (4.0, 5.0); it takes one value, not several"),
        ("abv_percent", (), "the fact abv_percent is written (); it takes at least one value; "
         "write not applicable where there is none"),
        ("ingredients", "malt", "the fact ingredients is written 'malt'; it takes several values, none, "
         "unknown or not applicable"),
        ("plants", ("henbane",), "the fact plants is written 'henbane'; it takes plants, each with "
         "its name and origin"),
        ("chemicals", ("lye",), "the fact chemicals is written 'lye'; it takes one of sulfite, thiosulfate, "
         "iodine, strong acid, caustic"),
    ],
)  # fmt: skip
def test_a_fact_that_could_silence_a_caution_is_refused(fact: str, value: Any, sentence: str) -> None:
    """This test ensures that a word or shape no condition could match is refused, not read as silence."""
    with pytest.raises(CautionDataError) as raised:
        SheetFacts(**{fact: value})
    assert str(raised.value) == sentence


FORAGED, BOUGHT, UNSURE = (Plant("nettle", "foraged"), Plant("juniper", "bought"), Plant("juniper"))

TESTS: list[tuple[dict[str, Any], list[Any], list[Any]]] = [
    # condition, values that meet it, values that do not
    ({"closed": True}, [True], [False]),
    ({"container": ["glass bottle", "cask"]}, ["cask", ("open", "cask")], ["open", ("open",)]),
    ({"tasting": {"not": "none"}}, ["adults of legal age"], ["none"]),
    ({"temp_c": "<48"}, [47.9], [48, 50]),
    ({"temp_c": "<=48"}, [48], [48.1]),
    ({"temp_c": ">48"}, [48.1], [48]),
    ({"temp_c": ">=48"}, [48], [47.9]),
    ({"temp_c": {"from": 48, "to": 80}}, [48, 80], [47.9, 80.1]),
    ({"abv_percent": "<2.5"}, [2.4, (2.0, 6.0), (6.0, UNKNOWN)], [2.5, (3.0, 6.0)]),
    ({"ph": {"is": 4.2}}, [4.2], [4.3]),
    ({"ingredients": {"any_of": ["malt"]}}, [("malt", "water"), (UNKNOWN,)], [(), ("water",)]),
    ({"ingredients": {"none_of": ["hops"]}}, [(), ("malt",), (UNKNOWN,)], [("hops", "malt")]),
    ({"cleaners": {"any_entry": True}}, [("soda",)], [()]),
    ({"ingredients": {"listed": False}}, [("unicorn",)], [("malt",), ()]),
    ({"plants": {"any_of": ["juniper"]}}, [(BOUGHT,), (FORAGED, UNSURE)], [(FORAGED,), ()]),
    ({"plants": {"foraged": True}}, [(FORAGED,), (UNSURE,)], [(BOUGHT,), ()]),
    ({"plants": {"any_of": ["juniper"], "foraged": True}}, [(UNSURE,)], [(FORAGED, BOUGHT)]),
    ({"plants": {"level": ["caution"]}}, [(BOUGHT,)], [(FORAGED,), (Plant("hops", "bought"),)]),
    ({"plants": {"listed": False}}, [(FORAGED,)], [(BOUGHT,)]),
]


@pytest.mark.parametrize(("condition", "met", "unmet"), TESTS, ids=lambda value: str(value)[:40])
def test_each_test_of_the_language(condition: dict[str, Any], met: list[Any], unmet: list[Any]) -> None:
    """This test ensures that each test passes and fails as written, passes unknown, and never passes what
    cannot be.
    """
    read = read_condition("a-try", condition)
    (fact,) = condition
    assert all(read.holds({fact: value}) for value in met)
    assert not any(read.holds({fact: value}) for value in unmet)
    assert not read.holds({fact: NOT_APPLICABLE})
    asks_for_itself = isinstance(condition[fact], dict) and "is" in condition[fact]
    assert read.holds({fact: UNKNOWN}) is not asks_for_itself
    assert read.holds({}) is not asks_for_itself


def test_is_unknown_looks_for_unknown_itself() -> None:
    """This test ensures that {is: unknown} passes only where the fact, or one of its values, is unknown."""
    read = read_condition("a-try", {"abv_percent": {"is": "unknown"}})
    assert read.holds({})
    assert read.holds({"abv_percent": (3.0, UNKNOWN)})
    assert not read.holds({"abv_percent": (3.0, 6.5)})
    assert not read.holds({"abv_percent": NOT_APPLICABLE})


def test_every_fact_and_any() -> None:
    """This test ensures that each fact named must pass, and under any one of the maps."""
    read = read_condition("a-try", {"live": True, "any": [{"temp_c": ">48"}, {"closed": True, "stones": True}]})
    assert read.holds({"live": True, "temp_c": 50, "closed": False})
    assert read.holds({"live": True, "temp_c": 20, "closed": True, "stones": True})
    assert not read.holds({"live": True, "temp_c": 20, "closed": True, "stones": False})
    assert not read.holds({"live": False, "temp_c": 50})
    assert read.facts_read() == {"live", "temp_c", "closed", "stones"}


def test_the_tables_are_whole() -> None:
    """This test ensures that the tables hold as many rows as their source block says, at known levels."""
    block = source_of_botanicals()
    assert len(botanical_levels()) == block["rows"] == 104
    assert set(botanical_levels().values()) == set(block["levels"])
    assert {"malt", "hops", "water"} <= ingredient_words()
