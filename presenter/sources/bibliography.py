"""The bibliography: from a key such as ``hmrc226`` to author, title, year, where, and how it was seen.

In: YAML files of records, the package's own and any that an author keeps. Out: :class:`Bibliography`, whose
nearest file wins. A source read only through another is always cited "as quoted by".
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from presenter.problems import BrewingPresenterError

__all__ = ["Bibliography", "Source", "SourceRecordError", "package_bibliography", "source_from_record"]

SEEN = ("direct", "secondary", "existence")


class SourceRecordError(BrewingPresenterError):
    """A source's record lacks what a citation needs; the message names the source and the field."""


@dataclass(frozen=True)
class Source:
    """One source. ``seen`` is "direct", "secondary" (then ``as_quoted_by`` is set) or "existence"."""

    key: str
    author: str
    title: str
    year: str
    where: str
    link: str
    seen: str
    how: str
    as_quoted_by: str = ""
    topic: str = ""

    @property
    def published(self) -> bool:
        """Whether figures from it may be printed as published (read directly or as quoted by another)."""
        return self.seen in {"direct", "secondary"}

    def citation(self, locator: str = "") -> str:
        """The source as it is printed in a list of sources."""
        opening = ", ".join(part for part in (self.author, self.year) if part)
        named = f'{opening}: "{self.title}"' if opening and self.title else opening or self.title
        parts = [named, self.where, locator]
        text = ", ".join(part.rstrip(".") for part in parts if part)
        if self.as_quoted_by:
            text += f"; as quoted by {self.as_quoted_by}"
        if self.link:
            text += f". {self.link}"
        return text if text.endswith((".", "/")) else f"{text}."

    def citation_in_print(self) -> str:
        """The source for paper: without the address, which nobody can follow there, unless nothing else finds it."""
        text = self.citation()
        if self.link and (self.where or self.as_quoted_by):
            text = text.removesuffix(".").removesuffix(self.link).rstrip(". ") + "."
        return text

    def short_form(self) -> str:
        """Author and year, for use in a line of text."""
        author = self.author.split(",")[0].split(" and ")[0].strip() if self.author else self.title
        return f"{author} {self.year}".strip()


def _names(value: Any) -> str:
    """CSL names (a list of family/given or literal) or plain text, into one line."""
    if isinstance(value, str):
        return value
    names: list[str] = []
    for person in value or []:
        if isinstance(person, Mapping):
            literal = person.get("literal")
            full = literal or ", ".join(str(person[k]) for k in ("family", "given") if person.get(k))
            names.append(str(full))
        else:
            names.append(str(person))
    return "; ".join(names)


def source_from_record(key: str, record: Mapping[str, Any], topic: str = "") -> Source:
    """A source from one record, in our own short field names or in CSL's.

    Raises SourceRecordError where there is no title, an unknown ``seen``, or a secondary source that does not
    say through whom it was read.
    """
    title = str(record.get("title", "")).strip()
    if not title:
        raise SourceRecordError(f"the source {key} has no title")
    seen = str(record.get("seen", "")).strip()
    if seen not in SEEN:
        raise SourceRecordError(f"the source {key} says seen: {seen or 'nothing'}; write one of {', '.join(SEEN)}")
    quoted = str(record.get("as_quoted_by", "") or "").strip()
    if seen == "secondary" and not quoted:
        raise SourceRecordError(f"the source {key} was seen in a secondary quotation: add as_quoted_by")
    where = str(record.get("where", "") or "")
    if not where:
        pieces = [record.get(field) for field in ("container-title", "publisher", "publisher-place")]
        page = record.get("page")
        where = ", ".join(str(piece) for piece in pieces if piece) + (f", pages {page}" if page else "")
    return Source(
        key=key,
        author=_names(record.get("author") or record.get("editor") or ""),
        title=title,
        year=str(record.get("year") or record.get("issued") or ""),
        where=where.strip(", "),
        link=str(record.get("link") or record.get("URL") or ""),
        seen=seen,
        how=str(record.get("how", "") or ""),
        as_quoted_by=quoted,
        topic=topic,
    )


@dataclass(frozen=True)
class Bibliography:
    """Sources by key. Later layers stand nearer to the author and win."""

    sources: Mapping[str, Source]

    def __contains__(self, key: object) -> bool:
        return key in self.sources

    def __getitem__(self, key: str) -> Source:
        return self.sources[key]

    def keys(self) -> Iterable[str]:
        """Every key, for offering the nearest."""
        return self.sources.keys()

    def with_nearer(self, nearer: Mapping[str, Source]) -> Bibliography:
        """This bibliography with ``nearer`` sources added, which win over its own."""
        return Bibliography({**self.sources, **nearer})


@cache
def package_bibliography() -> Bibliography:
    """Every source that the package's formulas, tables and cautions cite."""
    found: dict[str, Source] = {}
    for entry in sorted(files("presenter.sources").iterdir(), key=lambda item: item.name):
        if not entry.name.endswith(".yaml"):
            continue
        records = yaml.load(entry.read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
        for key, record in records.items():
            found[key] = source_from_record(key, record, topic=entry.name.removesuffix(".yaml"))
    return Bibliography(found)
