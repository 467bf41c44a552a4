"""What is in the drink, in sentences: allergens, the herbs and what is known of them, and standard drinks.

In: a worked lesson, the measures of the sheet and its citations. Out: lists of plain words for the templates.
"""

from __future__ import annotations

from presenter.documents.citing import Citations
from presenter.documents.number_blocks import capital
from presenter.lesson import slug
from presenter.working import WorkedLesson
from presenter.working.allergens import allergen_lines, ingredients_unknown_to_allergens
from presenter.working.plants import plant_lines
from presenter.working.serving import countries_of, dated_source

__all__ = ["allergens_said", "plants_said", "servings_said"]

_HOW_SURE = {"always": "", "likely": " (likely)", "possible": " (possibly: read its label)"}


def _cites(keys: tuple[str, ...], citations: Citations) -> str:
    return ", ".join(citations.mark(key) for key in keys if key in citations.bibliography)


def allergens_said(worked: WorkedLesson, citations: Citations) -> list[str]:
    """One line for each allergen group, possible ones included, and one for what no table knows."""
    lines = []
    for line in allergen_lines(worked.lesson):
        brought = ", ".join(f"{what}{_HOW_SURE.get(how_sure, f' ({how_sure})')}" for what, how_sure in line.brought_by)
        lines.append(f"{capital(line.group)}: from {brought}. {_cites(line.sources, citations)}".strip())
    unknown = ingredients_unknown_to_allergens(worked.lesson)
    if unknown:
        lines.append(f"Not known to our table, so read the label: {', '.join(unknown)}.")
    return lines


def plants_said(worked: WorkedLesson, citations: Citations) -> list[dict[str, str]]:
    """Each plant that more is to be said of: its name, and what is known and not known of it."""
    return [
        {
            "name": f"{capital(line.ingredient)} ({line.latin})",
            "say": " ".join((*line.sentences, _cites(line.sources, citations))).strip(),
        }
        for line in plant_lines(worked.lesson)
    ]


def servings_said(worked: WorkedLesson, measures: str, citations: Citations) -> list[str]:
    """For each drink served: the alcohol in a measure, and in each country's standard drinks with source and year."""
    lines = []
    for step in worked.lesson.steps:
        if step.do != "serve":
            continue
        measure = worked.numbers.get(f"{step.id}.measure")
        for name in step.uses():
            alcohol = worked.numbers.get(f"{step.id}.{slug(name)}-alcohol-in-measure")
            if alcohol is None or measure is None:
                continue
            counted = []
            for country in countries_of(worked.lesson):
                number = worked.numbers[f"{step.id}.{slug(name)}-in-standard-drinks-{slug(country.country)}"]
                count = number.words(measures).split("\u00a0")[0]
                key = dated_source(worked.lesson, country)
                year = worked.lesson.bibliography[key].year
                counted.append(f"{country.country} {count} ({country.grams:g}\u00a0g, {year} {citations.mark(key)})")
            lines.append(
                f"{capital(str(name))}, {measure.words(measures)}: {alcohol.words(measures)} of alcohol. In standard"
                f" drinks: {'; '.join(counted)}."
            )
    return lines
