"""Where numbers come from: every chain ends at something stated, and every number rests on something."""

from __future__ import annotations

from typing import Any

import pytest

from presenter.lesson import load_lesson
from presenter.lesson.house import demo_folder
from presenter.sources import package_bibliography
from presenter.working import work_out


@pytest.fixture(scope="module")
def demo() -> Any:
    return work_out(load_lesson(demo_folder("lessons_demo") / "netherfold-two-ales"))


def test_every_input_is_a_number_of_the_lesson(demo: Any) -> None:
    """This test ensures that a chain never breaks: each input of each number is a number of the lesson."""
    missing = [
        (number.id, source)
        for number in demo.numbers.values()
        for _, source in number.inputs
        if source not in demo.numbers
    ]
    assert missing == []


def test_every_number_rests_on_something(demo: Any) -> None:
    """This test ensures that every number has a source, says what it rests on, or was stated by somebody."""
    for number in demo.numbers.values():
        assert number.sources or number.rests_on or number.origin, number.id
        stated = number.formula == "" and not number.inputs  # what the mash model found has inputs and no formula
        assert stated == (number.origin is not None), number.id
        assert all(key in demo.lesson.bibliography for key in number.sources), number.id
        assert set(number.sources) <= {*package_bibliography().keys(), *demo.lesson.bibliography.keys()}


def test_the_chain_of_the_strength_reaches_the_authors_own_figures(demo: Any) -> None:
    """This test ensures that the strong ale's strength goes back, without a circle, to the malt the author weighed."""
    reached, path = set(), ["ferment-the-strong-ale.strength"]
    while path:
        number = demo.numbers[path.pop()]
        if number.id not in reached:
            reached.add(number.id)
            path += [source for _, source in number.inputs]
    stated = {number_id for number_id in reached if demo.numbers[number_id].origin is not None}
    assert {"lesson.malt", "lesson.oats", "first-mash.water"} <= stated
    assert demo.numbers["lesson.malt"].origin.written == "3 kg"
    assert demo.numbers["lesson.malt"].origin.evidence == "our choice"


def test_the_demo_lesson_has_forty_numbers_or_more(demo: Any) -> None:
    """This test ensures that the demo lesson shows at least the forty numbers that its issue asks for."""
    shown = [number for number in demo.numbers.values() if number.on_sheets]
    assert len(shown) >= 40
    assert all(number.say() and number.words() for number in shown)


def test_expectations_are_compared(demo: Any) -> None:
    """This test ensures that what the author expects stands beside what was worked out, both numbers of the lesson."""
    (compared,) = demo.comparisons
    assert demo.numbers[compared.expected].quantity.magnitude == pytest.approx(1.060)
    assert compared.worked == "draw-off-the-strong-wort.wort-gravity"
    line = demo.lesson.text.splitlines()[compared.place.line - 1]
    assert line.strip() == "expect: {gravity: 1.060}"
    assert line[compared.place.column - 1 :].startswith("1.060")


def test_what_is_said_uses_the_numbers(demo: Any) -> None:
    """This test ensures that no braces are left in any line to be said, and that none says about twice."""
    assert len(demo.said) == len(demo.lesson.steps)
    for line in demo.said.values():
        assert "{" not in line
        assert "about about" not in line
