"""The usual cautions: facts of a lesson in, the cautions that apply out, each with place and words."""

from presenter.cautions.choosing import (
    SHEET_WORDS_AT_MOST,
    Cautioned,
    CautionPlace,
    PlacedCaution,
    ShortLine,
    ShortLines,
    cautions_that_apply,
    short_lines,
)
from presenter.cautions.entries import Caution, CautionBook, caution_book
from presenter.cautions.facts import (
    NOT_APPLICABLE,
    UNKNOWN,
    CautionDataError,
    Plant,
    SheetFacts,
    StepFacts,
)
from presenter.cautions.facts_of_lesson import cautions_of, facts_of

__all__ = [
    "NOT_APPLICABLE",
    "SHEET_WORDS_AT_MOST",
    "UNKNOWN",
    "Caution",
    "CautionBook",
    "CautionDataError",
    "CautionPlace",
    "Cautioned",
    "PlacedCaution",
    "Plant",
    "SheetFacts",
    "ShortLine",
    "ShortLines",
    "StepFacts",
    "caution_book",
    "cautions_of",
    "cautions_that_apply",
    "facts_of",
    "short_lines",
]
