"""Bottling, chilling and splitting: the weight of sugar is withheld until readings prove the drink finished."""

from __future__ import annotations

import math
from typing import Any

import pytest

from presenter.problems import ProblemsFoundError
from presenter.quantities import Q
from presenter.science.priming import priming_sucrose
from presenter.working import Held

BOTTLE = "  - {name: Bottle, do: prime and bottle, what: strong, %scontainer: %s, stored at: 25 degC%s}\n"
GLASS = "glass bottles made for pressure"
EQUAL = ", readings: [{gravity: 1.012, after: 7 days}, {gravity: 1.012, after: 9 days}]"


@pytest.fixture(scope="module")
def bottled(harrowmere: Any) -> Any:
    """Work out the two worts' strong ale, bottled; ``more`` are steps after it."""

    def work(
        readings: str = "", *, sugar: str = "with: sugar, gas: 2.4 volumes, ", container: str = GLASS, more: str = "",
        boiled: bool = True, held: Any = (), spreads: bool = False, what: str = "cane sugar",
    ) -> Any:  # fmt: skip
        steps = harrowmere.two_worts() + harrowmere.TO_ALE + BOTTLE % (sugar, container, readings) + more
        if not boiled:
            steps = steps.replace("  - {name: Boil, do: boil, what: strong, for: 15 min}\n", "")
        bought = f"  sugar: {{what: {what}, amount: 500 g}}\n"
        return harrowmere.worked(steps, held=held, spreads=spreads, bought=bought)

    return work


def test_no_sugar_is_weighed_for_a_plan(bottled: Any) -> None:
    """This test ensures that a lesson without readings gives no weight of sugar but the reason and what to do."""
    worked = bottled()
    assert "bottle.sugar" not in worked.numbers
    (kept,) = worked.withheld
    assert (kept.id, kept.label) == ("bottle.sugar", "sugar for priming")
    expected = worked.numbers["ferment.final-gravity"].quantity.magnitude
    assert kept.reason == (
        "No reading shows that this drink has finished. Read the gravity, and again 2 days later or more. Weigh sugar"
        f" only when both read the same, near {expected:.3f}."
    )


def test_two_equal_readings_give_the_sugar(bottled: Any) -> None:
    """This test ensures that two equal readings two days apart give the weight, by the formula of the sugar's kind."""
    worked = bottled(EQUAL)
    assert worked.withheld == ()
    value = {name: number.quantity.magnitude for name, number in worked.numbers.items()}
    rise = 2.4 - value["bottle.residual-gas"]
    assert value["bottle.gas-to-add"] == pytest.approx(rise)
    volume = worked.vessels.liquids["strong"].volume.value
    assert value["bottle.sugar"] == pytest.approx(priming_sucrose.plain(rise, volume))
    assert worked.vessels.liquids["strong"].finished is True
    assert value["bottle.strength"] > value["bottle.strength-as-read"]
    assert value["bottle.bottle-pressure-at-most"] > value["bottle.bottle-pressure"] > 2


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        (", readings: [{gravity: 1.012, after: 7 days}]", "One reading does not show that this drink has finished."),
        (", readings: [{gravity: 1.030, after: 7 days}, {gravity: 1.030, after: 9 days}]", "well above the"),
    ],
)
def test_readings_that_prove_nothing_withhold_the_sugar(bottled: Any, readings: str, words: str) -> None:
    """This test ensures that one reading, or two of a ferment that stopped short, give no weight of sugar."""
    worked = bottled(readings)
    (kept,) = worked.withheld
    assert kept.id == "bottle.sugar"
    assert words in kept.reason
    assert worked.vessels.liquids["strong"].finished is False


def _held(first: float, second: float, days: float) -> tuple[Held, ...]:
    within = Q(0.001, "gravity")
    return (
        Held("bottle.first-reading", Q(first, "gravity"), within),
        Held("bottle.second-reading", Q(second, "gravity"), within),
        Held("bottle.readings-apart", Q(days * 1440, "minute"), Q(0, "minute")),
    )


