"""Numbers in a list that share the unit of the last.

In: the first number and a way to read the next. Out: the terms of the list, each with the unit.
"""

from __future__ import annotations

from collections.abc import Callable

from presenter.speech.numbers_said import Words
from presenter.speech.terms import Term

__all__ = ["list_of_terms"]


def list_of_terms(said: Words, first: Term, one: Callable[[int], Term | None]) -> list[Term]:
    """Numbers in a list that share the unit of the last: "at ten and at twenty minutes"; empty where none does."""
    if said.word(first.start) == "one" or said.word(first.start - 1) in {
        "the",
        "this",
        "that",
        "those",
        "these",
        "both",
        "all",
    }:
        return []
    terms, last_link = [first], ""
    while not terms[-1].unit and len(terms) < 6:
        at = terms[-1].end
        last_link = said.word(at)
        if last_link not in {"and", ",", "then"}:
            return []
        at += 1
        while said.word(at) in {"and", "at", "after", "then", "again", "for"}:
            last_link = "and" if said.word(at) == "and" else last_link
            at += 1
        term = one(at)
        if term is None or term.unit in {"gravity", "year"} or term.kind == "article":
            return []
        terms.append(term)
    if last_link != "and" or not terms[-1].unit:
        return []
    return [term.with_unit(terms[-1].unit) for term in terms]
