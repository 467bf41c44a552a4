"""Each number said in a talk, judged against the lesson and against the talk itself.

In: the sentences of a talk in order, and the lesson's view. Out: one :class:`Finding` for each number or remark that
a verdict can be given on.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace

from presenter.quantities import Q
from presenter.quantities.wording import NO_BREAK_SPACE, in_words
from presenter.speech.agreement import agrees, in_unit_of, slip
from presenter.speech.contradictions import contradictions
from presenter.speech.hearing import Heard, heard
from presenter.speech.lesson_view import LessonView, NumberView
from presenter.speech.plausible import beyond
from presenter.speech.statements import remarks
from presenter.speech.sums_said import numbers_alone
from presenter.speech.tying import concepts, dimension_of, tie
from presenter.speech.units_said import unit_or_number
from presenter.speech.word_lists import word_lists, words_of_talks

__all__ = ["Finding", "judge"]

_CORRECTS = words_of_talks("corrects")
_ELSEWHERE = words_of_talks("elsewhere")
_SCENE_TOLD = re.compile(rf"(?:{word_lists()['scene_told']})\W*$")
_DENIED = re.compile(r"\b(?:not|never|isn't|wasn't|aren't|instead of|rather than|did i say|i said) (?:a |an |the )?$")
_DENIES = re.compile(r"\b(?:not|never|isn't|wasn't|instead of|rather than) (?:a |an |the )?([\w-]+)")
_CLAUSE_END = re.compile(r"[,;:.]|\b(?:and|so|then|which|but|while|plus|with)\b")
_OF = re.compile(r"^\s*(?:more |worth )?of\s+((?:[a-z'-]+\s*){1,4})")
_OF_THE_LAST = re.compile(r"\s*of (?:\w+ ){0,3}?\w+(?:,| and| then)(?= )")  # "of water and strained off"
_THING_END = re.compile(r"\b(?:and|so|then|for|in|on|to|from|over|at|into|per|as|with|goes|go|is|was|are|left)\b")
_HEATS = {"degree_Celsius", "degree_Fahrenheit"}
_SCALES = {*_HEATS, "degC", "degF", "gravity", "pH", "degPlato", "degree_Plato", "year"}
_LONG_SPANS = {"year_span", "month"}
_FARTHEST = 25.0  # times over or under, beyond which a number is of another thing
_FOLLOWS = {"off", "ambiguous", "slip of scale", "not in the lesson"}  # not told of what follows from the rest
_SOON = 200  # letters after which a correction must name what it corrects
_SERVINGS = {"cup", "pint", "imperial_pint", "us_pint", "alcohol_unit", "teaspoon", "tablespoon"}


@dataclass(frozen=True)
class Finding:
    """A verdict on words of the talk: their place, what they are about, how far off, what to say instead."""

    start: int
    end: int
    words: str
    verdict: str
    about: str = "none"
    why: str = ""
    say_instead: str = ""
    source: str = ""


def _say(number: NumberView) -> str:
    return number.say or (
        f"{number.label}: {number.sayable}" if number.sayable else f"{number.label}: {number.value:g} {number.unit}"
    )


def judge(sentences: Sequence[tuple[int, str]], lesson: LessonView) -> list[Finding]:
    """The findings over sentences given with the place where each begins, in the order of the talk."""
    findings: list[Finding] = []
    quantities = [(place, text, heard(text)) for place, text in sentences]
    for index, (place, text, found) in enumerate(quantities):
        earlier = quantities[max(0, index - 4) : index]
        before = " ".join(entry[1] for entry in earlier[-2:])
        own = _judge_sentence(
            text, found, before, [entry[2] for entry in earlier], [entry[1] for entry in earlier], lesson
        )
        findings.extend(replace(finding, start=finding.start + place, end=finding.end + place) for finding in own)
    return sorted(_cleared(findings, quantities, lesson), key=lambda finding: (finding.start, finding.end))


def _judge_sentence(
    text: str, found: list[Heard], before: str, earlier: list[list[Heard]], texts: list[str], lesson: LessonView
) -> list[Finding]:
    findings: list[Finding] = []
    for remark in remarks(text, lesson):
        words = text[remark.start : remark.end]
        findings.append(
            Finding(
                remark.start, remark.end, words, remark.verdict, remark.about, "", remark.say_instead, remark.source
            )
        )
    taken = [(finding.start, finding.end) for finding in findings if finding.verdict in {"myth", "defer"}]
    checked = contradictions(text, found, earlier, texts)
    against = checked.against
    findings.extend(
        Finding(one.start, one.end, one.words, "contradicts itself", "none", why) for one, why in against.items()
    )
    quarrels = {dimension_of(one.unit) for one in against}
    if "gravity" in quarrels:  # a mixture's amounts belong to the sum that does not hold
        quarrels.add(dimension_of("litre"))
    for index, quantity in enumerate(found):
        if (
            quantity in against
            or _DENIED.search(text[: quantity.start].lower())
            or any(start < quantity.end and quantity.start < end for start, end in taken)
        ):
            continue
        finding = (
            _judge_quantity(text, found, index, before, lesson) if lesson.numbers else _judge_alone(text, quantity)
        )
        if quantity in checked.upheld and finding.verdict in _FOLLOWS:
            continue
        said_already = finding.verdict == "slip of scale" and dimension_of(quantity.unit) in quarrels
        if finding.verdict and not (against and (said_already or finding.verdict in {"off", "ambiguous"})):
            findings.append(finding)
    return findings


def _near(text: str, found: list[Heard], index: int) -> str:
    start = found[index - 1].end if index else 0
    end = found[index + 1].start if index + 1 < len(found) else len(text)
    after = _CLAUSE_END.split(text[found[index].end : end], maxsplit=1)[0]
    ahead = text[start : found[index].start]
    if index and (of_the_last := _OF_THE_LAST.match(ahead.lower())) is not None:
        ahead = ahead[of_the_last.end() :]
    return ahead + " " + after


def _foreign(text: str, quantity: Heard, lesson: LessonView) -> bool:
    """Whether the words say that the number is about something the lesson does not have."""
    if quantity.unit == "year":
        return True
    other = _of_another_thing(text, quantity, lesson)
    if other is not None:
        return other
    places = (match.group().split()[0] for match in _ELSEWHERE.finditer(text.lower()))
    return any(place not in lesson.words_known for place in places)


def _of_another_thing(text: str, quantity: Heard, lesson: LessonView) -> bool | None:
    """Whether the number is "of" a thing that the lesson does not know; nothing where it is of no thing at all."""
    of = _OF.match(text[quantity.end :].lower())
    if of is None:
        return None
    words = _THING_END.split(of.group(1), maxsplit=1)[0].split()
    named = [word for word in words if word not in word_lists()["describes"]] or words
    things = [word.rstrip("s") for word in named]
    if any(len(thing) > 2 and re.search(rf"\b{re.escape(thing)}", lesson.words_known) for thing in things):
        return False
    if things and things[0] not in {"them", "it", "thi", "that", "gravity", "alcohol", "boiling", "each", "ga"}:
        return True
    return None


def _speaks_of_something_else(text: str, lesson: LessonView) -> bool:
    """Whether a sentence names several things and none of them is the lesson's."""
    known = lesson.words_known
    plain = word_lists()["plain"]
    words = [word for word in re.findall(r"[a-z']{4,}", text.lower()) if word not in plain]
    strange = [word for word in words if word.rstrip("s") not in known and not unit_or_number(word)]
    return len(strange) >= 2 and not any(word.rstrip("s") in known for word in words if not unit_or_number(word))


