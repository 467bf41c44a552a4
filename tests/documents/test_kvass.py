"""The bread kvass lesson on paper: its page text, and whether it answers its own question where a reader looks."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from presenter.cautions import cautions_of
from presenter.documents import documents_for
from presenter.documents.blocks import Chart
from presenter.documents.page_text import read_page_text
from presenter.lesson import demo_folder, load_lesson
from presenter.working import WorkedLesson, work_out

GOLDEN = Path(__file__).parent / "golden" / "zalesje-bread-kvass"


@cache
def kvass() -> WorkedLesson:
    return work_out(load_lesson(demo_folder("lessons_demo") / "zalesje-bread-kvass"))


@cache
def page_text(name: str) -> str:
    return documents_for(kvass(), cautions_of(kvass()), [name])[0].page_text


@pytest.mark.parametrize("name", ["handout", "step-cards", "worksheet", "answers"])
def test_page_text_of_kvass_unchanged(name: str, golden: Callable[[Path, str], None]) -> None:
    """This test ensures that the kvass lesson's page text has not moved since it was last read."""
    golden(GOLDEN / f"{name}.md", page_text(name))
    assert read_page_text(page_text(name))


def test_kvass_answers_its_question_in_numbers() -> None:
    """This test ensures that the lesson's own numbers say what the wall says: no enzyme to rely on in any loaf, next to
    nothing sweet without malt, far more with a spoonful of it, and less than 1.2 percent by volume at the end."""
    numbers = {key: float(number.quantity.magnitude) for key, number in kvass().numbers.items()}
    assert numbers["bake-three-loaves.done-loaf-enzyme-counted"] == 0.0
    assert numbers["bake-three-loaves.early-loaf-enzyme-counted"] < 0.5
    assert numbers["soak-crumbs-without-malt.extract-freed"] == 0.0
    plain = numbers["soak-crumbs-without-malt.gravity"] - 1
    malted = numbers["soak-crumbs-with-malt.gravity"] - 1
    assert malted > 5 * plain
    strength = kvass().numbers["ferment-the-malted-kvass.strength"]
    assert strength.spread is not None
    assert numbers["ferment-the-malted-kvass.strength"] + float(strength.spread.magnitude) < 1.2


def test_handout_tells_both_readings_of_each_loaf() -> None:
    """This test ensures that the handout judges each of the three loaves by both books, and says what we count on."""
    text = page_text("handout")
    for loaf in ("early loaf", "middling loaf", "done loaf"):
        told = next(line for line in text.splitlines() if line.startswith(f"- **The {loaf}**"))
        assert "handbook on rye flour" in told
        assert "textbook on dough" in told
        assert "We count on" in told


def test_chart_of_the_core_has_alternative_text() -> None:
    """This test ensures that the chart of heat reaching a loaf's core says in words what it shows of each loaf."""
    charts = [block for block in read_page_text(page_text("handout")) if isinstance(block, Chart)]
    chart = next(block for block in charts if "core" in str(block.says))
    for words in (
        "Heat reaching a loaf",
        "early loaf out",
        "middling loaf out",
        "done loaf out",
        "middle still climbs",
    ):
        assert words in str(chart.says)
    assert len(chart.lines) == 3


def test_wall_charts_draw_only_what_changes() -> None:
    """This test ensures that a jar without malt, in which nothing changes, has no chart of level lines, that
    a bake's chart ends with the bake, and that the band which is common practice is called that (its table's words)."""
    text = page_text("wall-chart")
    assert "Soak crumbs with malt" in text
    assert "## What the starch becomes: Soak crumbs without malt" not in text
    assert "## How long the enzymes last: Soak crumbs without malt" not in text
    assert "Drawn for the loaf that bakes longest." in text
    assert "(that of beta-amylase is common practice)" in text


def test_an_address_in_codes_is_named_by_its_host() -> None:
    """This test ensures that no sheet prints an address of which every letter is a code."""
    handout = page_text("handout")
    assert "Read at ru.m.wikisource.org." in handout
    assert "%D0" not in handout
