"""Acid, chlorine and germs in a lesson: directions always right, doses only of salts for drinking water."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from presenter.problems import ProblemsFoundError
from presenter.science.dechlorination import dechlorination_salts
from presenter.science.germs import organisms_without_a_usable_value, pasteurisation_units_along
from presenter.working.germs import GERM_SENTENCES, counted_organisms, while_it_cools, without_a_value

ACID = "  - {name: Sour, do: acidify, what: strong, with: acid%s}\n"
WATER = "site: {water: %s, altitude: %s%s}\n"


def _soured(harrowmere: Any, bought: str, more: str = "", spreads: bool = False) -> Any:
    steps = harrowmere.two_worts() + ACID % more
    return harrowmere.worked(steps, bought=f"  acid: {{{bought}}}\n", spreads=spreads)


# --- acid


@pytest.mark.parametrize(
    "bought",
    ["what: wine vinegar, amount: 20 mL", "what: lactic acid, amount: 4 g", "what: malt vinegar, amount: 200 mL"],
)
def test_acid_brings_the_ph_down(harrowmere: Any, bought: str) -> None:
    """This test ensures that acid always lowers the pH, and more acid lowers it more."""
    worked = _soured(harrowmere, bought, spreads=True)
    before, after = (worked.numbers[f"sour.{name}"] for name in ("ph-before", "ph"))
    assert after.quantity.magnitude < before.quantity.magnitude
    assert after.spread.magnitude > 0.3  # the buffering is known within a factor only
    double = bought.replace("20 mL", "40 mL").replace("4 g", "8 g").replace("200 mL", "300 mL")
    more = _soured(harrowmere, double).numbers["sour.ph"].quantity.magnitude
    assert more < after.quantity.magnitude


def test_ten_millilitres_of_vinegar_in_a_litre_matches_the_worked_example(harrowmere: Any) -> None:
    """This test ensures that vinegar of 5 percent, 10 mL in a litre of wort read at pH 5.30, comes to the worked
    example's 4.61 to 4.96 for bufferings of 5 to 15 (derived in the reference pack, not published)."""
    volume = harrowmere.worked(harrowmere.two_worts(), spreads=False).vessels.liquids["strong"].volume.value
    bought = f"what: distilled vinegar, amount: {10 * volume:.3f} mL"
    worked = _soured(harrowmere, bought, ", strength: 5 percent, pH before: 5.30")
    assert 4.61 < worked.numbers["sour.ph"].quantity.magnitude < 4.96
    assert worked.numbers["sour.ph-before"].origin.written == "5.30"
    assert worked.numbers["sour.acid-in-a-litre"].quantity.magnitude == pytest.approx(8.33, abs=0.01)


def test_a_culture_has_no_ph_to_work_out(harrowmere: Any) -> None:
    """This test ensures that a souring culture's pH is withheld with the advice to measure it."""
    worked = _soured(harrowmere, "what: lactic culture, amount: 5 g")
    (kept,) = worked.withheld
    assert kept.id == "sour.ph"
    assert kept.reason.endswith("Measure it, and write the reading down.")


@pytest.mark.parametrize(
    ("bought", "words"),
    [
        ("what: wine vinegar, amount: 20 g", "20 g is a mass. Vinegar is measured."),
        ("what: lactic acid, amount: 20 mL", "20 mL is a volume. Strong acid is weighed."),
        ("what: wine vinegar, amount: 2 L", "2 L is a lot for 6.9 L"),
        ("what: honey, amount: 20 g", "honey is no acid that this toolkit can reckon with."),
    ],
)
def test_acid_that_cannot_be_reckoned_with_is_refused(harrowmere: Any, bought: str, words: str) -> None:
    """This test ensures that what is no acid, not measured as such, or far too much, is refused in a sentence."""
    with pytest.raises(ProblemsFoundError, match=words.replace(".", r"\.")):
        _soured(harrowmere, bought)


# --- chlorine


def _watered(harrowmere: Any, water: str = "mains", more: str = "", altitude: str = "90 m") -> Any:
    return harrowmere.worked(
        harrowmere.two_worts() + harrowmere.TO_ALE, top=WATER % (water, altitude, more), spreads=False
    )


@pytest.mark.parametrize("salt", list(dechlorination_salts()))
def test_each_salt_for_drinking_water_has_its_dose(harrowmere: Any, salt: str) -> None:
    """This test ensures that the dose is the published milligrams of the salt for each one of chlorine, over all the
    water that the lesson takes (awwa_table72)."""
    worked = _watered(harrowmere, more=f", chlorine: 0.8 mg/L, dechlorinate with: {salt}")
    value = {name: number.quantity.magnitude for name, number in worked.numbers.items()}
    expected = value["lesson.water-needed"] * 0.8 * dechlorination_salts()[salt].dose
    assert value["lesson.dechlorination"] == pytest.approx(expected)


@pytest.mark.parametrize("salt", ["sodium thiosulfate", "calcium thiosulphate", "bleach"])
def test_salts_not_meant_for_drinking_water_have_no_dose(harrowmere: Any, salt: str) -> None:
    """This test ensures that thiosulfate and anything else not meant for drinking water is refused, with those that
    are meant for it."""
    with pytest.raises(ProblemsFoundError) as caught:
        _watered(harrowmere, more=f", chlorine: 1 mg/L, dechlorinate with: {salt}")
    (problem,) = caught.value.problems
    assert problem.wrong == f"{salt} is no salt for taking chlorine out of drinking water."
    assert "sodium metabisulfite" in problem.remedy
    assert "thiosul" not in problem.remedy


