"""The command line as a presenter meets it: run as whole processes, in an empty folder."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from presenter.commands.formula_words import formula_lines

DEMO = "lessons_demo/netherfold-two-ales"


def run(*arguments: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run ``presenter`` as its own process."""
    return subprocess.run(
        [sys.executable, "-m", "presenter.commands", *arguments],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )


def test_build_from_an_empty_folder(tmp_path: Path) -> None:
    """This test ensures that the demo lesson is found away from the checkout and gives six sheets."""
    done = run("build", DEMO, folder=tmp_path)
    assert done.returncode == 0, done.stderr
    assert sorted(path.name for path in (tmp_path / "sheets" / "netherfold-two-ales").iterdir()) == [
        "answers.pdf",
        "handout.pdf",
        "numbers-sheet.pdf",
        "step-cards.pdf",
        "wall-chart.pdf",
        "worksheet.pdf",
    ]
    assert "Handout: sheets/netherfold-two-ales/handout.pdf" in done.stdout


def test_numbers_for_machines(tmp_path: Path) -> None:
    """This test ensures that the JSON holds 40 numbers or more, each with a source or what it rests on."""
    done = run("numbers", DEMO, "--json", folder=tmp_path)
    assert done.returncode == 0, done.stderr
    records = json.loads(done.stdout)
    assert len(records) >= 40
    for record in records:
        assert {
            "id",
            "step",
            "label",
            "value",
            "unit",
            "give_or_take",
            "formula",
            "sources",
            "say",
            "rests_on",
        } <= record.keys()
        assert record["sources"] or record["rests_on"], record["id"]


def test_why_reaches_what_the_author_wrote(tmp_path: Path) -> None:
    """This test ensures that the strong ale's strength is walked back to the author's own figures and evidence."""
    done = run("numbers", DEMO, "--why", "ferment-the-strong-ale.strength", folder=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "you wrote “3 kg”" in done.stdout
    assert "it rests on: our choice" in done.stdout
    assert "mash yield" in done.stdout


def test_formulas_are_listed_with_their_checks(tmp_path: Path) -> None:
    """This test ensures that the formula index names sources and worst misses."""
    done = run("numbers", DEMO, "--formulas", folder=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "degrees_plato_asbc" in done.stdout
    assert "worst miss" in done.stdout
    assert "It takes the gravity, in specific gravity" in done.stdout
    assert "a miss of 0.69; fitted" in done.stdout, "each point of the mash model stands in the index"


def test_the_index_is_in_words() -> None:
    """This test ensures that no formula's index entry shows a unit or an argument as the program spells it."""
    for line in formula_lines():
        head, _, _ = line.partition(":")
        if line.startswith(("  It takes", "  The answer")):
            assert "_" not in head, line


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (["check", "nowhere"], 1, "There is no such file or folder."),
        (["build", DEMO, "--only", "handot"], 2, "Did you mean handout?"),
        (["build", DEMO, "--paper", "A9"], 2, "there is no A9"),
        (["numbers", DEMO, "--why", "first-mash.strike-het"], 2, "Did you mean first-mash.strike-heat?"),
        (["brew"], 2, "No such command"),
        (["check"], 2, "Missing argument"),
    ],
)
def test_misuse_is_told_plainly(arguments: list[str], code: int, told: str, tmp_path: Path) -> None:
    """This test ensures that problems exit 1 and misuse exits 2, in words and without a trace."""
    done = run(*arguments, folder=tmp_path)
    assert done.returncode == code
    assert told in done.stderr
    assert "Traceback" not in done.stderr
    assert not list(tmp_path.iterdir())


def test_a_closed_pipe_is_quiet(tmp_path: Path) -> None:
    """This test ensures that ``presenter numbers … | head -1`` says nothing of the broken pipe."""
    command = f"{sys.executable} -m presenter.commands numbers {DEMO} --json | head -1"
    done = subprocess.run(["bash", "-c", command], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.stdout.strip() == "["
    assert done.stderr == ""


def test_letters_that_no_sheet_can_print_are_told_at_their_line(tmp_path: Path) -> None:
    """This test ensures that check finds a letter the type lacks, at the author's line and column."""
    import shutil

    from presenter.lesson import demo_folder

    shutil.copytree(demo_folder("lessons_demo"), tmp_path / "library")
    path = tmp_path / "library" / "netherfold-two-ales" / "lesson.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("title: Two ales", "title: 麦 Two ales"), encoding="utf-8")
    line = next(i for i, written in enumerate(text.splitlines(), 1) if written.startswith("title:"))
    done = run("check", "library/netherfold-two-ales", folder=tmp_path)
    assert done.returncode == 1
    assert f"lesson.yaml:{line}:8" in done.stderr
    assert "No sheet can print 麦" in done.stderr
