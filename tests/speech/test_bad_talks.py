"""Talks that cannot be trusted, given to the command: a clear sentence or an honest report, and never a trace.

Made up here: broken, backwards and overlapping timings, foreign encodings, binary files, a file of 10 MB.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from typer.testing import CliRunner

from presenter.commands import main
from presenter.problems import ProblemsFoundError
from presenter.speech.reading_talks import read_talk


def run(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *arguments: str | Path
) -> tuple[int, str, str]:
    """The exit code of ``presenter said`` and what it wrote to its two outputs."""
    monkeypatch.setattr("sys.argv", ["presenter", "said", *map(str, arguments)])
    with pytest.raises(SystemExit) as ended:
        main()
    told = capsys.readouterr()
    return int(ended.value.code or 0), told.out, told.err


def cue(begin: str, end: str, words: str) -> str:
    """One cue as WebVTT has it."""
    return f"{begin} --> {end}\n{words}\n\n"


LATE, EARLY = cue("00:00:09.000", "00:00:11.000", "late"), cue("00:00:01.000", "00:00:02.000", "early")
GOOD = (
    "WEBVTT\n\n"
    + cue("00:00:01.000", "00:00:03.000", "sixty-six degrees")
    + cue("00:00:03.000", "00:00:05.000", "an hour")
)
BAD: dict[str, tuple[str, bytes, str]] = {
    "binary": ("talk.vtt", bytes(range(256)) * 40, "not text"),
    "picture": ("talk.srt", b"\x89PNG\r\n\x1a\n" + bytes(200), "not text"),
    "latin-1": ("talk.vtt", GOOD.replace("hour", "hour at the café").encode("latin-1"), "not in UTF-8"),
    "utf-16": ("talk.vtt", GOOD.encode("utf-16"), "UTF-16"),
    "broken timing": ("talk.vtt", GOOD.replace("00:00:03.000 -->", "00:0:3 -->").encode(), "This timing is broken"),
    "ends before it begins": (
        "talk.vtt", GOOD.replace("00:00:05.000", "00:00:02.000").encode(), "ends before it begins",
    ),
    "backwards": (
        "talk.vtt",
        f"WEBVTT\n\n{LATE}{EARLY}".encode(),
        "begins before the one above it",
    ),
    "no cue": ("talk.vtt", b"WEBVTT\n\nonly words here\n", "no cue"),
    "no head": ("talk.vtt", GOOD.removeprefix("WEBVTT\n\n").encode(), "first line should be WEBVTT"),
    "empty": ("talk.srt", b"", "The file is empty"),
    "10 MB": ("talk.vtt", b"WEBVTT\n\n" + EARLY.encode() * 250_000, "Give one talk at a time"),
    "another kind": ("talk.docx", b"words", "this file ends in .docx"),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD)
def test_a_talk_that_cannot_be_read_is_told_in_words(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """This test ensures that a talk that cannot be trusted ends with 1, one clear sentence, and no finding."""
    file, content, told = BAD[name]
    talk = tmp_path / file
    talk.write_bytes(content)
    code, out, err = run(monkeypatch, capsys, talk)
    assert (code, out) == (1, "")
    assert told in " ".join(err.split())
    assert "Traceback" not in err


def test_a_missing_talk_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """This test ensures that a talk that is not there is told as such."""
    code, _, err = run(monkeypatch, capsys, tmp_path / "none.vtt")
    assert code == 1
    assert "There is no such file." in err


@pytest.mark.parametrize("words", ["Smell that. Toast and hay.", "", "   \n\n"])
def test_a_script_without_numbers_is_reported_honestly(
    words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """This test ensures that a script without a number is told to hold none, and gives an empty list to machines."""
    talk = tmp_path / "talk.txt"
    talk.write_text(words, encoding="utf-8")
    code, out, _ = run(monkeypatch, capsys, talk)
    assert code == 0
    assert "no number" in out
    assert json.loads(CliRunner().invoke(_app(), ["said", str(talk), "--json"]).stdout) == []


def _app() -> Any:
    from presenter.commands import app

    return app


def test_overlapping_cues_are_read(tmp_path: Path) -> None:
    """This test ensures that cues that overlap in time are all read, each word at the time of its own cue."""
    talk = tmp_path / "talk.vtt"
    talk.write_text(
        "WEBVTT\n\n"
        + cue("00:00:01.000", "00:00:06.000", "hold it at sixty-six degrees")
        + cue("00:00:02.000", "00:00:04.000", "for an hour"),
        encoding="utf-8",
    )
    read = read_talk(talk)
    assert read.text == "hold it at sixty-six degrees for an hour"
    assert read.second_at(read.text.index("for an hour")) == 2.0


def test_rolling_captions_are_heard_once(tmp_path: Path) -> None:
    """This test ensures that captions that repeat their last line, as automatic ones do, are heard once."""
    lines = [
        "we pour on",
        "we pour on\ntwelve litres of water",
        "twelve litres of water",
        "twelve litres of water\nat seventy degrees",
    ]
    talk = tmp_path / "talk.vtt"
    talk.write_text(
        "WEBVTT\n\n" + "".join(cue(f"00:00:0{n}.000", f"00:00:0{n + 1}.000", line) for n, line in enumerate(lines)),
        encoding="utf-8",
    )
    assert read_talk(talk).text == "we pour on twelve litres of water at seventy degrees"


@given(
    times=st.lists(st.tuples(st.integers(0, 3000), st.integers(0, 3000)), min_size=1, max_size=12),
    words=st.lists(st.sampled_from(["sixty-six degrees", "an hour", "ten litres", "well"]), min_size=12, max_size=12),
)
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_every_cue_is_read_or_a_problem_is_told(tmp_path: Path, times: list[tuple[int, int]], words: list[str]) -> None:
    """This test ensures that as many cues are read as the file has arrows, or that a Problem says why not."""

    def clock(second: int) -> str:
        return f"00:{second // 60:02d}:{second % 60:02d}.000"

    talk = tmp_path / "talk.vtt"
    cues = [
        cue(clock(begin), clock(end), f"{word} {n}")
        for n, ((begin, end), word) in enumerate(zip(times, words, strict=False))
    ]
    talk.write_text("WEBVTT\n\n" + "".join(cues), encoding="utf-8")
    in_order = all(begin <= end for begin, end in times) and times == sorted(times, key=lambda pair: pair[0])
    if in_order:
        assert len(read_talk(talk).places) == talk.read_text(encoding="utf-8").count("-->")
    else:
        with pytest.raises(ProblemsFoundError):
            read_talk(talk)
