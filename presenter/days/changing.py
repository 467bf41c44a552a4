"""What was changed on the day, put into the lesson: figures, ingredients, steps left out, steps put in.

In: a lesson and a day. Out: the lesson as it was made, checked like any lesson; a Problem in a change stands at its
line in the day's file.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields, replace
from typing import Any

from presenter.lesson import Lesson, slug
from presenter.lesson.amounts import Wish
from presenter.lesson.checking import lesson_from_tree
from presenter.lesson.day import Change, Day
from presenter.lesson.reading import MappingNode, SequenceNode, Written, as_user_knows, read_yaml
from presenter.problems import Place, ProblemsFoundError
from presenter.working import work_out

__all__ = ["changed_lesson", "lesson_tree", "mapping", "with_changes", "without_sayings"]


@dataclass(frozen=True)
class ChangedLesson(Lesson):
    """A lesson with changes made: it keeps its tree, so that further changes come on top of these."""

    tree: MappingNode = field(default_factory=MappingNode)


def lesson_tree(lesson: Lesson) -> MappingNode:
    """The tree of a lesson, free to be changed: of its own file, with whatever was changed before."""
    if isinstance(lesson, ChangedLesson):
        copied = _copied(lesson.tree)
        assert isinstance(copied, MappingNode)
        return copied
    return read_yaml(lesson.text, as_user_knows(lesson.path))


def _copied(node: Any) -> Any:
    """A tree whose mappings and lists may be changed without changing the first one's."""
    if isinstance(node, MappingNode):
        mapped = MappingNode((key, _copied(value)) for key, value in node.items())
        mapped.place = node.place
        return mapped
    if isinstance(node, SequenceNode):
        listed = SequenceNode(_copied(item) for item in node)
        listed.place = node.place
        return listed
    return node


def _weighed(lesson: Lesson) -> Lesson:
    """The lesson with every wished amount as the plan found it: so much was weighed out, whatever was read later."""
    wished = [str(name) for name, use in lesson.file.ingredients.items() if isinstance(use.amount, Wish)]
    if not wished:
        return lesson
    plan = work_out(lesson, spreads=False)
    tree = lesson_tree(lesson)
    for name in wished:
        grams = float(plan.numbers[f"lesson.{slug(name)}"].quantity.to("gram").magnitude)
        use = tree["ingredients"][name]
        use["amount"] = Written(f"{grams:.1f} g", use["amount"].place)
    return _checked(lesson, tree)


def changed_lesson(lesson: Lesson, day: Day) -> Lesson:
    """The lesson as it was made. Raises ProblemsFoundError for each change that no lesson can take."""
    return with_changes(_weighed(lesson), day.file.changes, day.tree.get("on hand"))


def with_changes(lesson: Lesson, changes: Iterable[Change], on_hand: Mapping[str, Any] | None = None) -> Lesson:
    """``lesson`` with ``changes`` made in their order, and with what it then uses of what is ``on hand``.

    Steps left out go last, so that a step put in after one of them finds its place.
    """
    changes = tuple(changes)
    if not changes and not on_hand:
        return lesson
    tree = lesson_tree(lesson)
    for change in sorted(changes, key=lambda each: each.skip is not None):
        _make(tree, change)
    used = {str(name) for step in _steps(tree) for name in _several(step.get("with"))}
    for key, use in (on_hand or {}).items():
        ingredients = tree.setdefault("ingredients", mapping({}, tree.place))
        if key not in ingredients and str(key) in used:
            ingredients[key] = use
    return _checked(lesson, tree)


def _several(named: Any) -> tuple[Any, ...]:
    return tuple(named) if isinstance(named, SequenceNode) else (named,) if isinstance(named, Written) else ()


def _checked(lesson: Lesson, tree: MappingNode) -> Lesson:
    checked = lesson_from_tree(tree, lesson.text, lesson.path, lesson.house, others=lesson.others)
    kept = {each.name: getattr(checked, each.name) for each in fields(Lesson)}
    return ChangedLesson(**kept, tree=tree)


