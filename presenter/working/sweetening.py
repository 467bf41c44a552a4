"""Sweetening: the extract that an ingredient gives without a mash, and what yeast finds in it.

In: a portion in hand. Out: its extract as a share, and its sugars.
"""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.quantities import Origin
from presenter.working.bread import sugars_of_bread
from presenter.working.ingredients import Portion
from presenter.working.ledger import Figure
from presenter.working.vessels import Spectrum
from presenter.working.walk import Walk

__all__ = ["brought_sugars", "extract_without_a_mash"]

_OWN = "the author gave its extract and nobody its sugars: anything from half of it to all"


def extract_without_a_mash(walk: Walk, each: Portion) -> Figure:
    """The extract share of an ingredient put into a liquid as it is; of bread, its sugars alone."""
    if each.loaf is not None:
        return each.loaf.sugars
    if each.use.extract is not None or each.known is None or not each.known.needs_mash:
        return each.extract_share
    grain = "rye" if "rye" in each.known.caution_words else "wheat"
    return sugars_of_bread(walk, "lesson", f"{slug(each.name)}-sugars", str(each.use.what), grain, each.moisture)


def brought_sugars(walk: Walk, each: Portion) -> Spectrum:
    """What yeast finds in the extract of an ingredient that was never mashed."""
    known, key = each.known, slug(each.name)
    if each.loaf is not None or (known is not None and known.attenuable is None):
        low, high, words = 0.9, 1.0, "its sugars alone are counted as extract"
    elif known is None:
        low, high, words = 0.5, 1.0, _OWN
    else:
        assert known.attenuable is not None
        low = max(0.0, known.attenuable - known.attenuable_spread)
        high = min(1.0, known.attenuable + known.attenuable_spread)
        words = known.attenuable_rests_on
    fermentable = walk.ledger.state(
        walk.id, f"{key}-fermentable", f"extract of the {each.use.what} that yeast can use", 50 * (low + high),
        "percent", origin=Origin("package", None, f"{100 * low:.0f} to {100 * high:.0f} percent", words),
        influences={f"what yeast can take of {each.use.what}": 50 * (high - low)}, rests_on=words, on_sheets=False,
    )  # fmt: skip
    none = walk.ledger.state(
        walk.id, f"{key}-maltose", f"maltose and maltotriose of the {each.use.what} that a yeast may leave", 0.0,
        "percent", origin=Origin("package", None, "0", "counted with what yeast can use of it"), on_sheets=False,
    )  # fmt: skip
    return Spectrum(fermentable, none, none)
