"""The library's file: what holds for every lesson below it, and how a lesson overrides it by saying so.

In: ``library.yaml`` above the lessons. Out: :class:`LibraryFile`, laid into a House; a lesson filled up with what it
left to the library: kit, audience, site, shared ingredients, law lines, people.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Any

from pydantic import Field, ValidationError

from presenter.lesson.fields import ClockTime, Model, Share, Text, Words, given_as
from presenter.lesson.house import INSTRUMENTS, House, house_from, package_house
from presenter.lesson.model import Audience, IngredientUse, KitItem, LawLines, LessonFile, Measures, Paper, Site
from presenter.lesson.reading import as_user_knows, read_yaml, text_of_file
from presenter.lesson.shape import problems_of_shape
from presenter.problems import Problem, ProblemsFoundError

__all__ = [
    "HouseKitItem",
    "HouseValueItem",
    "LibraryFile",
    "SharedIngredient",
    "house_for",
    "library_above",
    "with_house",
]

LEVELS_UP = 2  # a library lies in the lesson's folder, or at most so many folders above it


class HouseKitItem(KitItem):
    """One thing of the house's kit: as in a lesson, with the sources of what is known of it."""

    sources: Words = ()


class HouseValueItem(Model):
    """One value of the house, how far it may be off (k = 2), and what it rests on."""

    value: Text
    within: Text | None = None
    rests_on: Text | None = Field(None, alias="rests on")
    sources: Words = ()


class SharedIngredient(Model):
    """An ingredient that lessons name under ``what``: its name in the toolkit's tables, and your own analysis."""

    what: Text
    extract: Share | None = None
    moisture: Share | None = None
    enzymes: Share | None = None
    origin: Text | None = None
    rests_on: Text | None = Field(None, alias="rests on")


class LibraryFile(Model):
    """What holds for every lesson of a library, unless the lesson says otherwise."""

    name: Text | None = None
    people: dict[Text, Text] = Field(default_factory=dict)
    kit: dict[Text, HouseKitItem] = Field(default_factory=dict)
    values: dict[Text, Annotated[HouseValueItem, given_as(alone="value")]] = Field(default_factory=dict)
    law: LawLines = ()
    audience: Audience = Field(default_factory=lambda: Audience.model_validate({}))
    site: Site = Field(default_factory=lambda: Site.model_validate({}))
    paper: Paper | None = None
    measures: Measures | None = None
    papers: Words = ()
    begins: ClockTime | None = None
    closes: ClockTime | None = None
    address: Text | None = None
    ingredients: dict[Text, SharedIngredient] = Field(default_factory=dict)
    series: dict[Text, Words] = Field(default_factory=dict)


@lru_cache(maxsize=8)
def _library_house(path: Path, shown: str, _size: int, _changed: int) -> House:
    """The house of one library file; read anew when the file changes (a thousand lessons ask for the same)."""
    tree = read_yaml(text_of_file(path), shown)
    problems: list[Problem] = []
    shared: LibraryFile | None = None
    house: House | None = None
    try:
        shared = LibraryFile.model_validate(tree)
    except ValidationError as error:
        problems += problems_of_shape(error, tree, shown, LibraryFile, "the library")
    try:
        house = house_from(tree, "library", package_house(), path.parent)
    except ProblemsFoundError as error:
        problems += error.problems
    if problems or shared is None or house is None:
        raise ProblemsFoundError(tuple(dict.fromkeys(problems)))
    return replace(house, shared=shared)


def library_above(lesson_folder: Path) -> Path | None:
    """The ``library.yaml`` in a lesson's folder or above it, the nearest; or nothing."""
    for folder in (lesson_folder, *lesson_folder.parents[:LEVELS_UP]):
        if (folder / "library.yaml").is_file():
            return folder / "library.yaml"
    return None


def house_for(lesson_folder: Path) -> House:
    """The house above a lesson: the library's ``library.yaml`` laid over the package's, or the package's alone.

    Raises ProblemsFoundError with every Problem in the library's file.
    """
    library = library_above(lesson_folder)
    if library is None:
        return package_house()
    found = library.stat()
    return _library_house(library, as_user_knows(library), found.st_size, found.st_mtime_ns)


def with_house(file: LessonFile, house: House) -> tuple[LessonFile, House]:
    """``file`` with what it left to the library, and ``house`` with what the lesson says in its place."""
    said: dict[str, Any] = {}
    if file.law:
        said["law"] = tuple(str(line.say) for line in file.law)
    if file.people:
        said["people"] = {**house.people, **{str(name): str(words) for name, words in file.people.items()}}
    house = replace(house, **said) if said else house
    shared = house.shared
    if shared is None:
        return file, house
    filled = {
        "audience": _filled(file.audience, shared.audience),
        "site": _filled(file.site, shared.site),
        "ingredients": {name: _ingredient(use, shared) for name, use in file.ingredients.items()},
        "kit": _kit(file, shared),
        "papers": file.papers or shared.papers,
        "begins": file.begins or shared.begins,
        "closes": file.closes or shared.closes,
    }
    return file.model_copy(update=filled), house


def _filled(own: Any, shared: Any) -> Any:
    """``own`` with each field that it does not say taken from ``shared``."""
    missing = {
        name: getattr(shared, name)
        for name in type(own).model_fields
        if name not in own.model_fields_set and getattr(shared, name, None) is not None
    }
    return own.model_copy(update=missing) if missing else own


def _ingredient(use: IngredientUse, shared: LibraryFile) -> IngredientUse:
    """An ingredient that names one of the library's, filled up with what the library knows of it."""
    named = str(use.what).casefold()
    known = next((item for name, item in shared.ingredients.items() if str(name).casefold() == named), None)
    if known is None:
        return use
    filled: IngredientUse = _filled(use, known)
    return filled.model_copy(update={"what": known.what})


def _kit(file: LessonFile, shared: LibraryFile) -> dict[Any, KitItem]:
    """The lesson's kit, and after it each thing of the house's that a step stands in or cleans."""
    own = {str(name) for name in file.kit}
    used = dict.fromkeys(str(name) for step in file.steps for name in step.vessels())
    house = {
        name: KitItem.model_validate({}).model_copy(update={key: getattr(item, key) for key in KitItem.model_fields})
        for name, item in shared.kit.items()
        if str(name) in used and str(name) not in own and str(name) not in INSTRUMENTS
    }
    return {**file.kit, **house}
