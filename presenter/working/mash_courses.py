"""The courses over a mash: temperature, starch, sugars and enzymes against the minutes since it was mashed in.

In: what a rest of the mash model gave. Out: courses kept in the walk, one rest after the other.
"""

from __future__ import annotations

from dataclasses import replace

from presenter.quantities import Course
from presenter.science.mash import MashResult
from presenter.working.vessels import MashInTub
from presenter.working.walk import Walk

__all__ = ["SOURCES_OF_MODEL", "STILL_WHOLE", "TEACHING", "record_boil", "record_rest"]

TEACHING = "teaching model"
SOURCES_OF_MODEL = {
    "starch": ("brandam2003", "rittenauer2021"),
    "sugars": ("brandam2003", "trommer2018"),
    "enzymes": ("brandam2003", "muller1990"),
    "attenuation": ("brandam2003", "chandrasekhar", "trommer2018"),
}


STILL_WHOLE = "starch still whole, swollen or not"


def record_rest(walk: Walk, mash: MashInTub, result: MashResult) -> None:
    """Add one rest to the courses over the whole mash, in minutes of mashing."""
    curves = {
        "granules": ("starch still in its granules", 100.0 * result.granules, "percent", "starch"),
        "dextrin": ("dextrin and starch set free", 100.0 * (result.dextrin + result.gelatinised), "percent", "sugars"),
    }
    if mash.crumb:  # bread's starch is swollen, and whole until an enzyme thins it
        whole = 100.0 * (result.granules + result.gelatinised)
        curves = {
            "granules": (STILL_WHOLE, whole, "percent", "starch"),
            "dextrin": ("dextrin", 100.0 * result.dextrin, "percent", "sugars"),
        }
    curves = {
        "temperature": ("temperature of the mash", result.temperature, "degree_Celsius", "starch"),
        **curves,
        "glucose": ("glucose", 100.0 * result.glucose, "percent", "sugars"),
        "maltose": ("maltose", 100.0 * result.maltose, "percent", "sugars"),
        "maltotriose": ("maltotriose", 100.0 * result.maltotriose, "percent", "sugars"),
        "alpha-amylase": ("alpha-amylase left", 100.0 * result.alpha_left, "percent", "enzymes"),
        "beta-amylase": ("beta-amylase left", 100.0 * result.beta_left, "percent", "enzymes"),
    }
    assert walk.step is not None
    for name, (label, values, unit, topic) in curves.items():
        course_id = f"{mash.began}.{name}-course"
        earlier = walk.courses.get(course_id)
        told = label if name == "temperature" else f"{label} ({TEACHING})"
        of = "" if name == "temperature" else ", of the starch in the tub" if topic != "enzymes" else ", of the malt's"
        walk.courses[course_id] = Course(
            course_id, mash.began, f"{told}{of}",
            (*(earlier.times if earlier else ()), *(float(minute) + mash.minutes for minute in result.minutes)),
            (*(earlier.values if earlier else ()), *(float(value) for value in values)),
            unit,
            sources=() if name == "temperature" else SOURCES_OF_MODEL[topic],
            remark="" if name == "temperature" else f"{TEACHING}, fitted by this project",
            marks=(*(earlier.marks if earlier else ()), (mash.minutes, str(walk.step.name))),
        )  # fmt: skip


def record_boil(walk: Walk, mash: MashInTub, minutes: float, end: float) -> None:
    """The end of the way to the boil, on the course of temperature."""
    course_id = f"{mash.began}.temperature-course"
    course = walk.courses[course_id]
    walk.courses[course_id] = replace(
        course, times=(*course.times, mash.minutes + minutes), values=(*course.values, end)
    )
