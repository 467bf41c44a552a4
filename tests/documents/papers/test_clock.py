"""The clock of a day: hours that follow from the steps, and clashes told at the author's line in whole sentences."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from presenter.documents.papers.clashes import clashes_of, late_rests
from presenter.documents.papers.clock import DayPlan, day_plan
from presenter.quantities.clock import DAY, clock_from_text, clock_in_words
from tests.documents.papers.conftest import SMALL_DAY, worked_from


def plan_of(text: str, begins: int | None = None) -> DayPlan:
    return day_plan(worked_from(text), begins)


def told(text: str) -> list[str]:
    worked = worked_from(text)
    return [problem.told() for problem in clashes_of(worked, day_plan(worked))]


def changed(*pairs: tuple[str, str]) -> str:
    text = SMALL_DAY
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def test_a_day_that_can_be_has_no_clash() -> None:
    """This test ensures that the small day, as it stands, has hours and no clash."""
    assert told(SMALL_DAY) == []


def test_a_wait_goes_on_beside_other_work() -> None:
    """This test ensures that the strong wort boils while the second mash rests, and that the rest is named there."""
    slots = {str(slot.step.name): slot for slot in plan_of(SMALL_DAY).slots}
    boil, rest = slots["Boil the strong wort"], slots["Second mash"]
    assert rest.hands_end <= boil.begins < rest.ends
    assert [str(step.name) for step in boil.over] == ["Second mash"]


def test_days_of_waiting_move_the_next_step_to_the_morning() -> None:
    """This test ensures that a drink left for seven days is taken up seven days later, when the day begins."""
    text = SMALL_DAY + "  - {name: Serve, do: serve, what: [strong], measure: 50 mL}\n"
    last = plan_of(text).slots[-1]
    assert (last.day, clock_in_words(last.begins)) == (8, "09:00")


ONE_KETTLE = """\
harrowmere/lesson.yaml:30:21  steps[3].water
    water: 6 L
           ^^^
  The kettle is needed twice: this step begins with 6 L of water at 80 °C, and the strong wort is in it.
  Add another pot to the kit, or put this step before the wort goes into that one."""
KETTLE_FULL = """\
harrowmere/lesson.yaml:55:73  steps[9].in
    in: kettle
        ^^^^^^
  The kettle is needed twice: this step heats the small wort in it, and the strong wort is still there.
  Move one of them before, or use another vessel."""
TWO_PLACES = """\
harrowmere/lesson.yaml:38:13  steps[5].begins
    begins: 12:30
            ^^^^^
  The presenter is needed in two places at 12:30: Boil the strong wort lasts until 12:55.
  Begin at 12:55, or give one of the two steps to somebody else with who."""
NOT_READY = """\
harrowmere/lesson.yaml:43:13  steps[6].begins
    begins: 11:30
            ^^^^^
  The mash in the mash tub is not ready at 11:30: Second mash lasts until 12:10.
  Begin at 12:10 or later."""
KETTLE_BUSY = """\
harrowmere/lesson.yaml:44:13  steps[6].begins
    begins: 12:20
            ^^^^^
  The kettle is needed twice at 12:20: Boil the strong wort has it until 12:55.
  Begin at 12:55, or use another vessel."""
AFTER_CLOSING = """\
harrowmere/lesson.yaml:41:13  steps[5].within
    within: 40 min
            ^^^^^^
  This wait ends at 13:45, after closing at 13:20.
  Shorten it, begin the day earlier, or say with day and begins when the next step takes it up."""
HANDS_AFTER_CLOSING = """\
harrowmere/lesson.yaml:28:11  steps[3].name
    name: Second mash
          ^^^^^^^^^^^
  Second mash keeps hands busy until 11:40, after closing at 11:30.
  Begin the day earlier, or put this step on another day with day."""


def test_one_kettle_needed_twice_is_told() -> None:
    """This test ensures that hot water wanted while the only kettle is full is told at the water's line."""
    assert told(changed(("  second pot: {of: stainless steel, holds: 10 L}\n", ""))) == [ONE_KETTLE]


def test_a_kettle_that_still_holds_the_other_wort_is_told() -> None:
    """This test ensures that a boil in a kettle that was not emptied is told at the vessel's line."""
    text = changed(
        ("    within: 40 min\n    in: bucket\n", "    within: 40 min\n"),
        ("    call it: small\n    into: kettle\n", "    call it: small\n    into: second pot\n"),
    )
    assert told(text + "  - {name: Boil the small wort, do: boil, what: small, for: 10 min, in: kettle}\n") == [
        KETTLE_FULL
    ]


