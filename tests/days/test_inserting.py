"""A line put into a day's file: only that line is new, byte by byte, and the file is replaced whole or not at all."""

from __future__ import annotations

import dataclasses
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from presenter.days.inserting import add_reading, begin_day, reading_line, replace_file, with_reading
from presenter.problems import ProblemsFoundError

SAID = "mash: gravity 1.058, sample 24 degC"
LINE = "{at: Mash, gravity: 1.058, sample: 24 degC}"
COMMENTED = """\
# A day with a comment on everything.
date:   2026-05-02     # the second of May
who: ["Isolde  Parr (invented)"]

readings:   # as they were taken
    # the first one
    - at:      Mash     # odd spacing on purpose
      temperature: 66 °C

    -   {at: 'Mash', temperature: 64 degC,   after: 30 min}   # the lid was off

# after the readings
next time: >-
   Warm the tub
   first.
"""
HEADS = ["", "# a word first\n", "who: [Maud]\n\n", "\n\nthanks: ['to Edric']   # twice\n"]
ITEMS = [
    "  - {at: Mash, temperature: 66 degC}\n",
    "  - at: Mash\n    volume: 12 L   # jug\n",
    "  - {at: Boil,\n     volume: 6 L}\n",
    "  # between\n  - {at: Mash, temperature: 66 degC, note: 'a # that is none'}\n\n",
    "  - at: Draw\n    volume: 7 L\n    note: |\n      two lines\n\n      of words\n",
    "  - at: Draw\n    volume: 7 L\n    note: >\n      folded\n",
]  # fmt: skip
TAILS = ["", "# the end", "next time:\n  - more malt\n", "\n  # odd\nsenses:\n- {at: Mash, seen: froth}\n"]


def added(before: bytes, after: bytes) -> bytes:
    """What stands in ``after`` and not in ``before``; the test fails where anything else is different."""
    start = next((at for at, pair in enumerate(zip(before, after, strict=False)) if pair[0] != pair[1]), len(before))
    end = len(after) - len(before)
    for cut in range(start, -1, -1):
        if before[:cut] == after[:cut] and before[cut:] == after[cut + end :]:
            return after[cut : cut + end]
    raise AssertionError("more than one place was changed")


def test_only_the_added_line_is_new(harrowmere: Any, tmp_path: Path) -> None:
    """This test ensures that comments, spacing, quotation marks and blank lines of a day stay as they were."""
    path = tmp_path / "day.yaml"
    path.write_bytes(COMMENTED.encode())
    assert add_reading(path, SAID, harrowmere.lesson()) == LINE
    after = path.read_bytes().decode()
    where = COMMENTED.index("\n# after the readings")
    assert after == COMMENTED[:where] + f"    - {LINE}\n" + COMMENTED[where:]


@settings(max_examples=120, deadline=None)
@given(
    head=st.sampled_from(HEADS), items=st.lists(st.sampled_from(ITEMS), min_size=0, max_size=4),
    tail=st.sampled_from(TAILS), windows=st.booleans(), marked=st.booleans(), cut=st.booleans(),
)  # fmt: skip
def test_nothing_else_changes_in_any_file(
    head: str, items: list[str], tail: str, windows: bool, marked: bool, cut: bool
) -> None:
    """This test ensures that one whole line is added and no other byte moves, whatever ends the lines, whatever
    stands before or after, and that the readings then end with the new one."""
    text = f"date: 2026-05-02\n{head}readings:\n{''.join(items)}{tail}"
    if cut:
        text = text.rstrip("\n")
    if windows:
        text = text.replace("\n", "\r\n")
    before = ("\ufeff" if marked else "") + text
    after = with_reading(before, LINE, "day.yaml")
    new = added(before.encode(), after.encode()).decode()
    assert new.strip().lstrip("- ") == LINE
    assert len(new.strip().splitlines()) == 1
    if windows:
        assert "\n" not in after.replace("\r\n", "")
    read = yaml.load(after.removeprefix("\ufeff"), yaml.BaseLoader)
    ends_in_block = cut and not tail and items[-1:] != [] and ("note: |" in items[-1] or "note: >" in items[-1])
    old = yaml.load(text + "\n" * ends_in_block, yaml.BaseLoader)  # its last line gains the newline it lacked
    assert read["readings"][:-1] == (old["readings"] or [])
    assert read["readings"][-1] == {"at": "Mash", "gravity": "1.058", "sample": "24 degC"}
    assert {key: value for key, value in read.items() if key != "readings"} == {
        key: value for key, value in old.items() if key != "readings"
    }


