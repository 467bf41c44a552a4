"""Hearing quantities: held to labelled sentences, to the lines of each pattern, and to wording's own words.

The sentences kept aside are scored as counts; no message here shows a sentence of theirs. A general-purpose extractor,
quantulum3, is scored beside ours; its unit names are matched generously (a "degree angle" counts as a bare degree).
"""

from __future__ import annotations

import sys
import warnings
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from presenter.quantities import Q
from presenter.quantities.wording import PRINTED, decimals_for, in_words, said_aloud
from presenter.speech.hearing import heard
from presenter.speech.units_said import patterns

sys.path.insert(0, str(Path(__file__).parent))
from scoring_heard import Said, converted, score, sentences

OTHER_NAMES = {
    "degree angle": "degC", "degree Celsius": "degC", "degree Fahrenheit": "degF", "percentage": "percent",
    "litre": "litre",
    "year": "year_span", "pint": "pint", "gallon": "gallon", "pound-mass": "pound", "gallon (imp)": "gallon",
    "pound-mass per square inch": "psi", "square metre": "metre ** 2", "cubic metre": "metre ** 3",
}  # fmt: skip


def ours(text: str) -> list[Said]:
    """What our own hearing gives."""
    return [
        Said(h.start, h.end, (h.value,) if h.value is not None else (h.low or 0.0, h.high or 0.0), h.unit)
        for h in heard(text)
    ]


def theirs(text: str) -> list[Said]:
    """What quantulum3 gives; numbers without a unit are left out, as our convention has it, unless they are ranges."""
    from quantulum3 import parser

    found: list[Any] = parser.parse(text)
    given = []
    for quantity in found:
        name = quantity.unit.name
        if name == "dimensionless":
            continue
        unit = OTHER_NAMES.get(
            name, name.replace(" per ", " / ").replace("-mass", "").replace(" ", "_").replace("_/_", " / ")
        )
        given.append(Said(quantity.span[0], quantity.span[1], (quantity.value,), unit))
    return given


@pytest.mark.parametrize("part", ["open", "more", "kept_aside", "fresh"])
def test_heard_quantities_reach_recall_and_precision(part: str, record_property: Any) -> None:
    """This test ensures that recall and precision of heard quantities are each at least 0.95, in both parts."""
    found = score(sentences(part), ours)
    record_property(part, f"{found.recall:.3f} {found.precision:.3f}")
    told = f"{part}: {found}, recall {found.recall:.3f}, precision {found.precision:.3f}"
    print(told)
    assert min(found.recall, found.precision) >= 0.95, told


@pytest.mark.parametrize("part", ["open", "more", "kept_aside", "fresh"])
def test_a_general_extractor_hears_less(part: str) -> None:
    """This test ensures that a general-purpose extractor, scored in the same run, finds fewer of the labels."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # its own warnings are not ours to mend
        general = score(sentences(part), theirs)
    mine = score(sentences(part), ours)
    print(f"{part}: quantulum3 recall {general.recall:.3f}, precision {general.precision:.3f} ({general})")
    assert general.found < mine.found


UNITS = [pytest.param(entry, id=entry["id"]) for entry in patterns()["units"]]
ALONE = [pytest.param(entry, id=entry["id"]) for entry in patterns()["left_alone"]]


def told(line: str) -> list[tuple[float, str]]:
    """Value and unit of each quantity heard in a line."""
    return [(h.middle, h.unit) for h in heard(line)]


def expected(written: str) -> tuple[float, str]:
    """A pattern's own label, such as "12 litre"."""
    value, _, unit = written.partition(" ")
    return pytest.approx(float(value), rel=1e-6), unit  # type: ignore[return-value]


@pytest.mark.parametrize("entry", UNITS)
def test_unit_pattern_hears_its_lines(entry: dict[str, Any]) -> None:
    """This test ensures that a unit is heard in its lines and not in the lines that only look like it."""
    for line, written in entry["yes"].items():
        assert expected(written) in told(line), line
    for line in entry["no"]:
        assert told(line) == [], line


@pytest.mark.parametrize("entry", ALONE)
def test_pattern_leaves_its_lines_alone(entry: dict[str, Any]) -> None:
    """This test ensures that a figure of speech is left alone, and that its likeness with a measure is heard."""
    for line in entry["yes"]:
        assert told(line) == [], line
    for line, written in entry["no"].items():
        assert expected(written) in told(line), line


@given(st.text(max_size=300))
@settings(max_examples=200, deadline=None)
def test_any_text_is_heard_without_failure(text: str) -> None:
    """This test ensures that no text stops the hearing and that every quantity's words stand in the text, in order."""
    found = heard(text)
    assert [text[h.start : h.end] for h in found] == [h.words for h in found]
    assert [h.start for h in found] == sorted(h.start for h in found)


# Units whose wording has no unit word, or which a talk never says, are not measured here.
SILENT = {"piece", "dimensionless", "millimole / litre / pH"}
WORDED = sorted(set(PRINTED) - SILENT)


def sayable(unit: str) -> st.SearchStrategy[float]:
    """Values that a lesson may hold in ``unit``."""
    if unit == "gravity":
        return st.floats(0.99, 1.129)
    if unit == "pH":
        return st.floats(0.5, 13.9)
    if unit in {"degree_Plato"}:
        return st.floats(0.5, 39)
    if unit == "cell / millilitre":
        return st.floats(2e6, 9e8)
    return st.floats(2, 5000)


