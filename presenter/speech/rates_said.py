"""Where the lower part of a rate stands: "five grams a litre", "thirty grams of honey to the litre".

In: the words of a talk and the index after a unit. Out: the index of the unit below the line, or nothing.
"""

from __future__ import annotations

from presenter.speech.numbers_said import Words
from presenter.speech.units_said import unit_at

__all__ = ["lower_part"]


def lower_part(said: Words, end: int) -> int | None:
    """The index of the unit below the line of a rate, or nothing."""
    word = said.word(end)
    if word in {"a", "an", "per", "/", "each", "every"}:
        return end + 1
    if word == "of":  # "thirty grams of honey to the litre"
        for ahead in range(end + 2, min(end + 6, len(said.words))):
            if said.kinds[ahead] != "word" or said.words[ahead] in {"and", "in", "at", "with"}:
                return None
            if said.words[ahead] == "per":
                return ahead + 1
            if said.words[ahead] in {"to", "for"} and said.word(ahead + 1) in {"the", "each", "every"}:
                return ahead + 2
            unit = unit_at(said, ahead + 1, False) if said.words[ahead] == "a" else None
            if unit is not None:  # but not "a litre of water to a litre of wort"
                return None if said.word(unit.end) == "of" else ahead + 1
        return None
    if word in {"to", "for", "in"} and said.word(end + 1) in {"the", "each", "every"}:
        return end + 2
    if word == "to" and said.word(end + 1) in {"a", "an"}:
        return end + 2
    return None
