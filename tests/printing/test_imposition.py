"""Cards lie on their sheets so that, printed on both sides and turned at the long edge, backs lie behind fronts."""

from __future__ import annotations

import io
import re
from collections.abc import Callable

import pytest
from pypdf import PdfReader

from presenter.printing import Setting
from presenter.printing.style import card_plan

Printed = Callable[[str, Setting], bytes]
SETTINGS = [Setting(paper, size, "cards") for paper in ("A4", "Letter") for size in ("ordinary", "large")]


def _found(page: object) -> dict[int, tuple[float, float, bool]]:
    """Card number -> where its foot's "Card n of m" is drawn, and whether it is a back; read from the PDF."""
    found: dict[int, tuple[float, float, bool]] = {}

    def see(words: str, _: object, matrix: list[float], *__: object) -> None:
        for label in re.finditer(r"Card (\d+) of \d+(, back)?", words):
            found[int(label[1])] = (matrix[4], matrix[5], bool(label[2]))

    page.extract_text(visitor_text=see)  # type: ignore[attr-defined]
    return found


@pytest.mark.parametrize("setting", SETTINGS, ids=str)
def test_each_back_lies_behind_its_front(setting: Setting, printed: Printed) -> None:
    """Folding the sheet about its upright axis brings each back into the rectangle of its own front."""
    plan = card_plan(setting)
    pages = PdfReader(io.BytesIO(printed("cards", setting))).pages
    assert len(pages) % 2 == 0
    matched = 0
    for front_page, back_page in zip(pages[::2], pages[1::2], strict=True):
        fronts, backs = _found(front_page), _found(back_page)
        assert fronts
        assert fronts.keys() == backs.keys()
        for card, (x, y, is_back) in fronts.items():
            behind_x, behind_y, behind_is_back = backs[card]
            assert not is_back
            assert behind_is_back
            turned = plan.sheet[0] - behind_x
            left, low = _rectangle(setting, x, y)
            assert left < turned < left + plan.card[0]
            assert low < behind_y < low + plan.card[1]
            matched += 1
    assert matched >= 5


def _rectangle(setting: Setting, x: float, y: float) -> tuple[float, float]:
    """The lower left corner of the card that (x, y) lies in, from the sizes of sheet and card alone."""
    plan = card_plan(setting)
    left = (plan.sheet[0] - plan.across * plan.card[0]) / 2
    low = (plan.sheet[1] - plan.down * plan.card[1]) / 2
    return left + (x - left) // plan.card[0] * plan.card[0], low + (y - low) // plan.card[1] * plan.card[1]


@pytest.mark.parametrize("setting", SETTINGS, ids=str)
def test_cards_lie_on_the_sheet_without_touching(setting: Setting) -> None:
    """The places of a sheet lie inside it and do not overlap; an ordinary sheet holds four, a large one two."""
    plan = card_plan(setting)
    assert plan.places == (2 if setting.print == "large" else 4)
    corners = [plan.corner(place, back) for back in (False, True) for place in range(plan.places)]
    for x, y in corners:
        assert -0.01 <= x <= plan.sheet[0] - plan.card[0] + 0.01
        assert -0.01 <= y <= plan.sheet[1] - plan.card[1] + 0.01
    for side in (corners[: plan.places], corners[plan.places :]):
        for place, (x, y) in enumerate(side):
            for other_x, other_y in side[place + 1 :]:
                assert abs(x - other_x) >= plan.card[0] - 0.01 or abs(y - other_y) >= plan.card[1] - 0.01


@pytest.mark.parametrize("setting", [Setting("A4", "ordinary", "cards"), Setting("A4", "large", "cards")], ids=str)
def test_card_sizes_match_published(setting: Setting) -> None:
    """On A4 a card is A6, in large print A5 lying, to the millimetre of ISO 216."""
    millimetres = [round(side * 25.4 / 72) for side in card_plan(setting).card]
    assert millimetres == ([210, 148] if setting.print == "large" else [105, 148])
