"""Forms to fill in by hand on the day, for wet hands: few words, wide rows, the order of the day's file.

In: a filling. Out: what each form lists: the steps with what is read at them and what was planned, the things to clean,
the worts to cool, the drinks to taste.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from presenter.documents.chosen import numbers_shown
from presenter.documents.kind import Filling
from presenter.documents.number_blocks import capital
from presenter.documents.sheet_view import SheetView
from presenter.lesson.fields import Stated
from presenter.lesson.steps.clean import Clean
from presenter.lesson.steps.cool import Cool
from presenter.lesson.steps.ferment import Ferment
from presenter.quantities import in_words

__all__ = ["FormView", "form_values"]

READ_BY_HAND = {"gravity", "degree_Celsius", "litre"}  # the units of what an instrument on the day can show
COOLING_ROWS = 8


@dataclass(frozen=True)
class FormView:
    """What the forms list; every text is words already."""

    sheet: SheetView

    @property
    def steps(self) -> list[dict[str, Any]]:
        """Each step that anything can be read at: its number, its name, and the planned numbers to read against."""
        found = []
        for step in self.sheet.steps:
            shown = numbers_shown(self.sheet.worked, step.id, str(step.step.do))
            rows = [
                {"label": capital(number.label), "planned": number.words(self.sheet.measures)}
                for number in shown
                if str(number.quantity.units) in READ_BY_HAND
            ]
            if rows:
                found.append({"number": step.number, "name": step.name, "rows": rows})
        return found

    def _words(self, stated: Stated) -> str:
        """A figure of the author's, in the sheet's measures."""
        return in_words(stated.quantity, measures=self.sheet.measures, written=stated.written)

    @property
    def cleaned(self) -> list[dict[str, str]]:
        """Each thing that a step cleans, and how."""
        found = []
        for step in self.sheet.worked.lesson.steps:
            if isinstance(step, Clean):
                how = [self._words(stated) for stated in (step.at, step.for_) if stated is not None]
                found += [{"what": capital(str(what)), "how": ", ".join(how) or "as usual"} for what in step.what]
        return found

    @property
    def cooled(self) -> list[dict[str, str]]:
        """Each wort that is cooled: from where to where, and within what time."""
        return [
            {"name": str(step.name), "to": self._words(step.to), "within": self._words(step.within)}
            for step in self.sheet.worked.lesson.steps
            if isinstance(step, Cool)
        ]  # fmt: skip

    @property
    def cooling_rows(self) -> list[str]:
        """The minutes at which a cooling wort is read: every five at first."""
        return [str(5 * row) for row in range(COOLING_ROWS)]

    @property
    def drinks(self) -> list[str]:
        """The drinks to taste side by side, at most three on a form."""
        names = [capital(str(step.what)) for step in self.sheet.worked.lesson.steps if isinstance(step, Ferment)]
        return names[:3] or ["The drink"]


def form_values(filling: Filling) -> Mapping[str, Any]:
    """The values of a form."""
    return {"form": FormView(filling.view)}
