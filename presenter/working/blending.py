"""Blending: what yeast finds in two liquids put together, each extract keeping its own make-up.

In: the walk, and the extract and sugars of each. Out: the sugars of both; the numbers go into the ledger.
"""

from __future__ import annotations

from presenter.science.blending import mixed_share
from presenter.working.ledger import Figure
from presenter.working.vessels import Spectrum
from presenter.working.walk import Walk

__all__ = ["blended"]


def blended(
    walk: Walk, extract: Figure, sugars: Spectrum | None, other_extract: Figure, other: Spectrum | None, mark: str
) -> Spectrum | None:
    """The sugars of two extracts together; ``mark`` tells several blends of one step apart.

    Where one of the two was never known, the other's stand for both.
    """
    if sugars is None or other is None:
        return sugars or other
    shares = {
        name: walk.ledger.work(
            walk.id, f"{name}-{mark}", f"{label} of the whole", mixed_share, on_sheets=False,
            extract=extract, share=getattr(sugars, name), other_extract=other_extract, other_share=getattr(other, name),
        )
        for name, label in (
            ("fermentable", "extract that yeast can use"), ("maltose", "maltose in the extract"),
            ("maltotriose", "maltotriose in the extract"),
        )
    }  # fmt: skip
    return Spectrum(**shares, remarks=tuple(dict.fromkeys((*sugars.remarks, *other.remarks))))
