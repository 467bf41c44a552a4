"""A line said at the stove, put into the day's file as text: nothing else in the file is touched.

In: a day file's text and ``"first mash: gravity 1.058, sample 24 degC"``. Out: the text with one more line under
``readings``, in the author's own indentation and line ends; or a Problem. The file on disk is replaced whole or not
at all.
"""

from __future__ import annotations

import datetime
import os
import re
import shutil
import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import yaml

from presenter.days.made import work_day
from presenter.lesson import Lesson, slug
from presenter.lesson.day import QUANTITIES, SAMPLE_WORDS, Reading, day_from_text
from presenter.lesson.reading import MappingNode, as_user_knows, read_yaml
from presenter.problems import Place, Problem, ProblemsFoundError, nearest

__all__ = ["add_reading", "begin_day", "reading_line", "replace_file", "with_reading"]

TYPED = "--add"
_KEYS = {(info.alias or name): name for name, info in Reading.model_fields.items()}
_WORDS = sorted((*_KEYS, *(word for word in SAMPLE_WORDS)), key=len, reverse=True)


def _refuse(place: Place, written: str, wrong: str, remedy: str = "") -> ProblemsFoundError:
    return ProblemsFoundError((Problem(place, TYPED, written, wrong, remedy),))


def reading_line(said: str, lesson: Lesson, extra_steps: tuple[str, ...] = ()) -> str:
    """The reading as one line of YAML, from what was typed: the step's name, a colon, and pairs between commas.

    Raises ProblemsFoundError where a step or a key is not known.
    """
    name, colon, rest = said.partition(":")
    place = Place("typed")
    names = {slug(str(step.name)): str(step.name) for step in lesson.steps} | {slug(each): each for each in extra_steps}
    if not colon or not rest.strip():
        raise _refuse(
            place, said, "A reading begins with its step and a colon.",
            'Write it as "first mash: gravity 1.058, sample 24 degC".',
        )  # fmt: skip
    if slug(name) not in names:
        close = nearest(name, names.values())
        remedy = f"Did you mean {close}?" if close else f"The steps are {', '.join(names.values())}."
        raise _refuse(place, said, f"The lesson has no step called {name.strip()}.", remedy)
    pairs: dict[str, str] = {}
    was: list[str] = []
    for piece in re.split(r",(?!\d{3}\b)", rest):
        words = piece.strip()
        if not words:
            continue
        if words.casefold() in SAMPLE_WORDS:
            was.append(words.casefold())
            continue
        key = next((key for key in _WORDS if re.match(rf"{re.escape(key)}\b", words, re.IGNORECASE)), "")
        if key not in _KEYS or key in {"at", "sample was"}:
            first = words.split()[0]
            close = nearest(first, [*QUANTITIES, "sample", "time", "date", "after", "of", "note", *SAMPLE_WORDS])
            remedy = f"Did you mean {close}?" if close else f"Write one of {', '.join(QUANTITIES)}, and its value."
            raise _refuse(place, said, f"No reading is called {first}.", remedy)
        if key in pairs:
            raise _refuse(place, said, f"{key} is said twice.", "Add the second reading by itself.")
        value = words[len(key) :].strip().lstrip("=").strip()
        if not value:
            raise _refuse(place, said, f"{key} has no value.", f"Write the value after {key}.")
        pairs[key] = value
    pieces = [f"at: {_quoted(names[slug(name)])}", *(f"{key}: {_quoted(value)}" for key, value in pairs.items())]
    if was:
        pieces.append(f"sample was: [{', '.join(was)}]")
    return "{" + ", ".join(pieces) + "}"


def _quoted(value: str) -> str:
    """``value`` as it stands inside braces: plain where that reads back the same, else in quotation marks."""
    plain = re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9 .()°/%'+-]*", value) is not None
    return value if plain and value == value.strip() else '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _end_of(node: yaml.Node, text: str) -> int:
    """Where the last thing that ``node`` holds ends in the text; what a block scalar trails is not part of it."""
    while isinstance(node, yaml.MappingNode | yaml.SequenceNode) and not node.flow_style and node.value:
        last = node.value[-1]
        node = last[1] if isinstance(node, yaml.MappingNode) else last
    end: int = node.end_mark.index
    if isinstance(node, yaml.ScalarNode) and node.style in {"|", ">"}:
        return len(text[:end].rstrip("\r\n \t"))
    if isinstance(node, yaml.ScalarNode) and node.style is None and node.start_mark.index == end:
        return int(node.start_mark.index)
    return end


