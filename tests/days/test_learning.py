"""Learning from days: a kitchen with a value of its own is found out by its readings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from presenter.days.learning import learnt_from, measured_on, suggestion_lines
from presenter.lesson import package_house
from presenter.lesson.library_file import house_for
from presenter.working import work_out


def read_in(harrowmere: Any, house: str, *numbers: tuple[str, str, str]) -> Any:
    """A day in a kitchen whose true house values are ``house``, its readings worked out there."""
    true = work_out(harrowmere.lesson(("ingredients:", f"house: {{{house}}}\ningredients:")), spreads=False)
    lines = "readings:\n"
    for step, key, number in numbers:
        value = float(true.numbers[number].quantity.magnitude)
        unit = {"gravity": "", "volume": " L", "temperature": " degC"}[key]
        sample = ", sample: 20 degC" if key == "gravity" else ""
        after = ", after: 60 min" if number.endswith("end-heat") else ""
        lines += f"  - {{at: {step}, {key}: {value:.5f}{unit}{sample}{after}}}\n"
    return harrowmere.worked(lines)


@settings(max_examples=15, deadline=None)
@given(true=st.floats(65, 95))
def test_a_yield_is_found_out(harrowmere: Any, true: float) -> None:
    """This test ensures that the gravity of a kitchen with another yield gives that yield back."""
    worked = read_in(harrowmere, f"mash yield: {true:.3f} percent", ("Mash", "gravity", "mash.gravity"))
    (found,) = [each for each in measured_on(worked) if each.name == "mash yield"]
    assert found.value == pytest.approx(true, abs=0.05)
    assert found.spread > 0


@settings(max_examples=15, deadline=None)
@given(true=st.floats(1.0, 4.5))
def test_a_boil_off_and_a_cooling_are_found_out(harrowmere: Any, true: float) -> None:
    """This test ensures that volumes around a boil give its rate back, and two temperatures the cooling of a tub."""
    lesson = harrowmere.lesson(
        ("boils away: 2.4 L per hour", f"boils away: {true:.4f} L per hour"),
        ("weighs: 3 kg", f"weighs: 3 kg, cools: {true:.4f} degC per hour"),
    )
    plan = work_out(lesson, spreads=False)

    def value(number: str) -> float:
        return float(plan.numbers[number].quantity.magnitude)

    worked = harrowmere.worked(
        "readings:\n"
        f"  - {{at: Mash, temperature: {value('mash.mash-heat'):.4f} degC}}\n"
        f"  - {{at: Mash, after: 60 min, temperature: {value('mash.end-heat'):.4f} degC}}\n"
        f"  - {{at: Draw, volume: {value('draw.volume'):.5f} L}}\n"
        f"  - {{at: Boil, volume: {value('boil.volume'):.5f} L}}\n"
    )
    found = {each.name: each.value for each in measured_on(worked)}
    assert found["boils away"] == pytest.approx(true, abs=0.02)
    assert found["cools"] == pytest.approx(true, abs=1e-3)


def test_only_what_was_read_is_learnt(harrowmere: Any) -> None:
    """This test ensures that a day without readings teaches nothing, and half a measurement nothing either."""
    assert measured_on(harrowmere.worked("readings: []\n")) == ()
    assert measured_on(harrowmere.worked("readings:\n  - {at: Boil, volume: 6 L}\n")) == ()


def test_days_are_counted_and_scatter(harrowmere: Any, tmp_path: Path) -> None:
    """This test ensures that a suggestion says on how many days it rests, takes their scatter for its give-or-take, and
    can stand in a library as it is printed."""
    days = [
        read_in(harrowmere, f"mash yield: {true} percent", ("Mash", "gravity", "mash.gravity")) for true in (74, 80, 77)
    ]
    (one,) = learnt_from(days[:1], package_house())
    assert one.within == package_house().values["mash yield"].within
    (three,) = learnt_from(days, package_house())
    assert three.value == pytest.approx(77, abs=0.05)
    assert three.within == pytest.approx(6, abs=0.1)  # twice the standard deviation of 74, 77 and 80
    lines = suggestion_lines([three])
    assert "3 of our own days" in lines[1]
    (tmp_path / "library.yaml").write_text("\n".join(["name: Harrowmere (invented)", *lines]) + "\n", encoding="utf-8")
    assert house_for(tmp_path).values["mash yield"].value.number() == 77
