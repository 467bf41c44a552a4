"""Letters that no sheet could print, found in the author's own text before anything is drawn.

In: the lesson's text and its file, or a document whose words hold such letters. Out: a Problem for each line, note or
template that holds a letter which the sheets' type lacks.
"""

from __future__ import annotations

from collections.abc import Iterable

from presenter.documents import Document
from presenter.printing import missing_letters
from presenter.problems import Place, Problem

__all__ = ["problems_of_document", "problems_of_letters"]

_REMEDY = "Write the word in other letters."


def _wrong(lacking: tuple[str, ...]) -> str:
    return f"No sheet can print {', '.join(lacking)}: the type lacks {'it' if len(lacking) == 1 else 'them'}."


def problems_of_letters(text: str, file: str) -> list[Problem]:
    """Each line of a file, outside its comments, that holds letters the type lacks."""
    problems = []
    for number, line in enumerate(text.splitlines(), start=1):
        if line.lstrip().startswith("#"):
            continue
        lacking = missing_letters(line)
        if lacking:
            column = min(line.index(letter) for letter in lacking) + 1
            problems.append(Problem(Place(file, number, column), "", "", _wrong(lacking), _REMEDY))
    return problems


def problems_of_document(document: Document, letters: Iterable[str]) -> list[Problem]:
    """Where letters that the type lacks came from: the notes that hold them, the template, else the lesson's file."""
    wanted = set(letters)
    problems = []
    for note in document.lesson.notes.values():
        words = " ".join((note.title, note.say, note.do_not_say, note.say_instead))
        lacking = tuple(letter for letter in missing_letters(words) if letter in wanted)
        if lacking:
            problems.append(Problem(note.place, f"{note.about} note {note.id}", "", _wrong(lacking), _REMEDY))
            wanted -= set(lacking)
    if wanted and document.template.is_file():
        found = problems_of_letters(document.template.read_text(encoding="utf-8"), str(document.template))
        problems += found
        wanted -= {letter for problem in found for letter in wanted if letter in problem.wrong}
    if wanted:
        place = Place(document.lesson.path.name)
        problems.append(Problem(place, "", "", _wrong(tuple(sorted(wanted))), _REMEDY))
    return problems
