"""Letters that no sheet could print, found in the author's own text before anything is drawn.

In: the lesson's text and its file. Out: a Problem for each line that holds a letter which the sheets' type lacks.
"""

from __future__ import annotations

from presenter.printing import missing_letters
from presenter.problems import Place, Problem

__all__ = ["problems_of_letters"]


def problems_of_letters(text: str, file: str) -> list[Problem]:
    """Each line of the lesson's file, outside its comments, that holds letters the type lacks."""
    problems = []
    for number, line in enumerate(text.splitlines(), start=1):
        if line.lstrip().startswith("#"):
            continue
        lacking = missing_letters(line)
        if lacking:
            column = min(line.index(letter) for letter in lacking) + 1
            wrong = f"No sheet can print {', '.join(lacking)}: the type lacks {'it' if len(lacking) == 1 else 'them'}."
            place = Place(file, number, column)
            problems.append(Problem(place, "", "", wrong, "Write the word in other letters."))
    return problems
