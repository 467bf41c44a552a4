"""From the text of a lesson to a checked Lesson, or to every Problem in it at once.

In: a lesson's folder or file, and the house above it. Out: :class:`~presenter.lesson.model.Lesson`. Checks of
one field come first; checks across fields only where those hold, so that one mistake gives one Problem.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from pydantic import ValidationError

from presenter.lesson.across import problems_across, problems_of_references
from presenter.lesson.finding import lesson_path
from presenter.lesson.house import INSTRUMENTS as INSTRUMENT_NAMES
from presenter.lesson.house import House, instrument_from
from presenter.lesson.library_file import house_for, with_house
from presenter.lesson.made_in import others_of
from presenter.lesson.model import Lesson, LessonFile
from presenter.lesson.notes import Note, notes_near, sources_near
from presenter.lesson.reading import MappingNode, SequenceNode, Written, as_user_knows, read_yaml, text_of_file
from presenter.lesson.shape import problems_of_shape
from presenter.problems import Place, Problem, ProblemsFoundError
from presenter.sources import Bibliography, package_bibliography

__all__ = ["lesson_from_text", "lesson_from_tree", "lesson_path", "load_lesson"]


def load_lesson(given: Path | str, house: House | None = None) -> Lesson:
    """Read and check the lesson at ``given`` (a folder or a file).

    Raises ProblemsFoundError with every Problem, each at its file, line and column.
    """
    path = lesson_path(Path(given))
    return lesson_from_text(text_of_file(path), path, house or house_for(path.parent.resolve()))


def lesson_from_text(text: str, path: Path, house: House) -> Lesson:
    """A checked lesson from its text; ``path`` says where notes and sources are looked for first."""
    return lesson_from_tree(read_yaml(text, as_user_knows(path)), text, path, house)


def lesson_from_tree(
    tree: MappingNode, text: str, path: Path, house: House, *, others: Mapping[str, Lesson] | None = None
) -> Lesson:
    """A checked lesson from its tree, some of which may come from another file (a day): each value knows its place.

    ``others`` are lessons that it rests on and that are loaded already, by the names under ``made in``.
    """
    return _from_tree(tree, text, path, house, (), others or {}, {})


def _from_tree(
    tree: MappingNode, text: str, path: Path, house: House, trail: tuple[Path, ...], others: Mapping[str, Lesson],
    loaded: dict[Path, Lesson],
) -> Lesson:  # fmt: skip
    """As :func:`lesson_from_tree`; ``trail`` are the lessons that rest on this one, ``loaded`` those read for them."""
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

    def load(other: Path, behind: tuple[Path, ...]) -> Lesson:
        if other.resolve() not in loaded:
            words = text_of_file(other)
            read = read_yaml(words, as_user_knows(other))
            above = house_for(other.parent.resolve())
            loaded[other.resolve()] = _from_tree(read, words, other, above, behind, {}, loaded)
        return loaded[other.resolve()]

    rests_on, wrong_with_others = others_of(model, path, house.folder, load, trail, others)
    lesson = Lesson(
        file=model,
        path=path,
        text=text,
        house=house,
        instruments=instruments,
        notes=notes,
        bibliography=bibliography,
        others=rests_on,
    )
    found = [*problems_across(lesson), *wrong_with_others]
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