def same(value: float, unit: str, wanted: str) -> float | None:
    """A heard value in the worded unit."""
    alike = {
        "percent_by_volume": "percent",
        "attenuation_percent": "percent",
        "degree_Celsius": "degC",
        "degree_Fahrenheit": "degF",
    }
    alike |= {
        "delta_degree_Celsius": "degC",
        "delta_degree_Fahrenheit": "degF",
        "degree_Plato": "degPlato",
        "cubic_metre": "metre ** 3",
        "gram / piece": "gram",  # "each" counts things, and a thing is no unit of a talk
    }
    upper, slash, lower = wanted.partition(" / ")
    if " / " in wanted and wanted not in alike:
        upper = {"delta_degree_Celsius": "degC", "delta_degree_Fahrenheit": "degF"}.get(upper, upper)
        lower = lower.replace("delta_degree_Celsius", "delta_degC")
        return converted(value, unit, upper + slash + lower)
    return converted(value, unit, alike.get(wanted, wanted))


@pytest.mark.parametrize("unit", WORDED)
@given(data=st.data())
@settings(max_examples=40, deadline=None)
def test_what_is_worded_is_heard_back(unit: str, data: st.DataObject) -> None:
    """This test ensures that a quantity said aloud is heard back as the worded, rounded value and unit."""
    value = data.draw(sayable(unit))
    spread_unit = {"degree_Celsius": "delta_degree_Celsius", "degree_Fahrenheit": "delta_degree_Fahrenheit"}.get(
        unit, unit
    )
    spread = data.draw(st.none() | st.just(abs(value) * 0.02 if unit != "gravity" else 0.003))
    quantity = Q(value, unit)
    give = None if spread is None else Q(spread, spread_unit)
    words = said_aloud(quantity, give)
    found = heard(f"the {'gravity' if unit == 'gravity' else 'worked one'} is {words} today")
    assert len(found) == 1, words
    shown = float(in_words(quantity, give).replace("\u00a0", " ").split(" ")[0].replace("−", "-"))
    slack = 0.51 if unit in {"degree_Celsius", "delta_degree_Celsius"} and give is not None else 0.0
    scale = 1e6 if unit == "cell / millilitre" else 1.0
    back = same(found[0].middle, found[0].unit, worded_unit(quantity))
    assert back is not None, (words, found)
    decimals = decimals_for(worded_unit(quantity), None if give is None else spread_in(give, quantity))
    assert back / scale == pytest.approx(
        shown, abs=max(slack, 0.501 * 10.0**-decimals if decimals < 0 else 1e-9, 1e-6 * abs(shown))
    ), words


def worded_unit(quantity: Any) -> str:
    """The unit that wording shows the quantity in."""
    from presenter.quantities.wording import shown_in

    return str(shown_in(quantity).units)


def spread_in(give: Any, quantity: Any) -> float:
    """The give-or-take in the unit that wording shows."""
    unit = worded_unit(quantity)
    return float(
        give.to(
            {"degree_Celsius": "delta_degree_Celsius", "degree_Fahrenheit": "delta_degree_Fahrenheit"}.get(unit, unit)
        ).magnitude
    )


@pytest.mark.parametrize("unit", sorted(set(WORDED) - {"inch"}))  # its sign, in, is a word of its own
@given(data=st.data())
@settings(max_examples=25, deadline=None)
def test_what_is_printed_is_heard_back(unit: str, data: st.DataObject) -> None:
    """This test ensures that a quantity as it is printed is heard back as the printed value."""
    quantity = Q(data.draw(sayable(unit)), unit)
    words = in_words(quantity)
    opening = {"pH": "the pH is ", "gravity": "a gravity of ", "gravity_point": "the gravity fell by "}.get(
        unit, "it comes to "
    )
    found = heard(f"{opening}{words} here")
    assert len(found) == 1, words
    back = same(found[0].middle, found[0].unit, worded_unit(quantity))
    scale = 1e6 if unit == "cell / millilitre" else 1.0
    assert back is not None, (words, found)
    assert back / scale == pytest.approx(
        float(words.replace("\u00a0", " ").split(" ")[0].replace("−", "-")), rel=1e-6
    ), words


@given(thousandths=st.floats(0.0015, 0.12))
@settings(max_examples=80, deadline=None)
def test_a_drop_in_gravity_is_heard_back_in_points(thousandths: float) -> None:
    """This test ensures that a drop in gravity, said in points, is heard back as so many gravity points."""
    quantity = Q(thousandths, "gravity")
    (found,) = heard(f"the gravity fell by {said_aloud(quantity)} in all")
    assert found.unit == "gravity_point"
    assert found.value == pytest.approx(1000 * float(in_words(quantity)), abs=1e-9)


@given(value=st.floats(0.99, 1.12), steps=st.integers(990, 1120))
@settings(max_examples=200, deadline=None)
def test_gravity_is_said_as_it_is_printed(value: float, steps: int) -> None:
    """This test ensures that a gravity is heard back as printed to the last place, also half way between two places."""
    for gravity in (value, steps / 1000 + 0.0005):
        (found,) = heard(f"the gravity is {said_aloud(Q(gravity, 'gravity'))} today")
        assert found.value == pytest.approx(float(in_words(Q(gravity, "gravity"))), abs=1e-9)
