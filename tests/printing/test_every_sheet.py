"""Every document of every demo lesson, on both papers, in both prints: checked, read back, and read as spoken.

The sheets are printed and checked by two processes, once for all tests of this file. The documents that are made where
nothing is asked for go through every setting; the others through two of the four, the other two on the next lesson,
so that the run stays short. With ``--every-sheet`` all go through all.
"""

from __future__ import annotations

import io
import multiprocessing
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import outloud
import pdfua
import pytest
from pypdf import PdfReader

from presenter.cautions import Cautioned, cautions_of
from presenter.documents import DOCUMENTS, Asked, documents_for
from presenter.documents import blocks as b
from presenter.documents.blocks import plain
from presenter.documents.page_text import read_page_text
from presenter.lesson import load_lesson
from presenter.printing import Setting, SheetAbout, print_sheet
from presenter.releasing.reading_back import folded
from presenter.working import WorkedLesson, work_out

LESSONS = sorted(path.parent for path in (Path(__file__).parents[2] / "lessons_demo").glob("*/lesson.yaml"))
SETTINGS = [(paper, size) for paper in ("A4", "Letter") for size in ("ordinary", "large")]
# Warnings of `outloud` that we let stand, each with its reason. Its errors never stand, and of pdfua nothing does.
ALLOWED = {
    # A card is cut out and read by itself: its foot says which card it is, so it is content, and it stands on each.
    ("cards", "PAG-001"): "the foot of a card is content",
    # A list that goes on to a second card is one element; the name repeated on that card is read after the list.
    ("cards", "ORD-001"): "what is repeated on a second card",
    # The marks of the steps stand upright over the edges of the bands: a chart, with its words, and no table.
    ("wall", "TBL-014"): "a chart's lines look like a ruled grid",
    # Steps begin with the same caution and questions end in the same words: by chance on three pages.
    ("pages", "PAG-001"): "lines that a lesson says again and again",
    # Forms to fill in by hand are tables with heads and labels, whose cells wait for a pen.
    ("pages", "TBL-012"): "cells of a form are empty until filled in",
}


@dataclass(frozen=True)
class Found:
    """What the checkers and the read-back found in one sheet."""

    errors: tuple[str, ...]
    skipped: tuple[str, ...]
    warnings: tuple[tuple[str, str], ...]
    blanks: tuple[str, ...]
    fonts: tuple[str, ...]
    marks: int
    pages: int


_FOLLOW: dict[str, Callable[[bytes], int]] = {}


@cache
def _lesson(folder: Path) -> tuple[WorkedLesson, Cautioned]:
    worked = work_out(load_lesson(folder))
    return worked, cautions_of(worked)


def _about(document: Any) -> SheetAbout:
    file = document.lesson.file
    return SheetAbout(
        f"{file.title}: {document.words.lower()}", str(file.author or ""), str(file.scene), document.words, file.date,
        document.foot, str(file.title), folder=document.lesson.folder,
    )  # fmt: skip


def _settings(folder: Path, name: str, every: bool) -> list[tuple[str, str]]:
    """The settings in which one document of one lesson is checked."""
    if every or DOCUMENTS[name].by_default:
        return SETTINGS
    turn = (LESSONS.index(folder) + list(DOCUMENTS).index(name)) % 2
    return [SETTINGS[0], SETTINGS[3]] if turn else [SETTINGS[1], SETTINGS[2]]


def _checked(
    folder: Path, name: str, scratch: str, settings: list[tuple[str, str]]
) -> dict[tuple[str, str, str], Found]:
    """All settings of one document of one lesson, printed and checked; runs in a process of its own."""
    found = {}
    for document in documents_for(*_lesson(folder), [name], Asked(versions=2 if name == "worksheet" else 1)):
        blocks = read_page_text(document.page_text)
        for paper, size in settings:
            pdf = print_sheet(blocks, _about(document), Setting(paper, size, document.kind.layout))
            path = Path(scratch) / f"{folder.name}-{document.name}-{paper}-{size}.pdf"
            path.write_bytes(pdf)
            found[document.name, paper, size] = _looked_at(path, pdf)
    return found


def _looked_at(path: Path, pdf: bytes) -> Found:
    report, result = pdfua.validate(str(path)), outloud.check(str(path))
    errors = [f"pdfua {each.rule_id}: {each.message}" for each in report.findings]
    errors += [f"outloud {each.rule}: {each.message}" for each in result.findings if each.severity == "error"]
    errors += [f"outloud: {result.error}"] if result.error else []
    warnings = [(each.rule, each.message) for each in result.findings if each.severity == "warning"]
    reader = PdfReader(io.BytesIO(pdf))
    blanks = [repr(letter) for page in reader.pages for letter in "\0\u25a0\ufffd" if letter in page.extract_text()]
    loose = [
        str(font.get_object()["/BaseFont"])
        for page in reader.pages
        for font in page["/Resources"].get("/Font", {}).values()
        if "/FontFile2" not in font.get_object()["/FontDescriptor"]
    ]
    skipped = tuple(f"{each.rule_id}: {each.skipped_reason}" for each in report.skipped)
    marks = _FOLLOW["marks"](pdf)
    return Found(tuple(errors), skipped, tuple(warnings), tuple(blanks), tuple(loose), marks, len(reader.pages))


