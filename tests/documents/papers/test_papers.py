"""The papers of every demo lesson: printed on both papers, tagged, each mandatory caution in its place; read back."""

from __future__ import annotations

import csv
import io
import re
from datetime import date
from pathlib import Path

import outloud
import pdfua
import pytest
from typer.testing import CliRunner

from presenter.cautions import Cautioned, cautions_of
from presenter.commands import app
from presenter.documents import DOCUMENTS, Asked, Document, documents_for, papers_of
from presenter.documents.page_text import escaped
from presenter.documents.papers.home import lesson_for_pot, scaled_lesson
from presenter.lesson import lesson_from_text, package_house
from presenter.lesson.day import DayFile, day_from_text
from presenter.problems import ProblemsFoundError
from presenter.releasing import release
from presenter.working import WorkedLesson, work_out
from tests.documents.papers.conftest import SMALL_DAY, worked_from

PAPERS = [kind.name for kind in DOCUMENTS.values() if not kind.by_default]
Demo = tuple[WorkedLesson, Cautioned]


def paper(demo: Demo, name: str, asked: Asked | None = None) -> Document:
    return documents_for(*demo, [name], asked)[0]


def one(text: str, name: str) -> str:
    worked = worked_from(text)
    return documents_for(worked, cautions_of(worked), [name])[0].page_text


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_every_paper_is_released_and_tagged(demo: Demo, size: str, tmp_path: Path) -> None:
    """This test ensures that all papers of each demo lesson leave with their cautions, with no error of either checker.

    The release reads each mandatory caution back at its place; ``pdfua`` and ``outloud`` check against PDF/UA-1.
    """
    released = release(documents_for(*demo, PAPERS), demo[1], tmp_path, paper=size)
    assert {each.path.name for each in released} >= {f"{name}.pdf" for name in PAPERS}
    for each in released:
        if each.path.suffix == ".pdf":
            report = pdfua.validate(str(each.path))
            assert [f"{found.rule_id}: {found.message}" for found in report.findings] == [], each.path.name
            result = outloud.check(str(each.path))
            assert result.error is None
            assert [found for found in result.findings if found.severity == "error"] == [], each.path.name


def test_large_print_of_every_paper_is_released(demo: Demo, tmp_path: Path) -> None:
    """This test ensures that every paper can be had in large print, US measures too."""
    documents = documents_for(*demo, PAPERS, Asked("us"))
    assert len(release(documents, demo[1], tmp_path, print_size="large")) >= len(PAPERS)


def test_the_script_is_said_without_a_finding(demo: Demo, tmp_path: Path) -> None:
    """This test ensures that what we give a presenter to read out has nothing that the toolkit would then remark on."""
    script = tmp_path / "script.md"
    script.write_text(dict(paper(demo, "script").beside)["script.md"], encoding="utf-8")
    result = CliRunner().invoke(app, ["said", str(demo[0].lesson.folder), str(script), "--json"])
    assert result.exit_code == 0, result.output
    assert "&" not in script.read_text(encoding="utf-8")


def test_the_script_says_every_line_in_order(demo: Demo) -> None:
    """This test ensures that the script holds each say line, its numbers worded, in the order of the steps."""
    text = dict(paper(demo, "script").beside)["script.md"]
    places = [text.find(" ".join(line.split())) for line in demo[0].said.values()]
    assert -1 not in places
    assert places == sorted(places)


def test_each_caution_is_a_control_in_its_step_s_row(demo: Demo) -> None:
    """This test ensures that the draft's table for other forms names every caution of every step in a row of it."""
    rows = list(csv.DictReader(io.StringIO(dict(paper(demo, "risk-assessment").beside)["risk-assessment.csv"])))
    for number, step in enumerate(demo[0].lesson.steps, start=1):
        own = [row for row in rows if row["number"] == str(number)]
        for caution in demo[1].at_step(step.id):
            row = next(row for row in own if caution.id in row["cautions"].split())
            assert caution.short in row["controls"]
            assert caution.say in row["controls in full"]
            assert row["hazard"]
            assert row["who may be hurt"]
    for row in rows:
        assert row["status"].startswith("DRAFT")
        assert not row["likelihood"] + row["severity"] + row["remaining risk"] + row["signature"]


