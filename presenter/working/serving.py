"""What one measure of a drink holds: grams of alcohol, and each country's standard drinks with source and year.

In: drinks, a measure, the countries that the audience (or the library's) names, or a short table from the smallest to
the largest. Out: numbers. Nothing is said of anybody's blood.
"""

from __future__ import annotations

from presenter.lesson.model import Lesson
from presenter.lesson.steps import slug
from presenter.problems import Problem, nearest
from presenter.quantities import Origin
from presenter.science.alcohol import StandardDrink, standard_drink_countries, standard_drinks
from presenter.working.ledger import Figure
from presenter.working.walk import Walk

__all__ = ["SHORT_TABLE", "countries_of", "country_problems", "dated_source", "standard_drinks_in_measure"]

SHORT_TABLE = ("United Kingdom", "Australia", "United States", "Austria")
"""Counted where neither lesson nor library names a country: 8, 10, 14 and 20 g, which span what countries say."""


def countries_of(lesson: Lesson) -> tuple[StandardDrink, ...]:
    """The standard drinks to count in; a country that no source was read for is left to :func:`country_problems`."""
    known = standard_drink_countries()
    named = [str(name) for name in lesson.file.audience.standard_drinks_of] or SHORT_TABLE
    return tuple(known[name] for name in dict.fromkeys(named) if name in known)


def dated_source(lesson: Lesson, country: StandardDrink) -> str:
    """The key of the source to print with a country's grams: the first that bears a year, if any does."""
    keys = (country.source, *country.also)
    return next((key for key in keys if lesson.bibliography[key].year), country.source)


def country_problems(lesson: Lesson) -> list[Problem]:
    """A Problem for each country whose standard drink was read in no source."""
    known = standard_drink_countries()
    problems = []
    for name in lesson.file.audience.standard_drinks_of:
        if str(name) in known:
            continue
        close = nearest(str(name), known)
        remedy = f"Did you mean {close}?" if close else f"There are {', '.join(known)}."
        wrong = f"No source was read for a standard drink of {name}."
        problems.append(Problem(name.place, "audience.standard drinks of", str(name), wrong, remedy))
    return problems


def standard_drinks_in_measure(walk: Walk, said: str, alcohol: Figure) -> None:
    """Count one drink's measure in each country's standard drinks."""
    for country in countries_of(walk.lesson):
        key = slug(country.country)
        source = dated_source(walk.lesson, country)
        year = walk.lesson.bibliography[source].year
        grams = walk.ledger.state(
            walk.id, f"{slug(said)}-standard-drink-{key}", f"a standard drink, {country.country}", country.grams,
            "gram", origin=Origin("package", None, f"{country.grams:g} g", country.note or "as the source prints it"),
            sources=(source,), on_sheets=False,
        )  # fmt: skip
        walk.ledger.work(
            walk.id, f"{slug(said)}-in-standard-drinks-{key}",
            f"one measure of {said} in standard drinks, {country.country} ({country.grams:g} g, source of {year})",
            standard_drinks, alcohol=alcohol, grams_per_drink=grams, more_sources=(source,), on_sheets=False,
        )  # fmt: skip
