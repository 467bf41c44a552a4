"""What is wrong with an author's file, as a value: where it stands, what was written, what is right.

In: the place, the words and the limits that a stage noticed. Out: :class:`Problem` values that print
themselves, and the package's error classes. Every stage may import this module; it imports nothing of ours.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, field

__all__ = [
    "BrewingPresenterError",
    "Place",
    "Problem",
    "ProblemsFoundError",
    "nearest",
]


class BrewingPresenterError(Exception):
    """The common root of every error that this package raises on purpose."""


@dataclass(frozen=True, order=True)
class Place:
    """A place in a file: ``file`` as the user knows it, ``line`` and ``column`` counted from 1; line 0 is no line."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong, with the nearest right thing.

    ``field`` is the path in the author's own words (``steps[2].reach``), ``written`` exactly what the author
    typed, ``wrong`` one sentence with the limit and its unit, ``remedy`` one suggestion or nothing.
    """

    place: Place
    field: str
    written: str
    wrong: str
    remedy: str = ""

    def told(self) -> str:
        """The problem as it is printed, several lines, without colour."""
        lines = [f"{self.place}  {self.field}".rstrip()]
        if self.written:
            key = self.field.rsplit(".", 1)[-1]
            head = f"    {key}: " if key and not key.endswith("]") else "    "
            first = self.written.splitlines()[0]
            lines.append(f"{head}{first}")
            lines.append(" " * len(head) + "^" * max(1, len(first)))
        lines.append(f"  {self.wrong}")
        if self.remedy:
            lines.append(f"  {self.remedy}")
        return "\n".join(lines)


@dataclass
class ProblemsFoundError(BrewingPresenterError):
    """Raised once, at the end of a stage, carrying every problem that the stage found."""

    problems: tuple[Problem, ...] = field(default_factory=tuple)

    def __post_init__(self) -> None:
        self.problems = tuple(sorted(self.problems, key=lambda problem: problem.place))
        super().__init__(self.told())

    def told(self) -> str:
        """All problems, in the order of their places, ready to print."""
        return "\n\n".join(problem.told() for problem in self.problems)

    def __str__(self) -> str:
        return self.told()


def nearest(word: str, known: Iterable[str], alike: float = 0.6) -> str:
    """The known word closest to ``word``, or an empty string when none is close; ``alike`` is 1 for the same word."""
    candidates = {candidate.casefold(): candidate for candidate in known}
    found = difflib.get_close_matches(word.casefold(), list(candidates), n=1, cutoff=alike)
    return candidates[found[0]] if found else ""