def test_the_draft_names_the_sheets_it_covers(demo: Demo) -> None:
    """This test ensures that the draft carries the version and content mark of the sheets it was drawn from."""
    draft = paper(demo, "risk-assessment")
    assert draft.foot == paper(demo, "handout").foot
    row = next(csv.DictReader(io.StringIO(dict(draft.beside)["risk-assessment.csv"])))
    assert f"Version {row['version']}, content mark {row['content mark']}" == draft.foot
    assert "DRAFT, for the responsible person" in draft.page_text


def test_a_spreadsheet_takes_no_cell_for_a_formula() -> None:
    """This test ensures that a step whose name begins like a formula stays a name in a spreadsheet."""
    worked = worked_from(SMALL_DAY.replace("name: Pitch", 'name: "=HYPERLINK(1)"'))
    text = dict(documents_for(worked, cautions_of(worked), ["risk-assessment"])[0].beside)["risk-assessment.csv"]
    assert not re.search(r"(^|,)\"?=", text)


SERVED = SMALL_DAY + "  - {name: Serve, do: serve, what: [strong], measure: 50 mL}\n"


def test_another_ingredient_gives_another_card_and_label() -> None:
    """This test ensures that an ingredient put in on the day is on the allergen card, the table and the label."""
    changed = SERVED.replace(
        "  yeast: {what", "  fruit: {what: raisins, amount: 200 g, extract: 60 percent}\n  yeast: {what"
    )
    for name in ("allergen-card", "allergen-table", "batch-label"):
        before, after = one(SERVED, name).casefold(), one(changed, name).casefold()
        assert "cereals containing gluten" in before
        assert "sulphur dioxide" not in before
        assert "sulphur dioxide and sulphites" in after


def test_a_change_of_the_day_changes_card_and_label() -> None:
    """This test ensures that the sheets as made follow the day file and not the plan."""
    from presenter.days import work_day

    planned = worked_from(SERVED)
    change = "{ingredient: malt, now: {what: wheat malt}, because: the sack was empty}"
    text = f"date: 2026-05-02\nchanges:\n  - {change}\n"
    made = work_day(planned.lesson, day_from_text(text, Path("day.yaml"), planned.lesson), spreads=False).made
    for name in ("allergen-card", "batch-label"):
        page = documents_for(made, cautions_of(made), [name])[0].page_text
        assert "ereals containing gluten" in page
    card = documents_for(made, cautions_of(made), ["allergen-card"])[0].page_text
    assert "wheat malt" in card
    assert "barley" not in card


def test_what_no_table_knows_is_never_blank() -> None:
    """This test ensures that an ingredient of no table is named on the card, so that its pack is read."""
    changed = SERVED.replace("what: pale barley malt", "what: Grandmother's flour").replace(
        "amount: 3 kg,", "amount: 3 kg, extract: 70 percent,"
    )
    try:
        card = one(changed, "allergen-card")
    except ProblemsFoundError:
        pytest.skip("the mash does not take an unknown grain")
    assert "Grandmother" in card
    assert "read the pack" in card


def test_the_label_says_what_a_label_must(demo: Demo) -> None:
    """This test ensures that a label has its date, estimate, use-by, cold and not-for-children lines."""
    label = paper(demo, "batch-label").page_text
    for words in ("Made ", "estimated", "Keep cold", "Use by", "Not for children", "Not for sale"):
        assert words in label


def test_the_class_plan_tastes_nothing_in_a_laboratory(demo: Demo) -> None:
    """This test ensures that class plans forbid tasting in a laboratory and offer an equal drink without alcohol."""
    plan = paper(demo, "class-plan").page_text
    assert "In a laboratory nothing is eaten and nothing is drunk" in plan
    assert "A drink without alcohol is offered to everybody" in plan


