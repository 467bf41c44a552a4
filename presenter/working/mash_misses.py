"""What is said beside each number of the mash model: that it is a teaching model, and where it misses.

In: what a number is of, and the tub. Out: a remark. The misses are those that the fit itself recorded.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from presenter.science.mash_model import QUALITATIVE_ABOVE, mash_model_record
from presenter.working.mash_courses import TEACHING
from presenter.working.vessels import MashInTub

__all__ = ["misses_that_touch", "remark_on"]

# Which recorded misses of the model touch which number.
_TOUCHES: Mapping[str, tuple[str, ...]] = {
    "attenuation": (
        "attenuation_65", "attenuation_70", "attenuation_75", "attenuation_80", "best_rest", "thick_against_thin",
    ),
    "starch": ("yield_59", "yield_63", "beginning_56", "dissolved_65"),
    "glucose": ("glucose_65", "sugar_share"),
    "maltose": ("maltose_65", "sugar_share"),
    "maltotriose": ("maltotriose_65", "maltotriose_of_carbohydrate"),
    "dextrin": ("sugar_share",),
    "alpha-amylase": ("alpha_60", "alpha_congress"),
    "beta-amylase": ("beta_10", "beta_30", "beta_60", "beta_70", "beta_78", "beta_congress"),
}  # fmt: skip


def _written(value: Any) -> str:
    low, high = value if isinstance(value, list) else (value, value)
    if high is None:
        return f"at least {low:g}"
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


# What a number of the model is of, in words that a teacher can use.
_MEANS = {
    "starch": "starch locked in its granules gives nothing; heat and water open them, then enzymes can split it",
    "glucose": "the smallest sugar, which every yeast takes first",
    "maltose": "two glucoses in a row, the sugar that beer yeast mostly lives on",
    "maltotriose": "three glucoses in a row; some yeasts leave part of it",
    "dextrin": "starch cut short; brewing yeast leaves it, and it gives body",
    "alpha-amylase": "the enzyme that cuts starch anywhere along its length, and makes dextrin; it stands heat longer",
    "beta-amylase": "the enzyme that takes maltose off the ends; at 65 degC about half of it dies in ten minutes",
}


@lru_cache(maxsize=64)
def misses_that_touch(topic: str) -> str:
    """The misses recorded for a number of the model, each with the published figure and the model's."""
    by_id = {miss["id"]: miss for miss in mash_model_record()["misses"]}
    told = [
        f"{by_id[name]['what']}, {_written(by_id[name]['published'])} in print, {by_id[name]['model']:g} here"
        for name in _TOUCHES[topic]
        if by_id[name]["miss"]
    ]
    return f"it misses: {'; '.join(told)}" if told else "it meets every figure at hand for this"


def remark_on(topic: str, mash: MashInTub, hot: bool = False) -> str:
    """What is said beside a number of the model."""
    means = [_MEANS[topic]] if topic in _MEANS else []
    parts = [f"{TEACHING}, fitted by this project", *means, *mash.remarks, misses_that_touch(topic)]
    if hot:
        parts.insert(1, f"above {QUALITATIVE_ABOVE:g} degC it shows a direction only")
    return "; ".join(parts)
