"""When a caution applies: a small language of tests over the listed facts, read once, then evaluated.

In: a condition as ``cautions.yaml`` writes it, and the facts of a sheet and a step. Out: whether it holds,
and which words made it hold. An unknown fact passes every test made on it; one that is not applicable passes
none.

The tests: a plain value (equal to it) · a list (equal to one of them) · ``not`` (known and different) · text
starting with ``<``, ``<=``, ``>``, ``>=`` · ``from``/``to`` (closed range) · ``is`` (exactly this,
``unknown`` included) · ``any_of``, ``none_of`` (words in a list) · ``any_entry`` (the list is not empty) ·
for plants ``foraged`` (with ``any_of``: that same entry) and ``level`` (of the botanicals table) · ``listed:
false`` (a name that no table knows). Every fact named must pass; under ``any`` one of the maps must;
``always: true`` holds.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Protocol, TypeAlias

from presenter.cautions.facts import (
    NOT_APPLICABLE,
    UNKNOWN,
    Absent,
    CautionDataError,
    FactEntry,
    Plant,
    facts_of_cautions,
    read_own_yaml,
)
from presenter.problems import nearest
from presenter.science.plants import botanical_levels

__all__ = ["Condition", "ingredient_words", "read_condition"]

Facts: TypeAlias = Mapping[str, Any]
Met: TypeAlias = tuple[str | Absent, ...]

_COMPARISONS: Mapping[str, Callable[[float, float], bool]] = {
    "<=": operator.le,
    ">=": operator.ge,
    "<": operator.lt,
    ">": operator.gt,
}


@cache
def ingredient_words() -> frozenset[str]:
    """The closed list of words that a lesson's ingredients are mapped to."""
    return frozenset(read_own_yaml("tables/ingredient_words.yaml")["words"])


class _OneTest(Protocol):
    """A test of one fact. It returns the words that met it, UNKNOWN among them where an unknown value did."""

    def met_by(self, value: Any) -> Met | None:
        """The words that met the test (there may be none to name), or None where it is not met."""


@dataclass(frozen=True)
class _Scalar:
    """One value, or one of several: equal, different, compared or within a range."""

    holds: Callable[[Any], bool]

    def met_by(self, value: Any) -> Met | None:
        several = value if isinstance(value, tuple) else (value,)
        met = [one for one in several if one is UNKNOWN or self.holds(one)]
        return tuple(one for one in met if one is UNKNOWN or isinstance(one, str)) if met else None


@dataclass(frozen=True)
class _Exactly:
    """``{is: unknown}``, or exactly one value. The one test that an unknown fact need not pass."""

    wanted: Any

    def met_by(self, value: Any) -> Met | None:
        several = value if isinstance(value, tuple) else (value,)
        met = [one for one in several if one == self.wanted]
        return tuple(one for one in met if one is UNKNOWN or isinstance(one, str)) if met else None


@dataclass(frozen=True)
class _InList:
    """Some entry of a list passes; an unknown entry does."""

    holds: Callable[[Any], bool]

    def met_by(self, value: Any) -> Met | None:
        met = [one for one in value if one is UNKNOWN or self.holds(one)]
        return tuple(UNKNOWN if one is UNKNOWN else _word(one) for one in met) if met else None


@dataclass(frozen=True)
class _NoneOf:
    """A list that is known to hold one of the words fails; otherwise it passes."""

    words: frozenset[str]

    def met_by(self, value: Any) -> Met | None:
        return None if any(one is not UNKNOWN and _word(one) in self.words for one in value) else ()


def _word(entry: str | Plant) -> str:
    return entry.name if isinstance(entry, Plant) else entry