def _judge_quantity(text: str, found: list[Heard], index: int, before: str, lesson: LessonView) -> Finding:
    quantity = found[index]
    made = Finding(quantity.start, quantity.end, quantity.words, "")
    tied = tie(quantity, _near(text, found, index), text, before, lesson)
    foreign = _foreign(text, quantity, lesson)
    agreeing = [pair for pair in tied.candidates if agrees(quantity, pair[0], lesson.scale)]
    if quantity.unit == "year":
        if not agreeing and any(f"{quantity.middle:.0f}" in myth.do_not_say for myth in lesson.myths):
            return made
        if agreeing:
            return replace(made, verdict="agrees", about=agreeing[0][0].id)
        if quantity.value is not None and int(quantity.value) in lesson.years:
            return replace(made, verdict="agrees", why="a year that the lesson's own texts tell of")
        if tied.candidates and _SCENE_TOLD.search(text[: quantity.start].lower()):
            scene = tied.candidates[0][0]
            return replace(made, verdict="off", about=scene.id, why=f"the scene is of {scene.value:.0f}")
        return replace(made, verdict="not in the lesson")
    if not tied.candidates or foreign or (quantity.unit in _LONG_SPANS and not tied.clear):
        told = (
            agreeing and tied.clear and not tied.borrowed and agreeing[0][1] >= max(0.9, tied.candidates[0][1] - 0.45)
        )
        if agreeing and (not foreign or (told and not _of_another_thing(text, quantity, lesson))):
            return replace(made, verdict="agrees", about=agreeing[0][0].id)
        return replace(made, verdict="not in the lesson", why="the lesson has no number for this")
    best, score = tied.candidates[0]
    near_top = [pair for pair in agreeing if pair[1] >= (max(0.0, score - 0.9) if tied.clear else score - 0.9)]
    if tied.clear and score >= 0.9:
        near_top = [pair for pair in agreeing if pair[1] >= min(score - 0.45, 0.5 * score)]
    near_top = near_top or [pair for pair in agreeing if pair[0].label == best.label]  # told twice
    if near_top or (agreeing and (not tied.clear or tied.borrowed)):
        return replace(made, verdict="agrees", about=(near_top or agreeing)[0][0].id)
    if tied.clear or score >= 0.3 or quantity.unit in {"degPlato", "gravity_point"}:
        for number, evidence in tied.candidates:
            if evidence < score - (
                1.5 if number.unit != quantity.unit and "gravity" in quantity.unit + number.unit else 0.7
            ):
                break
            slipped = slip(quantity, number, lesson.scale)
            if slipped:
                return replace(made, verdict="slip of scale", about=number.id, why=slipped, say_instead=_say(number))
    if quantity.unit in _SERVINGS:
        return replace(made, verdict="not in the lesson", why="a serving, of which the lesson has no number")
    if not tied.clear and _speaks_of_something_else(text, lesson):
        return replace(made, verdict="not in the lesson", why="the words name nothing that the lesson has")
    if not tied.clear:
        return replace(made, verdict="ambiguous", why="several numbers of the lesson could be meant")
    if _of_another_order(quantity, best, lesson.scale):
        return replace(made, verdict="not in the lesson", why="far from anything that the lesson has")
    return replace(
        made, verdict="off", about=best.id, why=_off_by(quantity, best, lesson.scale), say_instead=_say(best)
    )