def test_a_file_without_readings_gets_them(harrowmere: Any, tmp_path: Path) -> None:
    """This test ensures that the first reading of a day brings its heading, at the end of the file."""
    path = tmp_path / "day.yaml"
    path.write_bytes(b"date: 2026-05-02  # today")
    add_reading(path, "boil: volume 6 L, time 12:30", harrowmere.lesson())
    assert path.read_bytes() == b'date: 2026-05-02  # today\nreadings:\n  - {at: Boil, volume: 6 L, time: "12:30"}\n'


@pytest.mark.parametrize(
    ("said", "wrong", "remedy"),
    [
        ("mish: gravity 1.05, sample 20 degC", "The lesson has no step called mish.", "Did you mean Mash?"),
        ("mash gravity 1.05", "A reading begins with its step and a colon.", None),
        ("mash: gravty 1.05, sample 20 degC", "No reading is called gravty.", "Did you mean gravity?"),
        ("mash: gravity, sample 20 degC", "gravity has no value.", "Write the value after gravity."),
        ("mash: gravity 1.05", "A gravity is read in a sample, and this one does not say how warm the sample was.",
         None),
        ("mash: volume 6 litters", "litters in 6 litters is no unit that this toolkit knows.", "Did you mean liters?"),
    ],
)  # fmt: skip
def test_what_cannot_be_added_leaves_the_file_alone(
    harrowmere: Any, tmp_path: Path, said: str, wrong: str, remedy: str | None
) -> None:
    """This test ensures that a wrong line is told in a sentence and not a byte of the day changes."""
    path = tmp_path / "day.yaml"
    path.write_bytes(COMMENTED.encode())
    with pytest.raises(ProblemsFoundError) as caught:
        add_reading(path, said, harrowmere.lesson())
    assert caught.value.problems[0].wrong.startswith(wrong.split(":")[0])
    assert caught.value.problems[0].place.file == "typed"
    assert remedy in (None, caught.value.problems[0].remedy)
    assert path.read_bytes() == COMMENTED.encode()
    assert [each.name for each in tmp_path.iterdir()] == ["day.yaml"]


def test_readings_in_brackets_are_left_alone() -> None:
    """This test ensures that a list between square brackets is refused rather than written anew."""
    with pytest.raises(ProblemsFoundError, match="between square brackets"):
        with_reading("date: 2026-05-02\nreadings: [{at: Mash, volume: 1 L}]\n", LINE, "day.yaml")


def test_a_step_is_spelled_as_the_lesson_spells_it(harrowmere: Any) -> None:
    """This test ensures that what is typed in a hurry is written down under the step's own name."""
    typed = "MASH :  gravity   1.058 ,sample 24 degC, stirred, strained"
    line = reading_line(typed, harrowmere.lesson())
    assert line == "{at: Mash, gravity: 1.058, sample: 24 degC, sample was: [stirred, strained]}"


