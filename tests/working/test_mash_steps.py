"""The mash in a lesson: rests one after another, raises of four kinds, and second runnings, by the mash model.

In: small lessons written here. Out: what their numbers must hold whatever the figures are. The model itself is checked
in ``tests/science``; here it is the wiring: nothing is lost, nothing is made twice, and what is told is told plainly.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from presenter.lesson import load_lesson
from presenter.problems import ProblemsFoundError
from presenter.science.attenuation import apparent_attenuation_from_fermentable
from presenter.science.mash import mash_course
from presenter.science.mash_state import MashPart, fresh
from presenter.science.mash_sugars import mash_attenuation
from presenter.working import WorkedLesson, work_out

HEAD = """\
title: A mash at Harrowmere (invented)
scene: Harrowmere, 1412 (invented)
date: 2026-05-02
kit:
  thermometer: {right within: 1 degC}
  mash tub: {of: oak, holds: 40 L, weighs: 3 kg, cools: 3 degC per hour}
  kettle: {of: stainless steel, holds: 30 L, boils away: 2 L per hour}
ingredients:
"""
PALE = "  malt: {what: pale barley malt, amount: 3 kg}\n"
KINDS = ("glucose", "maltose", "maltotriose", "dextrin")


def mash(reach: str = "66 degC", hold: str = "60 min", grist: str = "malt", water: str = "12 L") -> str:
    return (
        f"  - {{name: Mash, do: mash, in: mash tub, with: [{grist}], water: {water}, reach: {reach}, hold: {hold}}}\n"
    )


def draw(name: str = "First", volume: str = "volume: 6 L, ") -> str:
    return f"  - {{name: {name}, do: draw off, {volume}call it: {name.lower()}}}\n"


def raised(by: str, reach: str = "72 degC", more: str = "") -> str:
    return f"  - {{name: Raise, do: raise, in: mash tub, reach: {reach}, by: {by}{more}}}\n"


HOLD = "  - {name: Rest, do: hold, in: mash tub, for: 30 min}\n"


@cache
def worked(steps: str, grist: str = PALE) -> WorkedLesson:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "lesson.yaml"
        path.write_text(f"{HEAD}{grist}steps:\n{steps}", encoding="utf-8")
        return work_out(load_lesson(path))


def worth(found: WorkedLesson, number: str) -> float:
    return float(found.numbers[number].quantity.magnitude)


def refused(steps: str, grist: str = PALE) -> str:
    with pytest.raises(ProblemsFoundError) as caught:
        worked(steps, grist)
    assert len(caught.value.problems) == 1
    return caught.value.told()


def potential(found: WorkedLesson) -> float:
    """All the extract the grain can give at this house."""
    return worth(found, "mash.extract-at-once") + worth(found, "mash.extract-in-starch")


def balance(found: WorkedLesson, tub: str = "mash tub") -> tuple[float, float]:
    """All the extract the grain can give, and where it is: in drawn worts, in the bed's wort, still in the starch."""
    bed = found.vessels.beds[tub]
    drawn = sum(liquid.extract.value for liquid in found.vessels.liquids.values())
    return potential(found), drawn + bed.extract.value + bed.mash.undissolved.value


def test_one_rest_is_the_mash_models_own_answer() -> None:
    """This test ensures that a lesson's rest gives what the model gives for the same heat, minutes and thickness."""
    found = worked(mash())
    start, end = worth(found, "mash.mash-heat"), worth(found, "mash.end-heat")
    after = mash_course(fresh([MashPart("barley", 1.0, 1.0)]), [(0, start), (60, end)], water_to_grist=4.0)
    assert worth(found, "mash.beta-amylase-left") == pytest.approx(100 * after.end.beta_left, abs=1e-3)
    assert worth(found, "mash.alpha-amylase-left") == pytest.approx(100 * after.end.alpha_left, abs=1e-3)
    alone = mash_attenuation(after.end)
    assert worth(found, "mash.fermentable") == pytest.approx(alone.fermentable_percent, abs=0.01)
    extract = worth(found, "mash.wort-extract")
    expected = apparent_attenuation_from_fermentable.plain(alone.fermentable_percent, extract)
    assert worth(found, "mash.attenuation-limit") == pytest.approx(expected, abs=0.01)