Sheets = Mapping[tuple[str, str], "Future[dict[tuple[str, str, str], Found]]"]


@pytest.fixture(scope="module")
def sheets(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory, marks_hold: Callable[[bytes], int]
) -> Iterator[Sheets]:
    """Every document of every lesson, on its way."""
    _FOLLOW["marks"] = marks_hold
    every = bool(request.config.getoption("--every-sheet"))
    scratch = str(tmp_path_factory.mktemp("sheets"))
    with ProcessPoolExecutor(2, mp_context=multiprocessing.get_context("fork")) as pool:
        yield {
            (folder.name, name): pool.submit(_checked, folder, name, scratch, _settings(folder, name, every))
            for folder in LESSONS
            for name in DOCUMENTS
        }


@pytest.mark.parametrize("name", list(DOCUMENTS))
@pytest.mark.parametrize("folder", LESSONS, ids=lambda folder: folder.name)
def test_every_sheet_passes_the_checkers(folder: Path, name: str, sheets: Sheets) -> None:
    """This test ensures that a document passes both PDF/UA checkers on both papers and in both prints: no error, no
    rule skipped, no warning but those allowed with a reason; no letter is blank, all type is embedded, and every mark
    leads to its element and back."""
    found = sheets[folder.name, name].result(timeout=900)
    assert len(found) >= 2
    layout = DOCUMENTS[name].layout
    for sheet, each in found.items():
        assert each.errors == (), sheet
        assert each.skipped == (), sheet
        assert [warning for warning in each.warnings if (layout, warning[0]) not in ALLOWED] == [], sheet
        assert each.blanks == (), sheet
        assert each.fonts == (), sheet
        assert each.marks > 0, sheet


def test_what_is_allowed_has_a_reason() -> None:
    """This test ensures that no warning is allowed without words that say why."""
    assert all(len(reason.split()) >= 5 for reason in ALLOWED.values())


# --- as a screen reader reads it


def _spoken(block: Any) -> Iterator[str]:
    """The words of a block in the order in which the page text has them."""
    match block:
        case b.Heading():
            yield f"{block.number or ''} {plain(block.words)}".strip()
        case b.Text():
            yield plain(block.words)
        case b.ListBlock():
            for item in block.items:
                for part in item:
                    yield from _spoken(part)
        case b.Numbers():
            for row in sorted(block.rows, key=lambda row: not row.key):
                words = [row.value, row.label] if row.key else [row.label, row.value]
                yield from (plain(part) for part in (*words, row.give_or_take) if part)
        case b.Table():
            for row in (block.header, *block.rows):
                yield from (plain(cell) for cell in row if cell)
        case b.Caution():
            for part in block.body:
                yield from _spoken(part)
        case b.Note():
            yield plain(block.title)
            for part in block.body:
                yield from _spoken(part)
            yield from (plain(part) for part in (block.evidence, block.confidence, block.sources) if part)
        case b.Small():
            for part in block.body:
                yield from _spoken(part)
        case b.Chart() | b.Picture():
            if block.caption:
                yield plain(block.caption)


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="poppler's pdfinfo is not installed here")
@pytest.mark.parametrize("name", ["handout", "worksheet", "numbers-sheet", "wall-chart"])
def test_poppler_reads_the_page_text(name: str, demo: tuple[WorkedLesson, Cautioned], tmp_path: Path) -> None:
    """This test ensures that poppler's reading of the structure has every heading, sentence, number and table cell of
    the page text, in its order, with words apart."""
    document = documents_for(*demo, [name])[0]
    blocks = read_page_text(document.page_text)
    path = tmp_path / "sheet.pdf"
    path.write_bytes(print_sheet(blocks, _about(document), Setting("A4", "ordinary", document.kind.layout)))
    output = subprocess.run(["pdfinfo", "-struct-text", str(path)], capture_output=True, check=True).stdout.decode()
    spoken = " ".join("".join(re.findall(r'^\s*"(.*)"$', output, re.MULTILINE)).split()).replace("\u00a0", " ")
    at = count = 0
    for block in blocks:
        for words in _spoken(block):
            wanted = " ".join(words.replace("\u00a0", " ").split())
            if not wanted:
                continue
            place = spoken.find(wanted, at)
            assert place >= 0, wanted
            at, count = place + len(wanted), count + 1
    assert count > 8
    assert len(folded(spoken)) > 500