@pytest.mark.parametrize(
    ("first", "second", "days", "words"),
    [
        (1.012, 1.012, 3, ""),
        (1.015, 1.012, 3, "The gravity went from 1.015 to 1.012"),
        (1.012, 1.012, 1, "1.0 days apart, which shows too little"),
    ],
)
def test_readings_of_a_day_decide_too(bottled: Any, first: float, second: float, days: float, words: str) -> None:
    """This test ensures that readings held from a day give the weight, or say why not, without stopping the sheets."""
    worked = bottled(held=_held(first, second, days))
    assert ("bottle.sugar" in worked.numbers) == (words == "")
    assert words in "".join(kept.reason for kept in worked.withheld)


def test_live_enzymes_withhold_the_sugar_whatever_was_read(bottled: Any) -> None:
    """This test ensures that equal readings prove nothing of an ale whose wort was never boiled."""
    worked = bottled(EQUAL, boiled=False, container="plastic pressure bottles")
    (kept,) = worked.withheld
    assert "enzymes of the grain" in kept.reason
    with pytest.raises(ProblemsFoundError, match="Nothing has boiled the strong"):
        bottled(EQUAL, boiled=False)


def test_a_live_bottle_counts_the_sugar_that_is_left(bottled: Any) -> None:
    """This test ensures that a drink bottled live may make the gas of its unfinished gravity, on what it holds."""
    reading = ", readings: [{gravity: 1.016, after: 3 days}]"
    worked = bottled(reading, sugar="", container="plastic pressure bottles", boiled=False)
    value = {name: number.quantity.magnitude for name, number in worked.numbers.items()}
    assert value["bottle.carbonation"] == pytest.approx(value["bottle.residual-gas"] + value["bottle.hidden-gas"])
    assert value["bottle.hidden-gas"] > 1
    no_reading = bottled(sugar="", container="plastic pressure bottles", boiled=False)
    assert {kept.id for kept in no_reading.withheld} == {"bottle.carbonation", "bottle.bottle-pressure"}
    sweet = bottled(
        ", readings: [{gravity: 1.040, after: 1 day}]", sugar="", container="open jug", boiled=False, spreads=True
    )
    assert {kept.id for kept in sweet.withheld} == {"bottle.bottle-pressure", "bottle.bottle-pressure-at-most"}


def test_a_warmer_cellar_keeps_less_gas_and_wants_more_sugar(bottled: Any) -> None:
    """This test ensures that the warmest time since fermenting counts, and that it may not be below the ferment."""
    cool, warm = bottled(EQUAL), bottled(EQUAL + ", was never above: 26 degC")
    sugar = [worked.numbers["bottle.sugar"].quantity.magnitude for worked in (cool, warm)]
    assert sugar[1] > sugar[0]
    with pytest.raises(ProblemsFoundError, match="The strong has been at 19 degC, above 15 degC"):
        bottled(EQUAL + ", was never above: 15 degC")


@pytest.mark.parametrize(("what", "against"), [("dextrose", 1 / 0.95), ("corn sugar", 1 / 0.862), ("honey", 1 / 0.71)])
def test_each_sugar_has_its_own_weight(bottled: Any, what: str, against: float) -> None:
    """This test ensures that glucose, its hydrate and honey weigh more than cane sugar for the same gas, in the
    proportions of their molar masses (0.95, 0.862) and, for honey, about its share of sugars."""
    cane, other = (bottled(EQUAL, what=kind).numbers["bottle.sugar"].quantity.magnitude for kind in ("sugar", what))
    assert other / cane == pytest.approx(against, rel=0.02 if what != "honey" else 0.06)


def test_give_or_take_follows_the_plan(bottled: Any) -> None:
    """This test ensures that a shifted walk works the same numbers as the plan, so no give-or-take runs wild."""
    worked = bottled(EQUAL, spreads=True)
    for number in worked.of_step("bottle"):
        if number.spread is not None and str(number.quantity.units) in {"bar", "gram"}:
            assert 0 < number.spread.magnitude < 0.35 * number.quantity.magnitude, number.id


