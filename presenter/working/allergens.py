"""Allergens of a lesson: every group that any ingredient brings or may bring, none rounded away.

In: the lesson's ingredients. Out: :class:`AllergenLine` values, the groups of the European list in its order, each
with the ingredients that bring it; and the ingredients of which nothing is known.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from presenter.lesson.model import Lesson
from presenter.lesson.steps import slug
from presenter.science.allergens import allergen_facts, allergen_groups
from presenter.working.ingredients import known_ingredient

__all__ = ["AllergenLine", "allergen_lines", "ingredients_unknown_to_allergens"]

SULPHITES = "sulphur dioxide and sulphites"


@dataclass(frozen=True)
class AllergenLine:
    """One group: its name, the ingredients that bring it with how sure that is, remarks, and the sources."""

    group: str
    brought_by: tuple[tuple[str, str], ...]
    remarks: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def certain(self) -> bool:
        """Whether some ingredient always brings it."""
        return any(how_sure == "always" for _, how_sure in self.brought_by)


def allergen_lines(lesson: Lesson) -> tuple[AllergenLine, ...]:
    """The groups that the ingredients bring together, possible ones included."""
    facts = [
        (words, fact)
        for what, words in _everything_in(lesson)
        if (known := known_ingredient(what)) is not None
        for fact in allergen_facts([known.name])
        if fact.present
    ]
    salt = str(lesson.file.site.dechlorinate_with or "")
    lines = []
    for group in allergen_groups():
        found = [(what, fact) for what, fact in facts if fact.group == group]
        brought = [(what, fact.how_sure) for what, fact in found]
        if group == SULPHITES and re.search(r"sul(?:f|ph)ite|campden", salt.casefold()):
            brought.append((f"{salt} in the water", "possible"))
        if brought:
            lines.append(
                AllergenLine(
                    group,
                    tuple(dict.fromkeys(brought)),
                    tuple(dict.fromkeys(fact.remark for _, fact in found if fact.remark)),
                    tuple(dict.fromkeys(fact.source for _, fact in found if fact.source)),
                )
            )
    return tuple(lines)


def ingredients_unknown_to_allergens(lesson: Lesson) -> tuple[str, ...]:
    """The ingredients that no table knows, so that whoever serves reads their labels."""
    return tuple(
        words
        for what, words in _everything_in(lesson)
        if known_ingredient(what) is None and slug(what) not in lesson.loaves  # its dough is listed
    )


def _everything_in(lesson: Lesson) -> list[tuple[str, str]]:
    """Each ingredient, by its own name and as it is told; a loaf of another lesson by what is in its dough."""
    found = []
    for use in lesson.file.ingredients.values():
        if use.made_in is None:
            found.append((str(use.what), str(use.what)))
        found += [(str(each.what), f"{each.what} in the {use.what}") for each in lesson.dough_of(use)]
    return found
