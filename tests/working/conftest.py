"""Small lessons of the invented Harrowmere for the tests of ``working``, made from a few figures.

In: amounts, waters and steps as text. Out: a checked lesson, or a worked one.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest

from presenter.lesson import Lesson, lesson_from_text, package_house
from presenter.working import Held, WorkedLesson, work_out

HEAD = """\
title: A small mash at Harrowmere (invented)
scene: Harrowmere, 1412 (invented)
date: 2026-05-02
kit:
  thermometer: {{right within: {thermometer}}}
  mash tub: {{of: oak, holds: 200 L, weighs: 3 kg}}
  kettle: {{of: stainless steel, holds: 200 L, boils away: 2 L per hour}}
ingredients:
  malt: {{what: pale barley malt, amount: {malt}}}
  yeast: {{what: dried ale yeast, amount: 11 g}}
steps:
"""
MASH = "  - {name: Mash, do: mash, in: mash tub, with: [malt], water: %s, reach: %s, hold: 60 min}\n"
DRAW = "  - {name: Draw %s, do: draw off, %scall it: %s}\n"
AGAIN = "  - {name: Second mash, do: mash, in: mash tub, water: {amount: %s, at: 80 degC}, hold: 30 min}\n"
TO_ALE = """\
  - {name: Boil, do: boil, what: strong, for: 15 min}
  - {name: Cool, do: cool, what: strong, to: 20 degC, within: 40 min}
  - {name: Pitch, do: pitch, what: strong, with: yeast}
  - {name: Ferment, do: ferment, what: strong, for: 7 days, at: 19 degC}
"""


class Harrowmere:
    """The lessons, and what is read from them."""

    HEAD = HEAD
    MASH = MASH
    DRAW = DRAW
    AGAIN = AGAIN
    TO_ALE = TO_ALE

    def lesson(
        self, steps: str, malt: str = "3 kg", thermometer: str = "1 degC", bought: str = "", top: str = ""
    ) -> Lesson:
        """A checked lesson of ``steps`` for the kit and the ingredients above.

        ``bought`` are lines of further ingredients, ``top`` lines of further keys.
        """
        head = HEAD.format(malt=malt, thermometer=thermometer)
        text = head.replace("steps:\n", f"{bought}{top}steps:\n") + steps
        return lesson_from_text(text, Path("harrowmere") / "lesson.yaml", package_house())

    def worked(
        self,
        steps: str,
        malt: str = "3 kg",
        held: Iterable[Held] = (),
        thermometer: str = "1 degC",
        spreads: bool = True,
        bought: str = "",
        top: str = "",
    ) -> WorkedLesson:
        """The lesson worked out."""
        return work_out(self.lesson(steps, malt, thermometer, bought, top), held, spreads=spreads)

    def value(self, of: WorkedLesson, number: str) -> float:
        """A number's value in its own unit."""
        return float(of.numbers[number].quantity.magnitude)

    def spread(self, of: WorkedLesson, number: str) -> float:
        """A number's give-or-take in its own unit of a difference; nothing where it has none."""
        found = of.numbers[number].spread
        return 0.0 if found is None else float(found.magnitude)

    def two_worts(self, strong: str = "7 L", second: str = "6 L", water: str = "12 L", reach: str = "67 degC") -> str:
        """Steps of two worts from one bed of grain; the second draw takes all that the grain lets go."""
        return (
            MASH % (water, reach) + DRAW % ("strong", f"volume: {strong}, ", "strong") + AGAIN % second
            + DRAW % ("small", "", "small")
        )  # fmt: skip


@pytest.fixture(scope="session")
def harrowmere() -> Harrowmere:
    """The brewhouse of the tests."""
    return Harrowmere()
