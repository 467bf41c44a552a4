"""Outside a formula's stated range: refused, unless the step accepts the formula by name; then the number says so."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from presenter.lesson import lesson_from_text, package_house
from presenter.problems import ProblemsFoundError
from presenter.working import work_out

# The boiling point against altitude is stated up to 3000 m; this site lies higher.
HIGH = "site: {altitude: 3500 m}\nsteps:\n"


@pytest.fixture
def high(harrowmere: Any) -> Any:
    """Work out a boil on a high site; ``accept`` is the text of the boiling step's acceptance."""

    def made(accept: str) -> Any:
        steps = harrowmere.MASH % ("12 L", "67 degC") + harrowmere.DRAW % ("it", "volume: 7 L, ", "strong")
        steps += f"  - {{name: Boil, do: boil, what: strong, for: 15 min{accept}}}\n"
        text = harrowmere.HEAD.format(malt="3 kg", thermometer="1 degC").replace("steps:\n", HIGH) + steps
        return work_out(lesson_from_text(text, Path("harrowmere") / "lesson.yaml", package_house()), spreads=False)

    return made


def told(high: Any, accept: str) -> list[str]:
    with pytest.raises(ProblemsFoundError) as caught:
        high(accept)
    return [problem.wrong for problem in caught.value.problems]


def test_outside_its_range_a_formula_refuses(high: Any) -> None:
    """This test ensures that a formula outside its stated range is told once, at the step."""
    (wrong,) = told(high, "")
    assert wrong == (
        "At this step the altitude comes to 3500 m;"
        " the formula called boiling_point_at_altitude holds from -100 to 3000 m."
    )


def test_an_accepted_formula_goes_on_and_says_so(high: Any) -> None:
    """This test ensures that a number worked outside a formula's range says that its author accepts it."""
    done = high(", accept: [boiling_point_at_altitude]")
    assert done.numbers["lesson.boiling-point"].remark == "outside its formula's stated range, which the author accepts"
    assert done.numbers["boil.gravity"].remark == ""


def test_acceptance_of_an_unknown_formula_is_told(high: Any) -> None:
    """This test ensures that a misspelt acceptance is told rather than passed over."""
    assert "There is no formula called boiling_point_at_altitud." in told(high, ", accept: [boiling_point_at_altitud]")
