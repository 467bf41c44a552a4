"""Allergens: which of the fourteen groups of the European list an ingredient brings.

In: names of ingredients. Out: the groups, and for each ingredient how sure it is and by what source. Nothing is
rounded away: "possible" and "likely" count as present, and a name that is not known is an error, never a blank.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from presenter.science.composition import table
from presenter.science.ingredients import ingredient_named

__all__ = ["AllergenFact", "allergen_facts", "allergen_groups", "allergens_of"]


@dataclass(frozen=True)
class AllergenFact:
    """What one ingredient brings. ``how_sure`` is always, likely, possible, exempt or none; ``remark`` what else
    its row says (an exemption, a cross-reaction), whose status is ``status``."""

    ingredient: str
    what: str
    group: str
    how_sure: str
    remark: str
    source: str
    status: str

    @property
    def present(self) -> bool:
        """Whether it counts as present: it has a group, however unsure."""
        return bool(self.group)


def allergen_groups() -> tuple[str, ...]:
    """The fourteen groups, in the order of the list."""
    return tuple(str(group) for group in table("allergens")["groups"])


def allergen_facts(names: Iterable[str]) -> tuple[AllergenFact, ...]:
    """Everything that the table says of the named ingredients, in their order.

    Raises UnknownIngredientError for a name that is no ingredient.
    """
    rows = table("allergens")["rows"]
    found: list[AllergenFact] = []
    for name in names:
        ingredient = ingredient_named(name)
        for key in ingredient.allergen_rows:
            row = rows[key]
            found.append(
                AllergenFact(
                    ingredient=ingredient.name,
                    what=str(row["what"]),
                    group=str(row.get("group", "")),
                    how_sure=str(row["how_sure"]),
                    remark=str(row.get("remark", "")),
                    source=str(row.get("source", "")),
                    status=str(row["status"]),
                )
            )
    return tuple(found)


def allergens_of(names: Iterable[str]) -> set[str]:
    """The allergen groups that the named ingredients bring together, possible ones included.

    Raises UnknownIngredientError for a name that is no ingredient.

    >>> sorted(allergens_of(["pale barley malt", "raisins"]))
    ['cereals containing gluten', 'sulphur dioxide and sulphites']
    """
    return {fact.group for fact in allergen_facts(names) if fact.present}
