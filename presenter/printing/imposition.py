"""Cards: their sides filled, and the sides laid on sheets so that each back lies behind its front.

In: the pieces of fronts and backs. Out: sides in the order of cards, and for each sheet which side lies where.
A card whose words overflow goes on to a second card that repeats the step's name and its cautions' headings.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from reportlab.lib.colors import HexColor

from presenter.printing.pieces import Piece, Placed, fill
from presenter.printing.style import HAIRLINE, CardPlan, Style
from presenter.printing.tagging import Element, Pen

__all__ = ["CardSide", "Laid", "card_sides", "cut_marks", "lay"]

# Makes what a further side repeats, from the pieces that stand before it and the order of its elements.
Heads = Callable[[Element, list[Piece], float], list[Piece]]
_LAST = 1e9


@dataclass
class CardSide:
    """One side of one card. ``foot`` is the element of its foot, which comes after what stands on the side."""

    placed: Placed
    foot: Element
    card: int = 0
    back: bool = False


@dataclass
class Laid:
    """A side at its lower left corner on one page (a side of a sheet of paper)."""

    side: CardSide
    corner: tuple[float, float]


def _fill_sides(pieces: list[Piece], body: Element, style: Style, heads: Heads) -> list[CardSide]:
    """Sides in reading order; the feet and repeated heads take their places among the children of ``body``."""
    body.number_kids()
    sides: list[CardSide] = []
    before: list[Piece] = []
    again: list[Piece] = []
    while pieces or not sides:
        placed, rest, _ = fill(pieces, style.column, style.depth, style.depth)
        if rest and all(piece in again for piece, _ in placed):
            placed, rest, _ = fill(pieces[len(again) :], style.column, style.depth, style.depth)
        before += [piece for piece, _ in placed]
        order = _LAST
        if rest:
            begun = before[-1].at == rest[0].at
            order = rest[0].at + (0.5 if begun else -0.5) + len(sides) * 0.001
            again = heads(body, before, order + 0.0005)
            for piece in again:
                piece.at = -1
            pieces = [*again, *rest]
        else:
            pieces = []
        sides.append(CardSide(placed, body.child("P", order)))
    return sides


def card_sides(
    front: tuple[list[Piece], Element], back: tuple[list[Piece], Element], style: Style, heads: Heads, first_card: int
) -> list[tuple[CardSide, CardSide]]:
    """The cards that one card block needs, each a front and a back; both come as pieces and their element.

    Backs that overflow go on behind the fronts that go on; when no fronts are left they use both sides of further
    cards. Cards are counted over the sheet, from ``first_card`` on.
    """
    fronts = _fill_sides(*front, style, heads)
    backs = _fill_sides(*back, style, heads)

    def blank() -> CardSide:
        return CardSide([], back[1].child("P", _LAST))

    pairs = [(side, backs[place] if place < len(backs) else blank()) for place, side in enumerate(fronts)]
    left = backs[len(fronts) :]
    for place in range(0, len(left), 2):
        pairs.append((left[place], left[place + 1] if place + 1 < len(left) else blank()))
    for number, (side, behind) in enumerate(pairs, first_card):
        side.card = behind.card = number
        behind.back = True
    return pairs


def lay(cards: Sequence[tuple[CardSide, CardSide]], plan: CardPlan) -> list[list[Laid]]:
    """The pages: fronts of a sheet of paper, then its backs with the columns exchanged, and so on.

    Where no card has anything on its back there are only fronts.
    """
    two_sided = any(back.placed for _, back in cards)
    pages: list[list[Laid]] = []
    for start in range(0, len(cards), plan.places):
        sheet = cards[start : start + plan.places]
        pages.append([Laid(front, plan.corner(place, back=False)) for place, (front, _) in enumerate(sheet)])
        if two_sided:
            pages.append([Laid(back, plan.corner(place, back=True)) for place, (_, back) in enumerate(sheet)])
    return pages


def cut_marks(pen: Pen, plan: CardPlan) -> None:
    """Short crosses at the corners of the cards, where to cut."""
    wide, tall = plan.card
    left, low = plan.corner(plan.places - plan.across, back=False)
    with pen.artifact():
        pen.canvas.saveState()
        pen.canvas.setStrokeColor(HexColor(HAIRLINE))
        pen.canvas.setLineWidth(0.5)
        for x in (left + place * wide for place in range(plan.across + 1)):
            for y in (low + place * tall for place in range(plan.down + 1)):
                for across, up in ((7, 0), (0, 7)):
                    pen.canvas.line(
                        max(x - across, 0), max(y - up, 0), min(x + across, plan.sheet[0]), min(y + up, plan.sheet[1])
                    )
        pen.canvas.restoreState()
