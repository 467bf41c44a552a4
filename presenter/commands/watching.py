"""Watch what a lesson is made of, for ``presenter check --watch``: its files are looked at twice a second.

In: a lesson's path. Out: a word each time that one of its files, or of the library's shared files, has changed.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path

__all__ = ["changes_of", "files_of"]

EVERY = 0.5  # seconds


def files_of(lesson: Path) -> dict[str, tuple[int, int]]:
    """Size and time of every file that a lesson rests on: its folder's, and its library's notes, sources, templates."""
    from presenter.lesson.library_file import library_above
    from presenter.library.shelves import files_below

    folder = lesson if lesson.is_dir() else lesson.parent
    found = list(files_below(str(folder)))
    library = library_above(folder.resolve())
    if library is not None:
        found += [str(library), str(library.parent / "sources.yaml")]
        for name in ("notes", "templates"):
            if (library.parent / name).is_dir():
                found += files_below(str(library.parent / name))
    stands = {}
    for path in found:
        try:
            stat = os.stat(path)
        except FileNotFoundError:
            continue
        stands[path] = (stat.st_size, stat.st_mtime_ns)
    return stands


def changes_of(lesson: Path, sleep: Callable[[float], object] = time.sleep) -> Iterator[None]:
    """Once at the beginning, and then once after every change; it ends with the keyboard's interrupt."""
    before = files_of(lesson)
    yield
    while True:
        try:
            sleep(EVERY)
        except KeyboardInterrupt:
            return
        now = files_of(lesson)
        if now != before:
            before = now
            yield