@settings(max_examples=12, deadline=None)
@given(
    reach=st.integers(52, 74),
    minutes=st.integers(5, 120),
    volume=st.floats(1.0, 6.0),
    second=st.floats(60.0, 90.0),
    oats=st.booleans(),
)
def test_extract_is_conserved(reach: int, minutes: int, volume: float, second: float, oats: bool) -> None:
    """This test ensures that what two rests dissolve, what was drawn off and what stays locked up come to the whole."""
    grist = PALE + ("  oats: {what: oats, amount: 700 g}\n" if oats else "")
    steps = mash(f"{reach} degC", f"{minutes} min", "malt, oats" if oats else "malt") + draw(
        "First", f"volume: {volume:.2f} L, "
    )
    steps += (
        f"  - {{name: Again, do: mash, in: mash tub, water: {{amount: 4 L, at: {second:.1f} degC}}, hold: 20 min}}\n"
    )
    found = worked(steps + draw("Second", ""), grist)
    whole, there = balance(found)
    assert there == pytest.approx(whole, rel=1e-9)
    for step in ("mash", "again"):
        assert sum(worth(found, f"{step}.{kind}") for kind in KINDS) == pytest.approx(100.0, abs=1e-9)
        assert all(worth(found, f"{step}.{kind}") >= -1e-7 for kind in KINDS)


@pytest.mark.parametrize(
    "raise_step",
    [
        raised("hot water"),
        raised("hot water", more=", at: 95 degC, for: 5 min"),
        raised("fire", more=", for: 20 min"),
        raised("hot stones", more=", at: 400 degC, for: 3 min"),
        raised("drawn mash"),
    ],
)
def test_every_raise_reaches_its_rest_and_loses_no_extract(raise_step: str) -> None:
    """This test ensures that each way of raising a mash reaches the wanted heat and keeps every gram of extract."""
    found = worked(mash("58 degC", "20 min") + raise_step + HOLD + draw())
    assert worth(found, "raise.mash-heat") == pytest.approx(72.0, abs=1e-6)
    assert worth(found, "rest.end-heat") == pytest.approx(72.0 - 1.5, abs=1e-6)
    whole, there = balance(found)
    assert there == pytest.approx(whole, rel=1e-9)
    assert worth(found, "rest.starch-dissolved") > worth(found, "mash.starch-dissolved")
    assert worth(found, "rest.beta-amylase-left") < worth(found, "mash.beta-amylase-left")


def test_amounts_that_raise_a_mash_are_settings_worked_out() -> None:
    """This test ensures that water, stones and the drawn share are told, each with what may be off about it."""
    begin = mash("58 degC", "20 min")
    water = worked(begin + raised("hot water"))
    stones = worked(begin + raised("hot stones", more=", at: 400 degC"))
    drawn = worked(begin + raised("drawn mash"))
    for found, number in ((water, "raise.hot-water-mass"), (stones, "raise.stones"), (drawn, "raise.drawn-share")):
        assert worth(found, number) > 0
        assert found.numbers[number].spread is not None
    assert worth(water, "raise.gravity") < worth(drawn, "raise.gravity")  # water thins, a drawn mash does not


def test_boiling_a_drawn_mash_kills_its_enzymes() -> None:
    """This test ensures that a drawn and boiled part takes its share of the enzymes with it, and a fire does not."""
    begin = mash("60 degC", "15 min")
    fire, drawn = worked(begin + raised("fire")), worked(begin + raised("drawn mash"))
    share = worth(drawn, "raise.drawn-share") / 100.0
    for enzyme in ("alpha-amylase-left", "beta-amylase-left"):
        before = worth(drawn, f"mash.{enzyme}")
        assert worth(fire, f"raise.{enzyme}") == pytest.approx(before, rel=1e-9)
        assert worth(drawn, f"raise.{enzyme}") == pytest.approx((1 - share) * before, rel=1e-6)


def test_second_runnings_of_a_dead_mash_keep_the_first_spectrum() -> None:
    """This test ensures that water on drained grain whose enzymes are dead makes no sugar, it only rinses."""
    again = "  - {name: Again, do: mash, in: mash tub, water: {amount: 6 L, at: 80 degC}, hold: 30 min}\n"
    kill = raised("fire", "80 degC") + "  - {name: Rest, do: hold, in: mash tub, for: 60 min}\n"
    found = worked(mash() + kill + draw() + again)
    assert worth(found, "rest.beta-amylase-left") < 0.01
    assert worth(found, "rest.alpha-amylase-left") < 2.0
    for kind in KINDS:
        assert worth(found, f"again.{kind}") == pytest.approx(worth(found, f"rest.{kind}"), abs=0.1)
    none = "  oats: {what: oats, amount: 3 kg}\n"
    dead = worked(mash("74 degC", "60 min", "oats") + draw() + again, none)
    for kind in KINDS:
        assert worth(dead, f"again.{kind}") == pytest.approx(worth(dead, f"mash.{kind}"), abs=1e-6)
    assert worth(dead, "again.fermentable") == pytest.approx(worth(dead, "mash.fermentable"), rel=0.05)


