"""Sources in the order in which a sheet cites them, and the short list of them at its end.

In: keys of sources as they are cited. Out: their numbers, and one line for each that was used.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from presenter.sources import Bibliography

__all__ = ["Citations"]


@dataclass
class Citations:
    """Sources in the order in which they are first cited; every other sheet begins its own."""

    bibliography: Bibliography
    order: list[str] = field(default_factory=list)

    def number(self, key: str) -> int:
        """The number of a source in this sheet's list; the first citation gives it one."""
        if key not in self.order:
            self.order.append(key)
        return self.order.index(key) + 1

    def mark(self, key: str) -> str:
        """The number in square brackets, as it stands in a line of text."""
        return f"[{self.number(key)}]"

    def listed(self) -> list[dict[str, str]]:
        """Every source cited so far with its number, each in the form in which paper can use it."""
        return [
            {"number": str(index), "citation": self.bibliography[key].citation_in_print()}
            for index, key in enumerate(self.order, start=1)
        ]
