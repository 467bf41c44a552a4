"""Lessons for the tests of the papers: every demo lesson worked once, and a small day to plant clashes in."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from presenter.cautions import Cautioned, cautions_of
from presenter.lesson import lesson_from_text, load_lesson, package_house
from presenter.working import WorkedLesson, work_out

DEMOS = sorted(path.parent for path in (Path(__file__).parents[3] / "lessons_demo").glob("*/lesson.yaml"))

SMALL_DAY = """\
title: A small mash at Harrowmere (invented)
scene: Harrowmere, 1412 (invented)
date: 2026-05-02
begins: 9:00
closes: 17:00
kit:
  thermometer: {right within: 1 degC}
  mash tub: {of: oak, holds: 25 L, weighs: 3 kg}
  kettle: {of: stainless steel, holds: 20 L, boils away: 2 L per hour}
  second pot: {of: stainless steel, holds: 10 L}
  bucket: {of: stainless steel, holds: 12 L}
ingredients:
  malt: {what: pale barley malt, amount: 3 kg, from: our choice}
  yeast: {what: dried ale yeast, amount: 11 g}
steps:
  - name: Mash
    do: mash
    in: mash tub
    with: [malt]
    water: 12 L
    reach: 67 degC
    hold: 60 min
  - name: Draw off the strong wort
    do: draw off
    volume: 7 L
    call it: strong
    into: kettle
  - name: Second mash
    do: mash
    in: mash tub
    water: {amount: 6 L, at: 80 degC}
    hold: 30 min
  - name: Boil the strong wort
    do: boil
    what: strong
    for: 45 min
  - name: Cool
    do: cool
    what: strong
    to: 20 degC
    within: 40 min
    in: bucket
  - name: Draw off the small wort
    do: draw off
    call it: small
    into: kettle
  - name: Pitch
    do: pitch
    what: strong
    with: yeast
  - name: Ferment
    do: ferment
    what: strong
    for: 7 days
    at: 19 degC
"""


@cache
def worked_from(text: str) -> WorkedLesson:
    """A lesson's text, worked once without give-or-take."""
    return work_out(lesson_from_text(text, Path("harrowmere") / "lesson.yaml", package_house()), spreads=False)


@cache
def _demo(folder: Path) -> tuple[WorkedLesson, Cautioned]:
    worked = work_out(load_lesson(folder))
    return worked, cautions_of(worked)


@pytest.fixture(params=DEMOS, ids=lambda folder: folder.name)
def demo(request: pytest.FixtureRequest) -> tuple[WorkedLesson, Cautioned]:
    """Each demo lesson with its cautions."""
    return _demo(request.param)
