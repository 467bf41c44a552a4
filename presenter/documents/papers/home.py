"""For home: the lesson worked again for a household pot, and the slip that comes back, with the fields of a day file.

In: a sheet's view. Out: the view of the smaller lesson, and the rows of the slip. The smaller lesson is worked out by
``working`` as any lesson is; the cautions stay those of the full one, so that none is lost by brewing less.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from pydantic import BaseModel

from presenter.documents.kind import Filling
from presenter.documents.number_blocks import capital
from presenter.documents.papers.clock import day_plan
from presenter.documents.papers.kit import fits_of
from presenter.documents.sheet_view import SheetView
from presenter.lesson import Lesson
from presenter.lesson.amounts import Wish
from presenter.lesson.fields import Stated
from presenter.lesson.house import HOUSE_VALUES, stated
from presenter.lesson.model import LessonFile
from presenter.problems import Problem, ProblemsFoundError
from presenter.quantities import KINDS, Q, in_words, quantity_from_text
from presenter.speech.hearing import heard
from presenter.working import WorkedLesson, work_out

__all__ = ["HomeView", "home_values", "lesson_for_pot", "scaled_lesson", "slip_values"]

_SCALED = {"mass", "volume", "boil-off rate", "pieces"}
_KEPT = {"measure", "home", "site"}  # a tasting measure, the pot itself and the room stay as they are
_FULL = 0.75  # of the pot, at the most; common practice: a pot that boils wants a quarter of its room
USUAL_POT = "5 L"
_AMOUNTS = {"kilogram", "gram", "milligram", "litre", "millilitre", "pound", "ounce", "us_gallon", "imperial_gallon"}


def _scaled(value: Any, factor: float) -> Any:
    if isinstance(value, Wish):  # what is wished for stays; how much drink is to have it does not
        if value.volume is None:
            return value
        volume: Stated = _scaled(value.volume, factor)
        wanted = value.written.replace(value.volume.written, volume.written, 1)
        return replace(value, volume=volume, written=wanted)
    if isinstance(value, Stated):
        if value.kind not in _SCALED:
            return value
        full = value.quantity
        quantity = Q(float(f"{float(full.magnitude) * factor:.3g}"), str(full.units))  # three digits can be weighed
        return replace(value, quantity=quantity, written=in_words(quantity))
    if isinstance(value, BaseModel):
        fields = {name: getattr(value, name) for name in type(value).model_fields if name not in _KEPT}
        changed = {name: _scaled(held, factor) for name, held in fields.items()}
        return value.model_copy(update={name: new for name, new in changed.items() if new is not fields[name]})
    if isinstance(value, tuple):
        return tuple(_scaled(item, factor) for item in value)
    if isinstance(value, dict):
        return {key: _scaled(item, factor) for key, item in value.items()}
    return value


def scaled_lesson(lesson: Lesson, factor: float) -> Lesson:
    """The lesson with every mass, volume, number of pieces and vessel ``factor`` times as large, the house's too."""
    file: LessonFile = _scaled(lesson.file, factor)
    values = dict(lesson.house.values)
    for name, text in lesson.file.house.items():
        read = stated(text, (HOUSE_VALUES[str(name)],), f"house.{name}", [])
        if read is not None:
            values[str(name)] = replace(values[str(name)], value=read, layer="lesson")
    for key, value in values.items():
        if value.value.kind in _SCALED:
            values[key] = replace(value, value=_scaled(value.value, factor), within=value.within * factor)
    house = {own: text for own, text in file.house.items() if HOUSE_VALUES[str(own)] not in _SCALED}
    return replace(lesson, file=file.model_copy(update={"house": house}), house=replace(lesson.house, values=values))


def lesson_for_pot(worked: WorkedLesson, pot: float) -> tuple[WorkedLesson, float]:
    """The lesson worked for a pot that holds so many litres, and how much of the full batch that is, at most all.

    Raises ProblemsFoundError, at the line that names the pot, where so little cannot be worked.
    """
    most = max((fit.most for fit in fits_of(worked, day_plan(worked))), default=0.0)
    factor = min(1.0, _FULL * pot / most) if most else 1.0
    if factor == 1.0:
        return worked, factor
    try:
        return work_out(scaled_lesson(worked.lesson, factor)), factor
    except ProblemsFoundError as error:
        said = worked.lesson.file.home.pot
        first = error.problems[0]
        place, written = (said.place, said.written) if said is not None else (first.place, USUAL_POT)
        wrong = f"The lesson cannot be worked for a pot of {written}: {first.wrong}"
        raise ProblemsFoundError((Problem(place, "home.pot", written, wrong, "Write a larger pot."),)) from None


@dataclass(frozen=True)
class HomeView:
    """The lesson for home: ``small`` is the view of the smaller one."""

    small: SheetView
    full: SheetView
    pot: str
    batch: str

    def names_amounts(self, words: str) -> bool:
        """Whether an author's words name an amount, which is then the full batch's."""
        return any(quantity.unit in _AMOUNTS for quantity in heard(words))


def home_values(filling: Filling) -> Mapping[str, Any]:
    """The values of the try-at-home card's template."""
    view = filling.view
    said = view.worked.lesson.file.home.pot
    pot = said.quantity if said is not None else quantity_from_text(USUAL_POT, KINDS["volume"])
    small, factor = lesson_for_pot(view.worked, float(pot.to("litre").magnitude))
    words = in_words(pot, measures=view.measures, written=said.written if said is not None else USUAL_POT)
    batch = "the full amounts" if factor == 1.0 else f"{in_words(Q(factor * 100, 'percent'))} of the full amounts"
    home = HomeView(SheetView(small, view.cautioned, view.measures, reader=view.reader), view, words, batch)
    return {"home": home, "small": home.small, "steps": home.small.steps}


_READ = {
    "mash": "temperature", "hold": "temperature", "raise": "temperature", "draw off": "gravity, volume",
    "boil": "gravity, volume", "heat": "temperature", "cool": "temperature", "pitch": "gravity",
    "ferment": "gravity", "bake": "temperature", "strain": "volume", "rack": "volume", "join": "gravity",
    "top up": "gravity", "prime and bottle": "volume",
}  # fmt: skip


def slip_values(filling: Filling) -> Mapping[str, Any]:
    """The values of the return slip's template: a row for each step that something is read at."""
    steps = filling.view.worked.lesson.steps
    rows = [{"step": str(step.name), "reads": _READ[str(step.do)]} for step in steps if str(step.do) in _READ]
    goods = [
        {"key": str(key), "what": capital(str(use.what))}
        for key, use in filling.view.worked.lesson.file.ingredients.items()
    ]
    lesson = filling.view.worked.lesson
    address = str(lesson.file.address or lesson.house.address or "")
    return {"readings": rows, "goods": goods, "address": address}