def _judge_alone(text: str, quantity: Heard) -> Finding:
    """A finding where no lesson stands behind the talk: only what can hardly be is told."""
    made = Finding(quantity.start, quantity.end, quantity.words, "")
    outside = beyond(text, quantity)
    if outside is None:
        return made
    return replace(made, verdict="off", about=outside.about, why=outside.why, say_instead=outside.say_instead)


def _of_another_order(quantity: Heard, number: NumberView, scale: str) -> bool:
    """Whether what was said is so far from the worked number that it hardly speaks of it: tonnes for a kilogram."""
    said = in_unit_of(quantity.middle, quantity.unit, number, scale)
    if said is None or said <= 0 or number.value <= 0 or number.unit in _SCALES:
        return False
    return not 1 / _FARTHEST <= said / number.value <= _FARTHEST


def _off_by(quantity: Heard, number: NumberView, scale: str) -> str:
    """By how much, which way, and what the lesson has."""
    said = in_unit_of(quantity.middle, quantity.unit, number, scale)
    has = f"the lesson has {number.sayable or f'{number.value:g} {number.unit}'}"
    if said is None:
        return has
    unit = number.unit.replace("degC", "degree_Celsius").replace("degF", "degree_Fahrenheit")
    apart = Q(abs(said - number.value), f"delta_{unit}" if unit in _HEATS else unit)
    return f"{in_words(apart).replace(NO_BREAK_SPACE, ' ')} too {'high' if said > number.value else 'low'}; {has}"


def _cleared(
    findings: list[Finding], quantities: list[tuple[int, str, list[Heard]]], lesson: LessonView
) -> list[Finding]:
    """Findings that a later sentence corrects to a number that agrees are marked as cleared."""
    numbers = {number.id: number for number in lesson.numbers}
    corrects = [_corrects(text.lower()) for _, text, _ in quantities]
    corrections = [entry for index, entry in enumerate(quantities) if any(corrects[max(0, index - 1) : index + 1])]
    places = [place for place, _, _ in quantities]
    judged = {(finding.start, finding.end): finding for finding in findings}
    result = []
    for finding in findings:
        number = numbers.get(finding.about)
        if number is not None and finding.verdict in {"off", "slip of scale"}:
            first = bisect_right(places, finding.start)
            again = [entry for entry in quantities[first : first + 3] if finding.words.lower() in entry[1].lower()]
            entries = [*corrections, *again]  # "four days, what am I saying, forty hours"
            by = next((text for entry in entries if (text := _corrected(finding, number, entry, judged, lesson))), "")
            if by:
                finding = replace(finding, verdict="cleared", why=f"corrected later: {by}")
        result.append(finding)
    return result


def _corrects(lower: str) -> bool:
    """Whether a sentence takes back something said: by its words, or by denying a number."""
    if _CORRECTS.search(lower) is not None:
        return True
    return any(unit_or_number(word) for word in _DENIES.findall(lower))


def _corrected(
    finding: Finding,
    number: NumberView,
    entry: tuple[int, str, list[Heard]],
    judged: dict[tuple[int, int], Finding],
    lesson: LessonView,
) -> str:
    """The sentence, if it corrects what ``finding`` is about and not another number of the same worth."""
    place, text, found = entry
    for one in found:
        start, end = place + one.start, place + one.end
        if start <= finding.start or not agrees(one, number, lesson.scale):
            continue
        told = judged.get((start, end))
        about = "" if told is None else told.about
        if about == number.id or _leaves_open(text) or (place - finding.start < _SOON and about in {"", "none"}):
            return text.strip()
    near = finding.start < place < finding.start + _SOON
    if near and any(abs(value - number.value) <= number.give_or_take + 1e-9 for value in numbers_alone(text)):
        return text.strip()  # "did I say thirty? twenty, of course"
    return ""


def _leaves_open(text: str) -> bool:
    """Whether a correction names none of the things that could tell one number from another."""
    return not (concepts(text) & frozenset().union(*word_lists()["apart"]))
