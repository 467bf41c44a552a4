"""``presenter now`` on the demo's miss: one screen that a person at a stove can read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from presenter.days import work_day
from presenter.days.told import WIDTH, now_lines
from presenter.lesson.day import load_day

SCREEN = 40  # lines of an ordinary terminal window


@pytest.fixture(scope="module")
def screen(harrowmere: Any) -> list[str]:
    lesson = harrowmere.demo("netherfold-two-ales")
    return now_lines(work_day(lesson, load_day("2026-05-02", lesson)))


def test_the_demo_miss_unchanged(screen: list[str], golden: Any) -> None:
    """This test ensures that the words at the stove have not moved since they were last read."""
    golden(Path(__file__).parent / "golden" / "now-netherfold.txt", "\n".join(screen) + "\n")


def test_it_is_one_screen(screen: list[str]) -> None:
    """This test ensures that all of it fits on one screen, and says what it means, what to do, how much, how long."""
    assert len(screen) <= SCREEN
    assert max(map(len, screen)) <= WIDTH
    text = " ".join(" ".join(screen).split())
    assert "IS LOW: read 1.051 (shown 1.050 in a sample at 24 °C, 0.0011 added), planned 1.058" in text
    assert "goes to the yeast at" in text
    assert "min longer" in text
    assert "minutes more" in text
    assert "done then?" in text
    assert "no more" in text


def test_a_day_within_the_plan_is_told_to_go_on(harrowmere: Any) -> None:
    """This test ensures that a reading within its give-or-take gets no remedies."""
    lines = now_lines(harrowmere.worked("readings:\n  - {at: Boil, gravity: 1.062, sample: 20 degC}\n", spreads=True))
    assert lines[-1] == "Go on as planned."
    assert any(line.startswith("? Was the wort stirred") for line in lines)


def test_once_the_yeast_is_in_it_is_accepted(harrowmere: Any) -> None:
    """This test ensures that after pitching nobody is sent back to the kettle."""
    lines = now_lines(
        harrowmere.worked(
            "readings:\n  - {at: Boil, gravity: 1.045, sample: 20 degC}\n  - {at: Ferment, temperature: 18 degC}\n"
        )
    )
    assert "accept it, and call it what it is" in " ".join(lines)
    assert "WHAT CAN BE DONE NOW" not in lines
