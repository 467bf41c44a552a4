"""Sources in the order in which a sheet cites them, and the short list of them at its end.

In: keys of sources as they are cited. Out: their numbers, and one line for each that was used.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from urllib.parse import urlsplit

from presenter.sources import Bibliography, Source

__all__ = ["Citations", "one_line"]

# What a record says of how we came by it: true and kept in the record, but of no use to who looks a source up.
_REMARK = re.compile(r"\s*\([^()]*(?:from memory|not seen|not linked|private)[^()]*\)")
_NO_PLACE = re.compile(r"(?:read in (?:a|an) [^,;.]*|page on the web|not linked|a private page[^,;]*)(?:, not linked)?")
_BY_THE_WAY = re.compile(r"\s*\([^()]{20,}\)(?:\s+with a .*)?")
_ASIDE = re.compile(r";|, which |, citing |, the journal ")
_VOLUME = re.compile(r"^(?!pages?\b).*[a-z] \d+\s*(?:\(\d+\))?[:,]\s*\d+")
_MOST_NAMES = 2
_MOST_CODES = 4  # letters of an address written as % and two signs


def one_line(source: Source) -> str:
    """A source in one short line: who, when, what, where; and through whom, if we read it only there.

    Three names and more become the first "and others"; a journal's volume and page find a paper without its title; the
    address is given only where nothing else finds it. What the record remarks on its own making ("year from memory")
    is left to the record.
    """
    names = re.split(r";\s*", source.author) if ";" in source.author else [source.author]
    who = source.author if len(names) <= _MOST_NAMES else f"{names[0]}, and others"
    when = "" if "not seen" in source.year or "memory" in source.year else source.year
    where = _NO_PLACE.sub("", _REMARK.sub("", source.where)).strip(" ,.;")
    where = re.sub(r"[;,]\s*doi:?\s*\S+$", "", where)
    opening = ", ".join(_REMARK.sub("", part) for part in (who, when) if part)
    title = _BY_THE_WAY.sub("", _REMARK.sub("", source.title))
    in_a_journal = bool(opening and _VOLUME.search(where))
    found = where if in_a_journal else ", ".join(part for part in (f"“{title}”", where) if part)
    line = ", ".join(part for part in (opening, found) if part)
    if source.as_quoted_by:
        line += f"; as quoted by {_ASIDE.split(source.as_quoted_by, maxsplit=1)[0]}"
    line = line.rstrip(". ")
    if source.link and not source.where and not source.as_quoted_by:
        line += f". {_address(source.link)}"
    line = line[:1].upper() + line[1:]
    return line if line.endswith(("/", ".")) else f"{line}."


def _address(link: str) -> str:
    """An address as it is printed: one of many letters as codes, which nobody can type, is named by its host."""
    return f"Read at {urlsplit(link).netloc}" if link.count("%") > _MOST_CODES else link


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
        """Every source cited so far with its number, each in one line."""
        return [
            {"number": str(index), "citation": one_line(self.bibliography[key])}
            for index, key in enumerate(self.order, start=1)
        ]
