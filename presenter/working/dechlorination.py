"""Dechlorination: the salt that takes the chlorine out of all the mains water of a lesson, where it asks for that.

In: the site's water, its chlorine and the salt the author names. Out: a dose in milligrams; withheld where nobody has
measured the chlorine; a Problem for a salt that is not meant for drinking water, or for water from elsewhere.
"""

from __future__ import annotations

import re

from presenter.problems import Problem
from presenter.quantities import Origin
from presenter.science.dechlorination import (
    NotForDrinkingWaterError,
    dechlorination_dose,
    dechlorination_salts,
    salt_for_drinking_water,
)
from presenter.working.ledger import Figure
from presenter.working.walk import Walk

__all__ = ["MAINS", "walk_dechlorination"]

MAINS = re.compile(r"\b(mains?|taps?|town|city|municipal|public supply|bottled)\b")
_ALSO = {"campden": "sodium metabisulfite", "vitamin c": "ascorbic acid"}


def _salt_named(text: str) -> str:
    plain = text.casefold().replace("sulph", "sulf").strip()
    return next((salt for word, salt in _ALSO.items() if word in plain), plain)


def walk_dechlorination(walk: Walk, water: Figure) -> None:
    """Work out the dose for ``water``, all the litres of the lesson."""
    site = walk.lesson.file.site
    salt_as_written = site.dechlorinate_with
    if salt_as_written is None:
        return
    where = "site.dechlorinate with"
    if site.water is not None and not MAINS.search(str(site.water).casefold()):
        wrong = f"Only mains water holds chlorine; the water here is {site.water}."
        walk.problems.append(Problem(salt_as_written.place, where, str(salt_as_written), wrong, "Leave this line out."))
        return
    try:
        salt = salt_for_drinking_water(_salt_named(str(salt_as_written)))
    except NotForDrinkingWaterError:
        wrong = f"{salt_as_written} is no salt for taking chlorine out of drinking water."
        remedy = f"Write one of {', '.join(dechlorination_salts())}."
        walk.problems.append(Problem(salt_as_written.place, where, str(salt_as_written), wrong, remedy))
        return
    label = f"{salt.name} for the chlorine in all the water"
    if site.chlorine is None:
        reason = (
            "How much chlorine the water holds is not stated. Ask your water company, or measure it, and write it under"
            " site as chlorine: 1 mg/L."
        )
        walk.ledger.withhold("lesson", "dechlorination", label, reason, (salt.source,) if salt.source else ())
        return
    chlorine = walk.ledger.state(
        "lesson", "chlorine", "chlorine in the mains water", 1000 * site.chlorine.number(), "milligram / litre",
        origin=Origin("lesson", site.chlorine.place, site.chlorine.written, "the author's own figure"),
    )  # fmt: skip
    per_chlorine = walk.ledger.state(
        "lesson", "dechlorination-salt", f"{salt.name} for each part of chlorine", salt.dose, "dimensionless",
        origin=Origin("package", None, f"{salt.dose:.2f}", "a published field dose" if salt.source else "molar masses"),
        sources=(salt.source,) if salt.source else (), on_sheets=False,
    )  # fmt: skip
    walk.ledger.work(
        "lesson", "dechlorination", label, dechlorination_dose, volume=water, chlorine=chlorine,
        dose_per_chlorine=per_chlorine, remark="for taste; use the water soon, since its protection has gone",
    )  # fmt: skip
