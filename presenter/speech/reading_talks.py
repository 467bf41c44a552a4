"""Captions or a script, read into one text whose every place has a time.

In: a file, .vtt or .srt (captions) or .txt or .md (a script). Out: a :class:`Talk`; or the Problem that keeps the file
from being read, since a cue that is silently dropped could hide a wrong number.
"""

from __future__ import annotations

import bisect
import functools
import html
import io
import re
from dataclasses import dataclass
from pathlib import Path

import webvtt
from webvtt.errors import MalformedCaptionError, MalformedFileError

from presenter.problems import Place, Problem, ProblemsFoundError

__all__ = ["Talk", "clock", "read_talk"]

_ARROW = re.compile(r"-->")
_TIMING = re.compile(r"^\s*((?:\d+:)?\d{1,2}:\d{2}[.,]\d{3})\s*-->\s*((?:\d+:)?\d{1,2}:\d{2}[.,]\d{3})")
_TAG = re.compile(r"<[^<>\n]{0,80}>")
_MARKUP = re.compile(r"^#{1,6}\s+|[*_`]{1,3}|^>\s?", re.MULTILINE)
_REPEATED = 3  # words that a cue must share with the one before to be taken as rolled on from it
_LARGEST = 4_000_000  # bytes; an hour of talk makes about a tenth of a million
_CAPTIONS = {".vtt", ".srt"}
_SCRIPTS = {".txt", ".md"}


@dataclass(frozen=True)
class Talk:
    """A talk as one text; ``places`` and ``seconds`` give the time at which pieces of it begin, none for a script."""

    file: str
    text: str
    places: tuple[int, ...] = ()
    seconds: tuple[float, ...] = ()
    finish: float = 0.0

    @property
    def timed(self) -> bool:
        """Whether the talk has times."""
        return bool(self.places)

    def second_at(self, place: int) -> float | None:
        """The time, in seconds, of the word at character ``place``; nothing in a script.

        Within a cue the time is taken to run evenly with the letters.
        """
        if not self.places:
            return None
        index = max(0, bisect.bisect_right(self.places, place) - 1)
        begin = self.seconds[index]
        if index + 1 == len(self.places):
            return begin
        share = (place - self.places[index]) / max(1, self.places[index + 1] - self.places[index])
        return begin + (self.seconds[index + 1] - begin) * min(1.0, share)

    def line_at(self, place: int) -> int:
        """The line of the word at character ``place``, for scripts; counted from 1."""
        return bisect.bisect_left(self._line_ends, place) + 1

    @functools.cached_property
    def _line_ends(self) -> list[int]:
        return [found.start() for found in re.finditer("\n", self.text)]


def clock(second: float) -> str:
    """A time as captions write it.

    >>> clock(75.5)
    '00:01:15.500'
    """
    thousandths = round(second * 1000)
    hours, rest = divmod(thousandths, 3_600_000)
    minutes, rest = divmod(rest, 60_000)
    return f"{hours:02d}:{minutes:02d}:{rest // 1000:02d}.{rest % 1000:03d}"


def read_talk(path: Path) -> Talk:
    """The talk in the file at ``path``.

    Raises ProblemsFoundError for a file that is missing, binary, wrongly encoded, of an unknown kind, or whose
    timings are broken or run backwards.
    """
    kind = path.suffix.lower()
    if kind not in _CAPTIONS | _SCRIPTS:
        raise _problem(path, f"A talk is read from .vtt, .srt, .txt or .md; this file ends in {kind or 'nothing'}.")
    text = _text_of(path)
    if kind in _SCRIPTS:
        return Talk(str(path), _MARKUP.sub(lambda found: " " * len(found.group()), text))
    return _captions(path, text, kind)


def _problem(path: Path, wrong: str, remedy: str = "", line: int = 1, written: str = "") -> ProblemsFoundError:
    return ProblemsFoundError((Problem(Place(str(path), line), "", written, wrong, remedy),))