def test_a_cool_rest_gives_less_extract_and_a_further_rest_fetches_it() -> None:
    """This test ensures that extract follows the starch that a cool rest leaves locked up, and that none is lost."""
    full, cool = worked(mash()), worked(mash("54 degC"))
    assert worth(full, "mash.starch-dissolved") == pytest.approx(100.0, abs=0.01)
    assert worth(full, "mash.extract") == pytest.approx(potential(full), rel=1e-4)
    assert worth(cool, "mash.extract") < 0.6 * worth(full, "mash.extract")
    assert worth(cool, "mash.gravity") < worth(full, "mash.gravity")
    fetched = worked(mash("54 degC") + raised("fire", "68 degC") + HOLD)
    assert worth(fetched, "lesson.extract") == pytest.approx(worth(full, "mash.extract"), rel=1e-3)


def test_attenuation_falls_from_65_to_75() -> None:
    """This test ensures that a hotter rest makes a wort that ferments less far, as the published points have it
    (chandrasekhar, secondary: 82, 70 and 50 percent at 65, 70 and 75 degC)."""
    limits = [worth(worked(mash(f"{heat} degC")), "mash.attenuation-limit") for heat in (65, 67, 69, 71, 73, 75)]
    assert limits == sorted(limits, reverse=True)
    assert limits[0] - limits[-1] > 20


def test_unpublished_enzymes_count_as_none_unless_the_author_gives_them() -> None:
    """This test ensures that malted oats bring no enzymes and say so, and that an author's figure counts."""
    oats = PALE + "  oats: {what: malted oats, amount: 3 kg%s}\n"
    silent, given_ = oats % "", oats % ", enzymes: 100 percent"
    none = worked(mash("70 degC", "15 min", "malt, oats", "18 L"), silent)
    full = worked(mash("70 degC", "15 min", "malt, oats", "18 L"), given_)
    remark = none.numbers["mash.attenuation-limit"].remark
    assert "enzymes of malted oats are unpublished and counted as none" in remark
    assert "unpublished" not in full.numbers["mash.attenuation-limit"].remark
    assert worth(none, "mash.fermentable") < worth(full, "mash.fermentable")


def test_every_number_of_the_model_says_what_it_is() -> None:
    """This test ensures that label, remark, sources and give-or-take of each number call it a teaching model."""
    found = worked(mash("70 degC"))
    names = [*KINDS, "alpha-amylase-left", "beta-amylase-left", "starch-dissolved", "fermentable", "attenuation-limit"]
    for name in names:
        number = found.numbers[f"mash.{name}"]
        assert "teaching model" in number.label
        assert "teaching model, fitted by this project" in number.remark
        assert number.sources
        assert number.inputs
    limit = found.numbers["mash.attenuation-limit"]
    assert "82 in print, 82.69 here" in limit.remark
    assert limit.give_or_take is not None
    assert "the mash model" in dict(limit.give_or_take.shares)
    band = 4.3  # points, k = 2: the band in mash_model.yaml
    assert limit.spread is not None
    assert float(limit.spread.magnitude) >= band


def test_courses_run_over_all_rests() -> None:
    """This test ensures that heat, sugars and enzymes over the mash are kept as courses, in minutes from mashing in."""
    found = worked(mash("60 degC", "30 min") + raised("fire", more=", for: 10 min") + HOLD)
    courses = {course.id: course for course in found.courses}
    heat = courses["mash.temperature-course"]
    assert heat.times[0] == 0.0
    assert heat.times[-1] == pytest.approx(70.0)
    assert list(heat.times) == sorted(heat.times)
    assert heat.values[0] == pytest.approx(60.0)
    assert heat.values[-1] == pytest.approx(72.0 - 1.5, abs=1e-6)
    assert [name for _, name in heat.marks] == ["Mash", "Raise", "Rest"]
    parts = [courses[f"mash.{name}-course"] for name in ("granules", "dextrin", "glucose", "maltose", "maltotriose")]
    for values in zip(*(part.values for part in parts), strict=True):
        assert sum(values) == pytest.approx(100.0, abs=1e-6)
    beta = courses["mash.beta-amylase-course"].values
    assert all(after <= before + 1e-3 for before, after in pairwise(beta))
    assert beta[-1] == pytest.approx(worth(found, "rest.beta-amylase-left"), abs=1e-3)


