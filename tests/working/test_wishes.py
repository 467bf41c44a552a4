"""Wishes: the amount that is found, walked, meets what was wished; it is held, and has a give-or-take of its own."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from presenter.commands.telling import why_lines
from presenter.lesson import lesson_from_text, package_house
from presenter.working import WorkedLesson, work_out

HEAD = """\
title: A wished ale at Harrowmere (invented)
scene: Harrowmere, 1412 (invented)
date: 2026-05-02
kit:
  thermometer: {{right within: 1 degC}}
  mash tub: {{of: oak, holds: 200 L, weighs: 3 kg}}
  kettle: {{of: stainless steel, holds: 200 L, boils away: 2 L per hour}}
ingredients:
  malt: {{what: pale barley malt, amount: {malt}}}
  honey: {{what: honey, amount: {honey}}}
  yeast: {{what: dried ale yeast, amount: 11 g}}
steps:
  - {{name: Mash, do: mash, in: mash tub, with: [malt], water: {water}, reach: 67 degC, hold: 60 min}}
  - {{name: Draw, do: draw off, volume: {draw}, call it: strong}}
  - {{name: Boil, do: boil, what: strong, for: 15 min, in: kettle}}
  - {{name: Sweeten, do: add, what: strong, with: [honey]}}
  - {{name: Cool, do: cool, what: strong, to: 20 degC, within: 40 min}}
  - {{name: Pitch, do: pitch, what: strong, with: yeast}}
  - {{name: Ferment, do: ferment, what: strong, for: 7 days, at: 19 degC}}
"""


def worked(*, spreads: bool = False, **figures: str) -> WorkedLesson:
    text = HEAD.format(**({"malt": "3 kg", "honey": "200 g", "water": "12 L", "draw": "7 L"} | figures))
    return work_out(lesson_from_text(text, Path("harrowmere") / "lesson.yaml", package_house()), spreads=spreads)


def value(of: WorkedLesson, number: str) -> float:
    return float(of.numbers[number].quantity.magnitude)


@settings(max_examples=15, deadline=None)
@given(gravity=st.floats(1.045, 1.075), water=st.floats(11, 13))
def test_malt_for_a_gravity_walked_meets_it(gravity: float, water: float) -> None:
    """This test ensures that the malt found for a gravity, walked as a stated amount, gives it within 1e-6."""
    wished = worked(malt=f"enough for gravity {gravity:.4f}", water=f"{water:.3f} L")
    found = value(wished, "lesson.malt")
    stated = worked(malt=f"{found:.12f} kg", water=f"{water:.3f} L")
    liquid = stated.vessels.liquids["strong"]
    assert liquid.original_gravity is not None
    assert liquid.original_gravity.value == pytest.approx(round(gravity, 4), rel=1e-6)
    assert value(stated, "ferment.strength") == pytest.approx(value(wished, "ferment.strength"), rel=1e-6)


@settings(max_examples=15, deadline=None)
@given(litres=st.floats(7, 9), percent=st.floats(7.4, 8.4))
def test_honey_for_a_strength_walked_meets_it(litres: float, percent: float) -> None:
    """This test ensures that the honey found makes as much alcohol as so many litres of the strength hold."""
    wished = worked(honey=f"enough for {litres:.3f} L at {percent:.3f} percent")
    found = value(wished, "lesson.honey")
    stated = worked(honey=f"{found:.12f} kg")
    alcohol = value(stated, "ferment.strength") * value(stated, "ferment.drink-volume")
    assert alcohol == pytest.approx(round(litres, 3) * round(percent, 3), rel=1e-6)


def test_a_wish_may_name_its_liquid(harrowmere: Any) -> None:
    """This test ensures that of two worts from one mash the wish is met by the one it names."""
    head = harrowmere.HEAD.format(malt="enough for gravity 1.020 in small", thermometer="1 degC")
    text = head + harrowmere.two_worts()
    done = work_out(lesson_from_text(text, Path("harrowmere") / "lesson.yaml", package_house()), spreads=False)
    assert value(done, "draw-small.wort-gravity") == pytest.approx(1.020, rel=1e-6)


def test_two_wishes_on_two_liquids_are_met_together(harrowmere: Any) -> None:
    """This test ensures that malt wished for one wort and honey for the other are found together."""
    head = harrowmere.HEAD.format(malt="enough for gravity 1.060 in strong", thermometer="1 degC").replace(
        "ingredients:\n", "ingredients:\n  honey: {what: honey, amount: enough for gravity 1.040 in small}\n"
    )
    text = head + harrowmere.two_worts() + "  - {name: Sweeten, do: add, what: small, with: [honey]}\n"
    done = work_out(lesson_from_text(text, Path("harrowmere") / "lesson.yaml", package_house()), spreads=False)
    assert value(done, "draw-strong.wort-gravity") == pytest.approx(1.060, rel=1e-6)
    assert value(done, "sweeten.gravity") == pytest.approx(1.040, rel=1e-6)


def test_a_wished_amount_is_held_and_has_its_own_give_or_take() -> None:
    """This test ensures that the mash moves as it would by a stated amount, and that what is enough is less sure."""
    wished = worked(malt="enough for gravity 1.060", spreads=True)
    stated = worked(malt=f"{value(wished, 'lesson.malt'):.12f} kg", spreads=True)
    for number in ("mash.gravity", "ferment.strength", "ferment.final-gravity"):
        given_or_taken = [each.numbers[number].spread for each in (wished, stated)]
        assert given_or_taken[0] is not None
        assert given_or_taken[1] is not None
        assert float(given_or_taken[0].magnitude) == pytest.approx(float(given_or_taken[1].magnitude), rel=1e-3)
    enough, weighed = (wished.numbers[f"lesson.malt{end}"].spread for end in ("-enough", ""))
    assert enough is not None
    assert weighed is not None
    assert enough.magnitude > 3 * weighed.magnitude


def test_solving_again_agrees_with_the_step_that_stands_for_it() -> None:
    """This test ensures that the give-or-take of a wish is that of solving it again with the mash yield shifted."""
    wished = worked(malt="enough for gravity 1.060", spreads=True)
    given_or_taken = wished.numbers["lesson.malt-enough"].give_or_take
    assert given_or_taken is not None
    share = dict(given_or_taken.shares)["mash yield"]
    by_yield = share**0.5 * float(given_or_taken.spread.magnitude)
    amounts = []
    for mash_yield in (77, 93):  # the house's 85 percent, 8 either way
        text = HEAD.format(malt="enough for gravity 1.060", honey="200 g", water="12 L", draw="7 L").replace(
            "ingredients:", f"house: {{mash yield: {mash_yield} percent}}\ningredients:"
        )
        lesson = lesson_from_text(text, Path("harrowmere") / "lesson.yaml", package_house())
        amounts.append(value(work_out(lesson, spreads=False), "lesson.malt"))
    assert by_yield == pytest.approx((amounts[0] - amounts[1]) / 2, rel=0.08)


def test_why_explains_a_wish() -> None:
    """This test ensures that the walk back from a wished amount says what was wished, where, and how it was found."""
    lines = "\n".join(why_lines(worked(malt="enough for gravity 1.060", spreads=True), "lesson.malt"))
    assert "you wrote “enough for gravity 1.060”" in lines
    assert "comes to what was wished at the step “Sweeten”" in lines or "at the step “Pitch”" in lines
    assert "solved over the whole lesson" in lines
