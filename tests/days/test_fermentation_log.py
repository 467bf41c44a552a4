"""The fermentation log, its estimate, and the calendar of the days to come."""

from __future__ import annotations

import datetime
import math
from typing import Any

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from presenter.cautions import cautions_of
from presenter.days.calendar import calendar_text, days_to_come
from presenter.days.fermentation_log import fermentation_logs, finish_estimate
from presenter.days.fermenting import MAY_MOVE, still_since
from presenter.documents import Asked, documents_for
from presenter.working.finished import DAYS_APART

LINE = "  - {{at: Ferment, date: 2026-05-{day:02d}, gravity: {gravity}, sample: 20 degC, sample was: [degassed]}}\n"
BOILED = "  - {at: Boil, gravity: 1.050, sample: 20 degC, sample was: [stirred, strained]}\n"


def log_of(harrowmere: Any, *read: tuple[int, str], spreads: bool = False) -> Any:
    """The worked day and the log of one drink begun at 1.050 on 2 May, read so."""
    lines = "readings:\n" + BOILED + "".join(LINE.format(day=day, gravity=gravity) for day, gravity in read)
    worked = harrowmere.worked(lines, spreads=spreads)
    return worked, fermentation_logs(worked)[0]


def test_attenuation_and_strength_so_far_match_published(harrowmere: Any) -> None:
    """This test ensures that from 1.050 down to 1.010 the apparent attenuation is that of the two extracts by the ASBC
    cubic, and that the strength lies within a tenth of the UK duty notice's 40 x 0.130 (hmrc_notice_226, 30.2)."""
    _, log = log_of(harrowmere, (9, "1.010"))
    entry = log.entries[0]
    assert entry.days == 7
    start, end = (-616.868 + 1111.14 * s - 630.272 * s**2 + 135.997 * s**3 for s in (1.050, 1.010))  # ASBC cubic
    assert entry.attenuation == pytest.approx(100 * (1 - end / start), abs=0.01)
    assert entry.strength == pytest.approx(40 * 0.130, abs=0.1)
    assert entry.attenuation_spread > 0
    assert entry.strength_spread > 0


def test_a_log_that_moves_is_at_work(harrowmere: Any) -> None:
    """This test ensures that a falling gravity gets an estimate with a band, and no word of being finished."""
    _, log = log_of(harrowmere, (4, "1.034"), (6, "1.022"), spreads=True)
    assert log.state == "at work"
    assert log.estimate.earliest < log.estimate.days < log.estimate.latest
    assert "never shut a vessel" in log.rules[1]


@pytest.mark.parametrize(
    ("read", "state"),
    [
        ([(8, "1.010"), (10, "1.010")], "finished"),
        ([(8, "1.010"), (9, "1.010")], "standing still"),
        ([(8, "1.012"), (10, "1.010")], "at work"),
        ([(8, "1.025"), (10, "1.025")], "stopped high"),
        ([(8, "1.010")], "at work"),
    ],
)
def test_finished_is_two_equal_readings_two_days_apart(harrowmere: Any, read: Any, state: str) -> None:
    """This test ensures that only standing still for two days near the expected end counts as finished; a drink that
    stopped high does not, and the number to expect stays as it was."""
    worked, log = log_of(harrowmere, *read)
    assert log.state == state
    final = float(worked.made.numbers["ferment.final-gravity"].quantity.magnitude)
    assert (final == pytest.approx(float(read[-1][1]))) == (state == "finished")
    assert log.estimate is None or state == "at work"


@given(
    start=st.floats(1.03, 1.09), drop=st.floats(0.4, 0.9), rate=st.floats(0.1, 1.5), first=st.floats(0.5, 3),
    apart=st.floats(0.5, 3),
)  # fmt: skip
def test_the_estimate_is_exact_where_its_assumption_holds(
    start: float, drop: float, rate: float, first: float, apart: float
) -> None:
    """This test ensures that a gravity which nears its end by the same share each day is foretold to the day, by the
    closed form of that curve, inside its own band."""
    end = start - (start - 1.0) * drop
    points = [(day, end + (start - end) * math.exp(-rate * day), 0.001) for day in (first, first + apart)]
    true_day = math.log((start - end) / MAY_MOVE) / rate
    found = finish_estimate(points, (end, 0.002))
    if points[-1][1] - end <= MAY_MOVE:
        assert found is not None
        assert found.days == points[-1][0]
    elif true_day <= points[-1][0] + 60:
        assert found is not None
        assert found.days == pytest.approx(true_day, rel=1e-6)
        assert points[-1][0] <= found.earliest <= found.days <= found.latest


