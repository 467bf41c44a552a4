"""How findings are scored against the labelled pairs; counts alone, so that the pairs kept aside are not shown.

In: the labelled files. Out: for each verdict how many were found, missed and falsely given, by the rule at the head of
``judged/open.yaml``.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import yaml

from presenter.speech.judging import Finding, judge
from presenter.speech.lesson_view import LessonView, Myth, NumberView

HERE = Path(__file__).parent / "judged"


def views() -> dict[str, LessonView]:
    """The three labelled lessons as views."""
    lessons = yaml.safe_load((HERE / "lessons.yaml").read_text(encoding="utf-8"))["lessons"]
    made = {}
    for lesson in lessons:
        numbers = tuple(
            NumberView(
                n["id"], n["step"], n["label"], float(n["value"]), n["unit"], float(n["give_or_take"]), n.get("say", "")
            )
            for n in lesson["numbers"]
        )
        myths = tuple(Myth(m["id"], m["do_not_say"], m["say_instead"]) for m in lesson["myths"])
        made[lesson["id"]] = LessonView(numbers, tuple(lesson["ingredients"]), myths, (), lesson["scale"])
    return made


def pairs(part: str) -> list[dict[str, Any]]:
    """The labelled pairs of a part, open or kept_aside."""
    labelled: list[dict[str, Any]] = yaml.safe_load((HERE / f"{part}.yaml").read_text(encoding="utf-8"))["pairs"]
    return labelled


def outcome(pair: dict[str, Any], lessons: dict[str, LessonView]) -> tuple[list[Finding], bool, list[str]]:
    """The findings over the pair's text, whether its verdict was given, and the verdicts falsely given."""
    said = [*pair.get("context", []), pair["text"], *pair.get("after", [])]
    starts, place = [], 0
    for sentence in said:
        starts.append(place)
        place += len(sentence) + 1
    begin = starts[len(pair.get("context", []))]
    findings = [
        f
        for f in judge(list(zip(starts, said, strict=True)), lessons[pair["lesson"]])
        if begin <= f.start < begin + len(pair["text"])
    ]
    words = begin + pair["text"].index(pair["words"])
    over = [f for f in findings if f.start < words + len(pair["words"]) and words < f.end]
    wanted = pair["verdict"]
    others = [f for f in findings if f.verdict != wanted]
    false = []
    for f in others:
        beside = f not in over
        if f.verdict == "agrees" or f.verdict in pair.get("also", []):
            if f.verdict == "agrees" and not beside and wanted not in {"no finding"}:
                false.append("agrees")
        elif f.verdict == "not in the lesson" and beside and wanted != "no finding":
            continue
        else:
            false.append(f.verdict)
    if wanted == "no finding":
        return findings, not false, false
    return findings, any(f.verdict == wanted for f in over), false


def tally(items: list[dict[str, Any]], lessons: dict[str, LessonView]) -> dict[str, tuple[int, int, int]]:
    """Found, missed and false for each verdict."""
    found: Counter[str] = Counter()
    missed: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    for pair in items:
        _, right, false = outcome(pair, lessons)
        (found if right else missed)[pair["verdict"]] += 1
        wrong.update(false)
    return {v: (found[v], missed[v], wrong[v]) for v in sorted({*found, *missed, *wrong})}
