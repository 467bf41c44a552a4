"""Starting new: starters that pass check at every batch, lessons like another one, new libraries."""

from __future__ import annotations

import datetime
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import jsonschema
import pytest
import yaml

from presenter.lesson import demo_folder, house_for, lesson_from_text, load_lesson
from presenter.lesson.day import load_day
from presenter.library.scaling import batch_of, factor_for_kit, learned, scaled_text, shopping
from presenter.library.starting import AUDIENCES, DRINKS, KITS, Answers, library_text, starter_text, write_new
from presenter.problems import ProblemsFoundError
from presenter.working import WorkedLesson, work_out

NETHERFOLD = demo_folder("lessons_demo") / "netherfold-two-ales"


def run(*arguments: str, folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "presenter.commands", *arguments],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )


def worked(text: str, folder: Path) -> WorkedLesson:
    return work_out(lesson_from_text(text, folder / "lesson.yaml", house_for(folder)), spreads=False)


@pytest.mark.parametrize("audience", AUDIENCES)
@pytest.mark.parametrize("kit", KITS)
@pytest.mark.parametrize("drink", DRINKS)
@pytest.mark.parametrize("litres", [1, 10, 300])
def test_every_starter_passes_check(drink: str, kit: str, audience: str, litres: float, tmp_path: Path) -> None:
    """This test ensures that a starter has no problem, comes to its batch within a tenth and a half, and lets nobody
    at a school taste."""
    found = worked(
        starter_text(Answers("New: a lesson", litres=litres, drink=drink, kit=kit, audience=audience)), tmp_path
    )
    assert batch_of(found) == pytest.approx(litres, rel=0.15, abs=0.4)
    assert str(found.lesson.file.title) == "New: a lesson"
    assert (str(found.lesson.file.audience.tasting) == "none") == (audience == "school")
    assert any(step.do == "serve" for step in found.lesson.steps) == (audience != "school")


def test_a_batch_that_nobody_brews_is_refused() -> None:
    """This test ensures that a starter for a spoonful, or for a brewery, is a problem."""
    for litres in (0.2, 5000):
        with pytest.raises(ProblemsFoundError, match="A starter is for 1 to 500 litres"):
            starter_text(Answers("X", litres=litres))


def test_the_first_line_leads_to_a_schema_that_accepts_the_lesson(tmp_path: Path) -> None:
    """This test ensures that an editor finds the schema beside the lesson and nothing wrong by it."""
    path = write_new(tmp_path / "new", "lesson.yaml", starter_text(Answers("New", date=datetime.date(2026, 2, 28))))
    first = path.read_text(encoding="utf-8").splitlines()[0]
    schema = json.loads((path.parent / first.partition("$schema=")[2]).read_text(encoding="utf-8"))
    jsonschema.validate(yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader), schema)
    with pytest.raises(ProblemsFoundError, match="There is one already"):
        write_new(tmp_path / "new", "lesson.yaml", "title: other\n")
    library = write_new(tmp_path, "library.yaml", library_text(Answers("Our lessons", date=datetime.date(2028, 2, 29))))
    house = house_for(tmp_path / "new")
    assert house.name == "Our lessons"
    assert house.shared is not None
    assert house.shared.law[0].look_again == datetime.date(2029, 2, 28)
    assert (library.parent / ".library.schema.json").is_file()


def test_a_scaled_lesson_keeps_its_gravities_but_for_the_boil(tmp_path: Path) -> None:
    """This test ensures that doubling every amount doubles volumes and keeps the first wort's gravity; times, heats,
    tastes and the author's words stay as they were."""
    lesson = load_lesson(NETHERFOLD)
    sizes = {name: f"{2 * item.holds.number():g} L" for name, item in lesson.file.kit.items() if item.holds}
    text = scaled_text(lesson, 2.0, {str(name): size for name, size in sizes.items()}, {"title": "Twice"})
    before = work_out(lesson, spreads=False)
    folder = tmp_path / "twice"
    twice = work_out(lesson_from_text(text, NETHERFOLD / "lesson.yaml", lesson.house), spreads=False)
    assert folder.parent.is_dir()
    gravity = "draw-off-the-strong-wort.wort-gravity"
    assert float(twice.numbers[gravity].quantity.magnitude) == pytest.approx(
        float(before.numbers[gravity].quantity.magnitude), abs=0.002
    )
    assert float(twice.numbers["lesson.malt"].quantity.magnitude) == pytest.approx(6.0)
    unchanged = [
        line for line in lesson.text.splitlines() if ("hold:" in line and "holds" not in line) or "measure:" in line
    ]
    assert unchanged
    assert all(line in text.splitlines() for line in unchanged)
    assert text.count("\n") == lesson.text.count("\n")
    assert text.splitlines()[0] == lesson.text.splitlines()[0]


