"""Where a lesson's file lies: in the folder that is named, or beside another lesson.

In: a folder or a file, or the name of a lesson as another one writes it. Out: the lesson's file, or a Problem.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from presenter.problems import Place, Problem, ProblemsFoundError

__all__ = ["lesson_beside", "lesson_in", "lesson_path", "lessons_beside"]

USUAL = "lesson.yaml"

# Files of a library that hold no lesson, and what to do with them.
_OTHER_FILES = {
    "library.yaml": "what holds for a whole library",
    "sources.yaml": "a list of sources",
}


def _refuse_no_lesson(path: Path) -> None:
    """One Problem where a file is one of a library's others, rather than one for each of its keys."""
    words = _OTHER_FILES.get(path.name)
    if path.parent.name in {"science", "history"} and path.parent.parent.name == "notes":
        words = "notes"
    if path.parent.name == "days":
        words = "a day of a lesson"
    if words is not None:
        wrong = f"This file holds {words}, and no lesson."
        remedy = "Name the lesson's folder; what it takes from this file is checked with it."
        raise ProblemsFoundError((Problem(Place(str(path), 0, 0), "", "", wrong, remedy),))


def _files_in(folder: Path) -> list[Path]:
    """The ``lesson.yaml`` of a folder, else every YAML file in it that may be a lesson."""
    if (folder / USUAL).is_file():
        return [folder / USUAL]
    return sorted(path for path in folder.glob("*.yaml") if path.name not in _OTHER_FILES)


def lesson_in(folder: Path) -> Path | None:
    """The file of the lesson in ``folder``; nothing where there is none, or more than one."""
    found = _files_in(folder) if folder.is_dir() else []
    return found[0] if len(found) == 1 else None


def lesson_path(given: Path) -> Path:
    """The lesson's file: ``given`` itself, or the ``lesson.yaml`` (else the one YAML file) in that folder.

    Raises ProblemsFoundError where there is none, or more than one.
    """
    if given.is_file():
        _refuse_no_lesson(given)
        return given
    if not given.is_dir():
        raise ProblemsFoundError((Problem(Place(str(given), 0, 0), "", "", "There is no such file or folder."),))
    found = _files_in(given)
    if len(found) == 1:
        return found[0]
    wrong = (
        "There is no lesson.yaml in this folder." if not found else "There is more than one YAML file in this folder."
    )
    raise ProblemsFoundError((Problem(Place(str(given), 0, 0), "", "", wrong, "Name the lesson's file itself."),))


def _above(folder: Path, top: Path | None) -> Iterator[Path]:
    """The folders in which a lesson looks for another: the one that holds its own folder, then the library's."""
    yield folder.parent
    if top is not None and top.resolve() != folder.parent.resolve():
        yield top


def lesson_beside(name: str, folder: Path, top: Path | None) -> Path | None:
    """The file of the lesson that the one in ``folder`` calls ``name``, its folder; nothing where there is none.

    It is looked for beside the lesson, then from ``top``, the library's folder, down; never outside of these.
    """
    parts = PurePosixPath(name).parts
    if not parts or ".." in parts or PurePosixPath(name).is_absolute():
        return None
    for above in _above(folder, top):
        found = lesson_in(above.joinpath(*parts))
        if found is not None:
            return found
    return None


def lessons_beside(folder: Path, top: Path | None) -> list[str]:
    """The names under which the lesson in ``folder`` may call the lessons beside it and right below ``top``."""
    names = {
        each.name
        for above in _above(folder, top)
        for each in (above.iterdir() if above.is_dir() else ())
        if each.is_dir() and each.name not in {"notes", "templates"} and lesson_in(each) is not None
    }
    return sorted(names - {folder.name})
