"""What was done differently on the day, in sentences: the changes with their reasons, and the readings that missed.

In: a worked day. Out: :class:`Difference` values in the order of the lesson, and what was seen, smelt and tasted.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from presenter.days.against_plan import standings
from presenter.days.made import WorkedDay
from presenter.lesson import slug
from presenter.lesson.day import Change
from presenter.lesson.reading import MappingNode, SequenceNode, Written
from presenter.quantities import in_words

__all__ = ["Difference", "differences", "sensed"]


@dataclass(frozen=True)
class Difference:
    """One thing that was otherwise than planned: at which step, what, and why (empty for a reading)."""

    step: str
    says: str
    because: str = ""


def _value(node: object) -> str:
    if isinstance(node, MappingNode):
        return ", ".join(f"{key} {_value(value)}" for key, value in node.items())
    if isinstance(node, SequenceNode):
        return ", ".join(_value(item) for item in node)
    return str(node)


def _lesson_value(worked: WorkedDay, step_id: str, key: str) -> str:
    """What the lesson has under a key of a step, as the author wrote it."""
    step = next((each for each in worked.plan.lesson.steps if each.id == step_id), None)
    if step is None:
        return ""
    for name, info in type(step).model_fields.items():
        if (info.alias or name) == key:
            found = getattr(step, name)
            amount = getattr(found, "amount", found)
            return str(getattr(amount, "written", amount if isinstance(amount, Written) else ""))
    return ""


def _of_change(worked: WorkedDay, change: Change) -> Iterator[Difference]:
    because = str(change.because)
    if change.at is not None and change.now is not None:
        for key, value in change.now.items():
            before = _lesson_value(worked, slug(change.at), str(key))
            instead = f" instead of {before}" if before and before != _value(value) else ""
            yield Difference(str(change.at), f"{key}: {_value(value)}{instead}", because)
    elif change.ingredient is not None and change.now is not None:
        use = next(
            (use for name, use in worked.plan.lesson.file.ingredients.items() if str(name) == str(change.ingredient)),
            None,
        )
        instead = ""
        if use is not None:
            instead = f" instead of {use.amount.written} of {use.what}"
        yield Difference("", f"{change.ingredient}: {_value(change.now)}{instead}", because)
    elif change.skip is not None:
        yield Difference(str(change.skip), "left out", because)
    elif change.step is not None:
        others = {key: value for key, value in change.step.items() if str(key) not in {"name", "from"}}
        told = ", ".join(f"{key} {_value(value)}" for key, value in others.items() if str(key) != "do")
        yield Difference(str(change.step.get("name", "")), f"put in ({change.step.get('do', '')}: {told})", because)


def differences(worked: WorkedDay, measures: str = "metric") -> tuple[Difference, ...]:
    """Everything that was otherwise than planned, in the order of the steps as they were made."""
    found = [each for change in worked.day.file.changes for each in _of_change(worked, change)]
    names = {step.id: str(step.name) for step in worked.made.lesson.steps}
    last = {each.read.number: each for each in standings(worked)}
    for each in last.values():
        if each.verdict == "within":
            continue
        label = each.planned.label
        read = in_words(each.read.quantity, each.read.spread, measures)
        says = f"{label}: read {read}, planned {each.planned.words(measures)}"
        found.append(Difference(names.get(each.read.step, str(each.read.reading.at)), says))
    order = {slug(name): index for index, name in enumerate(names.values())}
    return tuple(sorted(found, key=lambda each: order.get(slug(each.step), -1)))


def sensed(worked: WorkedDay) -> tuple[str, ...]:
    """What was seen, smelt and tasted, a sentence for each step."""
    lines = []
    for sense in worked.day.file.senses:
        parts = [f"{word} {said}" for word in ("seen", "smelt", "tasted") if (said := getattr(sense, word)) is not None]
        lines.append(f"{sense.at}: {'; '.join(parts)}")
    return tuple(lines)
