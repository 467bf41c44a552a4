"""A sheet of the library as a whole (its catalogue): printed, read back, and put in its place in one move.

In: page text and what the sheet says of itself. Out: a PDF file; or a Problem, and nothing written.
"""

from __future__ import annotations

import io
import os
import tempfile
from pathlib import Path

import pypdf

from presenter.documents.page_text import PageTextError, read_page_text
from presenter.printing import MissingLettersError, PictureError, Setting, SheetAbout, print_sheet
from presenter.problems import Place, Problem, ProblemsFoundError
from presenter.releasing.reading_back import folded, visible_text
from presenter.releasing.release import Released

__all__ = ["release_text"]


def release_text(
    page_text: str, about: SheetAbout, setting: Setting, target: Path, must_show: tuple[str, ...]
) -> Released:
    """Print ``page_text`` and move it to ``target``, once each line of ``must_show`` has been read back from it.

    Raises ProblemsFoundError, having written nothing, for page text that cannot be read, letters that the type lacks,
    or a line that a reader would not see.
    """
    place = Place(f"templates/{target.stem}.md.j2")
    try:
        pdf = print_sheet(read_page_text(page_text), about, setting)
    except (PageTextError, MissingLettersError, PictureError) as error:
        raise ProblemsFoundError((Problem(place, target.name, "", str(error)),)) from None
    seen = visible_text(pdf)
    lost = [line for line in must_show if folded(line) not in seen]
    if lost:
        wrong = f"The {about.kind.lower()} does not show: “{lost[0]}”"
        raise ProblemsFoundError((Problem(place, target.name, "", wrong, "Put it back into the template."),))
    target.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=target.parent, prefix=".sheets-") as beside:
        (Path(beside) / target.name).write_bytes(pdf)
        os.replace(Path(beside) / target.name, target)
    return Released(about.kind, target, len(pypdf.PdfReader(io.BytesIO(pdf)).pages), len(pdf))
