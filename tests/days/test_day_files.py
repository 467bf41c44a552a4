"""Day files: what they may say, and every problem at once at its place."""

from __future__ import annotations

from typing import Any

import pytest

from presenter.problems import ProblemsFoundError


def problems(harrowmere: Any, lines: str, work: bool = False) -> list[tuple[str, str, str]]:
    """(place, what is wrong, remedy) of each problem of a day."""
    with pytest.raises(ProblemsFoundError) as caught:
        (harrowmere.worked if work else harrowmere.day)(lines)
    return [(str(each.place), each.wrong, each.remedy) for each in caught.value.problems]


def test_every_problem_is_told_at_once_with_its_place(harrowmere: Any) -> None:
    """This test ensures that five mistakes in one day give five problems, each at its line, with the nearest word."""
    found = problems(
        harrowmere,
        "began: 25:00\n"
        "readings:\n"
        "  - {at: Mash, gravity: 1.05}\n"
        "  - {at: Mash, gravty: 1.05, sample: 20 degC}\n"
        "  - {at: Mash, gravity: 1050, sample: 20 degC}\n"
        "changes:\n"
        "  - {at: Mash, now: {hold: 90 min}}\n",
    )
    assert [place for place, _, _ in found] == [
        "day.yaml:2:8", "day.yaml:4:5", "day.yaml:5:16", "day.yaml:6:25", "day.yaml:8:5",
    ]  # fmt: skip
    assert found[0][1:] == ("25:00 is no time of day.", "Write hours and minutes, such as 10:45.")
    assert found[1][1:] == (
        "A gravity is read in a sample, and this one does not say how warm the sample was.",
        "Add sample: 20 degC, as the thermometer shows it in the sample.",
    )
    assert found[2][1:] == ("There is no key gravty in readings[2].", "Did you mean gravity?")
    assert found[3][2] == "Did you mean 1.050?"
    assert found[4][1:] == ("The key because is missing from changes[1].", "Add because: with its value.")


def test_a_name_that_the_lesson_lacks_is_told_with_the_nearest(harrowmere: Any) -> None:
    """This test ensures that steps and ingredients of a day are held against the lesson's."""
    found = problems(
        harrowmere,
        "readings:\n  - {at: Bowl, volume: 6 L}\nchanges:\n"
        "  - {ingredient: mlt, now: {amount: 2 kg}, because: short}\n  - {skip: Cols, because: late}\n",
    )
    assert found == [
        ("day.yaml:3:10", "The lesson has no step called Bowl.", "Did you mean Boil?"),
        ("day.yaml:5:18", "There is no ingredient called mlt.", "Did you mean malt?"),
        ("day.yaml:6:12", "The lesson has no step called Cols.", "Did you mean Cool?"),
    ]


def test_a_change_is_checked_like_the_lesson_at_the_days_own_line(harrowmere: Any) -> None:
    """This test ensures that a wrong value in a change is told at the day's line, in the lesson's own words."""
    found = problems(
        harrowmere, "changes:\n  - {at: Mash, now: {hold: 90 degC}, because: the lid was off}\n", work=True
    )
    assert [(place, wrong) for place, wrong, _ in found] == [
        ("day.yaml:3:28", "90 degC is a temperature; a time is wanted here.")
    ]
    found = problems(harrowmere, "changes:\n  - {at: Mash, now: {holdd: 90 min}, because: x}\n", work=True)
    assert found == [("day.yaml:3:22", "There is no key holdd in the step Mash (mash).", "Did you mean hold?")]


def test_changes_are_made(harrowmere: Any) -> None:
    """This test ensures that a figure, an ingredient, a step left out and a step put in all reach the numbers."""
    worked = harrowmere.worked(
        "changes:\n"
        "  - {ingredient: malt, now: {amount: 2500 g}, because: the bag was short}\n"
        "  - {at: Mash, now: {water: 11 L}, because: the jug leaked}\n"
        "  - {skip: Boil, because: the gas ran out}\n"
        "  - {after: Draw, step: {name: Thin, do: top up, what: strong, water: 500 mL}, because: it was strong}\n"
    )
    numbers = worked.made.numbers
    assert numbers["lesson.malt"].quantity.magnitude == 2.5
    assert numbers["lesson.malt"].origin.evidence == "our choice: on the day, the bag was short"
    assert numbers["mash.water"].quantity.magnitude == 11
    assert "boil.gravity" not in numbers
    assert numbers["thin.gravity"].quantity.magnitude < numbers["draw.wort-gravity"].quantity.magnitude
    assert [step.id for step in worked.made.lesson.steps][:3] == ["mash", "draw", "thin"]


def test_an_amount_alone_keeps_the_heat_of_the_water(harrowmere: Any) -> None:
    """This test ensures that changing how much water went in says nothing new about how hot it was."""
    lesson = harrowmere.lesson(
        ("water: 12 L, reach: 67 degC", "water: {amount: 12 L, at: 75 degC}"),
        (',\n     say: "We reach {{ reach }}."', ""),
    )
    worked = harrowmere.worked("changes:\n  - {at: Mash, now: {water: 11 L}, because: x}\n", lesson)
    assert worked.made.numbers["mash.at"].quantity.magnitude == 75
    assert worked.made.numbers["mash.water"].quantity.magnitude == 11


def test_a_spoken_line_whose_number_is_gone_falls_silent(harrowmere: Any) -> None:
    """This test ensures that a change that does away with a spoken number is no problem of the day's."""
    worked = harrowmere.worked(
        "changes:\n  - {after: Draw, step: {name: Warm, do: heat, what: strong, reach: 80 degC}, because: x}\n"
        "  - {skip: Boil, because: y}\n",
        harrowmere.lesson(
            ("within: 40 min}", "within: 40 min, say: \"After {{ boil.for }} of boiling.\"}"),
        ),
    )  # fmt: skip
    assert "cool" not in worked.made.said
    assert worked.made.said["mash"] == "We reach sixty-seven degrees."
