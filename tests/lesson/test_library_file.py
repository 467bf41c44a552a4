"""The library's file: what it gives to a lesson below it, what a lesson overrides, and what neither can move."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from presenter.cautions import Cautioned, cautions_of
from presenter.documents import documents_for
from presenter.lesson import Lesson, demo_folder, load_lesson
from presenter.problems import ProblemsFoundError
from presenter.releasing import release
from presenter.working import WorkedLesson, work_out

BASE = (Path(__file__).parent / "wrong" / "base.yaml").read_text(encoding="utf-8")
PLAIN = BASE.replace("hold: enzymes-at-work", "hold: our choice").replace("[enzymes-at-work]", "[]")
PLAIN = PLAIN.replace("[barm-was-shared]", "[]")
LIBRARY = """
name: Harrowmere Open-Air Museum (invented)
people: {presenter: Maud Tilling (invented)}
address: https://harrowmere.example/
paper: Letter
measures: us
audience: {youngest: 12, tasting: none}
site: {altitude: 90 m, who brews: museum}
law:
  - {say: Ask the council before you pour for anyone., look again: 2027-01-31}
  - Nobody under the legal age may taste.
kit:
  thermometer: {right within: 2 degC}
  fermenting crock: {of: glazed stoneware, holds: 15 L}
  spare tub: {of: oak, holds: 40 L}
ingredients:
  harrowmere malt: {what: pale barley malt, extract: 70 percent, moisture: 5 percent, rests on: "own analysis: sack 12"}
values: {mash yield: 80 percent}
series: {bread and drink: [one, two]}
"""


def lesson_of(tmp_path: Path, text: str = PLAIN, library: str = LIBRARY) -> Lesson:
    (tmp_path / "library.yaml").write_text(library, encoding="utf-8")
    (tmp_path / "one").mkdir(exist_ok=True)
    (tmp_path / "one" / "lesson.yaml").write_text(text, encoding="utf-8")
    return load_lesson(tmp_path / "one")


def worked(tmp_path: Path, text: str = PLAIN, library: str = LIBRARY) -> WorkedLesson:
    return work_out(lesson_of(tmp_path, text, library))


def test_a_lesson_takes_from_the_library_what_it_does_not_say(tmp_path: Path) -> None:
    """This test ensures that paper, measures, audience, site, address, people and law come from the library."""
    lesson = lesson_of(tmp_path)
    assert (lesson.paper, lesson.measures, lesson.address) == ("Letter", "us", "https://harrowmere.example/")
    assert lesson.file.audience.youngest == 12
    assert lesson.file.audience.tasting == "none"
    assert lesson.file.site.altitude is not None
    assert lesson.house.people == {"presenter": "Maud Tilling (invented)"}
    assert lesson.house.law == ("Ask the council before you pour for anyone.", "Nobody under the legal age may taste.")
    assert lesson.house.shared is not None
    assert lesson.house.shared.law[0].look_again == datetime.date(2027, 1, 31)
    assert lesson.house.shared.law[1].look_again is None


def test_a_lesson_overrides_the_library_by_saying_so(tmp_path: Path) -> None:
    """This test ensures that what a lesson says itself stands, field by field."""
    own = (
        "paper: A4\nmeasures: metric\naddress: https://own.example/\nlaw: Ask me.\naudience: {tasting: adults of legal"
        " age}\npeople: {presenter: Edric Sallow (invented)}\n"
    )
    lesson = lesson_of(tmp_path, PLAIN + own)
    assert (lesson.paper, lesson.measures, lesson.address) == ("A4", "metric", "https://own.example/")
    assert lesson.file.audience.youngest == 12
    assert lesson.file.audience.tasting == "adults of legal age"
    assert lesson.house.law == ("Ask me.",)
    assert lesson.house.people["presenter"] == "Edric Sallow (invented)"


def test_vessels_of_the_house_may_be_used_by_name(tmp_path: Path) -> None:
    """This test ensures that a vessel of the library's kit is there for a step that names it, and only then."""
    text = PLAIN.replace("    within: 40 min\n", "    within: 40 min\n    in: fermenting crock\n")
    kit = lesson_of(tmp_path, text).file.kit
    assert kit["fermenting crock"].holds is not None  # type: ignore[index]
    assert "spare tub" not in kit
    small = LIBRARY.replace("holds: 15 L", "holds: 3 L")
    with pytest.raises(ProblemsFoundError, match="the fermenting crock holds 3 L"):
        worked(tmp_path, text, small)


