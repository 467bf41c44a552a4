"""Which files a library is made of, and the content mark of each.

In: a folder of lessons, each lesson a folder with a ``lesson.yaml``. Out: a :class:`Shelf` with the lessons' own files
and the files that they share; :func:`marks_of` reads and hashes them all, which is how change is noticed.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from importlib.metadata import version
from pathlib import Path

from presenter.lesson import demo_folder
from presenter.lesson.library_file import library_above
from presenter.problems import Place, Problem, ProblemsFoundError

__all__ = ["LessonShelf", "Shelf", "combined_mark", "files_below", "mark_of", "marks_of", "package_mark", "shelf_in"]

DEEPEST = 3  # folders below the library in which lessons are looked for
SHARED = ("notes", "templates")
NOT_LOOKED_INTO = {"sheets", "node_modules", "__pycache__"}


@dataclass(frozen=True)
class LessonShelf:
    """One lesson of a library: its name (its folder, from the library down), and every file in its folder and below."""

    name: str
    folder: str
    files: tuple[str, ...]

    @property
    def path(self) -> Path:
        """The lesson's file."""
        return Path(self.folder, "lesson.yaml")


@dataclass(frozen=True)
class Shelf:
    """A library: its folder, its lessons by name, and the files that all of them share, as paths in plain text."""

    folder: Path
    lessons: tuple[LessonShelf, ...]
    shared: tuple[str, ...]
    library: Path | None = None

    def files(self) -> tuple[str, ...]:
        """Every file of the library, the shared ones first."""
        return (*self.shared, *(path for lesson in self.lessons for path in lesson.files))

    @property
    def top(self) -> Path:
        """The folder that holds what is shared: that of ``library.yaml``, else the library's own."""
        return self.library.parent if self.library is not None else self.folder

    def from_top(self, path: str) -> str:
        """A shared file's path from the top down: the same wherever the library lies."""
        return path.removeprefix(str(self.top)).lstrip(os.sep)


def shelf_in(folder: Path) -> Shelf:
    """The library in ``folder``. Raises ProblemsFoundError where there is no such folder."""
    if not folder.is_dir():
        wrong = "There is no such folder." if not folder.exists() else "A library is a folder of lessons."
        raise ProblemsFoundError((Problem(Place(str(folder), 0, 0), "", "", wrong),))
    library = library_above(folder.resolve())
    if library is not None and library.parent == folder.resolve():
        library = folder / "library.yaml"
    top = library.parent if library is not None else folder
    shared = [path for name in SHARED if (top / name).is_dir() for path in files_below(str(top / name))]
    shared += [str(path) for path in (top / "library.yaml", top / "sources.yaml") if path.is_file()]
    lessons = [LessonShelf(_name(found, folder), found, files) for found, files in _lessons(str(folder), 0)]
    return Shelf(folder, tuple(sorted(lessons, key=lambda one: one.name)), tuple(shared), library)


def _name(found: str, folder: Path) -> str:
    """A lesson's name: its folder from the library down, or the folder's own where the library is the lesson."""
    return found.removeprefix(str(folder)).strip(os.sep).replace(os.sep, "/") or folder.resolve().name


def _listed(folder: str) -> tuple[list[str], list[str]]:
    """The files and the folders in ``folder`` that are not hidden, in order."""
    files: list[str] = []
    folders: list[str] = []
    with os.scandir(folder) as entries:
        for entry in entries:
            if not entry.name.startswith("."):
                (folders if entry.is_dir() else files).append(entry.name)
    return sorted(files), sorted(folders)


def _lessons(folder: str, depth: int) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every folder with a ``lesson.yaml``, ``folder`` itself or below it, with every file of it."""
    files, folders = _listed(folder)
    if "lesson.yaml" in files:
        yield folder, tuple(_all_of(folder, files, folders))
    elif depth < DEEPEST:
        for name in folders:
            if name not in NOT_LOOKED_INTO and name not in SHARED:
                yield from _lessons(f"{folder}{os.sep}{name}", depth + 1)


def files_below(folder: str) -> Iterator[str]:
    """Every file in ``folder`` and below it that is not hidden, in order."""
    return _all_of(folder, *_listed(folder))


def _all_of(folder: str, files: list[str], folders: list[str]) -> Iterator[str]:
    for name in files:
        yield f"{folder}{os.sep}{name}"
    for name in folders:
        if name not in NOT_LOOKED_INTO:
            yield from files_below(f"{folder}{os.sep}{name}")


def mark_of(content: bytes) -> str:
    """The content mark of one file."""
    return hashlib.sha256(content).hexdigest()


def marks_of(paths: Iterable[str]) -> dict[str, str]:
    """The content mark of each file; one that has gone away meanwhile has none."""
    found: dict[str, str] = {}
    for path in paths:
        try:
            with open(path, "rb") as file:
                found[path] = hashlib.sha256(file.read()).hexdigest()
        except FileNotFoundError:
            continue
    return found


def combined_mark(parts: Iterable[str]) -> str:
    """One mark of many parts, in their order."""
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


@cache
def package_mark() -> str:
    """A mark of the package itself: its version, its templates' contents, and how its files stand on the disk.

    The last is for those who work on the package: what an older copy of it found is never taken for found now.
    """
    package = Path(__file__).parents[1]
    templates = marks_of(sorted(map(str, demo_folder("templates").glob("*"))))
    stands = []
    for path in sorted(package.rglob("*")):
        if path.suffix in {".py", ".yaml", ".txt"}:
            found = path.stat()
            stands.append(f"{path.relative_to(package)} {found.st_size} {found.st_mtime_ns}")
    return combined_mark([version("historical-brewing-presenter"), *templates.values(), *stands])