def mapping(values: Mapping[str, Any], place: Place) -> MappingNode:
    """A mapping of a lesson's tree, every value standing at ``place``."""
    node = MappingNode()
    node.place = place
    for key, value in values.items():
        node[Written(key, place)] = _node(value, place)
    return node


def _node(value: Any, place: Place) -> Any:
    if isinstance(value, MappingNode | SequenceNode | Written):
        return value
    if isinstance(value, Mapping):
        return mapping(value, place)
    if isinstance(value, list | tuple):
        sequence = SequenceNode(_node(item, place) for item in value)
        sequence.place = place
        return sequence
    return Written(str(value), place)


def _steps(tree: MappingNode) -> SequenceNode:
    found = tree["steps"]
    assert isinstance(found, SequenceNode)
    return found


def _index(tree: MappingNode, name: str) -> int:
    """Where a step stands; day files are held against the lesson before, so it is there unless it was skipped."""
    wanted = slug(name)
    for index, step in enumerate(_steps(tree)):
        if slug(str(step.get("name", ""))) == wanted:
            return index
    return -1


def _make(tree: MappingNode, change: Change) -> None:
    because = f"our choice: on the day, {change.because}"
    if change.ingredient is not None and change.now is not None:
        use = next(value for key, value in tree["ingredients"].items() if str(key) == str(change.ingredient))
        _lay_over(use, change.now)
        use[Written("from", change.because.place)] = Written(because, change.because.place)
        return
    if change.at is not None and change.now is not None:
        index = _index(tree, change.at)
        if index >= 0:
            step = _steps(tree)[index]
            _lay_over(step, change.now)
            _rests_on(step, change.now, Written(because, change.because.place))
        return
    if change.skip is not None:
        index = _index(tree, change.skip)
        if index >= 0:
            del _steps(tree)[index]
        return
    if change.after is not None and change.step is not None:
        new = MappingNode(change.step)
        new.place = change.step.place
        new.setdefault(Written("from", change.because.place), Written(because, change.because.place))
        _steps(tree).insert(_index(tree, change.after) + 1, new)


def _lay_over(old: MappingNode, new: MappingNode) -> None:
    """Put ``new`` over ``old``, key by key; an amount alone keeps what else was said of it."""
    for key, value in new.items():
        before = old.get(key)
        if isinstance(before, MappingNode) and isinstance(value, MappingNode):
            _lay_over(before, value)
        elif isinstance(before, MappingNode) and isinstance(value, Written) and "amount" in before:
            before[Written("amount", value.place)] = value
        else:
            if key in old:
                del old[key]  # so that the key's own place is the day's
            old[key] = value


def _rests_on(step: MappingNode, now: MappingNode, because: Written) -> None:
    """The evidence for a changed figure is the reason given for the change, no longer the lesson's note."""
    given = step.get("from")
    if given is None:
        return
    answers = MappingNode(given) if isinstance(given, MappingNode) else MappingNode()
    answers.place = because.place
    if isinstance(given, Written):
        answers[Written("all", given.place)] = given
    for key in now:
        if str(key) in answers:
            del answers[str(key)]
            answers[Written(str(key), because.place)] = because
    step["from"] = answers


def without_sayings(lesson: Lesson, error: ProblemsFoundError) -> Lesson | None:
    """``lesson`` without the spoken lines that name a number which the day's changes did away with.

    None where ``error`` tells of anything else.
    """
    lines = [problem.field for problem in error.problems if problem.field.endswith(".say")]
    if len(lines) != len(error.problems):
        return None
    silent = {int(line.split("[")[1].split("]")[0]) - 1 for line in lines}
    steps = tuple(
        step.model_copy(update={"say": None}) if index in silent else step for index, step in enumerate(lesson.steps)
    )
    return replace(lesson, file=lesson.file.model_copy(update={"steps": steps}))