def test_the_starch_test_never_stands_without_its_hazard_line() -> None:
    """This test ensures that the starch test is printed only with the caution that the listed iodine raises."""
    listed = SMALL_DAY.replace("begins: 9:00\n", "begins: 9:00\nchemicals: [iodine solution]\n")
    assert "The starch test" not in one(SMALL_DAY, "class-plan")
    plan = one(listed, "class-plan")
    assert plan.index("id=iodine-test") > plan.index("The starch test")


@pytest.mark.parametrize("level", ["younger", "older", "adult"])
def test_a_level_has_its_own_questions(level: str, netherfold: WorkedLesson, netherfold_cautioned: Cautioned) -> None:
    """This test ensures that a class plan asks the questions marked for its level and none marked for another."""
    plan = paper((netherfold, netherfold_cautioned), "class-plan", Asked(reader=level)).page_text
    for other, questions in netherfold.lesson.file.class_.questions.items():
        for question in questions:
            assert (escaped(str(question)) in plan) is (str(other) == level)


def test_a_household_pot_makes_the_same_drink_smaller(demo: Demo) -> None:
    """This test ensures that what is worked for a small pot has the same gravities, and fits three quarters of it."""
    small, factor = lesson_for_pot(demo[0], 5.0)
    assert 0 < factor <= 1
    for number in demo[0].numbers.values():
        if number.id.endswith((".wort-gravity", ".reach", ".gravity", ".final-gravity")):
            assert abs(float((small.numbers[number.id].quantity - number.quantity).magnitude)) < 0.004
    volumes = [liquid.volume.value for vessels in small.after.values() for liquid in vessels.liquids.values()]
    assert max(volumes) <= 0.75 * 5.0 * 1.01


def test_a_wish_for_so_much_drink_is_made_smaller_for_a_pot() -> None:
    """This test ensures that honey wished for by litres of drink shrinks with the pot, so that the strength stays."""
    text = MEAD
    lesson = lesson_from_text(text, Path("harrowmere") / "lesson.yaml", package_house())
    full = work_out(lesson, spreads=False)
    small, factor = lesson_for_pot(full, 5.0)
    assert factor < 0.6
    honey = [float(worked.numbers["lesson.honey"].quantity.magnitude) for worked in (full, small)]
    assert honey[1] == pytest.approx(honey[0] * factor, rel=0.01)
    strengths = [float(worked.numbers["ferment.strength"].quantity.magnitude) for worked in (full, small)]
    assert strengths[1] == pytest.approx(strengths[0], rel=0.01)


MEAD = """\
title: A honey drink at Harrowmere (invented)
scene: Harrowmere (invented)
date: 2026-05-02
kit:
  kettle: {of: stainless steel, holds: 20 L}
ingredients:
  honey: {what: honey, amount: enough for 9 L at 5 percent}
  yeast: {what: dried ale yeast, amount: 11 g}
steps:
  - {name: Stir, do: add, with: honey, water: 10 L, call it: must, in: kettle}
  - {name: Pitch, do: pitch, what: must, with: yeast}
  - {name: Ferment, do: ferment, what: must, for: 14 days, at: 18 degC}
"""


def test_a_pot_too_small_is_told_at_its_line() -> None:
    """This test ensures that a pot in which the lesson cannot be worked gives a Problem at the pot's own line."""
    text = SMALL_DAY.replace("begins: 9:00\n", "begins: 9:00\nhome: {pot: 0.01 L}\n")
    with pytest.raises(ProblemsFoundError) as caught:
        one(text, "home-card")
    assert caught.value.problems[0].place.line == 5
    assert "The lesson cannot be worked for a pot of 0.01 L: " in caught.value.told()
    assert caught.value.told().endswith("Write a larger pot.")


