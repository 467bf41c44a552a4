"""Names as they stand in ids."""

from __future__ import annotations

from pathlib import Path

import pytest

from presenter.lesson import lesson_from_text, package_house, slug
from presenter.working import work_out

LESSON = """\
title: Мёд (invented)
scene: Harrowmere (invented)
date: 2026-05-02
kit:
  котёл: {of: stainless steel, holds: 20 L}
  ведро: {of: stainless steel, holds: 20 L}
ingredients:
  мёд: {what: honey, amount: 1 kg}
  дрожжи: {what: dried ale yeast, amount: 11 g}
steps:
  - {name: Сварить, do: add, with: мёд, water: 5 L, call it: сусло, in: котёл}
  - {name: Задать, do: pitch, what: сусло, with: дрожжи, in: ведро}
  - {name: Бродить, do: ferment, what: сусло, for: 14 days, at: 18 degC, say: "Крепость {{ strength }}."}
"""


@pytest.mark.parametrize(
    ("name", "mark"),
    [
        ("First mash", "first-mash"), ("  Mäsken & Läutern ", "mäsken-läutern"), ("Сварить сусло", "сварить-сусло"),
        ("Ma\u0308sken", "mäsken"), ("under_score", "under-score"), ("—!", ""),
    ],
)  # fmt: skip
def test_letters_of_any_script_stay_in_an_id(name: str, mark: str) -> None:
    """This test ensures that no letter is lost from an id, composed or not, and no sign stays."""
    assert slug(name) == mark


def test_a_lesson_may_be_named_in_any_script() -> None:
    """This test ensures that two things with names of another script are two things, each with ids of its own."""
    lesson = lesson_from_text(LESSON, Path("медовуха") / "lesson.yaml", package_house())
    worked = work_out(lesson, spreads=False)
    assert {"lesson.мёд", "задать.amount", "бродить.strength"} <= set(worked.numbers)
    assert worked.said["бродить"].startswith("Крепость ")
    assert worked.vessels.liquids["сусло"].ingredients == ("мёд",)
