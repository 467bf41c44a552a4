"""Nothing leaves without its mandatory cautions; nothing is half-written; the same lesson gives the same bytes."""

from __future__ import annotations

import dataclasses
import re
import shutil
from pathlib import Path

import pypdf
import pytest

from presenter.cautions import Cautioned, cautions_of
from presenter.documents import DOCUMENTS, documents_for
from presenter.documents.sheets import template_folders
from presenter.lesson import demo_folder, house_for, lesson_from_text, load_lesson
from presenter.library.starting import DRINKS, Answers, starter_text
from presenter.problems import ProblemsFoundError
from presenter.releasing import release
from presenter.releasing.reading_back import folded, visible_text
from presenter.working import WorkedLesson, work_out

SHEET_BLOCK = "{{ sheet.sheet_cautions() }}"
STEP_BLOCK = "{{ step.cautions() }}"


def lesson_with_template(folder: Path, name: str, change: tuple[str, str]) -> WorkedLesson:
    """The demo lesson with one template of its own, changed."""
    demo = demo_folder("lessons_demo")
    shutil.copytree(demo, folder / "library")
    own = folder / "library" / "netherfold-two-ales" / "templates"
    own.mkdir()
    text = (demo_folder("templates") / DOCUMENTS[name].template).read_text(encoding="utf-8")
    assert change[0] in text
    (own / DOCUMENTS[name].template).write_text(text.replace(*change), encoding="utf-8")
    return work_out(load_lesson(folder / "library" / "netherfold-two-ales"))


# The risk assessment says the sheet's cautions a second time, in its table of the whole day: taken away above, they
# are still there.
SAYS_TWICE = {"risk-assessment"}
CASES = [(name, SHEET_BLOCK) for name in DOCUMENTS if name not in SAYS_TWICE] + [
    (name, kind.cautions_by) for name, kind in DOCUMENTS.items() if kind.tells_steps
]


@pytest.mark.parametrize(("name", "block"), CASES)
def test_no_sheet_is_released_without_its_mandatory_cautions(name: str, block: str, tmp_path: Path) -> None:
    """This test ensures that a template without a caution block releases nothing, and is told how to mend it."""
    worked = lesson_with_template(tmp_path, name, (block, ""))
    cautioned = cautions_of(worked)
    out = tmp_path / "sheets"
    with pytest.raises(ProblemsFoundError) as caught:
        release(documents_for(worked, cautioned, [name]), cautioned, out)
    assert not out.exists() or not list(out.iterdir())
    told = caught.value.told()
    assert "lacks the mandatory caution" in told
    assert f"Put {block} back into the template" in told
    assert DOCUMENTS[name].words.lower() in told
    assert all(problem.place.file.endswith(DOCUMENTS[name].template) for problem in caught.value.problems)


def test_cautions_moved_to_another_step_are_missed(tmp_path: Path) -> None:
    """This test ensures that a caution in the wrong place does not count."""
    moved = (STEP_BLOCK, "{% if loop.last %}{% for other in steps %}{{ other.cautions() }}{% endfor %}{% endif %}")
    worked = lesson_with_template(tmp_path, "handout", moved)
    cautioned = cautions_of(worked)
    with pytest.raises(ProblemsFoundError) as caught:
        release(documents_for(worked, cautioned, ["handout"]), cautioned, tmp_path / "sheets")
    assert "beside step 2, First mash" in caught.value.told()


@pytest.mark.parametrize("drink", DRINKS)
def test_a_new_lesson_is_released_with_its_texts(drink: str, tmp_path: Path) -> None:
    """This test ensures that a step called Boil or Cool, words that cautions use, is found in a text beside a sheet."""
    text = starter_text(Answers("A new drink", drink=drink))
    worked = work_out(lesson_from_text(text, tmp_path / "lesson.yaml", house_for(tmp_path)))
    cautioned = cautions_of(worked)
    released = release(documents_for(worked, cautioned, ["script", "risk-assessment"]), cautioned, tmp_path / "sheets")
    assert {each.path.suffix for each in released} == {".pdf", ".md", ".csv"}