def test_scaling_by_one_changes_no_letter() -> None:
    """This test ensures that a lesson scaled by one is the author's own text."""
    lesson = load_lesson(NETHERFOLD)
    assert scaled_text(lesson, 1.0, {}, {}) == lesson.text


def test_a_kit_sets_the_batch_by_its_tightest_vessel() -> None:
    """This test ensures that the smallest growth among the vessels named is taken, and an unknown vessel is told."""
    lesson = load_lesson(NETHERFOLD)
    assert factor_for_kit(lesson, {"kettle": "40 L", "mash tub": "37.5 L"}) == pytest.approx(1.5)
    with pytest.raises(ProblemsFoundError, match="Did you mean kettle"):
        factor_for_kit(lesson, {"ketle": "40 L"})
    with pytest.raises(ProblemsFoundError, match="is a mass"):
        factor_for_kit(lesson, {"kettle": "40 kg"})


def test_groups_share_the_batch_and_buy_it_together() -> None:
    """This test ensures that six groups with a sixth each buy what the whole lesson buys."""
    lesson = load_lesson(NETHERFOLD)
    assert shopping(lesson, 1 / 6, 6)[0] == "pale barley malt: 3 kg"


def test_what_a_day_taught_comes_along() -> None:
    """This test ensures that the words for next time and every reading of a day are among what was learned."""
    lesson = load_lesson(NETHERFOLD)
    day = load_day("2026-05-02", lesson)
    lines = learned(day)
    assert "Weigh the malt again before it goes into the tub." in lines
    assert sum(line.startswith("read at") for line in lines) == len(day.file.readings)


def test_a_newcomer_starts_checks_and_builds(tmp_path: Path) -> None:
    """This test ensures that a library, a honey drink in it and its sheets take three commands."""
    assert run("new", "ours", "--library", folder=tmp_path).returncode == 0
    made = run("new", "ours/honey-drink", "--drink", "honey", "--batch", "2 gallons", folder=tmp_path)
    assert made.returncode == 2
    assert "gallon" in made.stderr
    made = run("new", "ours/honey-drink", "--drink", "honey", "--batch", "8 L", folder=tmp_path)
    assert made.returncode == 0, made.stderr
    assert "It passes check as it stands: 7 steps, no problems." in made.stdout
    built = run("build", "ours/honey-drink", "--only", "worksheet", folder=tmp_path)
    assert built.returncode == 0, built.stderr
    again = run("new", "ours/honey-drink", folder=tmp_path)
    assert again.returncode == 1
    assert "ours/honey-drink/lesson.yaml\n  There is one already" in again.stderr
    like = run("new", "ours/for-six", "--like", "ours/honey-drink", "--groups", "6", folder=tmp_path)
    assert like.returncode == 0, like.stderr
    assert "#   honey: 880 g" in (tmp_path / "ours" / "for-six" / "lesson.yaml").read_text(
        encoding="utf-8"
    ) or "honey: 0.88 kg" in (tmp_path / "ours" / "for-six" / "lesson.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--drink", "hony"], "Did you mean honey?"),
        (["--kit", "kichen"], "Did you mean kitchen?"),
        (["--batch", "10"], "10 has no unit."),
        (["--day", "2026-05-02"], "it goes with --like LESSON"),
        (["--like", "nowhere"], "There is no such file or folder."),
    ],
)
def test_a_wrong_answer_is_told(arguments: list[str], told: str, tmp_path: Path) -> None:
    """This test ensures that a wrong flag is told in words and writes nothing."""
    done = run("new", "fresh", *arguments, folder=tmp_path)
    assert done.returncode in {1, 2}
    assert told in done.stderr
    assert not (tmp_path / "fresh").exists()