@dataclass(frozen=True)
class Condition:
    """A condition, read and checked. ``always`` holds for every sheet."""

    always: bool
    every: tuple[tuple[str, _OneTest], ...]
    any_of: tuple[Condition, ...]

    def holds(self, facts: Facts) -> bool:
        """Whether the condition holds for these facts; a fact missing from ``facts`` is unknown."""
        return self.met_by(facts) is not None

    def met_by(self, facts: Facts) -> Met | None:
        """What met the condition, each word once, UNKNOWN for what is not known; None if it does not hold."""
        if self.always:
            return ()
        words: list[str | Absent] = []
        for name, test in self.every:
            value = facts.get(name, UNKNOWN)
            if value is NOT_APPLICABLE:
                return None
            if value is UNKNOWN and not isinstance(test, _Exactly):
                words.append(UNKNOWN)
                continue
            met = test.met_by(value)
            if met is None:
                return None
            words.extend(met)
        if self.any_of:
            branches = [met for branch in self.any_of if (met := branch.met_by(facts)) is not None]
            if not branches:
                return None
            words.extend(word for met in branches for word in met)
        return tuple(dict.fromkeys(words))

    def facts_read(self) -> frozenset[str]:
        """The names of every fact the condition may read."""
        own = frozenset(name for name, _ in self.every)
        return own.union(*(branch.facts_read() for branch in self.any_of))


def read_condition(entry: str, written: object) -> Condition:
    """The condition of the caution ``entry``, read; CautionDataError names the entry and what is wrong."""
    if not isinstance(written, Mapping) or not written:
        raise CautionDataError(f"the caution {entry}: applies_when must name at least one fact, or always: true")
    if "always" in written:
        if written["always"] is not True or len(written) > 1:
            raise CautionDataError(f"the caution {entry}: always must be true and stand alone")
        return Condition(True, (), ())
    every: list[tuple[str, _OneTest]] = []
    branches: tuple[Condition, ...] = ()
    for name, test in written.items():
        if name == "any":
            if not isinstance(test, list) or not test:
                raise CautionDataError(f"the caution {entry}: any must hold a list of maps")
            branches = tuple(read_condition(entry, branch) for branch in test)
            continue
        known = facts_of_cautions().by_name
        if name not in known:
            offer = nearest(str(name), known)
            also = f"; did you mean {offer}?" if offer else ""
            raise CautionDataError(f"the caution {entry}: there is no fact {name}{also}")
        fact = known[name]
        every.extend((name, one) for one in _read_tests(entry, fact, test))
    return Condition(False, tuple(every), branches)


def _bad(entry: str, fact: FactEntry, why: str) -> CautionDataError:
    return CautionDataError(f"the caution {entry}: the test on {fact.name} {why}")


def _read_tests(entry: str, fact: FactEntry, written: object) -> list[_OneTest]:
    """The tests that stand under one fact."""
    if isinstance(written, Mapping):
        if fact.kind == "list":
            return [_read_list_test(entry, fact, written)]
        return [_read_mapped_test(entry, fact, written)]
    if fact.kind == "list":
        raise _bad(entry, fact, "must be any_of, none_of, any_entry, foraged, level or listed")
    if isinstance(written, str) and written[:1] in "<>" and written:
        return [_read_comparison(entry, fact, written)]
    values = written if isinstance(written, list) else [written]
    for value in values:
        _check_value(entry, fact, value)
    allowed = tuple(values)
    return [_Scalar(lambda one: one in allowed)]


def _check_value(entry: str, fact: FactEntry, value: object) -> None:
    """Refuse a value that the fact can never hold: such a test could never raise its caution."""
    fits = {
        "yes or no": isinstance(value, bool),
        "number": isinstance(value, int | float) and not isinstance(value, bool),
        "numbers": isinstance(value, int | float) and not isinstance(value, bool),
    }.get(fact.kind, isinstance(value, str) and (not fact.words or value in fact.words))
    if not fits:
        allowed = ", ".join(fact.words) or fact.kind
        raise _bad(entry, fact, f"asks for {value!r}, which the fact cannot hold ({allowed})")


