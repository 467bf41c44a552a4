"""Give-or-take: settings are planned once and held; what may be off is shifted, one instrument at a time."""

from __future__ import annotations

import math
from typing import Any

import pytest


def by_one(done: Any, number: str, influence: str) -> float:
    """How far one influence moves a number, in the number's unit."""
    given = done.numbers[number].give_or_take
    share = dict(given.shares).get(influence, 0.0) if given is not None else 0.0
    return math.sqrt(share) * float(given.spread.magnitude) if given is not None else 0.0


def test_a_wrong_thermometer_moves_the_mash_and_not_the_plan(harrowmere: Any) -> None:
    """This test ensures that a thermometer wrong by a degree moves the mash, while the strike heat stays planned."""
    done = harrowmere.worked(harrowmere.two_worts())
    assert by_one(done, "mash.strike-heat", "the thermometer") == 0
    moved = by_one(done, "mash.mash-heat", "the thermometer")
    # water carries about nine tenths of the heat of this mash, so nine tenths of the degree reach it
    liquor = harrowmere.value(done, "mash.water-mass") * 4.18
    rest = 3.0 * harrowmere.value(done, "lesson.grist-specific-heat") + harrowmere.value(done, "lesson.mash-tub-heat")
    assert moved == pytest.approx(liquor / (liquor + rest), abs=0.01)


def test_the_mash_comes_to_its_target_as_planned(harrowmere: Any) -> None:
    """This test ensures that the planned strike heat brings the unshifted mash to the heat the author wants."""
    done = harrowmere.worked(harrowmere.two_worts(reach="68 degC"))
    assert harrowmere.value(done, "mash.mash-heat") == pytest.approx(68, abs=1e-9)


def test_a_thermometer_half_as_wrong_moves_half_as_far(harrowmere: Any) -> None:
    """This test ensures that the thermometer's share scales with what the kit says of it."""
    full = harrowmere.worked(harrowmere.two_worts(), thermometer="1 degC")
    half = harrowmere.worked(harrowmere.two_worts(), thermometer="0.5 degC")
    ratio = by_one(half, "mash.mash-heat", "the thermometer") / by_one(full, "mash.mash-heat", "the thermometer")
    assert ratio == pytest.approx(0.5, abs=0.005)


def test_what_one_jug_measures_twice_is_wrong_the_same_way(harrowmere: Any) -> None:
    """This test ensures that one jug is one influence: two waters measured by it add their errors outright."""
    done = harrowmere.worked(harrowmere.two_worts(water="12 L", second="6 L"))
    waters = [by_one(done, f"{step}.water", "the jug") for step in ("mash", "second-mash")]
    assert by_one(done, "lesson.water-needed", "the jug") == pytest.approx(sum(waters), rel=1e-9)


def test_shares_of_the_variance_come_to_one_and_the_largest_is_named(harrowmere: Any) -> None:
    """This test ensures that the contributors of every number sum to its whole variance, the largest named first."""
    done = harrowmere.worked(harrowmere.two_worts() + harrowmere.TO_ALE)
    for number in done.numbers.values():
        if number.give_or_take is None:
            continue
        shares = [share for _, share in number.give_or_take.shares]
        assert math.fsum(shares) == pytest.approx(1, abs=1e-9)
        assert shares == sorted(shares, reverse=True)
        assert number.give_or_take.largest == number.give_or_take.shares[0][0]


def test_two_walks_give_equal_numbers(harrowmere: Any) -> None:
    """This test ensures that the same lesson worked twice gives the same numbers to the last bit."""
    steps = harrowmere.two_worts() + harrowmere.TO_ALE
    first, again = (harrowmere.worked(steps) for _ in range(2))
    assert dict(first.numbers) == dict(again.numbers)
    assert first.said == again.said