def test_check_watches_until_it_is_stopped(tmp_path: Path) -> None:
    """This test ensures that a change is checked again, a problem does not end the watch, and Ctrl-C ends it with 0."""
    path = write_new(tmp_path / "new", "lesson.yaml", starter_text(Answers("New")))
    told = tmp_path / "told.txt"
    with told.open("w", encoding="utf-8") as out:
        watching = subprocess.Popen(
            [sys.executable, "-u", "-m", "presenter.commands", "check", "new", "--watch"],
            cwd=tmp_path,
            stdout=out,
            preexec_fn=_heeds_ctrl_c,
        )
        try:
            _until(told, "Watching; stop with Ctrl-C.", 1)
            path.write_text(path.read_text(encoding="utf-8").replace("do: boil", "do: bile"), encoding="utf-8")
            _until(told, "Watching; stop with Ctrl-C.", 2)
            assert "Did you mean boil?" in told.read_text(encoding="utf-8")
            path.write_text(path.read_text(encoding="utf-8").replace("do: bile", "do: boil"), encoding="utf-8")
            os.utime(path)
            _until(told, "no problems.", 2)
            watching.send_signal(signal.SIGINT)
            assert watching.wait(60) == 0
        finally:
            watching.kill()


def _heeds_ctrl_c() -> None:
    """A run in a shell's background is started deaf to Ctrl-C, and so are its children, unless told otherwise."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _until(told: Path, words: str, times: int) -> None:
    for _ in range(600):
        if told.read_text(encoding="utf-8").count(words) >= times:
            return
        time.sleep(0.2)
    raise AssertionError(told.read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("written", "half", "three_times"),
    [
        ("2 packets", "1 packets", "6 packets"), ("5 slices", "2.5 slices", "15 slices"),
        ("7 eggs", "4 eggs", "21 eggs"), ("Enough for 9 L at 5 percent", "Enough for 4.5 L at 5 percent",
        "Enough for 27 L at 5 percent"), ("enough for gravity 1.050 in must", "enough for gravity 1.050 in must",
        "enough for gravity 1.050 in must"), ("½ cup", "0.25 cup", "1.5 cup"),
    ],
)  # fmt: skip
def test_every_way_to_write_an_amount_is_scaled(written: str, half: str, three_times: str) -> None:
    """This test ensures that counted pieces and wishes grow with the batch as masses do, however they begin."""
    text = (NETHERFOLD / "lesson.yaml").read_text(encoding="utf-8").replace("amount: 500 g", f"amount: {written}")
    lesson = lesson_from_text(text, NETHERFOLD / "lesson.yaml", house_for(NETHERFOLD))
    for factor, wanted in ((0.5, half), (3.0, three_times)):
        assert f"what: malted oats, amount: {wanted}," in scaled_text(lesson, factor, {}, {})


def test_a_lesson_without_a_drink_has_no_batch_to_scale(tmp_path: Path) -> None:
    """This test ensures that --batch on a lesson that only shows things is told in a sentence and writes nothing."""
    text = "title: Shown (invented)\nscene: Harrowmere (invented)\ndate: 2026-05-02\nkit: {}\ningredients: {}\nsteps:\n"
    (tmp_path / "shown.yaml").write_text(f"{text}  - {{name: Show, do: show, in words: Look.}}\n", encoding="utf-8")
    done = run("new", "other", "--like", "shown.yaml", "--batch", "3 L", folder=tmp_path)
    assert done.returncode == 2
    assert "nothing to drink comes of that lesson" in " ".join(done.stderr.split())
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "other").exists()


@pytest.mark.parametrize(("option", "said", "meant"), [("drink", "mead", "honey"), ("audience", "adults", "museum")])
def test_what_people_write_is_offered_its_kind(option: str, said: str, meant: str, tmp_path: Path) -> None:
    """This test ensures that mead is offered honey, and not the word that is spelt most like it."""
    done = run("new", "a", f"--{option}", said, folder=tmp_path)
    assert done.returncode == 2
    assert f"Did you mean {meant}?" in " ".join(done.stderr.split())
    assert not (tmp_path / "a").exists()


def test_what_is_taken_unasked_is_told(tmp_path: Path) -> None:
    """This test ensures that a lesson started without a terminal says what nobody had said."""
    done = run("new", "a", "--batch", "8 L", folder=tmp_path)
    assert "Not said, so taken: ale, kitchen, museum" in done.stdout