def test_no_estimate_where_nothing_falls() -> None:
    """This test ensures that a gravity that rises, stands, or was read once says nothing of its end."""
    assert finish_estimate([(0, 1.05, 0.001)], (1.01, 0.002)) is None
    assert finish_estimate([(0, 1.05, 0.001), (2, 1.05, 0.001)], (1.01, 0.002)) is None
    assert finish_estimate([(0, 1.05, 0.001), (2, 1.055, 0.001)], (1.01, 0.002)) is None


@given(values=st.lists(st.integers(1008, 1012), min_size=1, max_size=6))
def test_still_since_never_spans_a_move(values: list[int]) -> None:
    """This test ensures that the span said to stand still holds no reading that differs from the last."""
    log = [(float(day), value / 1000) for day, value in enumerate(values)]
    since = still_since(log)
    if since is not None:
        assert all(abs(value - log[-1][1]) <= MAY_MOVE + 1e-9 for day, value in log if day >= since)


def test_readings_of_a_day_let_the_bottling_weigh_its_sugar(harrowmere: Any) -> None:
    """This test ensures that two equal readings of the day stand where a bottling step asks for them, and that a drink
    that stopped high keeps its sugar withheld."""
    bottling = (
        "at: 19 degC}",
        "at: 19 degC}\n  - {name: Bottle, do: prime and bottle, what: strong, with: sugar, gas: 2.0,"
        " stored at: 20 degC, container: plastic pressure bottles}",
    )
    sugar = ("  yeast: {", "  sugar: {what: white sugar, amount: 100 g}\n  yeast: {")
    lesson = harrowmere.lesson(bottling, sugar)
    withheld = {}
    for name, read in {
        "none": "", "done": LINE.format(day=8, gravity="1.010") + LINE.format(day=10, gravity="1.010"),
        "high": LINE.format(day=8, gravity="1.025") + LINE.format(day=10, gravity="1.025"),
    }.items():  # fmt: skip
        worked = harrowmere.worked("readings:\n" + BOILED + read, lesson)
        withheld[name] = [kept.reason for kept in worked.made.withheld if kept.step == "bottle"]
    assert any("reading" in reason for reason in withheld["none"])
    assert withheld["done"] == []
    assert any("well above" in reason for reason in withheld["high"])


def test_the_calendar_reads_back(harrowmere: Any) -> None:
    """This test ensures that the calendar is one that another reader takes (icalendar, RFC 5545): lines of at most 75
    octets ending in CR LF, a reading and a second one two days later, nothing from the clock."""
    worked, _ = log_of(harrowmere, (4, "1.034"), (6, "1.022"), spreads=True)
    text = calendar_text(worked)
    assert text == calendar_text(worked)
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    assert "\n" not in text.replace("\r\n", "")
    events = list(icalendar.Calendar.from_ical(text).walk("VEVENT"))
    assert [str(event["summary"]) for event in events] == [title for _, title, _ in days_to_come(worked)]
    dates = [event.decoded("dtstart") for event in events]
    assert dates[1] - dates[0] == datetime.timedelta(days=DAYS_APART)
    assert min(dates) > datetime.date(2026, 5, 6)
    assert len({str(event["uid"]) for event in events}) == len(events)


def test_a_finished_drink_leaves_nothing_to_read(harrowmere: Any) -> None:
    """This test ensures that once it has finished nobody is sent to read it again."""
    worked, _ = log_of(harrowmere, (8, "1.010"), (10, "1.010"))
    assert days_to_come(worked) == ()


def test_the_log_is_drawn_with_its_uncertainty(harrowmere: Any) -> None:
    """This test ensures that the sheet of the day draws every reading with its band, and says it in words too."""
    worked, _ = log_of(harrowmere, (4, "1.034"), (6, "1.022"), spreads=True)
    (document,) = documents_for(worked.made, cautions_of(worked.made), ["as-made"], Asked(day=worked))
    chart = document.page_text.split("```chart")[1].split("```")[0]
    assert "The gravity falls from 1.050 to 1.022 on day 4" in chart.replace("&period;", ".")
    assert chart.count("1.0") >= 9
    assert "our own estimate" in document.page_text
