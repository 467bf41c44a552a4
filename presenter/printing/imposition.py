"""Cards: their sides filled, and the sides laid on sheets so that each back lies behind its front.

In: the pieces of fronts and backs. Out: sides in the order of cards, and for each sheet which side lies where.
A card whose words overflow goes on to a second card that repeats the step's name and its cautions' headings.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from presenter.printing.pieces import Piece, Placed, fill
from presenter.printing.style import HAIRLINE, CardPlan, Style
from presenter.printing.tagging import Pen

__all__ = ["CardSide", "Laid", "card_sides", "cut_marks", "lay"]

Heads = Callable[[], list[Piece]]


@dataclass
class CardSide:
    """One side of one card: what stands on it, and the number of the card, counted over the sheet from 1."""

    placed: Placed
    card: int
    back: bool


@dataclass
class Laid:
    """A side at its lower left corner on one page (a side of a sheet of paper)."""

    side: CardSide
    corner: tuple[float, float]


def _fill_sides(pieces: list[Piece], style: Style, heads: Heads) -> list[Placed]:
    sides: list[Placed] = []
    while pieces:
        placed, rest, _ = fill(pieces, style.column, style.depth, style.depth)
        sides.append(placed)
        pieces = [*heads(), *rest] if rest else []
    return sides


def card_sides(
    front: list[Piece], back: list[Piece], style: Style, heads: Heads, first_card: int
) -> list[tuple[CardSide, CardSide]]:
    """The cards that one card block needs, each a front and a back.

    ``heads`` makes what a further side repeats. Backs that overflow go on behind the fronts that go on; when no
    fronts are left they use both sides of further cards.
    """
    fronts = _fill_sides(front, style, heads)
    backs = _fill_sides(back, style, heads)
    pairs = [(placed, backs[place] if place < len(backs) else []) for place, placed in enumerate(fronts)]
    left = backs[len(fronts):]
    for place in range(0, len(left), 2):
        pairs.append((left[place], left[place + 1] if place + 1 < len(left) else []))
    return [
        (CardSide(placed, number, False), CardSide(behind, number, True))
        for number, (placed, behind) in enumerate(pairs, first_card)
    ]


def lay(cards: Sequence[tuple[CardSide, CardSide]], plan: CardPlan) -> list[list[Laid]]:
    """The pages: fronts of a sheet of paper, then its backs with the columns exchanged, and so on.

    Where no card has anything on its back there are only fronts.
    """
    two_sided = any(back.placed for _, back in cards)
    pages: list[list[Laid]] = []
    for start in range(0, len(cards), plan.places):
        sheet = cards[start: start + plan.places]
        pages.append([Laid(front, plan.corner(place, back=False)) for place, (front, _) in enumerate(sheet)])
        if two_sided:
            pages.append([Laid(back, plan.corner(place, back=True)) for place, (_, back) in enumerate(sheet)])
    return pages


def cut_marks(pen: Pen, plan: CardPlan) -> None:
    """Short lines at the edge of the sheet and crosses between the cards, where to cut."""
    wide, tall = plan.card
    left, low = plan.corner(plan.places - plan.across, back=False)
    xs = [left + place * wide for place in range(plan.across + 1)]
    ys = [low + place * tall for place in range(plan.down + 1)]
    sheet_wide, sheet_tall = plan.sheet
    with pen.artifact():
        pen.canvas.saveState()
        pen.canvas.setStrokeColor(HAIRLINE)
        pen.canvas.setLineWidth(0.5)
        for x in xs:
            for y in ys:
                for across, up in ((7, 0), (0, 7)):
                    pen.canvas.line(max(x - across, 0), max(y - up, 0), min(x + across, sheet_wide),
                                    min(y + up, sheet_tall))
        pen.canvas.restoreState()