def test_a_shared_ingredient_brings_the_authors_own_analysis(tmp_path: Path) -> None:
    """This test ensures that the library's extract is worked with and named, and that a lesson's own wins over it."""
    shared = worked(tmp_path, PLAIN.replace("what: pale barley malt", "what: Harrowmere malt"))
    extract = shared.numbers["lesson.malt-extract"]
    assert float(extract.quantity.magnitude) == 70
    assert extract.origin is not None
    assert extract.origin.evidence == "own analysis: sack 12"
    assert extract.origin.place is not None
    assert extract.origin.place.file.endswith("library.yaml")
    own = worked(tmp_path, PLAIN.replace("what: pale barley malt", "what: harrowmere malt, extract: 60 percent"))
    assert float(own.numbers["lesson.malt-extract"].quantity.magnitude) == 60


def test_a_law_line_of_the_lesson_moves_no_caution(tmp_path: Path) -> None:
    """This test ensures that law lines, audience and people change no mandatory caution that the steps raise."""
    plain = cautions_of(worked(tmp_path))
    own = cautions_of(worked(tmp_path, PLAIN + "law: []\npeople: {presenter: Nobody}\npaper: A4\n"))

    def mandatory(found: Cautioned) -> set[tuple[str, str]]:
        stand = {("sheet", line.words) for line in found.lines_on_sheet().lines if line.mandatory}
        return stand | {
            (step, line.words) for step in found.steps for line in found.lines_at_step(step).lines if line.mandatory
        }

    assert mandatory(plain)
    assert mandatory(own) == mandatory(plain)
    with pytest.raises(ProblemsFoundError, match="There is no key cautions in the library"):
        lesson_of(tmp_path, library=LIBRARY + "cautions: none\n")
    with pytest.raises(ProblemsFoundError, match="There is no key cautions in the lesson"):
        lesson_of(tmp_path, PLAIN + "cautions: none\n")


def test_a_template_of_the_library_moves_no_mandatory_caution(tmp_path: Path) -> None:
    """This test ensures that a library's own template without a caution releases no sheet, and says why."""
    given = (demo_folder("templates") / "handout.md.j2").read_text(encoding="utf-8")
    (tmp_path / "templates").mkdir()
    assert "{{ step.cautions() }}" in given
    (tmp_path / "templates" / "handout.md.j2").write_text(given.replace("{{ step.cautions() }}", ""), encoding="utf-8")
    lesson = worked(tmp_path)
    cautioned = cautions_of(lesson)
    with pytest.raises(ProblemsFoundError, match="lacks the mandatory caution"):
        release(documents_for(lesson, cautioned, ["handout"]), cautioned, tmp_path / "sheets")
    assert not (tmp_path / "sheets").exists()


@pytest.mark.parametrize(
    ("library", "told"),
    [
        ("paper: A5\n", "A5 is not one of the words allowed here: A4, Letter."),
        ("law: [{say: Ask., look again: soon}]\n", "soon is no date."),
        ("ingredients: {malt: {extract: 70 percent}}\n", "The key what is missing from ingredients.malt."),
        ("kit: {thermometre: {right within: 1 degC}}\n", "thermometre is none that this toolkit knows."),
        ("audience: {yungest: 12}\n", "There is no key yungest in audience."),
    ],
)
def test_a_wrong_library_is_told(tmp_path: Path, library: str, told: str) -> None:
    """This test ensures that the library's new keys are checked like a lesson's, at the library's file."""
    with pytest.raises(ProblemsFoundError) as caught:
        lesson_of(tmp_path, library=library)
    assert len(caught.value.problems) == 1
    assert told in caught.value.problems[0].wrong
    assert caught.value.problems[0].place.file.endswith("library.yaml")


def test_a_changed_library_is_read_anew(tmp_path: Path) -> None:
    """This test ensures that nothing of an earlier reading stands once the library's file has changed."""
    assert lesson_of(tmp_path).paper == "Letter"
    assert lesson_of(tmp_path, library=LIBRARY.replace("paper: Letter", "paper: A4")).paper == "A4"
