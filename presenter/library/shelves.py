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

__all__ = ["LessonShelf", "Shelf", "combined_mark", "mark_of", "marks_of", "package_mark", "shelf_in"]

DEEPEST = 3  # folders below the library in which lessons are looked for
SHARED = ("notes", "templates")
NOT_LOOKED_INTO = {"sheets", "node_modules", "__pycache__"}


@dataclass(frozen=True)
class LessonShelf:
    """One lesson of a library: its name (its folder, from the library down), its file, and every file beside it."""

    name: str
    path: Path
    files: tuple[Path, ...]


@dataclass(frozen=True)
class Shelf:
    """A library: its folder, its lessons by name, and the files that all of them share."""

    folder: Path
    lessons: tuple[LessonShelf, ...]
    shared: tuple[Path, ...]
    library: Path | None = None

    def files(self) -> tuple[Path, ...]:
        """Every file of the library, the shared ones first."""
        return (*self.shared, *(path for lesson in self.lessons for path in lesson.files))

    @property
    def top(self) -> Path:
        """The folder that holds what is shared: that of ``library.yaml``, else the library's own."""
        return self.library.parent if self.library is not None else self.folder


def shelf_in(folder: Path) -> Shelf:
    """The library in ``folder``. Raises ProblemsFoundError where there is no such folder."""
    if not folder.is_dir():
        wrong = "There is no such folder." if not folder.exists() else "A library is a folder of lessons."
        raise ProblemsFoundError((Problem(Place(str(folder), 0, 0), "", "", wrong),))
    library = library_above(folder.resolve())
    if library is not None and library.parent == folder.resolve():
        library = folder / "library.yaml"
    top = library.parent if library is not None else folder
    shared = [path for name in SHARED for path in _below(top / name)]
    shared += [path for path in (top / "library.yaml", top / "sources.yaml") if path.is_file()]
    return Shelf(folder, tuple(sorted(_lessons(folder, folder, 0), key=lambda one: one.name)), tuple(shared), library)


def _lessons(folder: Path, top: Path, depth: int) -> Iterator[LessonShelf]:
    with os.scandir(folder) as entries:
        listed = sorted(entries, key=lambda entry: entry.name)
    if any(entry.name == "lesson.yaml" for entry in listed):
        name = folder.relative_to(top).as_posix() if folder != top else folder.resolve().name
        yield LessonShelf(name, folder / "lesson.yaml", tuple(_below(folder)))
        return
    if depth == DEEPEST:
        return
    for entry in listed:
        passed_by = entry.name in NOT_LOOKED_INTO or entry.name in SHARED or entry.name.startswith(".")
        if entry.is_dir() and not passed_by:
            yield from _lessons(folder / entry.name, top, depth + 1)


def _below(folder: Path) -> list[Path]:
    """Every file in ``folder`` and below it that is not hidden, in order."""
    found: list[Path] = []
    for here, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith(".") and name not in NOT_LOOKED_INTO)
        found += [Path(here, name) for name in sorted(files) if not name.startswith(".")]
    return found


def mark_of(content: bytes) -> str:
    """The content mark of one file."""
    return hashlib.sha256(content).hexdigest()


def marks_of(paths: Iterable[Path]) -> dict[str, str]:
    """The content mark of each file; one that has gone away meanwhile has none."""
    found: dict[str, str] = {}
    for path in paths:
        try:
            with open(path, "rb") as file:
                found[str(path)] = hashlib.sha256(file.read()).hexdigest()
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
    templates = marks_of(sorted(demo_folder("templates").glob("*")))
    stands = []
    for path in sorted(package.rglob("*")):
        if path.suffix in {".py", ".yaml", ".txt"}:
            found = path.stat()
            stands.append(f"{path.relative_to(package)} {found.st_size} {found.st_mtime_ns}")
    return combined_mark([version("historical-brewing-presenter"), *templates.values(), *stands])
