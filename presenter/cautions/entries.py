"""The cautions themselves, read from ``cautions.yaml`` and checked before any is used.

In: the data. Out: :class:`CautionBook`, every entry with its condition read. A mistake in the data raises
CautionDataError with the entry named: an entry that cannot be read is a caution that nobody would see.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from presenter.cautions.conditions import Condition, read_condition
from presenter.cautions.facts import UNKNOWN, Absent, CautionDataError, facts_of_cautions, read_own_yaml

__all__ = [
    "SAY_AT_MOST",
    "SEVERITIES",
    "SHORT_AT_MOST",
    "Caution",
    "CautionBook",
    "Cover",
    "MergedLine",
    "caution_book",
    "read_caution_book",
    "words_in",
]

SEVERITIES = ("notice", "caution", "warning", "danger", "never")
_MANDATORY_OF_THEMSELVES = ("warning", "danger", "never")
_STATUSES = ("seen", "editorial", "from memory")
SHORT_AT_MOST = 14  # words; ours, for a card read at arm's length
AGAIN_AT_MOST = 9  # words; ours, so that a reminder is one line
SAY_AT_MOST = 40  # words; the reference pack's own limit
_KEYS = {
    "id", "topic", "applies_when", "at", "beside", "wherever_its_own", "where", "severity", "duty",
    "duty_because", "covers", "short", "again", "say", "because", "source", "status", "note", "printed", "fills",
    "raised_by",
}  # fmt: skip
_NEEDED = {
    "id", "topic", "applies_when", "at", "severity", "duty", "short", "say", "because", "source", "status",
    "raised_by",
}  # fmt: skip


def words_in(text: str) -> int:
    """How many words ``text`` has, parted at white space."""
    return len(text.split())


@dataclass(frozen=True)
class Cover:
    """At one place the covering short form says, in the words ``said_by``, what the caution ``id`` says."""

    id: str
    said_by: tuple[str, ...]
    because: str


@dataclass(frozen=True)
class Caution:
    """One caution. ``rank`` is its place in the file, ``fill`` the word in braces that is filled in."""

    id: str
    rank: int
    topic: str
    condition: Condition
    at: Literal["step", "sheet"]
    beside: tuple[str, ...]
    wherever_its_own: bool
    where: Literal["each", "first", "last"]
    severity: str
    mandatory: bool
    duty_because: str
    covers: tuple[Cover, ...]
    short: str
    say: str
    because: str
    source: tuple[str, ...]
    status: str
    note: str
    printed: bool
    fill: str
    fill_words: Mapping[str, str]
    fill_unsure: str
    raised_by: Mapping[str, Any]
    again: str = ""

    @property
    def order(self) -> tuple[int, int]:
        """Sorts by severity, the gravest first, then as the file has them."""
        return (-SEVERITIES.index(self.severity), self.rank)

    def filled(self, text: str, met: tuple[str | Absent, ...]) -> str:
        """``text`` with the word in braces replaced by what raised it; what is unknown is said so."""
        if not self.fill:
            return text
        named = [self.fill_unsure if word is UNKNOWN else self.fill_words.get(str(word), str(word)) for word in met]
        named = sorted(dict.fromkeys(named), key=lambda word: word == self.fill_unsure) or [self.fill_unsure]
        joined = " and ".join(part for part in (", ".join(named[:-1]), named[-1]) if part)
        return text.replace("{" + self.fill + "}", joined)


@dataclass(frozen=True)
class MergedLine:
    """One short line for several cautions of the sheet: ``opens``, then the parts that apply."""

    id: str
    opens: str
    joins: str
    parts: Mapping[str, str]
    because: str

    def words_for(self, ids: tuple[str, ...]) -> str:
        """The line for those of its cautions that apply."""
        said = self.joins.join(part for id_, part in self.parts.items() if id_ in ids)
        line = f"{self.opens} {said}".strip()
        return f"{line[0].upper()}{line[1:]}."


@dataclass(frozen=True)
class CautionBook:
    """Every caution in the order of the file, the fallback for unknown items last, and the merged lines."""

    cautions: tuple[Caution, ...]
    merged_lines: tuple[MergedLine, ...]

    def __getitem__(self, id_: str) -> Caution:
        for caution in self.cautions:
            if caution.id == id_:
                return caution
        raise CautionDataError(f"there is no caution {id_}")


@cache
def caution_book() -> CautionBook:
    """The package's own cautions, read and checked once."""
    return read_caution_book(read_own_yaml("cautions.yaml"))


def read_caution_book(data: Mapping[str, Any]) -> CautionBook:
    """The cautions of ``data``, shaped as ``cautions.yaml``; CautionDataError names the entry at fault."""
    written = [*data["cautions"], data["unknown_item"]]
    cautions = tuple(_read_caution(entry, rank) for rank, entry in enumerate(written))
    by_id = {caution.id: caution for caution in cautions}
    if len(by_id) != len(cautions):
        ids = [caution.id for caution in cautions]
        doubled = sorted({id_ for id_ in ids if ids.count(id_) > 1})
        raise CautionDataError(f"the caution {doubled[0]}: its id is used twice")
    for caution in cautions:
        _check_covers(caution, by_id)
    lines = tuple(_read_merged_line(entry, by_id) for entry in data["merged_lines"])
    merged = [id_ for line in lines for id_ in line.parts]
    for id_ in merged:
        if merged.count(id_) > 1:
            raise CautionDataError(f"the caution {id_}: two merged lines hold it")
    return CautionBook(cautions, lines)


