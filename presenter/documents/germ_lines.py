"""What each heating step does to germs, in sentences: teaching numbers, the organisms nobody can count, and the limits.

In: a worked lesson and the sheet's citations. Out: lines of plain words for the templates.
"""

from __future__ import annotations

from presenter.documents.citing import Citations
from presenter.documents.number_blocks import capital
from presenter.lesson import Step, slug
from presenter.science.germs import organisms
from presenter.working import WorkedLesson
from presenter.working.germs import ENOUGH, GERM_SENTENCES, counted_organisms, without_a_value

__all__ = ["germs_said"]


def germs_said(worked: WorkedLesson, citations: Citations) -> list[str]:
    """A line for each heating step, one for the media, one for what is not counted; none where nothing is heated."""
    steps = [step for step in worked.lesson.steps if f"{step.id}.pasteurisation-units" in worked.numbers]
    if not steps:
        return []
    media = "; ".join(
        f"{capital(name)} in {_medium(name)} {citations.mark(organisms()[name].source)}" for name in counted_organisms()
    )
    return [
        *(_of_step(worked, step) for step in steps),
        f"Where the figures come from: {media}.",
        f"Not counted, for want of a usable figure: {'; '.join(without_a_value())}.",
        " ".join(GERM_SENTENCES),
    ]


def _medium(name: str) -> str:
    medium = organisms()[name].medium
    return "various media" if medium == "various" else medium


def _of_step(worked: WorkedLesson, step: Step) -> str:
    cuts = {
        name: float(worked.numbers[f"{step.id}.cuts-{slug(name)}"].quantity.magnitude) for name in counted_organisms()
    }
    many = [name for name, cut in cuts.items() if cut > ENOUGH]
    few = [
        f"{name} {worked.numbers[f'{step.id}.cuts-{slug(name)}'].words().split(chr(160))[0]}"
        for name, cut in cuts.items()
        if cut <= ENOUGH
    ]
    told = [f"over {ENOUGH:.0f} in {'all that are counted' if not few else ', '.join(many)}"] if many else []
    told += [", ".join(few)] if few else []
    units = worked.numbers[f"{step.id}.pasteurisation-units"].words()
    return f"{step.name}, {units}. Tenfold cuts, at least: {'; '.join(told)}."
