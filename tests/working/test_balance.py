"""What goes in comes out: extract, water, and what pouring together and thinning make of them."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from presenter.problems import ProblemsFoundError
from presenter.science.wort import volume_of_wort


@settings(max_examples=60, deadline=None)
@given(
    malt=st.floats(1, 10),
    thickness=st.floats(3, 5),
    share=st.floats(0.2, 0.9),
    second=st.floats(0.5, 3),
)
def test_extract_in_is_strong_and_small_and_left(
    harrowmere: Any, malt: float, thickness: float, share: float, second: float
) -> None:
    """This test ensures that extract dissolved = strong + small + left in the grain, and so for water, to 1e-9."""
    free = malt * (thickness - 1.05)
    strong = f"{share * free:.3f} L"
    steps = harrowmere.two_worts(strong, f"{second * malt:.3f} L", f"{malt * thickness:.3f} L")
    done = harrowmere.worked(steps, malt=f"{malt:.3f} kg", spreads=False)
    liquids, bed = done.vessels.liquids, done.vessels.beds["mash tub"]
    dissolved = harrowmere.value(done, "mash.extract")
    parted = liquids["strong"].extract.value + liquids["small"].extract.value + bed.extract.value
    assert parted == pytest.approx(dissolved, rel=1e-9)
    water = harrowmere.value(done, "mash.all-water") + harrowmere.value(done, "second-mash.water-mass")
    assert liquids["strong"].water.value + liquids["small"].water.value + bed.water.value == pytest.approx(
        water, rel=1e-9
    )
    assert harrowmere.value(done, "lesson.extract") == pytest.approx(dissolved, rel=1e-9)


def test_thinning_by_a_balance_worked_by_hand(harrowmere: Any) -> None:
    """This test ensures that a wort topped up with 2 L keeps its extract and gains the mass of 2 L of cold water."""
    steps = harrowmere.MASH % ("12 L", "67 degC") + harrowmere.DRAW % ("it", "volume: 7 L, ", "strong")
    thinned = harrowmere.worked(steps + "  - {name: Thin, do: top up, what: strong, water: 2 L}\n", spreads=False)
    before = thinned.after["draw-it"].liquids["strong"]
    after = thinned.vessels.liquids["strong"]
    # 2 L of water at the house's 12 degC: 2 x 0.99950 kg (density of water at 12 degC, Kell 1975)
    assert after.extract.value == before.extract.value
    assert after.water.value - before.water.value == pytest.approx(2 * 0.99950, abs=1e-4)
    extract, water = after.extract.value, after.water.value
    plato = 100 * extract / (extract + water)
    # ASBC's own inverse, a published cubic: degrees Plato from gravity, so that the balance closes on another route
    gravity = after.gravity.value
    assert -616.868 + 1111.14 * gravity - 630.272 * gravity**2 + 135.997 * gravity**3 == pytest.approx(plato, abs=0.02)
    # masses and temperatures mixed by hand, a wort's heat taken as water's, near enough to within a degree
    wort = before.extract.value + before.water.value
    mixed = (wort * before.temperature.value + 2 * 0.99950 * 12) / (wort + 2 * 0.99950)
    assert after.temperature.value == pytest.approx(mixed, abs=1.0)
    assert after.temperature.value < before.temperature.value - 5
    assert after.volume.value == pytest.approx(before.volume.value + 2, abs=0.02)


def test_blending_by_a_balance_worked_by_hand(harrowmere: Any) -> None:
    """This test ensures that two worts joined hold the extract and the water of both, and a gravity between theirs."""
    done = harrowmere.worked(
        harrowmere.two_worts() + "  - {name: Blend, do: join, what: [strong, small], call it: whole}\n",
        spreads=False,
    )
    strong, small = (done.after["draw-small"].liquids[name] for name in ("strong", "small"))
    whole = done.vessels.liquids["whole"]
    assert set(done.vessels.liquids) == {"whole"}
    assert whole.extract.value == pytest.approx(strong.extract.value + small.extract.value, rel=1e-12)
    assert whole.water.value == pytest.approx(strong.water.value + small.water.value, rel=1e-12)
    assert small.gravity.value < whole.gravity.value < strong.gravity.value
    # gravity points mix nearly by volume (common practice)
    points = (
        1000 * (strong.gravity.value - 1) * strong.volume.value + 1000 * (small.gravity.value - 1) * small.volume.value
    ) / (strong.volume.value + small.volume.value)
    assert 1000 * (whole.gravity.value - 1) == pytest.approx(points, abs=0.15)


def test_straining_leaves_the_same_liquid_in_both_parts(harrowmere: Any) -> None:
    """This test ensures that straining parts a wort without changing it: 0.5 L stay, the gravity stays."""
    steps = harrowmere.MASH % ("12 L", "67 degC") + harrowmere.DRAW % ("it", "volume: 7 L, ", "strong")
    done = harrowmere.worked(steps + "  - {name: Strain, do: strain, what: strong, leave: 500 mL}\n", spreads=False)
    before, after = done.after["draw-it"].liquids["strong"], done.vessels.liquids["strong"]
    assert after.volume.value == pytest.approx(before.volume.value - 0.5, rel=1e-12)
    assert after.extract.value / after.water.value == pytest.approx(
        before.extract.value / before.water.value, rel=1e-12
    )
    assert float(volume_of_wort.plain(after.extract.value + after.water.value, after.gravity.value)) == pytest.approx(
        after.volume.value, rel=1e-9
    )


def test_heating_takes_the_energy_of_its_balance(harrowmere: Any) -> None:
    """This test ensures that heating takes mass times specific heat times the rise, worked by hand."""
    steps = harrowmere.MASH % ("12 L", "67 degC") + harrowmere.DRAW % ("it", "volume: 7 L, ", "strong")
    done = harrowmere.worked(steps + "  - {name: Warm, do: heat, what: strong, reach: 80 degC}\n", spreads=False)
    before = done.after["draw-it"].liquids["strong"]
    by_hand = (before.extract.value + before.water.value) * 4.0 * (80 - before.temperature.value)
    assert harrowmere.value(done, "warm.energy") == pytest.approx(by_hand, rel=1e-9)
    assert done.vessels.liquids["strong"].temperature.value == 80


def test_boiling_loses_water_and_keeps_extract(harrowmere: Any) -> None:
    """This test ensures that half an hour at 2 L per hour takes one litre of water and no extract."""
    steps = harrowmere.MASH % ("12 L", "67 degC") + harrowmere.DRAW % ("it", "volume: 7 L, ", "strong")
    done = harrowmere.worked(steps + "  - {name: Boil, do: boil, what: strong, for: 30 min}\n", spreads=False)
    before, after = done.after["draw-it"].liquids["strong"], done.vessels.liquids["strong"]
    assert after.extract.value == before.extract.value
    # one litre at 20 degC is 0.99821 kg (Kell 1975)
    assert before.water.value - after.water.value == pytest.approx(0.99821, abs=5e-5)


@settings(max_examples=25, deadline=None)
@given(malt=st.floats(1, 10), thickness=st.floats(3.2, 4.5))
def test_fermenting_accounts_for_all_extract_used(harrowmere: Any, malt: float, thickness: float) -> None:
    """This test ensures that alcohol, carbon dioxide and new yeast come to the extract used (Balling's quotients).

    2.0665 g of extract give 1 g of alcohol, 0.9565 g of carbon dioxide and 0.11 g of yeast (Balling).
    """
    steps = (
        harrowmere.MASH % (f"{malt * thickness:.3f} L", "67 degC")
        + harrowmere.DRAW % ("it", "", "strong")
        + harrowmere.TO_ALE
    )
    done = harrowmere.worked(steps, malt=f"{malt:.3f} kg", spreads=False)
    alcohol, gas, eaten = (
        harrowmere.value(done, f"ferment.{name}") for name in ("alcohol", "carbon-dioxide", "fermented-extract")
    )
    assert alcohol * 2.0665 == pytest.approx(eaten, rel=1e-9)
    assert alcohol * 0.9565 == pytest.approx(gas, rel=1e-9)


def test_worts_poured_together_share_their_heat(harrowmere: Any) -> None:
    """This test ensures that a hot wort on a cooled one warms it by the heat that each brings, so that yeast is refused
    where the mixture is still too hot, in whichever order the two are named."""
    cooled = harrowmere.two_worts() + "  - {name: Cool, do: cool, what: strong, to: 20 degC, within: 40 min}\n"
    hot = "  - {name: Boil, do: boil, what: small, for: 10 min}\n"
    join = "  - {name: Blend, do: join, what: [%s], call it: whole}\n"
    found = []
    for order in ("strong, small", "small, strong"):
        done = harrowmere.worked(cooled + hot + join % order, spreads=False)
        found.append(done.vessels.liquids["whole"].temperature.value)
        before = done.after["boil"].liquids
        masses = [before[name].extract.value + before[name].water.value for name in ("strong", "small")]
        by_hand = (masses[0] * 20 + masses[1] * before["small"].temperature.value) / sum(masses)
        assert found[-1] == pytest.approx(by_hand, abs=1e-6)  # energy balance, both of one specific heat
    assert found[0] == pytest.approx(found[1])
    pour = "  - {name: Pour, do: pour, what: small, volume: 3 L, onto: strong}\n"
    poured = harrowmere.worked(cooled + hot + pour, spreads=False).vessels.liquids
    assert 40 < poured["strong"].temperature.value < poured["small"].temperature.value
    with pytest.raises(ProblemsFoundError, match="yeast dies"):
        harrowmere.worked(cooled + hot + pour + "  - {name: Pitch, do: pitch, what: strong, with: yeast}\n")


def test_equally_warm_worts_need_no_heat_worked(harrowmere: Any) -> None:
    """This test ensures that worts of one warmth, joined, keep it and get no number for it."""
    cool = "".join(
        f"  - {{name: Cool {name}, do: cool, what: {name}, to: 20 degC, within: 40 min}}\n"
        for name in ("strong", "small")
    )
    join = "  - {name: Blend, do: join, what: [strong, small], call it: whole}\n"
    done = harrowmere.worked(harrowmere.two_worts() + cool + join, spreads=False)
    assert done.vessels.liquids["whole"].temperature.value == 20.0
    assert "blend.temperature" not in done.numbers
