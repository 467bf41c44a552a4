"""The page design: papers, sizes of type, distances, colours, and the look of each severity.

In: the paper, the print and the layout that were asked for. Out: a :class:`Style`, from which everything else
takes its measures. All lengths are points (1/72 inch). Leadings and distances are multiples of ``unit``, so that
text of every size falls on one grid.

The least sizes are those of UKAAF MS03 (2012) and G003 (2019): 12 points and ideally 14 on what everybody
reads, 18 in large print. Cards go down to 11 because each also exists in large print.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from presenter.problems import BrewingPresenterError, nearest

__all__ = [
    "ACCENT",
    "CARD_LAYOUTS",
    "CAUTION_RULES",
    "DEEP_SHADE",
    "GROUND",
    "HAIRLINE",
    "INK",
    "LAYOUTS",
    "PAPERS",
    "PRINTS",
    "QUIET",
    "SEVERITY_WORDS",
    "SHADE",
    "CardPlan",
    "Setting",
    "SettingError",
    "Style",
    "Type",
    "card_plan",
    "card_styles",
    "style_for",
]

MILLIMETRE = 72 / 25.4
PAPERS = {
    "A3": (297 * MILLIMETRE, 420 * MILLIMETRE),
    "A4": (210 * MILLIMETRE, 297 * MILLIMETRE),
    "A5": (148 * MILLIMETRE, 210 * MILLIMETRE),
    "A6": (105 * MILLIMETRE, 148 * MILLIMETRE),
    "Letter": (612.0, 792.0),
}
PRINTS = ("ordinary", "large")
LAYOUTS = ("pages", "wide", "wall", "stove", "cards", "single cards")
CARD_LAYOUTS = ("cards", "single cards")

GROUND = "#FFFFFF"  # the paper
INK = "#1B1917"  # words
QUIET = "#544E47"  # labels and feet
ACCENT = "#8A2F1D"  # madder: step numbers, links, the bar of a caution; a dark grey on a copier
HAIRLINE = "#A59D92"  # rules between rows
SHADE = "#EEEAE3"  # a band in a chart
DEEP_SHADE = "#DAD3C8"  # where two bands lie over one another

SEVERITY_WORDS = {
    "never": "Never",
    "danger": "Danger",
    "warning": "Warning",
    "caution": "Caution",
    "notice": "Notice",
}
# The bar at the left of a caution: its thickness falls with the severity, so a copier keeps the difference.
CAUTION_RULES = {"never": 8.0, "danger": 6.0, "warning": 4.0, "caution": 2.5, "notice": 1.0}


class SettingError(BrewingPresenterError):
    """A paper, print or layout that there is none of."""


@dataclass(frozen=True)
class Setting:
    """How to print: paper "A4", "Letter", "A5", "A6" or "A3"; print "ordinary" or "large"; and the layout."""

    paper: str = "A4"
    print: str = "ordinary"
    layout: str = "pages"

    def __post_init__(self) -> None:
        for what, word, known in (
            ("paper", self.paper, tuple(PAPERS)),
            ("print", self.print, PRINTS),
            ("layout", self.layout, LAYOUTS),
        ):
            if word not in known:
                near = nearest(word, known)
                hint = f" Did you mean {near}?" if near else ""
                raise SettingError(f"There is no {what} '{word}'; there are {', '.join(known)}.{hint}")
        if self.layout == "cards" and self.paper not in ("A4", "Letter"):
            raise SettingError(f"Cards are laid out on A4 or Letter, not on {self.paper}.")


@dataclass(frozen=True)
class Type:
    """A size of type and the distance of its lines."""

    size: float
    leading: float


@dataclass(frozen=True)
class Style:
    """The measures of one page or card. ``left`` to ``bottom`` are margins; ``foot`` is its last baseline's height."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float
    unit: float
    title: Type
    heading: Type
    body: Type
    small: Type
    hang: bool  # step numbers stand in the left margin
    foot: float = 0.0
    label: Type | None = None  # what a number is, under it; small type where nothing is said
    key: Type | None = None  # the number that matters, its label beside it; the title's size, label below, if not said
    note: Type | None = None  # a note beside a step; the body where nothing is said

    @property
    def column(self) -> float:
        """The width of the column of text."""
        return self.width - self.left - self.right

    def with_foot(self, lines: int) -> Style:
        """The same with room for a foot of so many lines of small type."""
        foot = self.bottom * 0.45
        needed = foot + (lines - 0.3) * self.small.leading + self.small.leading
        return replace(self, foot=foot, bottom=max(self.bottom, needed))

    @property
    def depth(self) -> float:
        """The height of the column of text, in whole units."""
        return (self.height - self.top - self.bottom) // self.unit * self.unit


def _ordinary(scale: float = 1.0) -> tuple[float, Type, Type, Type, Type]:
    s = scale
    return 3.15 * s, Type(28 * s, 37.8 * s), Type(20 * s, 28.35 * s), Type(14 * s, 18.9 * s), Type(12 * s, 15.75 * s)


