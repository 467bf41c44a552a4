"""Readings corrected: a hydrometer's by the published table, over its range and no further."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from presenter.days import hydrometer_gravity
from presenter.lesson import package_house
from presenter.problems import ProblemsFoundError
from presenter.quantities import Q
from presenter.science.formula import OutOfRangeError
from presenter.science.published_tables import published_table

# Rows of the United States Bureau of Standards' table as the reference pack's file prints them (bigelow_stevenson,
# table 8), typed in by hand: the sample in degrees Fahrenheit, and what to add to the reading.
ROWS = [
    (50, -0.0017), (53, -0.0015), (56, -0.0013), (59, -0.0010), (62, -0.0008), (65, -0.0004), (68, 0.0), (71, 0.0004),
    (74, 0.0009), (77, 0.0013), (80, 0.0018), (83, 0.0023), (86, 0.0027), (88, 0.0031),
]  # fmt: skip
FLOAT = package_house().instruments["hydrometer"]


@pytest.mark.parametrize(("fahrenheit", "added"), ROWS)
def test_a_reading_corrected_matches_published(fahrenheit: int, added: float, harrowmere: Any) -> None:
    """This test ensures that 1.050 in a sample of a printed warmth becomes 1.050 and what the table adds, to half of
    its last digit (bigelow_stevenson, table 8), through a day's file."""
    day = f"readings:\n  - {{at: Boil, gravity: 1.050, sample: {fahrenheit} degF}}\n"
    found = harrowmere.worked(day).readings[0]
    assert float(found.quantity.magnitude) == pytest.approx(1.050 + added, abs=0.00005)
    assert found.number == "boil.gravity"


def test_every_row_of_the_table_is_used() -> None:
    """This test ensures that the correction is the printed one at each row of the table, to half its last digit."""
    table = published_table("hydrometer_temperature_correction")
    for fahrenheit, printed in zip(table.column("temperature"), table.column("gravity"), strict=True):
        celsius = min(max((fahrenheit - 32) / 1.8, 10.0), 31.11)
        assert hydrometer_gravity(1.04, celsius, FLOAT, 1.0)[2] == pytest.approx(printed, abs=0.00005)


@pytest.mark.parametrize(
    ("sample", "remedy"), [("66 degC", "Cool it and read again."), ("32 degC", "Cool it and read again."),
                           ("8 degC", "Warm it and read again.")],
)  # fmt: skip
def test_a_sample_outside_the_table_is_refused(harrowmere: Any, sample: str, remedy: str) -> None:
    """This test ensures that a hot or an icy sample is refused at its place, with what to do, and never guessed at."""
    with pytest.raises(ProblemsFoundError) as caught:
        harrowmere.worked(f"readings:\n  - {{at: Boil, gravity: 1.050, sample: {sample}}}\n")
    (problem,) = caught.value.problems
    assert problem.remedy == remedy
    assert str(problem.place) == "day.yaml:3:40"
    assert problem.wrong == f"The published table corrects samples from 10 to 31 degC; this one is at {sample}."


@given(shown=st.floats(1.0, 1.12), sample=st.floats(10, 31.1))
def test_give_or_take_of_a_reading_holds_all_its_parts(shown: float, sample: float) -> None:
    """This test ensures that the give-or-take is never less than the float's own and the formula's together."""
    _, spread, _ = hydrometer_gravity(shown, sample, FLOAT, 1.0)
    assert math.hypot(0.001, 0.0006) <= spread <= 0.0015


def test_a_float_made_for_sixty_degrees_is_brought_to_twenty() -> None:
    """This test ensures that a float made for 60 degF shows water of 60 degF as 1.000 of the 20 degC scale's 1.000."""
    from dataclasses import replace

    from presenter.lesson.fields import NOWHERE, Stated

    old = replace(FLOAT, calibrated_at=Stated(Q(60, "degree_Fahrenheit"), "60 degF", NOWHERE, "temperature"))
    assert hydrometer_gravity(1.000, (60 - 32) / 1.8, old, 1.0)[0] == pytest.approx(1.0, abs=1e-9)
    assert hydrometer_gravity(1.000, 20.0, old, 1.0)[0] == pytest.approx(1.0009, abs=0.00005)
    with pytest.raises(OutOfRangeError):
        hydrometer_gravity(1.000, 40.0, old, 1.0)


def test_samples_are_asked_after(harrowmere: Any) -> None:
    """This test ensures that a wort not said to be stirred and strained, or a drink not degassed, is asked about."""
    plain = harrowmere.worked("readings:\n  - {at: Boil, gravity: 1.06, sample: 20 degC}\n").readings[0]
    assert [ask.split()[2] for ask in plain.asks] == ["wort", "sample"]
    told = harrowmere.worked(
        "readings:\n  - {at: Boil, gravity: 1.06, sample: 20 degC, sample was: [stirred, strained]}\n"
    ).readings[0]
    assert told.asks == ()
    drink = harrowmere.worked(
        "readings:\n  - {at: Ferment, date: 2026-05-06, gravity: 1.02, sample: 20 degC}\n"
    ).readings[0]
    assert [ask.split()[2] for ask in drink.asks] == ["gas"]
    assert not drink.held


def test_a_refractometer_is_refused_once_yeast_has_worked(harrowmere: Any) -> None:
    """This test ensures that a Brix reading counts before the yeast and is refused after it."""
    before = harrowmere.worked("readings:\n  - {at: Boil, brix: 15.0}\n").readings[0]
    assert float(before.quantity.magnitude) == pytest.approx(1.0612, abs=0.0002)  # Balling's table: 15 % is 1.0613
    with pytest.raises(ProblemsFoundError, match="alcohol bends light too"):
        harrowmere.worked("readings:\n  - {at: Ferment, brix: 9.0}\n")