def _read_comparison(entry: str, fact: FactEntry, written: str) -> _Scalar:
    if fact.kind not in ("number", "numbers"):
        raise _bad(entry, fact, f"compares ({written}), but the fact is no number")
    sign = written[:2] if written[:2] in _COMPARISONS else written[:1]
    try:
        limit = float(written[len(sign) :])
    except ValueError:
        raise _bad(entry, fact, f"compares with no number: {written}") from None
    compare = _COMPARISONS[sign]
    return _Scalar(lambda one: compare(one, limit))


def _read_mapped_test(entry: str, fact: FactEntry, written: Mapping[Any, Any]) -> _OneTest:
    keys = set(written)
    if keys == {"not"}:
        unwanted = written["not"]
        _check_value(entry, fact, unwanted)
        return _Scalar(lambda one: one != unwanted)
    if keys == {"is"}:
        if written["is"] == "unknown":
            return _Exactly(UNKNOWN)
        _check_value(entry, fact, written["is"])
        return _Exactly(written["is"])
    if keys == {"from", "to"}:
        low, high = written["from"], written["to"]
        for end in (low, high):
            _check_value(entry, fact, end)
        if fact.kind not in ("number", "numbers") or low > high:
            raise _bad(entry, fact, f"has no range from {low} to {high}")
        return _Scalar(lambda one: low <= one <= high)
    raise _bad(entry, fact, f"is not one that is known: {', '.join(sorted(map(str, keys)))}")


def _read_list_test(entry: str, fact: FactEntry, written: Mapping[Any, Any]) -> _OneTest:
    keys = set(written)
    if keys == {"any_entry"} and written["any_entry"] is True:
        return _InList(lambda one: True)
    if keys == {"none_of"}:
        return _NoneOf(frozenset(_listed_words(entry, fact, written["none_of"])))
    if keys == {"listed"} and written["listed"] is False and fact.name in ("plants", "ingredients"):
        known = frozenset(botanical_levels()) if fact.name == "plants" else ingredient_words()
        return _InList(lambda one: _word(one) not in known)
    if keys == {"any_of"}:
        words = frozenset(_listed_words(entry, fact, written["any_of"]))
        return _InList(lambda one: _word(one) in words)
    if keys and keys <= {"any_of", "foraged", "level"} and fact.name == "plants":
        return _read_plant_test(entry, fact, written)
    raise _bad(entry, fact, f"is not one that is known: {', '.join(sorted(map(str, keys)))}")


def _read_plant_test(entry: str, fact: FactEntry, written: Mapping[Any, Any]) -> _InList:
    """Tests that one and the same plant must pass together."""
    named = frozenset(_listed_words(entry, fact, written["any_of"])) if "any_of" in written else None
    if written.get("foraged", True) is not True:
        raise _bad(entry, fact, "may only ask for foraged: true")
    gathered = "foraged" in written
    levels = frozenset(written["level"]) if "level" in written else None
    unknown_levels = (levels or frozenset()) - set(botanical_levels().values())
    if unknown_levels:
        raise _bad(entry, fact, f"asks for a level the table has not: {', '.join(sorted(unknown_levels))}")

    def holds(plant: Plant) -> bool:
        return (
            (named is None or plant.name in named)
            and (not gathered or plant.origin != "bought")
            and (levels is None or botanical_levels().get(plant.name) in levels)
        )

    return _InList(holds)


def _listed_words(entry: str, fact: FactEntry, written: object) -> list[str]:
    if not isinstance(written, list) or not written or not all(isinstance(word, str) for word in written):
        raise _bad(entry, fact, "must list words")
    known: frozenset[str] = frozenset(fact.words)
    if fact.name == "plants":
        known = frozenset(botanical_levels())
    elif fact.name == "ingredients":
        known = ingredient_words()
    for word in written:
        if known and word not in known:
            offer = nearest(word, known)
            also = f"; did you mean {offer}?" if offer else ""
            raise _bad(entry, fact, f"names {word}, which its list does not hold{also}")
    return list(written)