def test_cold_bottles_press_less(bottled: Any) -> None:
    """This test ensures that a bottle presses less in the cold, and that chilling keeps the drink's state."""
    worked = bottled(EQUAL, more="  - {name: Chill, do: chill, what: strong, at: 5 degC, for: 2 days}\n")
    value = {name: number.quantity.magnitude for name, number in worked.numbers.items()}
    assert 0 < value["chill.bottle-pressure"] < value["bottle.bottle-pressure"]
    assert worked.vessels.liquids["strong"].temperature.value == 5


def test_a_split_keeps_every_gram(harrowmere: Any) -> None:
    """This test ensures that two parts of a wort hold together its extract, its water and its volume."""
    before = harrowmere.worked(harrowmere.two_worts(), spreads=False).vessels.liquids["strong"]
    split = "  - {name: Split, do: split, what: strong, volume: 3 L, call it: plain, call the rest: sour}\n"
    liquids = harrowmere.worked(harrowmere.two_worts() + split, spreads=False).vessels.liquids
    assert "strong" not in liquids
    for name in ("extract", "water", "volume"):
        whole = getattr(before, name).value
        assert sum(getattr(liquids[part], name).value for part in ("plain", "sour")) == pytest.approx(whole, rel=1e-12)
    assert liquids["plain"].volume.value == 3
    assert liquids["plain"].gravity == liquids["sour"].gravity


def test_a_fermented_drink_is_split_with_its_alcohol(bottled: Any) -> None:
    """This test ensures that each part of a split drink keeps its strength and its state, and holds its own share."""
    more = "  - {name: Split, do: split, what: strong, volume: 2 L, call it: plain, call the rest: sour}\n"
    liquids = bottled(EQUAL, more=more).vessels.liquids
    whole = bottled(EQUAL).vessels.liquids["strong"]
    for part in ("plain", "sour"):
        assert liquids[part].strength == whole.strength
        assert liquids[part].finished is True
    assert sum(liquids[part].alcohol.value for part in ("plain", "sour")) == pytest.approx(whole.alcohol.value)


def test_two_bottlings_may_not_take_more_sugar_than_there_is(harrowmere: Any) -> None:
    """This test ensures that the sugar of every bottling counts against what was bought, not each by itself."""
    parted = "  - {name: Split, do: split, what: strong, volume: 3 L, call it: a, call the rest: b}\n"
    sugar = "with: sugar, gas: 2.4 volumes, "
    both = "".join(
        (BOTTLE % (sugar, GLASS, EQUAL)).replace("name: Bottle", f"name: Bottle {drink}").replace(
            "what: strong", f"what: {drink}"
        )
        for drink in ("a", "b")
    )  # fmt: skip

    def work(grams: int) -> Any:
        bought = f"  sugar: {{what: cane sugar, amount: {grams} g}}\n"
        return harrowmere.worked(
            harrowmere.two_worts() + harrowmere.TO_ALE + parted + both, bought=bought, spreads=False
        )

    done = work(500)
    needed = [harrowmere.value(done, f"bottle-{drink}.sugar") for drink in ("a", "b")]
    enough = math.ceil(sum(needed))
    work(enough)
    assert max(needed) < enough - 5
    with pytest.raises(ProblemsFoundError, match=f"The bottlings so far take about {sum(needed):.0f} g of cane sugar"):
        work(enough - 5)


def test_a_shut_bottle_is_not_heated(bottled: Any) -> None:
    """This test ensures that a drink with its gas shut in cannot be heated by a later step."""
    heat = "  - {name: Warm, do: heat, what: strong, reach: 60 degC, in: kettle}\n"
    with pytest.raises(ProblemsFoundError, match="gas that is shut in and heated bursts bottles"):
        bottled(EQUAL, more=heat)
