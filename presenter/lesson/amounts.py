"""How much of an ingredient: a mass, a volume, a spoon or cup, a number of pieces, or a wish.

In: the author's text ("3 kg", "2 cups", "4 slices", "enough for gravity 1.048"). Out: :class:`Stated`, or :class:`Wish`
where the amount is to be found; what one piece or one measure weighs is looked up by ``working``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import PlainValidator, WithJsonSchema

from presenter.lesson.fields import NOWHERE, Stated, plain_text, problem_sentence, sensible
from presenter.quantities import KINDS, Q, UnreadableQuantityError, quantity_from_text

__all__ = ["Amount", "StatedAmount", "Wish", "counted", "piece_word"]

# Words for a piece, as shops and kitchens use them; what each weighs, if anybody weighed it, is in a table.
_PIECES = (
    "packet", "slice", "cake", "fig", "date", "raisin", "grape", "raspberry", "cube", "can", "half", "wedge", "dash",
    "large", "medium", "small", "egg", "apple", "lemon", "orange", "box", "pita", "sachet", "stick", "clove",
)  # fmt: skip
_COUNTED = re.compile(r"^(?P<number>[\d.,/ ½¼¾]+?)\s*(?P<word>[a-z][a-z ,-]*)$", re.IGNORECASE)
_BEGINS = re.compile(r"^enough\b", re.IGNORECASE)
_GRAVITY = re.compile(
    r"^enough for (?:a )?gravity (?:of )?(?P<gravity>\S+)(?: in (?:the )?(?P<liquid>.+))?$", re.IGNORECASE
)
_STRONG = re.compile(
    r"^enough for (?P<volume>.+?) (?:at|of) (?P<strength>.+?(?:percent|per cent|%|abv)\S*(?: by volume)?)"
    r"(?: in (?:the )?(?P<liquid>.+))?$",
    re.IGNORECASE,
)
_HOW_TO_WISH = "Write enough for gravity 1.048, or enough for 9 L at 5 percent."


@dataclass(frozen=True)
class Wish(Stated):
    """An amount that is to be found: its ``quantity`` is the gravity or the strength wished for.

    ``volume`` is how much of the drink is to have that strength; ``liquid`` names the liquid meant, or is empty.
    """

    volume: Stated | None = None
    liquid: str = ""


def piece_word(stated: Stated) -> str:
    """The word after the number of "2 slices": "slice", as one; empty where there is a number alone."""
    found = _COUNTED.match(stated.written.strip())
    return _single(found["word"].strip().casefold()) if found else ""


def _single(word: str) -> str:
    """A word for one piece: "slices, thin" and "loaves" become "slice, thin" and "loaf"."""
    head, comma, rest = word.partition(",")
    for many, one in (("loaves", "loaf"), ("halves", "half"), ("raspberries", "raspberry"), ("boxes", "box")):
        if head == many:
            return one + comma + rest
    return head.removesuffix("s") + comma + rest


def counted(text: str) -> Stated | None:
    """``text`` as a number of pieces by one of the words for them, or nothing."""
    found = _COUNTED.match(str(text).strip())
    if found is None or _single(found["word"].strip().casefold()).split(",")[0] not in _PIECES:
        return None
    try:
        count = quantity_from_text(found["number"].strip(), KINDS["pieces"])
    except UnreadableQuantityError as error:
        raise problem_sentence(error.wrong, error.remedy) from None
    return sensible(Stated(Q(float(count.magnitude), "piece"), str(text), getattr(text, "place", NOWHERE), "pieces"))


def _stated_amount(value: Any) -> Stated:
    text = plain_text(value)
    failures = []
    for name in ("mass", "volume", "pieces"):
        try:
            quantity = quantity_from_text(text, KINDS[name])
        except UnreadableQuantityError as error:
            failures.append(error)
            continue
        return sensible(Stated(quantity, str(text), getattr(text, "place", NOWHERE), name))
    in_pieces = counted(text)
    if in_pieces is not None:
        return in_pieces
    first = failures[0]
    wrong = first.wrong.replace("a mass is wanted", "a mass or a volume is wanted")
    raise problem_sentence(wrong, first.remedy or "Write it as 3 kg or 2 L.")


def _part(text: str, kind: str, whole: Any) -> Stated:
    """One quantity within a wish, at the place of the whole."""
    try:
        quantity = quantity_from_text(text.strip(), KINDS[kind])
    except UnreadableQuantityError as error:
        raise problem_sentence(error.wrong, error.remedy) from None
    return sensible(Stated(quantity, text.strip(), getattr(whole, "place", NOWHERE), kind))


def _wish(text: Any) -> Wish:
    words = " ".join(str(text).split())
    place = getattr(text, "place", NOWHERE)
    strong, dense = _STRONG.match(words), _GRAVITY.match(words)
    if dense is not None:
        goal = _part(dense["gravity"], "gravity", text)
        if goal.number() <= 1.0:
            raise problem_sentence(
                f"Water alone has a gravity of 1.000; {goal.written} needs no ingredient.", _HOW_TO_WISH
            )
        return Wish(goal.quantity, str(text), place, "gravity", liquid=(dense["liquid"] or "").strip())
    if strong is not None:
        volume, goal = _part(strong["volume"], "volume", text), _part(strong["strength"], "strength", text)
        liquid = (strong["liquid"] or "").strip()
        return Wish(goal.quantity, str(text), place, "strength", volume=volume, liquid=liquid)
    raise problem_sentence("This wish does not say for what the amount is to be enough.", _HOW_TO_WISH)


def _amount(value: Any) -> Stated:
    """An ingredient's amount: a mass, a volume, a number of pieces, or a wish."""
    if isinstance(value, Stated):
        return value
    text = plain_text(value)
    return _wish(text) if _BEGINS.match(text.strip()) else _stated_amount(text)


def _no_wish(value: Any) -> Stated:
    """An amount at a step: stated, since only an ingredient's whole amount can be wished for."""
    if isinstance(value, Stated):
        return value
    text = plain_text(value)
    if _BEGINS.match(text.strip()):
        raise problem_sentence("A wish stands with the ingredient, not at a step.", "Write it under ingredients:.")
    return _stated_amount(text)


_EXAMPLES = ["3 kg", "2 L", "1 cup", "2 slices", "enough for gravity 1.048", "enough for 9 L at 5 percent"]
Amount = Annotated[
    Stated, PlainValidator(_amount), WithJsonSchema({"type": ["string", "number"], "examples": _EXAMPLES})
]
StatedAmount = Annotated[
    Stated, PlainValidator(_no_wish), WithJsonSchema({"type": ["string", "number"], "examples": _EXAMPLES[:4]})
]
