"""Bottling on a day: the drink's own readings decide whether sugar is weighed, and for every part of it."""

from __future__ import annotations

from typing import Any

import pytest

from presenter.commands.telling_days import day_records, day_table

LAST = "  - {name: Ferment, do: ferment, what: strong, for: 7 days, at: 19 degC}\n"
SPLIT = "  - {name: Split, do: split, what: strong, volume: 3 L, call it: a, call the rest: b}\n"
BOTTLE = (
    "  - {name: Bottle %s, do: prime and bottle, what: %s, with: sugar, gas: 2.4 volumes,"
    " container: plastic pressure bottles, stored at: 20 degC%s}\n"
)
STATED = ", readings: [{gravity: 1.011, after: 7 days}, {gravity: 1.011, after: 9 days}]"
YEAST = "  yeast: {what: dried ale yeast, amount: 11 g}\n"
READ = "readings:\n" + "  - {at: Ferment, date: 2026-05-%02d, gravity: %s, sample: 20 degC}\n" * 2


@pytest.fixture(scope="module")
def bottled(harrowmere: Any) -> Any:
    """A worked day of the small mash, bottled by these steps and read so."""

    def work(steps: str, read: str) -> Any:
        sugar = YEAST + "  sugar: {what: cane sugar, amount: 500 g}\n"
        return harrowmere.worked(read, harrowmere.lesson((YEAST, sugar), (LAST, LAST + steps)))

    return work


def test_the_days_readings_stand_before_those_of_the_lesson(bottled: Any, capsys: Any) -> None:
    """This test ensures that no sugar is weighed for a drink that the day found at work, whatever the lesson states;
    and that the table and the records of the day print the reason, and keep what was planned."""
    worked = bottled(BOTTLE % ("it", "strong", STATED), READ % (9, "1.020", 11, "1.014"))
    assert "bottle-it.sugar" in worked.plan.numbers
    assert "bottle-it.sugar" not in worked.made.numbers
    (kept,) = worked.made.withheld
    assert "from 1.020 to 1.014: the yeast is still at work" in kept.reason
    (record,) = (each for each in day_records(worked) if each["id"] == "bottle-it.sugar")
    assert record["withheld"] == kept.reason
    assert record["planned"] > 0
    assert record["made"] is None
    day_table(worked, "metric")
    assert "Not given: sugar for priming (bottle-it.sugar)" in capsys.readouterr().out


def test_one_reading_of_the_day_is_not_paired_with_one_of_the_lesson(bottled: Any) -> None:
    """This test ensures that a single reading proves nothing, though the lesson states an equal one."""
    once = "readings:\n  - {at: Ferment, date: 2026-05-09, gravity: 1.011, sample: 20 degC}\n"
    (kept,) = bottled(BOTTLE % ("it", "strong", STATED), once).made.withheld
    assert kept.reason.startswith("One reading does not show")


def test_readings_before_a_split_hold_for_both_parts(bottled: Any) -> None:
    """This test ensures that a drink read twice and then split has its sugar weighed for both parts."""
    steps = SPLIT + BOTTLE % ("a", "a", "") + BOTTLE % ("b", "b", "")
    worked = bottled(steps, READ % (9, "1.011", 11, "1.011"))
    assert [kept.id for kept in worked.plan.withheld] == ["bottle-a.sugar", "bottle-b.sugar"]
    assert worked.made.withheld == ()
    parts = [float(worked.made.numbers[f"bottle-{name}.sugar"].quantity.magnitude) for name in "ab"]
    volumes = [worked.made.vessels.liquids[name].volume.value for name in "ab"]
    assert parts[0] / volumes[0] == pytest.approx(parts[1] / volumes[1])


def test_a_number_that_neither_plan_nor_day_gives_has_a_record(bottled: Any) -> None:
    """This test ensures that what is withheld from plan and day alike still stands in the records, with its reason."""
    worked = bottled(BOTTLE % ("it", "strong", ""), READ % (9, "1.020", 11, "1.014"))
    (record,) = (each for each in day_records(worked) if each["id"] == "bottle-it.sugar")
    assert "still at work" in record["withheld"]
