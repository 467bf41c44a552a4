"""What was heard and how it was judged, as lines for a reader and records for a machine.

In: a talk's file and, if there is one, a worked lesson. Out: :class:`SaidReport`, and the records of what was heard.
"""

from __future__ import annotations

import functools
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from presenter.speech.hearing import heard
from presenter.speech.judging import Finding, judge
from presenter.speech.lesson_view import Disclosure, LessonView, view_of
from presenter.speech.not_said import amounts_unsaid, unsaid
from presenter.speech.numbers_said import STARTS
from presenter.speech.reading_talks import Talk, clock, read_talk
from presenter.working import WorkedLesson

__all__ = ["SaidReport", "heard_records", "said_report", "sentences_of"]

_SENTENCE_END = re.compile(r"(?<=[.!?])[\"”')\]]*\s+|\n\s*\n")
_LONG = 40  # words beyond which a stretch without full stops is cut, as automatic captions need
_CLEAR = 5  # words without a number on either side of a cut, so that no quantity is cut in two
_LONGEST = 120  # words after which a cut falls wherever it may
_NUMBERS = STARTS - {"a", "an"}
_TURNED = {"defer", "myth", "wrong direction or wrong thing"}
_QUIET = {"agrees"}


@dataclass(frozen=True)
class SaidReport:
    """The findings on a talk: ``records`` for machines, ``lines`` for a terminal, ``wrong`` how many need a change."""

    records: tuple[dict[str, Any], ...]
    lines: tuple[str, ...]
    counts: dict[str, int]
    timed: bool = False

    @property
    def wrong(self) -> int:
        """How many findings ask for another take or a corrective caption."""
        return sum(times for verdict, times in self.counts.items() if verdict not in _WELL)


_WELL = {"agrees", "not in the lesson", "cleared", "ambiguous"}


def sentences_of(talk: Talk) -> list[tuple[int, str]]:
    """The sentences of a talk, each with the place where it begins; long runs without full stops are cut.

    No cut falls near a number, so none falls inside a quantity.
    """
    found: list[tuple[int, str]] = []
    start = 0
    for match in [*_SENTENCE_END.finditer(talk.text), None]:
        end = len(talk.text) if match is None else match.start()
        if talk.text[start:end].strip():
            found.extend(_cut(start, talk.text[start:end]))
        start = end if match is None else match.end()
    return found


def _cut(start: int, text: str) -> list[tuple[int, str]]:
    words = list(re.finditer(r"\S+", text))
    if len(words) <= _LONG:
        return [(start, text)]
    numbers = [index for index, word in enumerate(words) if _numberish(word.group().lower())]
    pieces, begin, first, at = [], 0, 0, 0
    for index, word in enumerate(words):
        while at < len(numbers) and numbers[at] < index - _CLEAR:
            at += 1
        clear = at == len(numbers) or numbers[at] > index + _CLEAR
        if index - first >= _LONG // 2 and (clear or index - first >= _LONGEST):
            pieces.append((start + begin, text[begin : word.start()]))
            begin, first = word.start(), index
    pieces.append((start + begin, text[begin:]))
    return pieces


@functools.lru_cache(maxsize=8192)
def _numberish(word: str) -> bool:
    """Whether a word holds a figure or is part of a number in words."""
    return any(part.isdigit() or part in _NUMBERS for part in re.findall(r"\d|[a-z]+", word))


def _time(talk: Talk, place: int) -> str:
    second = talk.second_at(place)
    return f"line {talk.line_at(place)}" if second is None else clock(second)


def heard_records(path: Path, scale: str = "degC") -> list[dict[str, Any]]:
    """Every quantity heard in the talk at ``path``: time, text, value or low and high, unit.

    Degrees whose scale was not said are taken in ``scale``, which a lesson may set.

    Raises ProblemsFoundError when the file cannot be read as a talk.
    """
    talk = read_talk(path)
    records: list[dict[str, Any]] = []
    for quantity in heard(talk.text):
        record: dict[str, Any] = {"time": _time(talk, quantity.start), "text": quantity.words}
        if quantity.value is None:
            record |= {"low": quantity.low, "high": quantity.high}
        else:
            record["value"] = quantity.value
        records.append(record | {"unit": quantity.unit.replace("degree_bare", scale)})
    return records


def _from_reason(finding: Finding) -> str:
    """What a contradiction's own reason says is right, as a sentence."""
    if finding.verdict != "contradicts itself" or not finding.why:
        return ""
    return finding.why[0].upper() + finding.why[1:] + "."