def with_reading(text: str, line: str, file: str) -> str:
    """``text`` with ``line`` as the last item under ``readings``; every other character stays where it was.

    Raises ProblemsFoundError where the readings are written in a way that no line can be added to.
    """
    read_yaml(text, file)
    body = text.removeprefix("\ufeff")
    mark = text[: len(text) - len(body)]
    newline = "\r\n" if "\r\n" in body else "\n"
    tree: Any = yaml.compose(body, yaml.BaseLoader)
    found = next(((key, value) for key, value in tree.value if key.value == "readings"), None)
    if found is None:
        gap = "" if body.endswith(("\n", "\r")) else newline
        return f"{mark}{body}{gap}readings:{newline}  - {line}{newline}"
    key, node = found
    place = Place(file, key.start_mark.line + 1, key.start_mark.column + 1)
    if isinstance(node, yaml.SequenceNode) and node.flow_style:
        raise ProblemsFoundError((Problem(
            place, "readings", "", "The readings stand between square brackets, so no line can be added to them.",
            "Write them one below the other, each beginning with a dash; or leave readings: empty.",
        ),))  # fmt: skip
    if isinstance(node, yaml.SequenceNode):
        first = node.value[0].start_mark.index
        dash = body.rindex("-", 0, first)
        indent = body[body.rfind("\n", 0, dash) + 1 : dash]
        end = _end_of(node, body)
    elif isinstance(node, yaml.ScalarNode) and not node.value.strip():
        indent = " " * key.start_mark.column + "  "
        end = body.index(":", key.end_mark.index) + 1
    else:
        raise ProblemsFoundError(
            (Problem(place, "readings", "", "A list of readings is wanted here.", "Begin each with a dash."),)
        )
    stop = body.find("\n", end)
    if stop < 0:
        return f"{mark}{body}{newline}{indent}- {line}{newline}"
    return f"{mark}{body[: stop + 1]}{indent}- {line}{newline}{body[stop + 1 :]}"


def _without_last_newlines(tree: Any) -> Any:
    """The tree with no newline at the end of any text: one that ended the file without one has gained it."""
    if isinstance(tree, dict):
        return {key: _without_last_newlines(value) for key, value in tree.items()}
    if isinstance(tree, list):
        return [_without_last_newlines(item) for item in tree]
    return str(tree).rstrip("\n")


def _same_but_one(before: Any, after: Any) -> bool:
    """Whether ``after`` says what ``before`` said, and one reading more at the end of the readings."""
    before, after = _without_last_newlines(before), _without_last_newlines(after)
    old = before.get("readings")
    old_items = list(old) if isinstance(old, list) else []
    new_items = list(after.get("readings", ()))
    others = [{key: value for key, value in tree.items() if key != "readings"} for tree in (before, after)]
    return others[0] == others[1] and new_items[:-1] == old_items and isinstance(new_items[-1], dict)


def _as_typed(error: ProblemsFoundError, line: int) -> tuple[Problem, ...]:
    """The problems, those of the line that was typed placed there."""
    return tuple(
        replace(each, place=Place("typed"), field=TYPED) if each.place.line == line else each for each in error.problems
    )


def add_reading(path: Path, said: str, lesson: Lesson) -> str:
    """Put what was typed into the day file at ``path``, and give back the line that was added.

    The new text is read again, checked and worked before the file is touched: a reading of which nothing can be made (a
    hot sample) is refused, since it would keep the whole day from being worked. Raises
    ProblemsFoundError, and leaves the file as it was, where anything is wrong.
    """
    path = path.resolve()
    raw = path.read_bytes()
    file = as_user_knows(path)
    text = raw.decode("utf-8")  # the byte order mark stays, and so does every line end
    before = read_yaml(text, file)
    put_in = tuple(
        str(change["step"]["name"])
        for change in before.get("changes") or ()
        if isinstance(change, MappingNode) and isinstance(change.get("step"), MappingNode) and "name" in change["step"]
    )
    line = reading_line(said, lesson, put_in)
    new = with_reading(text, line, file)
    if not _same_but_one(before, read_yaml(new, file)):
        raise _refuse(Place(file), said, "The line cannot be put into this file without changing something else.")
    at = new[: new.rindex(line)].count("\n") + 1
    try:
        day = day_from_text(new.removeprefix("\ufeff"), path, lesson)
    except ProblemsFoundError as error:
        raise ProblemsFoundError(_as_typed(error, at)) from None
    try:
        work_day(lesson, day, spreads=False)
    except ProblemsFoundError as error:
        if any(each.place.line == at and each.place.file == file for each in error.problems):
            raise ProblemsFoundError(_as_typed(error, at)) from None
        # what else is wrong was so before, and is told when the day is worked
    replace_file(path, new.encode("utf-8"))
    return line


def begin_day(day: str, said: str, lesson: Lesson) -> Path | None:
    """The file of a new ``day``, a date, among the lesson's days, with what was typed as its first reading.

    None where ``day`` is no date, or has its file already. Raises ProblemsFoundError, and leaves no file, where the
    reading cannot be put into it.
    """
    try:
        date = datetime.date.fromisoformat(day)
    except ValueError:
        return None
    path = lesson.folder / "days" / f"{date.isoformat()}.yaml"
    if path.exists():
        return None
    path.parent.mkdir(exist_ok=True)
    replace_file(path, f"date: {date.isoformat()}\n".encode())
    try:
        add_reading(path, said, lesson)
    except ProblemsFoundError:
        path.unlink()
        raise
    return path


def replace_file(path: Path, content: bytes) -> None:
    """Put ``content`` in the place of the file at ``path``: at every moment the old file or the new one is there."""
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".new")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            shutil.copymode(path, name)
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
