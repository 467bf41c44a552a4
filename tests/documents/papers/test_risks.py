"""Every caution that a step raises is a control in its row, over lessons made up by the test."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from presenter.cautions import caution_book, cautions_of
from presenter.documents import documents_for
from presenter.documents.papers.risks import hazard_of
from presenter.lesson import lesson_from_text, package_house
from presenter.working import work_out
from tests.documents.papers.conftest import SMALL_DAY

SOME = {
    "heat": ["gas ring", "wood fire", "induction ring", "electric urn"],
    "indoors": ["yes", "no"],
    "water": ["mains", "well", "spring"],
    "who brews": ["museum", "school", "household", "public"],
}
KETTLES = ["stainless steel", "bare copper", "enamel", "galvanised steel", "cast iron"]
TUBS = ["oak", "unglazed earthenware", "stainless steel", "pine"]
THINGS = ["raisins", "honey", "sage", "hops", "almonds", "dried apricots", "juniper berries"]
CLEANERS = ["hot water", "bleach", "caustic soda", "soda crystals"]
CHEMICALS = ["iodine solution", "Campden tablets", "lactic acid"]


@st.composite
def lessons(draw: st.DrawFn) -> str:
    """A lesson's text: the small day in another place, with other vessels, other goods and other cleaners."""
    site = ", ".join(f"{key}: {draw(st.sampled_from(words))}" for key, words in SOME.items())
    goods = draw(st.lists(st.sampled_from(THINGS), max_size=3, unique=True))
    cleaners = draw(st.lists(st.sampled_from(CLEANERS), max_size=2, unique=True))
    chemicals = draw(st.lists(st.sampled_from(CHEMICALS), max_size=2, unique=True))
    youngest = draw(st.sampled_from([5, 12, 16, 18]))
    head = f"site: {{{site}}}\naudience: {{youngest: {youngest}}}\ncleaners: [{', '.join(cleaners)}]\n"
    head += f"chemicals: [{', '.join(chemicals)}]\n"
    more = "".join(f"  extra {i}: {{what: {what}, amount: 50 g, extract: 0 percent}}\n" for i, what in enumerate(goods))
    text = SMALL_DAY.replace("begins: 9:00\n", head).replace("closes: 17:00\n", "")
    text = text.replace("{of: stainless steel, holds: 20 L", f"{{of: {draw(st.sampled_from(KETTLES))}, holds: 20 L")
    text = text.replace("{of: oak,", f"{{of: {draw(st.sampled_from(TUBS))},")
    text = text.replace("steps:\n", f"{more}steps:\n  - {{name: Clean, do: clean, what: [kettle], at: 80 degC}}\n", 1)
    return text + "  - {name: Serve, do: serve, what: [strong], measure: 50 mL}\n"


@given(lessons())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_every_caution_of_a_step_is_a_control_in_its_row(text: str) -> None:
    """This test ensures that no caution is lost between the steps and the draft, whatever the lesson."""
    worked = work_out(lesson_from_text(text, Path("harrowmere") / "lesson.yaml", package_house()), spreads=False)
    cautioned = cautions_of(worked)
    document = documents_for(worked, cautioned, ["risk-assessment"])[0]
    rows = list(csv.DictReader(io.StringIO(dict(document.beside)["risk-assessment.csv"])))
    told = 0
    for number, step in enumerate(worked.lesson.steps, start=1):
        for caution in cautioned.at_step(step.id):
            (row,) = [row for row in rows if row["number"] == str(number) and caution.id in row["cautions"].split()]
            assert caution.short in row["controls"]
            assert hazard_of(caution.id)[0] in row["hazard"]
            told += 1
    for caution in cautioned.on_sheet:
        assert any(not row["number"] and caution.id in row["cautions"].split() for row in rows) or not caution.mandatory
    assert told > 5


def test_every_caution_has_a_hazard_and_somebody_it_may_hurt() -> None:
    """This test ensures that the words of the draft reach every caution that there is."""
    for caution in caution_book().cautions:
        hazard, who = hazard_of(caution.id)
        assert hazard
        assert who
