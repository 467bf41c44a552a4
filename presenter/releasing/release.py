"""The only writer of sheets: print, read back, check every mandatory caution at its place, then move all in at once.

In: documents in page text with the cautions of their lesson. Out: PDF files in their folder; or nothing at all, and
Problems that name the caution, the sheet and how to get it back.
"""

from __future__ import annotations

import io
import os
import tempfile
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

import pypdf

from presenter.cautions import Cautioned
from presenter.documents import Document
from presenter.documents.page_text import PageTextError, read_page_text
from presenter.printing import MissingLettersError, PictureError, Setting, SheetAbout, print_sheet
from presenter.problems import Place, Problem, ProblemsFoundError
from presenter.releasing.letters import problems_of_document
from presenter.releasing.reading_back import folded, visible_text

__all__ = ["Released", "missing_cautions", "release"]


@dataclass(frozen=True)
class Released:
    """One sheet that was written: its kind in words, where it lies, its pages (none for a text) and bytes."""

    kind: str
    path: Path
    pages: int
    size: int


def _template_place(document: Document) -> Place:
    return Place(str(document.template))


def missing_cautions(document: Document, cautioned: Cautioned, text: str) -> list[Problem]:
    """A Problem for each mandatory caution that ``text``, as read back, lacks at its place."""
    problems = []
    for line in cautioned.lines_on_sheet().lines:
        if line.mandatory and folded(line.words) not in text:
            problems.append(
                _lost(document, line.stands_for[0], "on the sheet", "{{ sheet.sheet_cautions() }}", line.words)
            )
    if not document.kind.tells_steps:
        return problems
    sections = _sections(document, text)
    for index, step in enumerate(document.lesson.steps, start=1):
        section = sections.get(step.id, "")
        for line in cautioned.lines_at_step(step.id).lines:
            if line.mandatory and folded(line.words) not in section:
                where = f"beside step {index}, {step.name}"
                by = document.kind.cautions_by
                problems.append(_lost(document, line.stands_for[0], where, by, line.words))
    return problems


def _lost(document: Document, caution: str, where: str, block: str, words: str) -> Problem:
    wrong = f"The {document.words.lower()} lacks the mandatory caution {caution} {where}: “{words}”"
    remedy = f"Put {block} back into the template, at that place, or take away your own {document.kind.template}."
    return Problem(_template_place(document), f"{document.name}.pdf", "", wrong, remedy)


def _sections(document: Document, text: str) -> dict[str, str]:
    """The text from each step's heading to the next step's heading; empty where a heading is missing."""
    starts: list[tuple[str, int]] = []
    position = 0
    for index, step in enumerate(document.lesson.steps, start=1):
        for head in _heads(index, folded(str(step.name))):
            at = text.find(head, position)
            if at >= 0:
                starts.append((step.id, at))
                position = at + len(head)
                break
    ends = [*(start for _, start in starts[1:]), len(text)][: len(starts)]
    return {step_id: text[start:end] for (step_id, start), end in zip(starts, ends, strict=True)}


def _heads(index: int, name: str) -> tuple[str, ...]:
    """A step's heading as a sheet, a table's row and a text of its own write it; the bare name last.

    A step may be called Boil or Cool, words that cautions use: the bare name counts only where no heading is found.
    """
    return (f"{index}{name}", f",{index},{name},", f',{index},"{name}",', f"##{name}", name)


def _printed(document: Document, setting: Setting) -> bytes:
    file = document.lesson.file
    about = SheetAbout(
        title=f"{file.title}: {document.words.lower()}",
        author=str(file.author or ""),
        subject=str(file.scene),
        kind=document.words,
        date=file.date,
        foot=document.foot,
        running_head=str(file.title),
        folder=document.lesson.folder,
    )
    place = _template_place(document)
    try:
        return print_sheet(read_page_text(document.page_text), about, setting)
    except PageTextError as error:
        raise ProblemsFoundError((Problem(place, "", "", str(error)),)) from None
    except MissingLettersError as error:
        raise ProblemsFoundError(tuple(problems_of_document(document, error.letters))) from None
    except PictureError as error:
        raise ProblemsFoundError((Problem(place, "", error.path, str(error)),)) from None


def release(
    documents: Iterable[Document],
    cautioned: Cautioned,
    folder: Path,
    *,
    paper: str = "A4",
    print_size: str = "ordinary",
    progress: Callable[[str], None] = lambda _: None,
) -> list[Released]:
    """Print every document, read each back, and only then move all of them into ``folder``.

    Raises ProblemsFoundError, having written nothing into ``folder``, where a mandatory caution is missing.
    """
    printed: list[tuple[Document, bytes]] = []
    problems: list[Problem] = []
    for document in documents:
        progress(document.words)
        try:
            pdf = _printed(document, Setting(paper, document.kind.print or print_size, document.kind.layout))
        except ProblemsFoundError as error:
            problems += error.problems
            continue
        problems += missing_cautions(document, cautioned, visible_text(pdf))
        for _, text in document.beside:
            problems += missing_cautions(document, cautioned, folded(text.replace('""', '"')))
        printed.append((document, pdf))
    if problems:
        raise ProblemsFoundError(tuple(problems))
    folder.mkdir(parents=True, exist_ok=True)
    released = []
    with tempfile.TemporaryDirectory(dir=folder, prefix=".sheets-") as beside:
        for document, pdf in printed:
            (Path(beside) / f"{document.name}.pdf").write_bytes(pdf)
            for name, text in document.beside:
                (Path(beside) / name).write_bytes(text.encode())
        for document, pdf in printed:
            target = folder / f"{document.name}.pdf"
            os.replace(Path(beside) / target.name, target)
            pages = len(pypdf.PdfReader(io.BytesIO(pdf)).pages)
            released.append(Released(document.words, target, pages, len(pdf)))
            for name, text in document.beside:
                os.replace(Path(beside) / name, folder / name)
                released.append(Released(f"{document.words}, as text", folder / name, 0, len(text.encode())))
    return released
