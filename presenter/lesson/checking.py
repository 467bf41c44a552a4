"""From the text of a lesson to a checked Lesson, or to every Problem in it at once.

In: a lesson's folder or file, and the house above it. Out: :class:`~presenter.lesson.model.Lesson`. Checks of
one field come first; checks across fields only where those hold, so that one mistake gives one Problem.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from pydantic import ValidationError

from presenter.lesson.across import problems_across, problems_of_references
from presenter.lesson.house import INSTRUMENTS as INSTRUMENT_NAMES
from presenter.lesson.house import House, instrument_from
from presenter.lesson.library_file import house_for, with_house
from presenter.lesson.model import Lesson, LessonFile
from presenter.lesson.notes import Note, notes_near, sources_near
from presenter.lesson.reading import MappingNode, SequenceNode, Written, as_user_knows, read_yaml, text_of_file
from presenter.lesson.shape import problems_of_shape
from presenter.problems import Place, Problem, ProblemsFoundError
from presenter.sources import Bibliography, package_bibliography

__all__ = ["lesson_from_text", "lesson_from_tree", "lesson_path", "load_lesson"]


# Files of a library that hold no lesson, and what to do with them.
_OTHER_FILES = {
    "library.yaml": "what holds for a whole library",
    "sources.yaml": "a list of sources",
}


def _refuse_no_lesson(path: Path) -> None:
    """One Problem where a file is one of a library's others, rather than one for each of its keys."""
    words = _OTHER_FILES.get(path.name)
    if path.parent.name in {"science", "history"} and path.parent.parent.name == "notes":
        words = "notes"
    if path.parent.name == "days":
        words = "a day of a lesson"
    if words is not None:
        wrong = f"This file holds {words}, and no lesson."
        remedy = "Name the lesson's folder; what it takes from this file is checked with it."
        raise ProblemsFoundError((Problem(Place(str(path), 0, 0), "", "", wrong, remedy),))


def lesson_path(given: Path) -> Path:
    """The lesson's file: ``given`` itself, or the ``lesson.yaml`` (else the one YAML file) in that folder.

    Raises ProblemsFoundError where there is none, or more than one.
    """
    if given.is_file():
        _refuse_no_lesson(given)
        return given
    if not given.is_dir():
        raise ProblemsFoundError((Problem(Place(str(given), 0, 0), "", "", "There is no such file or folder."),))
    usual = given / "lesson.yaml"
    if usual.is_file():
        return usual
    found = sorted(p for p in given.glob("*.yaml") if p.name not in {"sources.yaml", "library.yaml"})
    if len(found) == 1:
        return found[0]
    wrong = (
        "There is no lesson.yaml in this folder." if not found else "There is more than one YAML file in this folder."
    )
    raise ProblemsFoundError((Problem(Place(str(given), 0, 0), "", "", wrong, "Name the lesson's file itself."),))


def load_lesson(given: Path | str, house: House | None = None) -> Lesson:
    """Read and check the lesson at ``given`` (a folder or a file).

    Raises ProblemsFoundError with every Problem, each at its file, line and column.
    """
    path = lesson_path(Path(given))
    return lesson_from_text(text_of_file(path), path, house or house_for(path.parent.resolve()))


def lesson_from_text(text: str, path: Path, house: House) -> Lesson:
    """A checked lesson from its text; ``path`` says where notes and sources are looked for first."""
    return lesson_from_tree(read_yaml(text, as_user_knows(path)), text, path, house)


def lesson_from_tree(tree: MappingNode, text: str, path: Path, house: House) -> Lesson:
    """A checked lesson from its tree, some of which may come from another file (a day): each value knows its place."""
    file = as_user_knows(path)
    problems: list[Problem] = []
    instruments = dict(house.instruments)
    kit = tree.get("kit")
    for name, entry in kit.items() if isinstance(kit, MappingNode) else ():
        if name in INSTRUMENT_NAMES and isinstance(entry, MappingNode):
            instrument = instrument_from(str(name), entry, "lesson", problems, f"kit.{name}")
            if instrument is not None:
                instruments[str(name)] = instrument
    model: LessonFile | None = None
    try:
        model = LessonFile.model_validate(tree)
    except ValidationError as error:
        problems += problems_of_shape(error, tree, file, LessonFile, "the lesson")
    folders = [path.parent]
    if house.folder is not None and house.folder.resolve() != path.parent.resolve():
        folders.insert(0, house.folder)
    notes: dict[str, Note] = {}
    bibliography = package_bibliography()
    try:
        notes = notes_near(folders)
    except ProblemsFoundError as error:
        problems += error.problems
    try:
        bibliography = sources_near(folders, bibliography)
    except ProblemsFoundError as error:
        problems += error.problems
    if model is None:
        problems += _references_all_the_same(tree, path, text, house, notes, bibliography)
    if problems or model is None:
        raise ProblemsFoundError(tuple(dict.fromkeys(problems)))
    model, house = with_house(model, house)
    lesson = Lesson(
        file=model,
        path=path,
        text=text,
        house=house,
        instruments=instruments,
        notes=notes,
        bibliography=bibliography,
    )
    found = problems_across(lesson)
    if found:
        raise ProblemsFoundError(tuple(found))
    return lesson


def _references_all_the_same(
    tree: MappingNode, path: Path, text: str, house: House, notes: Mapping[str, Note], bibliography: Bibliography
) -> list[Problem]:
    """The Problems with notes and evidence of a file whose shape is wrong, so that all are told in one round.

    Steps without a right shape are looked past, and keys that there are none of; where even then nothing can be read,
    there is nothing to add.
    """
    try:
        LessonFile.model_validate(tree)
    except ValidationError as error:
        wrong = [item["loc"] for item in error.errors(include_url=False)]
    mended = MappingNode({key: value for key, value in tree.items() if (key,) not in wrong})
    mended.place = tree.place
    steps = tree.get("steps")
    if not isinstance(steps, SequenceNode):
        return []
    bad = {loc[1] for loc in wrong if len(loc) > 1 and loc[0] == "steps"}
    mended["steps"] = SequenceNode(_looked_past(step) if index in bad else step for index, step in enumerate(steps))
    mended["steps"].place = steps.place
    try:
        model = LessonFile.model_validate(mended)
    except ValidationError:
        return []
    lesson = Lesson(model, path, text, house, {}, notes, bibliography)
    return problems_of_references(lesson)


def _looked_past(step: object) -> MappingNode:
    """A step that only shows something, under the name of one that has no right shape."""
    name = step.get("name") if isinstance(step, MappingNode) else None
    place = getattr(step, "place", Place(""))
    shown = MappingNode(
        {
            "name": name if isinstance(name, Written) and name.strip() else Written("step", place),
            "do": Written("show", place),
        }
    )
    shown.place = place
    return shown
