"""What ``presenter now`` says: one screen for a person at a stove, in short lines.

In: a worked day. Out: lines of text at most 78 letters wide: how the reading stands, what it means, what is likely
behind it with the check that tells, and what can be done, how much and how long.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

from presenter.days.against_plan import Standing, Target, latest_miss, standings, target_of
from presenter.days.causes import Cause, causes_of
from presenter.days.fermentation_log import ASSUMPTION, FermentationLog, fermentation_logs
from presenter.days.fermenting import date_after
from presenter.days.made import WorkedDay
from presenter.days.remedies import Remedy, remedies_of
from presenter.quantities import Q, Quantity, give_or_take_in_words, in_words
from presenter.working.walk import wort_called

__all__ = ["WIDTH", "now_lines"]

WIDTH = 78
CAUSES_TOLD = 3
HALF = 0.5  # of the miss: what explains less is not stretched to explain it all


def now_lines(worked: WorkedDay, measures: str = "metric") -> list[str]:
    """The screen, line by line."""
    lines = [f"{worked.plan.lesson.file.title}: {worked.day.date.isoformat()}"]
    found = standings(worked)
    logs = fermentation_logs(worked)
    if logs:
        lines += [line for log in logs for line in _fermentation(worked, log, measures)]
        return [_plain(line) for line in (*lines, *_disagreements(worked, measures))]
    if not found:
        return [*lines, *_wrapped("No reading of this day stands beside a planned number yet. Add one with --add.")]
    miss = latest_miss(worked)
    if miss is None:
        last = found[-1]
        lines += _wrapped(f"{_name(last)} is within the plan's give-or-take: {_beside(last, measures)}.")
        lines += _asked(last)
        lines += _wrapped("Go on as planned.")
        return [_plain(line) for line in (*lines, *_disagreements(worked, measures))]
    lines += _wrapped(f"{_name(miss).upper()} IS {miss.verdict.upper()}: {_beside(miss, measures)}.")
    lines += _wrapped(
        f"That is {_difference(miss, measures)} {'above' if miss.apart > 0 else 'below'} the plan; the two together"
        f" may be off by {_allowed(miss, measures)}."
    )
    lines += _asked(miss)
    lines += _disagreements(worked, measures)
    target = target_of(worked, miss)
    if target is not None:
        lines += _wrapped(_meaning(worked, target, measures))
    causes = causes_of(worked, miss)
    if causes:
        lines += ["", "LIKELY CAUSES"]
        for number, cause in enumerate([each for each in causes if not each.ruled_out][:CAUSES_TOLD], start=1):
            lines += _cause(number, cause, measures)
        ruled = [each.says for each in causes if each.ruled_out]
        if ruled:
            lines += _wrapped(f"Ruled out by your readings: {'; '.join(ruled)}.")
    remedies = remedies_of(worked, miss)
    if remedies:
        lines += ["", "WHAT CAN BE DONE NOW"]
        for number, remedy in enumerate(remedies, start=1):
            lines += _remedy(worked, number, remedy, measures)
    elif target is None:
        lines += ["", *_wrapped("The yeast is in, or this changes no wort: accept it, and call it what it is.")]
    return [_plain(line) for line in lines]


def _fermentation(worked: WorkedDay, log: FermentationLog, measures: str) -> list[str]:
    """The log of one drink: each reading with what it means, the estimate with its band, the rules of finishing."""
    name = log.liquid.replace("-", " ")
    lines = [
        "",
        *_wrapped(
            f"{name.upper()}, {log.state.upper()}: began at {_gravity(log.original, log.original_spread)}, expected"
            f" to end at {_gravity(log.expected, log.expected_spread)}."
        ),
    ]
    for each in log.entries:
        text = f"day {each.days:.0f}: {_gravity(each.gravity, each.spread)}"
        if each.attenuation is not None and each.strength is not None:
            attenuation = Q(each.attenuation, "attenuation_percent")
            strength = Q(each.strength, "percent_by_volume")
            text += f", apparent attenuation {_both(attenuation, each.attenuation_spread, measures)}"
            text += f", {_both(strength, each.strength_spread, measures)} so far"
        lines += _wrapped(text, "  ", "    ")
    if log.estimate is not None:
        band = (log.estimate.days, log.estimate.earliest, log.estimate.latest)
        dates = [date_after(worked.day, when).isoformat() for when in band]
        lines += _wrapped(
            f"May be done about {dates[0]}, between {dates[1]} and {dates[2]}: our own estimate; {ASSUMPTION}."
        )
    for rule in log.rules:
        lines += _wrapped(rule)
    return lines


def _gravity(value: float, spread: float) -> str:
    return in_words(Q(value, "gravity"), Q(spread, "gravity") if spread > 0 else None)


def _both(value: Quantity, spread: float, measures: str) -> str:
    """A value and its give-or-take."""
    off = Q(spread, str(value.units))
    return f"{in_words(value, off, measures)} {give_or_take_in_words(value, off, measures)}"


def _plain(line: str) -> str:
    return line.replace("\u00a0", " ").rstrip()


def _wrapped(text: str, first: str = "", rest: str | None = None) -> list[str]:
    """Lines no wider than the screen; a number and its unit stay together, for they hold a space that does not part."""
    later = " " * len(first) if rest is None else rest
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=later, break_on_hyphens=False)


def _name(standing: Standing) -> str:
    label = standing.planned.label
    return label[:1].upper() + label[1:]


def _beside(standing: Standing, measures: str) -> str:
    read = in_words(standing.read.quantity, standing.read.spread, measures)
    return f"read {read} (shown {standing.read.how}), planned {standing.planned.words(measures)}"


def _difference(standing: Standing, measures: str) -> str:
    unit = str(standing.read.spread.units)
    return in_words(Q(abs(standing.apart), unit), None, measures)


def _allowed(standing: Standing, measures: str) -> str:
    return in_words(Q(standing.allowed, str(standing.read.spread.units)), None, measures)


def _asked(standing: Standing) -> list[str]:
    return [line for ask in standing.read.asks for line in _wrapped(ask, "? ")]


def _disagreements(worked: WorkedDay, measures: str) -> list[str]:
    lines = []
    for each in worked.disagreements:
        label = worked.made.numbers[each.number].label
        lines += _wrapped(
            f"Two readings of the {label} disagree: {each.first.words(measures)} and {each.later.words(measures)}."
            " They are not averaged; the later one is used. Read a third time.", "! ",
        )  # fmt: skip
    return lines


def _meaning(worked: WorkedDay, target: Target, measures: str) -> str:
    planned, made = worked.plan.numbers[target.planned_id], worked.made.numbers[target.made_id]
    text = f"Left alone, the {wort_called(target.liquid.replace('-', ' '))} goes to the yeast at {made.words(measures)}"
    text += f" instead of {planned.words(measures)}"
    plan_strength = worked.plan.numbers.get(f"{target.ferment}.strength")
    made_strength = worked.made.numbers.get(f"{target.ferment}.strength")
    if plan_strength is not None and made_strength is not None:
        text += f", and ends near {made_strength.words(measures)} instead of {plan_strength.words(measures)}"
    return f"{text}."


def _cause(number: int, cause: Cause, measures: str) -> list[str]:
    """One cause: how much of it would explain the miss, whole or in part, and the check that tells."""
    text = cause.says
    if cause.wanted:
        whole = cause.share >= HALF
        size = abs(cause.wanted) if whole else abs(cause.size)
        told = in_words(Q(size, cause.unit), Q(size / 3, cause.unit), measures)
        if cause.unit == "percent":  # a share's own points, not a share of a share
            told = f"{told.removesuffix(chr(0xA0) + '%')} points"
        text += f": {told} would explain {'it all' if whole else f'{cause.share:.0%} of it'}"
    elif cause.effect:
        text += f": as far as the published table goes it explains {cause.share:.0%} of it"
    return [*_wrapped(f"{text}.", f"{number}. "), *_wrapped(cause.check, "   check: ")]


def _remedy(worked: WorkedDay, number: int, remedy: Remedy, measures: str) -> list[str]:
    head = f"{number}. "
    if remedy.outcome is None:
        return _wrapped(f"Not possible: {remedy.words.lower()}: {remedy.why_not}.", head)
    lines = _wrapped(
        remedy.words + ("." if remedy.reaches or remedy.id == "accept" else ", though it falls short:"), head
    )
    if remedy.why_not:
        lines += _wrapped(f"{remedy.why_not}.", "   ")
    outcome = remedy.outcome
    gives = [in_words(Q(outcome.volume, "litre"), None, measures), f"gravity {outcome.gravity:.3f}"]
    if outcome.strength is not None:
        gives.append(in_words(Q(outcome.strength, "percent_by_volume"), None, measures))
    if remedy.minutes:
        gives.append(f"{remedy.minutes:.0f} minutes more")
    lines += _wrapped(f"gives: {', '.join(gives)}", "   ")
    if remedy.mind:
        lines += _wrapped(f"mind: {remedy.mind}", "   ")
    for caution in _most(remedy.cautions):
        lines += _wrapped(f"CAUTION: {caution}", "   ")
    lines += _wrapped(f"done then? {remedy.history}", "   ")
    return lines


def _most(cautions: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(cautions))