_LARGE = (2.5, Type(32, 42.5), Type(24, 32.5), Type(18, 25), Type(16, 22.5))
_A5 = (2.75, Type(22, 30.25), Type(16, 22), Type(12, 16.5), Type(12, 16.5))
_CARD = (2.5, Type(20, 27.5), Type(15, 20), Type(11, 15), Type(11, 15))
# Read at two metres: capitals and figures of 10 mm and more (common practice: a two-hundredth of the distance).
# What is read before the step begins, at arm's length, keeps the size of large print.
_STOVE = (3.0, Type(60, 72), Type(42, 51), Type(19, 25.5), Type(18, 24))
_LARGE_CARD = (2.5, Type(30, 40), Type(24, 32.5), Type(18, 25), Type(16, 22.5))
# Read across a wet table: figures of 8 mm and more carry over a metre and a half (a two-hundredth of the distance).
_CARD_KEY = Type(34, 45)
_LARGE_CARD_KEY = Type(44, 57.5)
# The body of a card, as large as what stands on it leaves room for.
_CARD_BODIES = (Type(14, 20), Type(12.5, 17.5), Type(11, 15))
_LARGE_CARD_BODIES = (Type(20, 27.5), Type(18, 25))


def style_for(setting: Setting) -> Style:
    """The style of a page, or of one card where the layout is of cards."""
    large = setting.print == "large"
    if setting.layout == "stove":
        width, height = PAPERS[setting.paper]
        return Style(width, height, 48.0, 40.0, 60.0, 60.0, *_STOVE, hang=False, label=Type(28, 34))
    if setting.layout in ("wide", "wall"):
        return _lying(setting)
    if setting.layout in CARD_LAYOUTS:
        width, height = card_plan(setting).card
        measures = _LARGE_CARD if large else _CARD
        side, foot = (28.0, 58.0) if large else (16.0, 38.0)
        key = _LARGE_CARD_KEY if large else _CARD_KEY
        return Style(width, height, side, side, side, foot, *measures, hang=False, key=key)
    width, height = PAPERS[setting.paper]
    if setting.paper == "A3":
        root = 2**0.5
        return Style(width, height, 98.0, 80.0, 92.0, 96.0, *(_ordinary(root)), hang=True)
    if setting.paper in ("A5", "A6"):
        measures = _LARGE if large else (_A5 if setting.paper == "A5" else _CARD)
        edge = 40.0 if setting.paper == "A5" else 22.0
        return Style(width, height, edge, edge, edge + 20, edge + 22, *measures, hang=False)
    if large:
        return Style(width, height, 60.0, 48.0, 76.0, 80.0, *_LARGE, hang=True)
    spare = (width - PAPERS["A4"][0]) / 2
    measures = _ordinary()
    return Style(width, height, 70.0 + spare, 54.0 + spare, 52.0, 54.0, *measures, hang=True, note=measures[-1])


def card_styles(setting: Setting, style: Style) -> list[Style]:
    """The style of a card with each size of body, the largest first, the last one the least that a card may have."""
    bodies = _LARGE_CARD_BODIES if setting.print == "large" else _CARD_BODIES
    return [replace(style, body=body) for body in bodies]


def _lying(setting: Setting) -> Style:
    """A page on its long side: for tables of many columns, and for charts to hang on a wall."""
    height, width = PAPERS[setting.paper]
    scale = 2**0.5 if setting.paper == "A3" else 1.0
    measures = _LARGE if setting.print == "large" and scale == 1.0 else _ordinary(scale)
    side, edge = 48.0 * scale, 50.0 * scale
    return Style(width, height, side, side, edge, edge, *measures, hang=False)


@dataclass(frozen=True)
class CardPlan:
    """Where cards lie on a sheet: the sheet, the card, and the lower left corner of each place, row by row."""

    sheet: tuple[float, float]
    card: tuple[float, float]
    across: int
    down: int

    @property
    def places(self) -> int:
        """How many cards lie on one sheet."""
        return self.across * self.down

    def corner(self, place: int, back: bool) -> tuple[float, float]:
        """The lower left corner of a place; on the back the columns run the other way, for a long-edge turn."""
        row, column = divmod(place, self.across)
        if back:
            column = self.across - 1 - column
        left = (self.sheet[0] - self.across * self.card[0]) / 2
        low = (self.sheet[1] - self.down * self.card[1]) / 2
        return left + column * self.card[0], low + (self.down - 1 - row) * self.card[1]


def card_plan(setting: Setting) -> CardPlan:
    """The plan for cards: four upright to a sheet, or in large print two lying, one above the other.

    On A4 a card is A6, in large print A5; on Letter a quarter and a half of the sheet. A lying large-print card
    keeps 45 to 75 letters to a line, and sheet and cards then turn about the same upright edge. Single cards
    are one to a sheet of their own size; on A5 and A6 paper the card is the paper.
    """
    large = setting.print == "large"
    if setting.paper in ("A5", "A6"):
        size = PAPERS[setting.paper]
        return CardPlan(size, size, 1, 1)
    if setting.paper == "Letter":
        sheet = PAPERS["Letter"]
        card = (612.0, 396.0) if large else (306.0, 396.0)
    else:
        sheet = PAPERS["A4"]
        card = (PAPERS["A5"][1], PAPERS["A5"][0]) if large else PAPERS["A6"]
    if setting.layout == "single cards":
        return CardPlan(card, card, 1, 1)
    return CardPlan(sheet, card, 1, 2) if large else CardPlan(sheet, card, 2, 2)