def _text_of(path: Path) -> str:
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        raise _problem(path, "There is no such file.") from None
    except OSError as error:
        raise _problem(path, f"The file cannot be read: {(error.strerror or 'unknown cause').lower()}.") from None
    if len(raw) > _LARGEST:
        size = f"{len(raw) / 1e6:.0f} MB"
        raise _problem(
            path,
            f"The file holds {size}, more than {_LARGEST / 1e6:.0f} MB; that is some forty hours of captions.",
            "Give one talk at a time.",
        )
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise _problem(path, "The file is written in UTF-16.", "Save it again as UTF-8.")
    if b"\x00" in raw:
        raise _problem(path, "The file is not text: it holds bytes that no text has.", "Export the captions as .vtt.")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise _problem(
            path, "The file is not in UTF-8: a byte in this line is no letter.", "Save it again as UTF-8.", line
        ) from None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _seconds(written: str) -> float:
    parts = written.replace(",", ".").split(":")
    total = 0.0
    for part in parts:
        total = total * 60 + float(part)
    return total


def _check_timings(path: Path, text: str) -> int:
    """The number of arrows in the file; a Problem for each that is broken or runs backwards."""
    problems: list[Problem] = []
    arrows, latest = 0, -1.0
    for line, written in enumerate(text.split("\n"), 1):
        if not _ARROW.search(written):
            continue
        arrows += 1
        found = _TIMING.match(written)
        shown = written.strip()[:80]
        place = Place(str(path), line)
        if found is None:
            problems.append(
                Problem(place, "", shown, "This timing is broken; it should read like 00:01:15.500 --> 00:01:18.000.")
            )
            continue
        begin, end = _seconds(found.group(1)), _seconds(found.group(2))
        if end < begin:
            problems.append(Problem(place, "", shown, "This cue ends before it begins."))
        elif begin < latest:
            problems.append(Problem(place, "", shown, "This cue begins before the one above it."))
        latest = max(latest, begin)
    if problems:
        raise ProblemsFoundError(tuple(problems[:20]))
    return arrows


def _captions(path: Path, text: str, kind: str) -> Talk:
    if not text.strip():
        raise _problem(path, "The file is empty.")
    arrows = _check_timings(path, text)
    if arrows == 0:
        raise _problem(path, "The file holds no cue: no line has an arrow between two times.")
    try:
        if kind == ".vtt":
            cues = webvtt.WebVTT.from_buffer(io.StringIO(text), format="vtt").captions
        else:
            cues = webvtt.WebVTT.from_buffer(io.StringIO(text), format="srt").captions
    except (MalformedFileError, MalformedCaptionError):
        expected = (
            "its first line should be WEBVTT"
            if kind == ".vtt"
            else "each cue should have a number, a timing and its words"
        )
        raise _problem(path, f"The file is not laid out as {kind} captions; {expected}.") from None
    if len(cues) != arrows:
        lost = "a cue without words or without a blank line above it is lost"
        raise _problem(path, f"The file has {arrows} timings, but only {len(cues)} cues could be read; {lost}.")
    pieces: list[str] = []
    places: list[int] = []
    seconds: list[float] = []
    length, before, finish = 0, "", 0.0
    for cue in cues:
        words = html.unescape(_TAG.sub("", " ".join(cue.text.split()))).replace("\u00a0", " ").strip()
        fresh = _not_repeated(before, words)
        before = words
        finish = max(finish, _seconds(cue.end))
        if not fresh:
            continue
        places.append(length)
        seconds.append(_seconds(cue.start))
        pieces.append(fresh)
        length += len(fresh) + 1
    return Talk(str(path), " ".join(pieces), tuple(places), tuple(seconds), finish)


def _not_repeated(before: str, words: str) -> str:
    """The words of a cue without those at its head that end the cue before, as rolling captions repeat them."""
    earlier, fresh = before.split(), words.split()
    for length in range(min(len(earlier), len(fresh)), _REPEATED - 1, -1):
        if earlier[-length:] == fresh[:length]:
            return " ".join(fresh[length:])
    return "" if words == before else words
