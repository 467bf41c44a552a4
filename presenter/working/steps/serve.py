"""Serve: what one measure holds: grams of alcohol, standard drinks, and regulated constituents of herbs at most."""

from __future__ import annotations

from presenter.lesson.steps import slug
from presenter.lesson.steps.serve import Serve
from presenter.science.fermentation import alcohol_in_serving
from presenter.working.plants import constituents_in_measure
from presenter.working.serving import standard_drinks_in_measure
from presenter.working.walk import Walk

__all__ = ["walk_serve"]


def walk_serve(step: Serve, walk: Walk) -> None:
    """Work out what each drink's measure holds; nothing is said of anybody's blood."""
    liquids = [(str(name), walk.vessels.liquid(slug(name))) for name in step.what]
    for said, liquid in liquids:
        if liquid.strength is None:
            raise walk.refuse(
                next(name for name in step.what if str(name) == said),
                "what",
                f"The {said} has not fermented, so its strength is not known.",
                "Add a step that ferments it.",
            )
    measure = walk.author("measure", "one measure", step.measure)
    walk.must_be_some(step.measure, "measure", measure)
    for said, liquid in liquids:
        if walk.ledger.watchful and measure.value > liquid.volume.value:
            there = f"{liquid.volume.value:.1f} L"
            wrong = f"One measure of {step.measure.written} is more than there is of the {said}, {there}."
            raise walk.refuse(step.measure, "measure", wrong, "Write a small measure, such as 50 mL.")
    tasting = str(walk.lesson.file.audience.tasting or "")
    if tasting == "none":
        return
    for said, liquid in liquids:
        assert liquid.strength is not None
        alcohol = walk.ledger.work(
            walk.id, f"{slug(said)}-alcohol-in-measure", f"alcohol in one measure of {said}", alcohol_in_serving,
            volume=measure, strength=liquid.strength,
        )  # fmt: skip
        standard_drinks_in_measure(walk, said, alcohol)
        constituents_in_measure(walk, said, liquid, measure)
