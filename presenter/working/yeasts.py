"""What a yeast makes of a wort: the sugars it takes, the strength at which it stops, the gas it gives to the room.

In: the walk, a liquid with its yeast, figures. Out: figures in the ledger; a Problem where no yeast could go so far.
"""

from __future__ import annotations

from typing import Any

from presenter.lesson.steps.ferment import Ferment
from presenter.quantities import Origin
from presenter.science.alcohol_ceiling import gravity_at_strength
from presenter.science.room_air import share_of_room
from presenter.science.sugars_taken import fermented_share
from presenter.science.yeast import Yeast, yeast_of
from presenter.working.ledger import Figure
from presenter.working.vessels import Liquid
from presenter.working.walk import Walk

__all__ = ["ceiling_of", "fermented_by", "gas_in_room"]


def _yeast_in(liquid: Liquid) -> Yeast:
    assert liquid.yeast is not None
    return yeast_of(liquid.yeast)


def fermented_by(walk: Walk, liquid: Liquid) -> Figure:
    """The share of the extract that the yeast in ``liquid`` ferments in the end."""
    yeast, sugars = _yeast_in(liquid), liquid.sugars
    assert sugars is not None
    taken: dict[str, Any] = {}
    for sugar in ("maltose", "maltotriose"):
        low, high = yeast.takes.get(sugar, (0.0, 0.0))
        words = f"{100 * low:.0f} to {100 * high:.0f} percent"
        taken[f"{sugar}_taken"] = walk.ledger.state(
            walk.id, f"{sugar}-taken", f"{sugar} that {yeast.name} takes", 50 * (low + high), "percent",
            origin=Origin("package", None, words, yeast.rests_on[-2]),
            influences={f"the sugars that {yeast.name} takes": 50 * (high - low)}, on_sheets=False,
        )  # fmt: skip
    return walk.ledger.work(
        walk.id, "fermented-share", "extract that this yeast ferments", fermented_share, on_sheets=False,
        fermentable=sugars.fermentable, maltose=sugars.maltose, maltotriose=sugars.maltotriose,
        remark="; ".join(sugars.remarks), **taken,
    )  # fmt: skip


def ceiling_of(walk: Walk, step: Ferment, liquid: Liquid, strength: Figure, start: Figure, final: Figure) -> None:
    """Say where the yeast may stop before the sugar is gone; refuse what no brewing yeast is reported to reach."""
    if not walk.ledger.watchful:
        return
    yeast = _yeast_in(liquid)
    usual, best = yeast.ceiling
    if strength.value > best:
        raise walk.refuse(
            step.what, "what",
            f"The sugar in the {step.what} would make {strength.value:.1f} percent by volume; {yeast.name} is not"
            f" reported past {best:.0f} percent.",
            "Use less sugar, or more water.",
        )  # fmt: skip
    if strength.value <= usual:
        return
    remark = (
        f"the sugar would take it to {strength.value:.1f} percent; brewing yeasts are usually reported to stop by"
        f" {usual:g}, and reach {best:.0f} only where they are well fed: it may come to rest here, sweet"
    )
    stop = walk.ledger.state(
        walk.id, "ceiling", f"strength at which {yeast.name} may stop", usual, "percent_by_volume",
        origin=Origin("package", None, f"{usual:g} percent", "as usually reported; the limit is one of nutrition"),
        sources=("casey1984",), remark=remark,
    )  # fmt: skip
    walk.ledger.work(
        walk.id, "gravity-if-it-stops", "final gravity if it stops there", gravity_at_strength,
        original_gravity=start, strength=stop, remark=remark,
    )  # fmt: skip


def gas_in_room(walk: Walk, gas: Figure) -> None:
    """The gas as a share of the room's air, where the lesson says how large the room is."""
    room = walk.lesson.file.site.room
    if room is None or walk.lesson.file.site.indoors is False or (walk.ledger.watchful and room.number() <= 0):
        return
    if "lesson.room" not in walk.ledger.entries:
        walk.author("room", "air in the room", room, evidence="the author's own figure", step="lesson", exact=True)
    walk.ledger.work(
        walk.id, "gas-in-room", "that gas in the room's air, by volume", share_of_room, gas=gas,
        room=walk.ledger.again("lesson.room"),
        remark="had all of it come at once, and nothing left the room; near the floor there is more",
    )  # fmt: skip
