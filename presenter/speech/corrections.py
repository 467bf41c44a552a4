"""Corrections for a talk that is filmed already: corrective captions, or a text for the description beneath it.

In: the records of a report. Out: WebVTT or SubRip text whose cues stand at the times of the slips; or lines of plain
text. Only findings that need a change are corrected; what was cleared later in the talk is left alone.
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from typing import Any

import webvtt

__all__ = ["KINDS", "corrected_captions", "corrected_description", "to_correct"]

KINDS = (".vtt", ".srt", ".txt", ".md")
_SHOWN = 6.0  # seconds that a corrective caption stays, if the next does not come sooner
_SHORTEST = 1.5
_CORRECTED = {"off", "slip of scale", "contradicts itself", "wrong direction or wrong thing", "myth", "defer"}


def to_correct(records: Iterable[dict[str, Any]]) -> list[dict[str, Any]]:
    """The records that ask for a correction, in the order of the talk."""
    return [record for record in records if record["verdict"] in _CORRECTED and record["say_instead"]]


def _seconds(time: str) -> float:
    hours, minutes, seconds = time.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + float(seconds)


def _clock(second: float) -> str:
    thousandths = round(second * 1000)
    hours, rest = divmod(thousandths, 3_600_000)
    minutes, rest = divmod(rest, 60_000)
    return f"{hours:02d}:{minutes:02d}:{rest // 1000:02d}.{rest % 1000:03d}"


def corrected_captions(records: Iterable[dict[str, Any]], kind: str) -> str:
    """Captions of ``kind`` (.vtt or .srt): one cue from the time of each slip; cues never overlap."""
    slips = to_correct(records)
    captions = webvtt.WebVTT()
    begins: list[float] = []
    for slip in slips:
        begin = _seconds(slip["time"])
        if begins:
            begin = max(begin, begins[-1] + _SHORTEST)
        begins.append(begin)
    for slip, begin, after in zip(slips, begins, [*begins[1:], float("inf")], strict=False):
        text = f"Correction: {slip['say_instead']}".replace("-->", "to")
        captions.captions.append(webvtt.Caption(_clock(begin), _clock(min(begin + _SHOWN, after)), text))
    written = io.StringIO()
    captions.write(written, format=kind.removeprefix("."))
    return written.getvalue().rstrip() + "\n"


def corrected_description(records: Iterable[dict[str, Any]]) -> str:
    """Plain lines for the text beneath a film: the time, what was said, and what is right."""
    lines = []
    for slip in to_correct(records):
        time = slip["time"].split(".")[0] if ":" in slip["time"] else slip["time"]
        lines.append(f"{time}  We said “{slip['text']}”. {slip['say_instead']}")
    if not lines:
        return "Nothing to correct.\n"
    return "\n".join(["Corrections", "", *lines]) + "\n"