def _read_caution(entry: Mapping[str, Any], rank: int) -> Caution:
    id_ = str(entry.get("id", f"number {rank + 1}"))

    def need(fits: object, why: str) -> None:
        if not fits:
            raise CautionDataError(f"the caution {id_}: {why}")

    need(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", id_), "an id has small letters, digits and hyphens only")
    need(not set(entry) - _KEYS, f"unknown key {', '.join(sorted(set(entry) - _KEYS))}")
    need(not _NEEDED - set(entry), f"{', '.join(sorted(_NEEDED - set(entry)))} missing")
    need(entry["severity"] in SEVERITIES, f"severity must be one of {', '.join(SEVERITIES)}")
    need(entry["duty"] in ("mandatory", "advice"), "duty must be mandatory or advice")
    need(entry["at"] in ("step", "sheet"), "at must be step or sheet")
    need(entry.get("where", "each") in ("each", "first", "last"), "where must be each, first or last")
    need(entry["status"] in _STATUSES, f"status must be one of {', '.join(_STATUSES)}")
    need(entry["status"] != "seen" or entry["source"], "it is seen but cites no source")
    need(entry["status"] != "from memory" or not entry["source"], "what is from memory cites no source")
    usual = "mandatory" if entry["severity"] in _MANDATORY_OF_THEMSELVES else "advice"
    need(
        entry["duty"] == usual or entry.get("duty_because"),
        f"{entry['severity']} is {usual}, unless duty_because argues otherwise",
    )
    need(words_in(entry["short"]) <= SHORT_AT_MOST, f"short has more than {SHORT_AT_MOST} words")
    need(words_in(entry.get("again", "")) <= AGAIN_AT_MOST, f"again has more than {AGAIN_AT_MOST} words")
    need(
        "again" not in entry or (entry["at"] == "step" and entry.get("where", "each") == "each"),
        "again is for a caution that stands at each step",
    )
    need(words_in(entry["say"]) <= SAY_AT_MOST, f"say has more than {SAY_AT_MOST} words")
    condition = read_condition(id_, entry["applies_when"])
    facts = facts_of_cautions()
    reads_step = any(facts.by_name[name].scope == "step" for name in condition.facts_read())
    beside = tuple(entry.get("beside", ()))
    unknown_kinds = [kind for kind in beside if kind not in facts.kinds_of_step]
    need(not unknown_kinds, f"beside names {', '.join(unknown_kinds)}, which is no kind of step")
    if entry["at"] == "sheet":
        need(not reads_step, "a caution of the sheet cannot read the facts of a step")
        need("where" not in entry, "a caution of the sheet is on it once, so where says nothing")
    else:
        need(reads_step or beside, "it reads no fact of a step, so beside must say which steps it belongs to")
    fills: Mapping[str, Mapping[str, Any]] = entry.get("fills", {})
    fill = next(iter(fills), "")
    braces = set(re.findall(r"\{(.*?)\}", entry["short"] + entry["say"]))
    need(len(fills) <= 1, "only one word in braces can be filled")
    need(braces == ({fill} if fill else set()), "the words in braces and fills do not agree")
    return Caution(
        id=id_,
        rank=rank,
        topic=entry["topic"],
        condition=condition,
        at=entry["at"],
        beside=beside,
        wherever_its_own=entry.get("wherever_its_own", False),
        where=entry.get("where", "each"),
        severity=entry["severity"],
        mandatory=entry["duty"] == "mandatory",
        duty_because=entry.get("duty_because", ""),
        covers=tuple(Cover(c["id"], tuple(c["said_by"]), c["because"]) for c in entry.get("covers", ())),
        short=entry["short"],
        say=entry["say"],
        because=entry["because"],
        source=tuple(entry["source"]),
        status=entry["status"],
        note=entry.get("note", ""),
        printed=entry.get("printed", True),
        fill=fill,
        fill_words=fills[fill]["words"] if fill else {},
        fill_unsure=fills[fill]["unsure"] if fill else "",
        raised_by=entry["raised_by"],
        again=entry.get("again", ""),
    )


def _check_covers(caution: Caution, by_id: Mapping[str, Caution]) -> None:
    """A caution may stand in only for one no graver and no more binding, and for all that this one covers."""
    own = {cover.id for cover in caution.covers}
    for cover in caution.covers:
        covered = by_id.get(cover.id)
        if covered is None:
            raise CautionDataError(f"the caution {caution.id}: it covers {cover.id}, which does not exist")
        graver = SEVERITIES.index(covered.severity) > SEVERITIES.index(caution.severity)
        if graver or (covered.mandatory and not caution.mandatory):
            raise CautionDataError(f"the caution {caution.id}: it covers {cover.id}, which is the stronger one")
        if (
            covered.at != caution.at
            or not (covered.printed and caution.printed)
            or any(cover.id not in own for cover in covered.covers)
        ):
            raise CautionDataError(f"the caution {caution.id}: it cannot stand in for {cover.id} at any one place")
        if covered.fill or not cover.said_by or any(words not in caution.short for words in cover.said_by):
            raise CautionDataError(f"the caution {caution.id}: its short form does not say what {cover.id} says")


def _read_merged_line(entry: Mapping[str, Any], by_id: Mapping[str, Caution]) -> MergedLine:
    for id_ in entry["parts"]:
        if id_ not in by_id or by_id[id_].at != "sheet" or not by_id[id_].printed:
            raise CautionDataError(f"the merged line {entry['id']}: {id_} is no printed caution of the sheet")
    return MergedLine(entry["id"], entry["opens"], entry["joins"], dict(entry["parts"]), entry["because"])
