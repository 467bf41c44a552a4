"""A day worked again: readings held, gaps kept, totals closing, and readings that disagree."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st


def value(worked: Any, number: str) -> float:
    return float(worked.numbers[number].quantity.magnitude)


@settings(max_examples=25, deadline=None)
@given(gravity=st.floats(1.035, 1.075), drawn=st.floats(5.0, 7.5), boiled=st.floats(5.0, 7.0))
def test_totals_still_close(harrowmere: Any, gravity: float, drawn: float, boiled: float) -> None:
    """This test ensures that the extract found at the end is what was brought in and every gap, whatever was read."""
    worked = harrowmere.worked(
        "readings:\n"
        f"  - {{at: Draw, gravity: {gravity:.3f}, sample: 20 degC, volume: {drawn:.2f} L}}\n"
        f"  - {{at: Boil, gravity: {gravity + 0.004:.3f}, sample: 20 degC, volume: {boiled:.2f} L}}\n"
    )
    made = worked.made
    after = made.after["boil"]
    found = after.liquids["strong"].extract.value + after.beds["mash tub"].extract.value
    gaps = sum(value(made, number) for number in made.numbers if number.endswith("extract-gap"))
    assert found == pytest.approx(value(made, "mash.extract") + gaps, rel=1e-9)
    assert value(made, "boil.gravity") == pytest.approx(gravity + 0.004, abs=0.0006)
    assert value(made, "boil.volume") == pytest.approx(boiled, abs=0.006)


def test_what_nothing_explains_is_a_number_of_its_own(harrowmere: Any) -> None:
    """This test ensures that a gravity read below the worked one leaves a gap of extract that bears an id."""
    worked = harrowmere.worked("readings:\n  - {at: Boil, gravity: 1.050, sample: 20 degC}\n")
    assert worked.made.gaps["boil.gravity"] == pytest.approx(1.050 - value(worked.plan, "boil.gravity"), abs=1e-9)
    assert value(worked.made, "boil.extract-gap") < 0
    assert value(worked.made, "boil.volume") == value(worked.plan, "boil.volume")


def test_two_readings_that_disagree_are_reported(harrowmere: Any) -> None:
    """This test ensures that two readings further apart than both may be off are told, and the later is worked with."""
    worked = harrowmere.worked(
        "readings:\n  - {at: Boil, gravity: 1.060, sample: 20 degC}\n  - {at: Boil, gravity: 1.052, sample: 20 degC}\n"
    )
    (found,) = worked.disagreements
    assert (found.number, round(found.apart, 4)) == ("boil.gravity", 0.008)
    assert value(worked.made, "boil.gravity") == pytest.approx(1.052)
    close = harrowmere.worked(
        "readings:\n  - {at: Boil, gravity: 1.060, sample: 20 degC}\n  - {at: Boil, gravity: 1.061, sample: 20 degC}\n"
    )
    assert close.disagreements == ()


def test_a_reading_after_cooling_tells_of_the_boiled_wort(harrowmere: Any) -> None:
    """This test ensures that a gravity read at a step that works out none stands for the liquid's own."""
    worked = harrowmere.worked("readings:\n  - {at: Cool, gravity: 1.058, sample: 20 degC}\n")
    assert worked.readings[0].number == "boil.gravity"
    assert value(worked.made, "ferment.strength") < value(worked.plan, "ferment.strength")


def test_a_temperature_late_in_the_rest_is_the_end_of_it(harrowmere: Any) -> None:
    """This test ensures that the first temperature of a mash is its beginning and a late one its end."""
    worked = harrowmere.worked(
        "readings:\n  - {at: Mash, temperature: 65 degC}\n  - {at: Mash, after: 60 min, temperature: 60 degC}\n"
    )
    assert [each.number for each in worked.readings] == ["mash.mash-heat", "mash.end-heat"]
    assert value(worked.made, "mash.mash-heat") == 65


def test_a_hot_volume_shrinks_as_it_cools(harrowmere: Any) -> None:
    """This test ensures that 6 L read at 90 degC count as 6 L times the water tables' ratio of densities (0.9653 to
    0.9982 kg/L, IAPWS values as printed in the reference pack)."""
    worked = harrowmere.worked("readings:\n  - {at: Boil, volume: 6 L, temperature: 90 degC}\n")
    volume = next(each for each in worked.readings if each.what == "volume")
    assert float(volume.quantity.magnitude) == pytest.approx(6 * 0.9653 / 0.9982, abs=0.002)


def test_a_fermentation_settles_only_when_it_stands_still(harrowmere: Any) -> None:
    """This test ensures that one reading, or two a day apart, never stand for the final gravity; two days do."""
    one = "readings:\n  - {at: Ferment, date: 2026-05-08, gravity: 1.012, sample: 20 degC}\n"
    day_after = one + "  - {at: Ferment, date: 2026-05-09, gravity: 1.012, sample: 20 degC}\n"
    two_after = day_after + "  - {at: Ferment, date: 2026-05-10, gravity: 1.012, sample: 20 degC}\n"
    expected = value(harrowmere.worked("readings: []\n").made, "ferment.final-gravity")
    assert value(harrowmere.worked(one).made, "ferment.final-gravity") == expected
    assert value(harrowmere.worked(day_after).made, "ferment.final-gravity") == expected
    assert value(harrowmere.worked(two_after).made, "ferment.final-gravity") == pytest.approx(1.012)


def test_a_step_may_stand_in_for_one_that_was_left_out(harrowmere: Any) -> None:
    """This test ensures that a step put in after one that was skipped stands at its place, whichever is written first,
    and not at the head of the lesson."""
    skipped = "  - {skip: Boil, because: no gas left}\n"
    instead = (
        "  - {after: Boil, step: {name: Warm, do: heat, what: strong, reach: 80 degC, in: kettle}, because: no gas}\n"
    )
    orders = [
        [str(step.name) for step in harrowmere.worked(f"changes:\n{lines}").made.lesson.steps]
        for lines in (skipped + instead, instead + skipped)
    ]
    assert orders == [["Mash", "Draw", "Warm", "Cool", "Pitch", "Ferment"]] * 2