def test_a_kettle_wanted_at_an_hour_when_it_is_busy_is_told() -> None:
    """This test ensures that an hour which finds the kettle at a boil is told at that hour."""
    found = told(
        changed(
            (
                "  - name: Draw off the small wort\n",
                "  - name: Draw off the small wort\n    begins: 12:20\n    who: Edric Sallow\n",
            )
        )
    )
    assert found == [KETTLE_BUSY]


def test_a_person_in_two_places_is_told() -> None:
    """This test ensures that an hour which finds the same hands at a boil is told at that hour."""
    show = "  - name: Show the hydrometer\n    begins: 12:30\n    do: show\n  - name: Cool\n"
    assert told(changed(("  - name: Cool\n", show))) == [TWO_PLACES]


def test_a_mash_that_is_not_ready_is_told() -> None:
    """This test ensures that drawing off at an hour before the rest is over is told at that hour."""
    text = changed(
        (
            "  - name: Draw off the small wort\n",
            "  - name: Draw off the small wort\n    begins: 11:30\n    who: Edric Sallow\n",
        ),
        ("    into: kettle\n  - name: Pitch", "    into: second pot\n  - name: Pitch"),
    )
    assert told(text) == [NOT_READY.replace(":43:", ":44:")]


def test_somebody_else_settles_it() -> None:
    """This test ensures that two people may be in two places."""
    both = ("  - name: Draw off the small wort\n", "  - name: Draw off the small wort\n    who: Edric Sallow\n")
    slots = {str(slot.step.name): slot for slot in plan_of(changed(both)).slots}
    assert slots["Draw off the small wort"].who == ("Edric Sallow",)
    assert slots["Draw off the small wort"].begins >= slots["Cool"].begins


def test_what_ends_after_closing_is_told() -> None:
    """This test ensures that a wait or hands that last past the hour of closing are told at the author's line."""
    assert told(changed(("closes: 17:00", "closes: 13:20"))) == [AFTER_CLOSING]
    assert told(changed(("closes: 17:00", "closes: 11:30"))) == [HANDS_AFTER_CLOSING]


def test_a_wait_that_is_taken_up_on_a_day_of_its_own_is_no_clash() -> None:
    """This test ensures that a wait over night is settled by saying when the next step takes it up."""
    text = changed(("    within: 40 min", "    within: 12 h"), ("  - name: Pitch\n", "  - name: Pitch\n    day: 2\n"))
    assert told(text) == []
    assert [slot.day for slot in plan_of(text).slots if slot.step.do == "pitch"] == [2]


def test_a_rest_that_nobody_can_end_is_remarked_on() -> None:
    """This test ensures that a mash which rests over because its brewer is at the kettle is spoken of."""
    (line,) = late_rests(plan_of(SMALL_DAY))
    assert line == (
        "Second mash rests 60 min longer than planned, because the presenter is at Cool until then;"
        " Draw off the small wort begins at 13:05."
    )


def test_without_an_hour_there_is_no_clash() -> None:
    """This test ensures that a lesson which never says when its day begins is not told of clashes."""
    text = changed(("begins: 9:00\n", ""), ("  second pot: {of: stainless steel, holds: 10 L}\n", ""))
    assert told(text) == []
    assert plan_of(text).stated is False


@pytest.mark.parametrize(("text", "minutes"), [("9:30", 570), ("09.05", 545), ("23:59", 1439), ("0:00", 0)])
def test_a_time_of_day_is_read(text: str, minutes: int) -> None:
    """This test ensures that hours and minutes are read as the clock counts them."""
    assert clock_from_text(text) == minutes


@given(st.integers(0, DAY // 5 - 1))
def test_five_minutes_come_back(fives: int) -> None:
    """This test ensures that every time of a whole five minutes is read back as it was worded."""
    assert clock_from_text(clock_in_words(fives * 5.0)) == fives * 5


@given(st.integers(0, 20 * 60))
def test_order_and_readiness_hold_for_any_beginning(begins: int) -> None:
    """This test ensures that no step begins before the one above it nor before what it works on is ready."""
    plan = plan_of(SMALL_DAY, begins)
    for earlier, later in zip(plan.slots, plan.slots[1:], strict=False):
        assert earlier.begins <= later.begins
        assert later.begins >= begins
    cool = next(slot for slot in plan.slots if slot.step.do == "cool")
    pitch = next(slot for slot in plan.slots if slot.step.do == "pitch")
    assert pitch.begins >= cool.ends