def test_scaling_by_one_changes_nothing(demo: Demo) -> None:
    """This test ensures that a lesson scaled by one has the quantities that it had, to three digits."""
    file, same = demo[0].lesson.file, scaled_lesson(demo[0].lesson, 1.0).file
    for name, use in file.ingredients.items():
        assert same.ingredients[name].amount.number() == pytest.approx(use.amount.number(), rel=5e-3)


def test_the_slip_has_the_fields_of_a_day_file(demo: Demo) -> None:
    """This test ensures that every key of a day file is named on the return slip."""
    slip = paper(demo, "return-slip").page_text
    for name, field in DayFile.model_fields.items():
        assert re.search(rf"[( ]{re.escape(field.alias or name)}[):,;]", slip), name


def test_a_slip_filled_in_is_a_day_file_that_checks(demo: Demo) -> None:
    """This test ensures that answers typed in under the slip's own words make a day of the lesson."""
    worked, slip = demo[0], paper(demo, "return-slip").page_text
    names = [str(step.name) for step in worked.lesson.steps if escaped(str(step.name)) in slip]
    reads = {
        "mash": "temperature: 65 degC",
        "draw off": "gravity: 1.050, sample: 20 degC",
        "cool": "temperature: 20 degC",
    }
    lines = [
        f"  - {{at: {step.name}, time: '10:30', {reads[str(step.do)]}}}"
        for step in worked.lesson.steps
        if str(step.name) in names and str(step.do) in reads
    ]
    key = next(iter(worked.lesson.file.ingredients))
    text = "\n".join(
        [
            "date: 2026-06-01", "who: [Wat (invented)]", "began: '9:00'", "readings:", *lines,
            "changes:", f"  - {{ingredient: {key}, now: {{amount: 1 kg}}, because: our pot is small}}",
            "cleaned:", "  - {what: [pot], how: scalded}",
            "senses:", f"  - {{at: {names[0]}, seen: clear, smelt: bread}}",
            "next time: [read it sooner]", "thanks: [Isolde]",
        ]
    )  # fmt: skip
    day = day_from_text(text + "\n", Path("day.yaml"), worked.lesson)
    assert day.date == date(2026, 6, 1)
    assert len(day.file.readings) == len(lines) > 0


def test_the_usual_set_stays_small(netherfold: WorkedLesson) -> None:
    """This test ensures that a lesson which names no papers makes none of the papers around the day."""
    assert not set(papers_of(netherfold.lesson)) & set(PAPERS)


def test_a_lesson_names_its_papers_and_a_wrong_name_is_told() -> None:
    """This test ensures that papers are made as listed, and that an unknown one is told at its place."""
    head = "begins: 9:00\npapers: [run-sheet, {}]\n"
    good = worked_from(SMALL_DAY.replace("begins: 9:00\n", head.format("allergen-card")))
    assert papers_of(good.lesson) == ("run-sheet", "allergen-card")
    bad = worked_from(SMALL_DAY.replace("begins: 9:00\n", head.format("allergen-cart")))
    with pytest.raises(ProblemsFoundError) as caught:
        papers_of(bad.lesson)
    assert caught.value.told() == (
        "harrowmere/lesson.yaml:5:21  papers\n    papers: allergen-cart\n            ^^^^^^^^^^^^^\n"
        "  There is no paper called allergen-cart.\n  Did you mean allergen-card?"
    )


def test_what_to_heat_clean_and_cool_is_told_in_the_sheets_measures(demo: Demo) -> None:
    """This test ensures that the hot water of a run sheet and the heats of a form turn into the measures asked for."""
    asked = Asked(measures="us")
    heat = [line for line in paper(demo, "run-sheet", asked).page_text.splitlines() if "put it on by" in line]
    forms = [paper(demo, kind, asked).page_text for kind in ("cleaning-log", "cooling-log")]
    told = [line for text in forms for line in text.splitlines() if " min" in line or line.startswith("To ")]
    assert heat
    assert any(line.startswith("To ") for line in told)
    for line in (*heat, *told):
        assert "°C" not in line, line
        assert not re.search(r"\d\sL of water", line), line
