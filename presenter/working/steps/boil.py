"""Boil: water leaves as steam, extract stays; the wort grows stronger and germs grow fewer."""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.boil import Boil
from presenter.quantities import Origin
from presenter.science.balance import difference_of_masses
from presenter.science.boiling import boiling_point_at_altitude
from presenter.science.heating import boil_off_volume
from presenter.science.water import mass_of_water
from presenter.working.germs import boiling_rule, germs_along
from presenter.working.pouring import carried, measure
from presenter.working.steps.heat import heat_up
from presenter.working.walk import Walk, wort_called

__all__ = ["boiling_point", "walk_boil"]


def boiling_point(walk: Walk) -> float:
    """Where water boils at the site, in degC; kept once under the lesson's numbers."""
    if "lesson.boiling-point" in walk.ledger.entries:
        return walk.ledger.again("lesson.boiling-point").value
    altitude = walk.lesson.file.site.altitude
    if altitude is None:
        at = walk.ledger.state(
            "lesson", "altitude", "altitude of the site", 0.0, "metre",
            origin=Origin("package", None, "", "not stated; taken as sea level"),
        )  # fmt: skip
    else:
        at = walk.author(
            "altitude", "altitude of the site", altitude, evidence="the author's own figure", step="lesson", exact=True
        )
    return walk.ledger.work(
        "lesson", "boiling-point", "temperature at which water boils here", boiling_point_at_altitude, altitude=at
    ).value


def walk_boil(step: Boil, walk: Walk) -> None:
    """Bring a wort to the boil and keep it there."""
    liquid = walk.vessels.liquid(slug(step.what))
    if liquid.pitched:
        raise walk.refuse(
            step.what, "what", f"Yeast is in the {step.what} already; a boil would kill it and drive off alcohol.",
            "Boil before the yeast goes in.",
        )  # fmt: skip
    walk.must_fit(liquid.volume.value, str(step.in_), step.what, "what", f"The {step.what}")
    hot = boiling_point(walk)
    minutes = walk.author("for", "time at the boil", step.for_, exact=True)
    boiling = walk.ledger.again("lesson.boiling-point")
    heat_up(walk, liquid, boiling)
    boiling_rule(walk, walk.ledger.again("lesson.altitude"))
    germs_along(walk, (0.0, minutes.value), (hot, hot), {"temperature": boiling, "time": minutes})
    rate = walk.of_vessel(str(step.in_), "boils away", "boils away")
    gone = walk.ledger.work(
        walk.id, "boiled-away", "water that boils away", boil_off_volume, boil_off_rate=rate, time=minutes
    )
    reference = walk.ledger.state(
        walk.id, "measured-at", "temperature at which volumes are compared", 20.0, "degree_Celsius",
        origin=Origin("package", None, "20 degC", "the reference temperature of gravity tables"), on_sheets=False,
    )  # fmt: skip
    steam = walk.ledger.work(
        walk.id,
        "steam",
        "mass of water that boils away",
        mass_of_water,
        volume=gone,
        temperature=reference,
        on_sheets=False,
    )
    if walk.ledger.watchful and steam.value >= liquid.water.value:
        raise walk.refuse(
            step.for_,
            "for",
            f"In {step.for_.written} the kettle boils away {gone.value:.1f} L, and there is not so much.",
            "Boil for less time, or start with more.",
        )
    water = walk.ledger.work(
        walk.id,
        "water",
        "water left in the wort",
        difference_of_masses,
        mass=liquid.water,
        taken=steam,
        on_sheets=False,
    )
    wort = measure(walk, liquid.extract, water, of=f"the {wort_called(step.what)} after the boil")
    walk.compare("gravity", wort.gravity)
    walk.compare("volume", wort.volume)
    walk.vessels.liquids[liquid.name] = carried(
        liquid,
        extract=wort.extract,
        water=wort.water,
        gravity=wort.gravity,
        volume=wort.volume,
        temperature=boiling,
        boiled=True,
        ingredients=tuple(dict.fromkeys((*liquid.ingredients, *map(str, step.with_)))),
        enzymes_ended=True,
        hottest=max(liquid.hottest, hot),
        vessel=str(step.in_),
    )