def _record(talk: Talk, finding: Finding) -> dict[str, Any]:
    return {
        "time": _time(talk, finding.start),
        "text": finding.words,
        "verdict": finding.verdict,
        "about": finding.about,
        "why": finding.why,
        "say_instead": finding.say_instead or _from_reason(finding),
        "source": finding.source,
    }


def _not_said(
    told: str, sentences: Sequence[tuple[int, str]], view: LessonView, duties: Iterable[Disclosure]
) -> list[dict[str, Any]]:
    missing = unsaid(told, [*view.must_disclose, *duties])
    if view.ingredients:
        named = [(text.lower(), heard(text)) for _, text in sentences]
        missing += amounts_unsaid(named, view.ingredients)
    return [
        {
            "time": "",
            "text": "",
            "verdict": "not said",
            "about": duty.id,
            "why": f"{duty.kind}: the talk never {duty.subject}",
            "say_instead": duty.say,
            "source": "",
        }
        for duty in missing
    ]


def _without(sentences: Sequence[tuple[int, str]], findings: Iterable[Finding]) -> str:
    """The talk without the sentences that themselves need another take: no caution is given by its opposite."""
    amiss = [finding.start for finding in findings if finding.verdict in _TURNED]
    return " ".join(text for place, text in sentences if not any(place <= start < place + len(text) for start in amiss))


def _read_out(words: str, text: str) -> list[re.Match[str]]:
    """Where ``words`` stand in ``text``, however their white space falls."""
    return list(re.finditer(r"\s+".join(map(re.escape, words.split())), text, re.IGNORECASE)) if words.strip() else []


def _outside(
    talk: Talk, findings: Iterable[Finding], own_words: Iterable[str], own_figures: Iterable[tuple[str, str]]
) -> list[Finding]:
    """The findings on words that are not the lesson's own, read out as they are printed."""
    spans = [match.span() for words in dict.fromkeys(own_words) for match in _read_out(words, talk.text)]
    for line, figure in dict.fromkeys(own_figures):
        for match in _read_out(line, talk.text):
            found = _read_out(figure, match[0])
            spans += [(match.start() + each.start(), match.start() + each.end()) for each in found]
    return [each for each in findings if not any(start <= each.start and each.end <= end for start, end in spans)]


def said_report(
    worked: WorkedLesson | None,
    path: Path,
    duties: Iterable[Disclosure] = (),
    own_words: Iterable[str] = (),
    own_figures: Iterable[tuple[str, str]] = (),
) -> SaidReport:
    """The report on the talk at ``path`` against a worked lesson, or against itself and the trade alone.

    ``duties`` are further things the talk must say, such as the mandatory cautions, which lie in a later stage;
    ``own_words`` texts of the lesson that are no finding where the talk reads them out, such as its cautions;
    ``own_figures`` lines of the lesson, each with a figure that was worked into it.
    Raises ProblemsFoundError when the file cannot be read as a talk.
    """
    talk = read_talk(path)
    view = LessonView() if worked is None else view_of(worked)
    return report_on(talk, view, duties, own_words, own_figures)


def report_on(
    talk: Talk,
    view: LessonView,
    duties: Iterable[Disclosure] = (),
    own_words: Iterable[str] = (),
    own_figures: Iterable[tuple[str, str]] = (),
) -> SaidReport:
    """The report on a talk against a view of a lesson."""
    sentences = sentences_of(talk)
    findings = _outside(talk, judge(sentences, view), own_words, own_figures)
    records = [_record(talk, finding) for finding in findings] + _not_said(
        _without(sentences, findings), sentences, view, duties
    )
    counts = dict(Counter(record["verdict"] for record in records))
    return SaidReport(tuple(records), tuple(_lines(talk, records, counts)), counts, talk.timed)


def _lines(talk: Talk, records: list[dict[str, Any]], counts: dict[str, int]) -> list[str]:
    lines = []
    for record in records:
        if record["verdict"] in _QUIET:
            continue
        words = f"“{record['text']}”" if record["text"] else record["why"]
        lines.append(f"{record['time']:>12}  {record['verdict']}: {words}" if record["time"] else f"{'':12}  {words}")
        if record["text"] and record["why"] and record["verdict"] != "contradicts itself":
            lines.append(f"{'':14}{record['why']}")
        if record["say_instead"]:
            lines.append(f"{'':14}say instead: {record['say_instead']}")
    if not records:
        lines.append(f"{talk.file}: no number and nothing to remark on was heard.")
    else:
        lines.append("; ".join(f"{verdict}: {times}" for verdict, times in sorted(counts.items())))
    return lines