KILLED = """
import os, sys
from pathlib import Path
from presenter.days import inserting
moment, path = sys.argv[1], Path(sys.argv[2])
def die(*args, **kwargs):
    os._exit(9)
class Torn:
    def __init__(self, file): self.file = file
    def __enter__(self): return self
    def __exit__(self, *rest): self.file.close()
    def write(self, content):
        self.file.write(content[: len(content) // 2]); self.file.flush(); os._exit(9)
real = {name: getattr(os, name) for name in ("fsync", "replace", "fdopen")}
if moment == "half written": inserting.os.fdopen = lambda *args: Torn(real["fdopen"](*args))
if moment == "before it is safe": inserting.os.fsync = die
if moment == "before it is moved": inserting.os.replace = die
if moment == "after it is moved":
    def moved(a, b):
        real["replace"](a, b); os._exit(9)
    inserting.os.replace = moved
inserting.replace_file(path, b"the new one\\n" * 1000)
"""


@pytest.mark.parametrize("moment", ["half written", "before it is safe", "before it is moved", "after it is moved"])
def test_killed_at_any_moment_it_leaves_the_old_file_or_the_new(tmp_path: Path, moment: str) -> None:
    """This test ensures that a process that dies in the middle of writing never leaves half a day behind."""
    path = tmp_path / "day.yaml"
    path.write_bytes(b"the old one\n" * 1000)
    done = subprocess.run([sys.executable, "-c", KILLED, moment, str(path)], check=False, env={**os.environ})
    assert done.returncode == 9
    assert path.read_bytes() == (b"the new one\n" if moment == "after it is moved" else b"the old one\n") * 1000


@pytest.mark.parametrize("name", ["fsync", "replace"])
def test_a_full_disk_leaves_the_old_file_and_no_litter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """This test ensures that a write that fails leaves the day as it was and no second file beside it."""
    path = tmp_path / "day.yaml"
    path.write_bytes(b"old\n")

    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, name, full)
    with pytest.raises(OSError, match="No space"):
        replace_file(path, b"new\n")
    assert path.read_bytes() == b"old\n"
    assert [each.name for each in tmp_path.iterdir()] == ["day.yaml"]


def test_a_reading_of_which_nothing_can_be_made_is_not_written(harrowmere: Any, tmp_path: Path) -> None:
    """This test ensures that a hot sample is refused before it is in the file, where it would stop the whole day; and
    that an older line that stops the day keeps no new one out."""
    path = tmp_path / "2026-05-02.yaml"
    path.write_text("date: 2026-05-02\n", encoding="utf-8")
    lesson = harrowmere.lesson()
    with pytest.raises(ProblemsFoundError, match="Cool it and read again") as caught:
        add_reading(path, "boil: gravity 1.050, sample 60 degC", lesson)
    assert caught.value.problems[0].place.file == "typed"
    assert path.read_text(encoding="utf-8") == "date: 2026-05-02\n"
    old = "date: 2026-05-02\nreadings:\n  - {at: Boil, gravity: 1.050, sample: 60 degC}\n"
    path.write_text(old, encoding="utf-8")
    line = add_reading(path, "boil: gravity 1.050, sample 20 degC", lesson)
    assert path.read_text(encoding="utf-8") == f"{old}  - {line}\n"


def test_a_first_reading_begins_its_day(harrowmere: Any, tmp_path: Path) -> None:
    """This test ensures that --add of a new date makes that day's file, and that a bad reading makes none."""
    lesson = dataclasses.replace(harrowmere.lesson(), path=tmp_path / "lesson.yaml")
    with pytest.raises(ProblemsFoundError):
        begin_day("2026-05-03", "boil: gravity 10.41", lesson)
    with pytest.raises(ProblemsFoundError, match="Cool it and read again"):
        begin_day("2026-05-03", "boil: gravity 1.050, sample 60 degC", lesson)
    assert not list(tmp_path.rglob("*.yaml"))
    path = begin_day("2026-05-03", "boil: volume 6 L", lesson)
    assert path == tmp_path / "days" / "2026-05-03.yaml"
    assert path.read_text() == "date: 2026-05-03\nreadings:\n  - {at: Boil, volume: 6 L}\n"
    assert begin_day("yesterday", "boil: volume 6 L", lesson) is None
