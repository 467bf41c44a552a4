"""The demo talk and its clean twin, held against the demo lesson through the command line.

In: ``talk.vtt``, ``talk-clean.vtt`` and ``talk-slips.yaml`` beside the lesson. The talks and the slips are our own.
"""

from __future__ import annotations

import functools
import json
from pathlib import Path
from typing import Any

import pytest
import webvtt
import yaml
from typer.testing import CliRunner

from presenter.commands import app

LESSON = Path(__file__).parents[2] / "lessons_demo" / "netherfold-two-ales"
SLIPS: list[dict[str, str]] = yaml.safe_load((LESSON / "talk-slips.yaml").read_text(encoding="utf-8"))["slips"]
FINE = {"agrees", "not in the lesson"}


def run(*arguments: str | Path) -> Any:
    """What ``presenter said`` prints and how it ends."""
    return CliRunner().invoke(app, ["said", *map(str, arguments)])


@functools.cache
def findings(talk: str) -> tuple[dict[str, str], ...]:
    """The findings on a talk, as the command prints them for machines."""
    return tuple(json.loads(run(LESSON, LESSON / talk, "--json").stdout))


def answers(finding: dict[str, str], slip: dict[str, str]) -> bool:
    """Whether a finding is the slip: its verdict, what it is about, and its words or most of them."""
    if (finding["verdict"], finding["about"]) != (slip["verdict"], slip["about"]):
        return False
    return finding["text"] in slip["words"] or slip["words"] in finding["text"]


def test_a_dozen_slips_are_planted() -> None:
    """This test ensures that the demo talk holds at least a dozen slips, of every kind of verdict that asks for a
    change."""
    assert len(SLIPS) >= 12
    assert {slip["verdict"] for slip in SLIPS} >= {
        "off", "slip of scale", "contradicts itself", "wrong direction or wrong thing", "myth", "defer", "not said",
    }  # fmt: skip


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip["words"] or slip["about"])
def test_every_planted_slip_is_found(slip: dict[str, str]) -> None:
    """This test ensures that a planted slip is found once, with its verdict and its worked number."""
    assert len([finding for finding in findings("talk.vtt") if answers(finding, slip)]) == 1


def test_nothing_but_the_planted_slips_is_found() -> None:
    """This test ensures that the demo talk raises no finding that was not planted."""
    beside = [f for f in findings("talk.vtt") if f["verdict"] not in FINE and not any(answers(f, s) for s in SLIPS)]
    assert beside == []
    assert run(LESSON, LESSON / "talk.vtt").exit_code == 1


def test_the_clean_twin_raises_no_alarm() -> None:
    """This test ensures that the clean twin, which says all that it must, is told to be right throughout."""
    assert [f for f in findings("talk-clean.vtt") if f["verdict"] not in FINE] == []
    assert sum(f["verdict"] == "agrees" for f in findings("talk-clean.vtt")) >= 30
    assert run(LESSON, LESSON / "talk-clean.vtt").exit_code == 0


def test_findings_carry_the_promised_fields() -> None:
    """This test ensures that each finding has its time, words, verdict, what it is about and what to say instead."""
    for finding in findings("talk.vtt"):
        assert set(finding) >= {"time", "text", "verdict", "about", "say_instead"}
        if finding["verdict"] in {"off", "slip of scale", "myth", "contradicts itself"}:
            assert finding["say_instead"]


@pytest.mark.parametrize("kind", ["vtt", "srt"])
def test_corrective_captions_stand_at_the_slips(tmp_path: Path, kind: str) -> None:
    """This test ensures that another reader finds one corrective caption at the time of each slip, none overlapping."""
    target = tmp_path / f"corrections.{kind}"
    run(LESSON, LESSON / "talk.vtt", "--corrections", target)
    read = webvtt.read(str(target)) if kind == "vtt" else webvtt.from_srt(str(target))
    wanted = [f for f in findings("talk.vtt") if f["verdict"] not in {*FINE, "not said", "cleared"}]
    assert [caption.text.replace("\n", " ") for caption in read] == [f"Correction: {f['say_instead']}" for f in wanted]
    starts = [caption.start_in_seconds for caption in read]
    assert starts == sorted(starts)
    for caption, finding in zip(read, wanted, strict=True):
        hours, minutes, seconds = finding["time"].split(":")
        said_at = int(hours) * 3600 + int(minutes) * 60 + float(seconds)
        assert said_at - 1 <= caption.start_in_seconds <= said_at + 6
    for first, second in zip(list(read), list(read)[1:], strict=False):
        assert first.end_in_seconds <= second.start_in_seconds


def test_a_description_is_corrected_in_words(tmp_path: Path) -> None:
    """This test ensures that a text file gets each slip with its time, its words and what is right."""
    target = tmp_path / "below-the-film.txt"
    run(LESSON, LESSON / "talk.vtt", "--corrections", target)
    text = target.read_text(encoding="utf-8")
    assert "00:01:11  We said “thirty kilos”. pale barley malt: about three kilograms" in text
    assert text.count("We said") == sum(s["verdict"] not in {"not said", "cleared"} for s in SLIPS)


def test_the_sheet_for_the_edit_desk_says_it_too(tmp_path: Path) -> None:
    """This test ensures that the printed sheet carries the slips and what was never said, read back from the PDF."""
    from presenter.releasing.reading_back import folded, visible_text

    target = tmp_path / "said.pdf"
    assert run(LESSON, LESSON / "talk.vtt", "--sheet", target).exit_code == 1
    text = visible_text(target.read_bytes())
    for finding in findings("talk.vtt"):
        if finding["verdict"] not in FINE | {"cleared"}:
            assert folded(finding["say_instead"]) in text


def test_heard_lists_the_promised_fields() -> None:
    """This test ensures that what was heard is listed with time, text, value or low and high, and a unit."""
    records = json.loads(run("--heard", LESSON / "talk-clean.vtt", "--json").stdout)
    assert len(records) > 35
    for record in records:
        assert set(record) in ({"time", "text", "value", "unit"}, {"time", "text", "low", "high", "unit"})
    assert {"gravity", "litre", "degC", "year"} <= {record["unit"] for record in records}


MISUSED: list[tuple[list[str], str]] = [
    (["a", "b", "c.vtt"], "give a lesson and a talk"),
    (["talk.vtt", "--sheet", "x.pdf"], "name the lesson too"),
    (["talk.vtt", "--corrections", "x.pdf"], "should end in .vtt"),
    (["talk.vtt", "--heard", "--corrections", "x.vtt"], "leave out --corrections"),
    (["."], "is a folder"),
]


@pytest.mark.parametrize(("arguments", "told"), MISUSED, ids=lambda value: str(value)[:30])
def test_misuse_is_told(arguments: list[str], told: str) -> None:
    """This test ensures that a misused command says what is missing and ends with 2."""
    ended = run(*arguments)
    assert ended.exit_code == 2
    assert told in " ".join(ended.output.replace("│", " ").split())


def test_a_script_has_no_times_for_captions(tmp_path: Path) -> None:
    """This test ensures that corrective captions are refused for a script, which has no times."""
    script = tmp_path / "script.txt"
    script.write_text("We hold the first mash at fifty degrees.", encoding="utf-8")
    ended = run(LESSON, script, "--corrections", tmp_path / "c.vtt")
    assert ended.exit_code == 2
    assert not (tmp_path / "c.vtt").exists()