def test_every_mandatory_caution_is_on_every_sheet(
    netherfold: WorkedLesson, netherfold_cautioned: Cautioned, tmp_path: Path
) -> None:
    """This test ensures that the demo lesson's sheets hold their mandatory words, read back from the PDF."""
    released = release(documents_for(netherfold, netherfold_cautioned), netherfold_cautioned, tmp_path)
    usual = [f"{kind.name}.pdf" for kind in DOCUMENTS.values() if kind.by_default]
    assert [sheet.path.name for sheet in released] == usual
    assert {"handout.pdf", "step-cards.pdf", "numbers-sheet.pdf", "wall-chart.pdf"} <= set(usual)
    lines = [line for line in netherfold_cautioned.lines_on_sheet().lines if line.mandatory]
    assert lines
    for sheet in released:
        text = visible_text(sheet.path.read_bytes())
        for line in lines:
            assert folded(line.words) in text


def test_same_lesson_gives_same_bytes(
    netherfold: WorkedLesson, netherfold_cautioned: Cautioned, tmp_path: Path
) -> None:
    """This test ensures that two builds of one lesson do not differ in a single byte."""
    first, second = (
        {
            s.path.name: s.path.read_bytes()
            for s in release(documents_for(netherfold, netherfold_cautioned), netherfold_cautioned, tmp_path / name)
        }
        for name in ("one", "two")
    )
    assert first == second


def test_sheets_carry_version_and_mark_and_no_missing_glyph(
    netherfold: WorkedLesson, netherfold_cautioned: Cautioned, tmp_path: Path
) -> None:
    """This test ensures that the foot names version and content mark, fonts are embedded and no letter is missing."""
    for sheet in release(documents_for(netherfold, netherfold_cautioned), netherfold_cautioned, tmp_path):
        reader = pypdf.PdfReader(sheet.path)
        text = "\n".join(page.extract_text() for page in reader.pages)
        assert re.search(r"Version 1, content mark\s+[0-9a-f]{8}", text)
        assert "\u0000" not in text
        assert "\u25a0" not in text
        for page in reader.pages:
            for font in page["/Resources"].get("/Font", {}).values():
                described = font.get_object()
                inner = described.get("/DescendantFonts", [described])[0].get_object()
                assert "/FontFile2" in inner["/FontDescriptor"].get_object()


def test_tiny_or_pale_type_does_not_count() -> None:
    """This test ensures that words too small or too pale to be read do not pass as printed."""
    import io

    from reportlab.pdfgen.canvas import Canvas

    paper = io.BytesIO()
    canvas = Canvas(paper)
    canvas.setFontSize(1)
    canvas.drawString(50, 700, "one point")
    canvas.setFontSize(14)
    canvas.setFillGray(0.95)
    canvas.drawString(50, 650, "pale")
    canvas.setFillGray(0)
    canvas.drawString(50, 600, "plain to see")
    canvas.save()
    assert visible_text(paper.getvalue()) == "plaintosee"


def test_a_full_disc_or_a_file_in_the_way_keeps_the_old_sheets(
    netherfold: WorkedLesson, netherfold_cautioned: Cautioned, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """This test ensures that when printing fails, sheets that were there before stay as they were."""
    old = tmp_path / "handout.pdf"
    old.write_bytes(b"an old sheet")
    broken = dataclasses.replace(
        documents_for(netherfold, netherfold_cautioned, ["handout"])[0], page_text="no cautions"
    )
    with pytest.raises(ProblemsFoundError):
        release([broken], netherfold_cautioned, tmp_path)
    assert old.read_bytes() == b"an old sheet"
    assert [path.name for path in tmp_path.iterdir()] == ["handout.pdf"]


def test_templates_come_from_the_nearest_folder(tmp_path: Path) -> None:
    """This test ensures that a lesson's own template wins over the package's."""
    worked = lesson_with_template(tmp_path, "worksheet", ("worksheet", "questions for the yard"))
    assert template_folders(worked.lesson)[0].parent.name == "netherfold-two-ales"
    document = documents_for(worked, cautions_of(worked), ["worksheet"])[0]
    assert "questions for the yard" in document.page_text