def test_chlorine_that_nobody_measured_withholds_the_dose(harrowmere: Any) -> None:
    """This test ensures that no dose is given for an unknown amount of chlorine, nor for a well."""
    worked = _watered(harrowmere, more=", dechlorinate with: Campden tablets")
    assert [kept.id for kept in worked.withheld] == ["lesson.dechlorination"]
    with pytest.raises(ProblemsFoundError, match="Only mains water holds chlorine; the water here is our own well"):
        _watered(harrowmere, "our own well", ", chlorine: 1 mg/L, dechlorinate with: ascorbic acid")


# --- germs


def test_every_heating_step_counts_along_its_own_course(harrowmere: Any) -> None:
    """This test ensures that mash, boil and cooling each have units and tenfold cuts of every usable organism, and
    that a step which stays cold has none."""
    worked = _watered(harrowmere)
    for step in ("mash", "second-mash", "boil", "cool"):
        for name in ("pasteurisation-units", *(f"cuts-{one.lower().replace(' ', '-')}" for one in counted_organisms())):
            assert f"{step}.{name}" in worked.numbers
    assert "ferment.pasteurisation-units" not in worked.numbers
    boil = worked.numbers["boil.pasteurisation-units"].quantity.magnitude
    assert boil == pytest.approx(15 * 1.393**20)  # over 80 degC as if at 80 (pu_sizes)
    assert worked.numbers["boil.cuts-salmonella"].quantity.magnitude == pytest.approx(15 / 0.25)


@given(start=st.floats(60, 100), end=st.floats(5, 40), bath=st.floats(1.0, 30), minutes=st.floats(5, 300))
def test_no_colder_bath_counts_less(start: float, end: float, bath: float, minutes: float) -> None:
    """This test ensures that what is counted while cooling is the least: any colder bath, and a straight line, which
    come from the same heat to the same end in the same time, count as much or more."""
    least = pasteurisation_units_along(*while_it_cools(start, end, minutes))
    cold = end - 1 - bath
    rate = math.log((start - cold) / (end - cold)) / minutes
    times = [minutes * piece / 60 for piece in range(61)]
    other = pasteurisation_units_along(times, [cold + (start - cold) * math.exp(-rate * time) for time in times])
    straight = pasteurisation_units_along([0, minutes], [start, end])
    assert least <= other * (1 + 1e-9)
    assert other <= straight * (1 + 1e-6)


def test_hotter_and_longer_kill_no_fewer(harrowmere: Any) -> None:
    """This test ensures that a hotter or longer mash never counts fewer units."""
    counted = [
        harrowmere.worked(harrowmere.two_worts(reach=reach), spreads=False)
        .numbers["mash.pasteurisation-units"].quantity.magnitude
        for reach in ("62 degC", "66 degC", "70 degC")
    ]  # fmt: skip
    assert counted == sorted(counted)


def test_organisms_without_a_value_are_named_and_spores_survive() -> None:
    """This test ensures that what nobody can count is named with its reason, that no spore is counted, and that no
    sentence calls anything safe."""
    assert len(without_a_value()) == len(organisms_without_a_usable_value()) >= 6
    assert not [name for name in counted_organisms() if "spores" in name]
    assert "Spores survive boiling." in GERM_SENTENCES
    assert "safe" not in " ".join((*GERM_SENTENCES, *without_a_value())).casefold()


@pytest.mark.parametrize(("altitude", "minutes"), [("90 m", 1), ("1500 m", 1), ("1800 m", 3)])
def test_the_boiling_rule_follows_the_altitude(harrowmere: Any, altitude: str, minutes: int) -> None:
    """This test ensures that doubtful water boils one minute, and three above 1500 m (epa_wsg11, epa_5000ft)."""
    assert _watered(harrowmere, altitude=altitude).numbers["lesson.boiling-rule"].quantity.magnitude == minutes


def test_hours_before_yeast_are_counted_to_the_pitch(harrowmere: Any) -> None:
    """This test ensures that the time between 57 and 5 degC until pitching is what the cooling took of it."""
    value = {name: number.quantity.magnitude for name, number in _watered(harrowmere).numbers.items()}
    assert value["pitch.before-yeast"] == pytest.approx(value["cool.lukewarm"])


def test_unboiled_well_water_after_the_boil_is_refused(harrowmere: Any) -> None:
    """This test ensures that a well's water is not topped up into a boiled wort unless it was boiled."""
    steps = harrowmere.two_worts() + harrowmere.TO_ALE.replace(
        "  - {name: Cool", "  - {name: Thin, do: top up, what: strong, water: 1 L%s}\n  - {name: Cool", 1
    )
    well = WATER % ("our own well", "90 m", "")
    with pytest.raises(ProblemsFoundError, match="Water from our own well that nobody has boiled"):
        harrowmere.worked(steps % "", top=well, spreads=False)
    assert harrowmere.worked(steps % ", boiled: yes", top=well, spreads=False).vessels.liquids["strong"].boiled
    assert (
        not harrowmere.worked(steps % "", top=WATER % ("mains", "90 m", ""), spreads=False)
        .vessels.liquids["strong"]
        .boiled
    )