@pytest.mark.parametrize(
    ("steps", "sentence"),
    [
        (mash("85 degC"), "The mash model holds from 30 to 80 degC; this rest is at 85 degC."),
        (mash("40 degC", "4 h"), "this rest ends at 28 degC."),
        (mash(water="4 L"), "from 2 to 8 litres of water to a kilogram of grist; this mash has 1.3."),
        (mash(water="27 L"), "this mash has 9.0."),
        (HOLD, "There is no mash in the mash tub yet."),
        (mash() + raised("fire", "60 degC"), "The mash is at 63 degC already; a raise goes up."),
        (mash() + raised("hot wishes"), "A mash cannot be raised by hot wishes."),
        (mash() + raised("hot stones"), "The raise does not say how hot its stones are."),
        (mash() + raised("hot water", more=", at: 70 degC"), "No amount of water at 70 degC raises a mash to 72 degC."),
        (mash() + raised("fire", more=", at: 300 degC"), "A raise by fire takes no heat of its own"),
        (mash() + raised("fire", "85 degC"), "The mash model holds from 30 to 80 degC"),
        (mash(grist="yarrow"), "There is no starch in this mash"),
    ],
)  # fmt: skip
def test_what_cannot_be_mashed_is_refused_once(steps: str, sentence: str) -> None:
    """This test ensures that a rest the model does not hold for is one problem, at the line where it is written."""
    herb = "  yarrow: {what: yarrow, amount: 2 kg}\n"
    told = refused(steps, PALE + herb).replace("\n", " ")
    assert sentence in " ".join(told.split())


def test_a_shift_across_the_models_edge_is_no_problem() -> None:
    """This test ensures that a rest just inside the model's range is worked, with its give-or-take, though a shifted
    thermometer lies outside."""
    found = worked(mash("79.8 degC", "10 min"))
    assert found.numbers["mash.attenuation-limit"].spread is not None
    assert "a direction only" in found.numbers["mash.attenuation-limit"].remark


BOIL = raised("fire", "99 degC", ", for: 20 min")
FRESH = "  - {name: Fresh, do: mash, in: mash tub, with: [more], water: 9 L, reach: 66 degC, hold: 60 min}\n"
MORE = PALE + "  more: {what: pale barley malt, amount: 1 kg}\n"


def test_a_boiled_mash_has_all_its_starch_open_and_no_enzymes() -> None:
    """This test ensures that boiling a mash opens all starch and kills all enzymes, and standing changes nothing."""
    found = worked(mash("58 degC", "10 min") + BOIL + HOLD + draw())
    assert worth(found, "raise.starch-dissolved") == pytest.approx(100.0, abs=1e-9)
    assert worth(found, "raise.alpha-amylase-left") == 0.0
    assert worth(found, "raise.beta-amylase-left") == 0.0
    assert worth(found, "rest.fermentable") == pytest.approx(worth(found, "raise.fermentable"), abs=1e-9)
    whole, there = balance(found)
    assert there == pytest.approx(whole, rel=1e-9)


def test_fresh_grain_in_a_boiled_mash_brings_the_enzymes() -> None:
    """This test ensures that fresh malt in a boiled mash turns the starch that a boil opened; no extract is lost."""
    raw = MORE.replace("pale barley malt", "oats", 1)
    found = worked(mash("58 degC", "10 min") + BOIL + HOLD + FRESH + draw(), raw)
    assert worth(found, "fresh.mash-heat") == pytest.approx(66.0, abs=1e-6)
    assert worth(found, "raise.starch-converted") < 30.0
    assert worth(found, "fresh.starch-converted") > 95.0
    brought = worth(found, "fresh.extract-at-once") + worth(found, "fresh.extract-in-starch")
    _, there = balance(found)
    assert there == pytest.approx(potential(found) + brought, rel=1e-9)


def test_the_same_grain_again_at_the_same_heat_is_one_mash() -> None:
    """This test ensures that malt put to a cool fresh mash of itself gives the spectrum of one mash of it all."""
    grist = "  malt: {what: pale barley malt, amount: 2 kg}\n  more: {what: pale barley malt, amount: 1 kg}\n"
    begin = "  - {name: Mash, do: mash, in: mash tub, with: [malt], water: 5 L, reach: 40 degC, hold: 0.001 min}\n"
    more = "  - {name: Fresh, do: mash, in: mash tub, with: [more], water: 7 L, reach: 66 degC, hold: 60 min}\n"
    twice = worked(begin + more + draw(), grist)
    once = worked(mash() + draw())
    for kind in KINDS:
        assert worth(twice, f"fresh.{kind}") == pytest.approx(worth(once, f"mash.{kind}"), abs=0.05)


def test_a_mash_too_hot_for_any_water_is_refused() -> None:
    """This test ensures that fresh grain in a mash that even ice would leave too hot is refused at its line."""
    told = refused(mash("58 degC", "10 min") + BOIL + FRESH.replace("9 L", "2 L") + draw(), MORE)
    assert "To come down to 66 degC the water would have to be at -" in told
    assert "let the mash stand until it is cooler" in told
