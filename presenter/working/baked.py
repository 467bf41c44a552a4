"""The loaves that a lesson leaves for others: as planned, and as they are where one thing is off.

In: the loaves of a lesson's walks. Out: :class:`Baked`, which a walk of another lesson asks for a loaf.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from presenter.working.vessels import Loaf

__all__ = ["Baked", "moved_loaves"]

Loaves = Mapping[str, Loaf]
Shift = tuple[str, float]


@dataclass(frozen=True)
class Baked:
    """What one lesson bakes and leaves: its loaves by name as planned, and those that a shift moves, by the shift."""

    loaves: Loaves
    moved: Mapping[Shift, Loaves] = field(default_factory=dict)

    def loaf(self, name: str, shifts: Mapping[str, float]) -> Loaf:
        """The loaf called ``name``, in a walk with ``shifts`` (of which give-or-take makes one at a time)."""
        moved = next((self.moved[shift] for shift in shifts.items() if shift in self.moved), self.loaves)
        return moved[name]

    def may_be_off(self) -> list[str]:
        """What moves a loaf, in words."""
        return list(dict.fromkeys(name for name, _ in self.moved))


def moved_loaves(planned: Loaves, shifted: Mapping[Shift, Loaves]) -> dict[Shift, Loaves]:
    """The shifted walks in which some loaf is not as planned."""

    def is_moved(name: str, loaf: Loaf) -> bool:
        return name in planned and replace(loaf, used=0.0) != replace(planned[name], used=0.0)

    return {
        shift: {**planned, **loaves}
        for shift, loaves in shifted.items()
        if any(is_moved(name, loaf) for name, loaf in loaves.items())
    }
