"""The index of formulas in sentences that a teacher reads: what each gives and takes, and what it was checked against.

In: the formulas' own docstrings and the checks' recorded results, so that it cannot drift. Out: lines of text.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from presenter.science.formula import Formula
    from presenter.science.formula_index import Check
    from presenter.sources import Bibliography

__all__ = ["formula_lines", "unit_words"]

# Units whose spoken names alone would not say what is measured.
_IN_WORDS = {
    "degree_Lintner": "degrees Lintner",
    "degree_Celsius": "degrees Celsius", "delta_degree_Celsius": "degrees Celsius of difference",
    "gravity": "specific gravity", "percent_by_volume": "percent by volume", "attenuation_percent": "percent",
    "dimensionless": "a plain number", "percent": "percent", "pH": "pH", "piece": "pieces",
    "volume_co2": "volumes of carbon dioxide", "degree_Plato": "degrees Plato", "share of the value": "of the value",
}  # fmt: skip
_OTHER = {
    "mole": "moles", "watt": "watts", "gram": "grams", "delta_degree_Celsius": "degrees", "degree_Celsius": "degrees",
    "kelvin": "kelvins", "pascal": "pascals", "joule": "joules", "inch": "inches", "foot": "feet",
}  # fmt: skip
_KINDS = {
    "published": "Checked against print", "library": "Checked against an independent library",
    "common practice": "Held beside common practice", "balance": "Checked as a balance",
    "closed form": "Checked against a case that is known exactly",
    "fitted": "Made from these points, which settle nothing",
}  # fmt: skip


def unit_words(unit: str) -> str:
    """A unit as a reader says it: "kilograms", "kilojoules for each degree", "specific gravity"."""
    from presenter.quantities.wording import PRINTED

    if unit in _IN_WORDS:
        return _IN_WORDS[unit]
    printed = PRINTED.get(unit)
    if printed is not None and printed.many:
        return printed.many
    top, *below = [part.strip() for part in unit.replace(" ** 3", " cubed").replace(" ** 2", " squared").split(" / ")]
    named = PRINTED.get(top)
    many = named.many if named is not None and named.many else _OTHER.get(top, top.replace("_", " "))
    for part in below:
        under = PRINTED.get(part)
        many += f" for each {under.one if under is not None and under.one else part.replace('_', ' ')}"
    return many


def _arguments(formula: Formula) -> list[str]:
    """One line for each thing that a formula takes: its name, its unit, and what the docstring adds."""
    said: dict[str, str] = {}
    for line in formula.section("Parameters").splitlines():
        found = re.match(r"(?P<names>[a-z_, ]+) : (?P<rest>.*)", line)
        if found is None:
            if said and line.strip():  # the rest of the line before
                last = list(said)[-1]
                said[last] = f"{said[last]} {line.strip()}"
            continue
        _, _, more = found["rest"].partition(",")
        said |= {name.strip(): more.strip() for name in found["names"].split(",")}
    lines = []
    for name, unit in formula.takes.items():
        more = f": {said[name]}" if said.get(name) else ""
        low_high = formula.valid.get(name)
        holds = f"; it holds from {low_high[0]:g} to {low_high[1]:g}" if low_high else ""
        lines.append(f"  It takes the {name.replace('_', ' ')}, in {unit_words(unit)}{more}{holds}.")
    return lines


def _named(key: str, bibliography: Bibliography) -> str:
    """A source as a citation; anything else as it is written."""
    return bibliography[key].citation() if key in bibliography else key


def _short(key: str, bibliography: Bibliography) -> str:
    """A source by author and year, "as quoted" where it was; anything else as it is written."""
    if key not in bibliography:
        return key
    source = bibliography[key]
    return source.short_form() + (", as quoted" if source.as_quoted_by else "")


def _check(found: Check, bibliography: Bibliography) -> str:
    """One check in a sentence: against what, at how many points, the worst miss, and what is allowed and why."""
    points = "1 point" if found.points == 1 else f"{found.points} points"
    where = f" (at {found.worst_at})" if found.points > 1 else ""
    by = f" ({_short(found.against, bibliography)})" if found.against != found.kind else ""
    return (
        f"  {_KINDS[found.kind]}{by}: {found.what}, {points}; worst miss {found.worst_miss:g}{where}, allowed"
        f" {found.tolerance:g}, in {unit_words(found.unit)}: {found.because}."
    )


def _rests_on(formula: Formula, bibliography: Bibliography) -> Iterable[str]:
    """What a formula rests on: its sources as citations, or its own words."""
    for key in formula.sources:
        yield f"  Source: {_named(key, bibliography)}"
    if not formula.sources:
        yield f"  It rests on {formula.rests_on or 'what its own notes say'}."


def formula_lines() -> list[str]:
    """Every formula: what it gives and takes, where it holds, its sources, what it was checked against, and the miss.

    At the end stand the points at which the mash model was fitted or checked, with the miss at each.
    """
    from presenter.science.formula_index import every_formula, recorded_checks
    from presenter.sources import package_bibliography

    lines: list[str] = []
    checks, bibliography = recorded_checks(), package_bibliography()
    for name, formula in sorted(every_formula().items()):
        lines.append(f"{formula.title} ({name})")
        lines.append(f"  The answer is in {unit_words(formula.gives)}.")
        lines += _arguments(formula)
        lines += _rests_on(formula, bibliography)
        lines += [_check(found, bibliography) for found in checks.get(name, ())]
        lines.append("")
    return [*lines, *_mash_model_lines(bibliography)]


def _mash_model_lines(bibliography: Bibliography) -> list[str]:
    """Every point at which the mash model, a teaching model, was fitted or checked, and its miss."""
    from presenter.science.mash_model import mash_model_record

    lines = ["The mash model, a teaching model fitted by this project: where it was fitted, where it was checked"]
    for miss in mash_model_record()["misses"]:
        published = miss["published"]
        low, high = published if isinstance(published, list) else (published, published)
        said = f"at least {low:g}" if high is None else f"{low:g}" if low == high else f"{low:g} to {high:g}"
        source = _short(str(miss["source"]), bibliography)
        lines.append(
            f"  {miss['what'][:1].upper()}{miss['what'][1:]}: {said} {miss['unit']} in print, {miss['model']:g} here, a"
            f" miss of {miss['miss']:g}; {miss['use']}. {source}: {miss['status']}."
        )
    return lines
