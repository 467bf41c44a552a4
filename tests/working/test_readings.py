"""Readings held in place of worked numbers: what follows them, what stays, and the gap that is kept."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from presenter.quantities import Q
from presenter.working import Held


def read(number: str, value: float, spread: float, unit: str) -> Held:
    difference = {"degree_Celsius": "delta_degree_Celsius"}.get(unit, unit)
    return Held(number, Q(value, unit), Q(spread, difference))


@pytest.fixture(scope="module")
def steps(harrowmere: Any) -> str:
    return str(harrowmere.two_worts() + harrowmere.TO_ALE)


@pytest.fixture(scope="module")
def planned(harrowmere: Any, steps: str) -> Any:
    return harrowmere.worked(steps)


@pytest.fixture(scope="module")
def extract_planned(planned: Any) -> float:
    """Extract of the strong wort in kg, as planned; a float, since a property test prints its arguments."""
    return float(planned.after["draw-small"].liquids["strong"].extract.value)


def test_a_gravity_read_after_the_boil_is_followed(harrowmere: Any, steps: str, planned: Any) -> None:
    """This test ensures that a gravity read replaces the worked one, strength follows it, and volume stays."""
    done = harrowmere.worked(steps, held=[read("boil.gravity", 1.066, 0.001, "gravity")])
    value = harrowmere.value
    assert value(done, "boil.gravity") == 1.066
    assert value(done, "boil.volume") == value(planned, "boil.volume")
    assert done.gaps["boil.gravity"] == pytest.approx(1.066 - value(planned, "boil.gravity"), abs=1e-12)
    assert value(planned, "boil.gravity") < 1.066
    assert value(done, "ferment.strength") > value(planned, "ferment.strength")
    assert value(done, "pitch.original-extract") == pytest.approx(16.1, abs=0.1)  # 1.066 by the ASBC cubic
    assert harrowmere.spread(done, "boil.gravity") == pytest.approx(0.001, rel=1e-9)
    assert done.numbers["boil.gravity"].give_or_take.largest.startswith("the reading of")


@settings(max_examples=40, deadline=None)
@given(gravity=st.floats(1.03, 1.08))  # within the ASBC cubic: 20 degrees Plato
def test_a_gravity_read_anchors_the_extract(
    harrowmere: Any, steps: str, extract_planned: float, gravity: float
) -> None:
    """This test ensures that extract and water match the gravity read at its volume, and that the totals close."""
    done = harrowmere.worked(steps, held=[read("boil.gravity", gravity, 0.001, "gravity")], spreads=False)
    liquid = done.after["boil"].liquids["strong"]
    plato = 100 * liquid.extract.value / (liquid.extract.value + liquid.water.value)
    cubic = -616.868 + 1111.14 * gravity - 630.272 * gravity**2 + 135.997 * gravity**3  # ASBC
    assert plato == pytest.approx(cubic, abs=1e-6)
    density = (liquid.extract.value + liquid.water.value) / liquid.volume.value
    assert density == pytest.approx(0.9982 * gravity, abs=2e-4)
    gap = harrowmere.value(done, "boil.extract-gap")
    assert liquid.extract.value == pytest.approx(extract_planned + gap, rel=1e-9)
    brought = harrowmere.value(done, "mash.extract")
    after = done.after["boil"]
    found = liquid.extract.value + after.liquids["small"].extract.value + after.beds["mash tub"].extract.value
    assert found == pytest.approx(brought + gap, rel=1e-9)


def test_a_gravity_read_at_the_tap_holds_for_the_grain_too(harrowmere: Any, steps: str, planned: Any) -> None:
    """This test ensures that wort read at the tap tells of the wort left in the grain, and the second mash follows."""
    high = harrowmere.value(planned, "draw-strong.wort-gravity") + 0.006
    done = harrowmere.worked(steps, held=[read("draw-strong.wort-gravity", high, 0.001, "gravity")], spreads=False)
    bed, drawn = done.after["draw-strong"].beds["mash tub"], done.after["draw-strong"].liquids["strong"]
    assert bed.extract.value / bed.water.value == pytest.approx(drawn.extract.value / drawn.water.value, rel=1e-9)
    assert harrowmere.value(done, "second-mash.gravity") > harrowmere.value(planned, "second-mash.gravity")
    gaps = [harrowmere.value(done, f"draw-strong.{name}-extract-gap") for name in ("wort", "left")]
    brought = harrowmere.value(done, "mash.extract")
    assert drawn.extract.value + bed.extract.value == pytest.approx(brought + sum(gaps), rel=1e-9)


def test_a_volume_read_after_the_boil_is_water_gone(harrowmere: Any, steps: str, planned: Any) -> None:
    """This test ensures that a volume read alone keeps the extract: less volume, less water, a higher gravity."""
    low = harrowmere.value(planned, "boil.volume") - 0.5
    done = harrowmere.worked(steps, held=[read("boil.volume", low, 0.1, "litre")], spreads=False)
    liquid, before = (each.after["boil"].liquids["strong"] for each in (done, planned))
    assert liquid.extract.value == before.extract.value
    assert before.water.value - liquid.water.value == pytest.approx(0.5 * 0.99821, abs=1e-4)
    assert harrowmere.value(done, "boil.gravity") > harrowmere.value(planned, "boil.gravity")
    assert done.gaps["boil.volume"] == pytest.approx(-0.5, abs=0.005)


def test_gravity_and_volume_read_together_settle_both(harrowmere: Any, steps: str) -> None:
    """This test ensures that with both read the extract is that of the volume and the gravity that were read."""
    held = [read("boil.volume", 6.0, 0.1, "litre"), read("boil.gravity", 1.06, 0.001, "gravity")]
    done = harrowmere.worked(steps, held=held, spreads=False)
    liquid = done.after["boil"].liquids["strong"]
    # 6 L x 1.060 x 0.9982 kg/L x 14.74 % (ASBC cubic at 1.060)
    assert liquid.extract.value == pytest.approx(6 * 1.06 * 0.9982 * 0.14743, rel=5e-4)


def test_a_volume_drawn_and_read_leaves_the_rest(harrowmere: Any, steps: str, planned: Any) -> None:
    """This test ensures that a reading of what the author meant to draw replaces the plan, and its gap is kept."""
    done = harrowmere.worked(steps, held=[read("draw-strong.volume", 6.5, 0.1, "litre")], spreads=False)
    assert harrowmere.value(done, "draw-strong.volume") == 6.5
    assert done.gaps["draw-strong.volume"] == pytest.approx(-0.5)
    assert done.numbers["draw-strong.volume"].origin.kind == "reading"
    assert harrowmere.value(done, "draw-small.wort-gravity") > harrowmere.value(planned, "draw-small.wort-gravity")


def test_a_mash_heat_read_decides_the_attenuation(harrowmere: Any, steps: str, planned: Any) -> None:
    """This test ensures that a mash found hotter than planned promises less attenuation, and so less strength."""
    done = harrowmere.worked(steps, held=[read("mash.mash-heat", 70.0, 1.0, "degree_Celsius")], spreads=False)
    assert harrowmere.value(done, "mash.attenuation-limit") < harrowmere.value(planned, "mash.attenuation-limit")
    assert harrowmere.value(done, "ferment.strength") < harrowmere.value(planned, "ferment.strength")
    assert harrowmere.value(done, "mash.strike-heat") == harrowmere.value(planned, "mash.strike-heat")


def test_a_reading_equal_to_the_worked_number_changes_nothing(harrowmere: Any, steps: str, planned: Any) -> None:
    """This test ensures that a reading that agrees with the plan leaves every later number where it was."""
    same = harrowmere.value(planned, "boil.gravity")
    done = harrowmere.worked(steps, held=[read("boil.gravity", same, 0.001, "gravity")], spreads=False)
    assert done.gaps["boil.gravity"] == pytest.approx(0, abs=1e-12)
    for number in planned.numbers:
        assert harrowmere.value(done, number) == pytest.approx(harrowmere.value(planned, number), rel=1e-6, abs=1e-9)


def test_us_duty_case_lies_in_the_usual_band(harrowmere: Any, steps: str) -> None:
    """This test ensures that 1.052 down to 1.012 is 5.2 to 5.35 percent by every rule offered (common practice)."""
    held = [read("boil.gravity", 1.052, 0.0005, "gravity"), read("ferment.final-gravity", 1.012, 0.0005, "gravity")]
    done = harrowmere.worked(steps, held=held, spreads=False)
    for rule in ("strength", "strength-duty-table", "strength-rule-of-thumb"):
        assert 5.2 <= harrowmere.value(done, f"ferment.{rule}") <= 5.35
