"""The days to come, as a calendar that any diary reads: when to read, when it may be finished, when to serve.

In: a worked day. Out: the text of an ``.ics`` file (RFC 5545), written by the icalendar library. Nothing in it comes
from the clock: the same day gives the same text.
"""

from __future__ import annotations

import datetime
import math

from icalendar import Calendar, Event

from presenter.days.fermentation_log import ASSUMPTION, FermentationLog, fermentation_logs
from presenter.days.fermenting import date_after
from presenter.days.made import WorkedDay
from presenter.lesson import Step
from presenter.lesson.steps.ferment import Ferment
from presenter.working.finished import DAYS_APART

__all__ = ["calendar_text", "days_to_come"]


def days_to_come(worked: WorkedDay) -> tuple[tuple[datetime.date, str, str], ...]:
    """(date, title, what to do) of everything that is still to come, in order."""
    logs = {log.step: log for log in fermentation_logs(worked)}
    found: list[tuple[datetime.date, str, str]] = []
    title = str(worked.made.lesson.file.title)
    latest = max((worked.day.date_of(each.reading) for each in worked.readings), default=worked.day.date)
    begun = worked.day.date
    for step in worked.made.lesson.steps:
        if isinstance(step, Ferment):
            found += _of_ferment(worked, step, logs.get(step.id), title, begun)
    last = max((date for date, _, _ in found), default=begun)
    after = False
    for step in worked.made.lesson.steps:
        after = after or isinstance(step, Ferment)
        if after and step.do in {"serve", "prime and bottle", "rack"}:
            found.append((last, f"{title}: {step.name}", _only_if_finished(step)))
    return tuple(sorted(each for each in found if each[0] >= latest))


def _only_if_finished(step: Step) -> str:
    told = str(step.what_to_do or "")
    return f"Only when two readings {DAYS_APART:.0f} days apart agree. {told}".strip()


def _of_ferment(
    worked: WorkedDay, step: Ferment, log: FermentationLog | None, title: str, begun: datetime.date
) -> list[tuple[datetime.date, str, str]]:
    name = str(step.what)
    if log is not None and log.state == "finished":
        return []
    days = step.for_.number() / 1440.0
    words = f"Take the gravity of the {name}, shaken free of gas, in a sample near 20 degC, and write it in the day."
    if log is not None and log.estimate is not None:
        days = log.estimate.days
        earliest, latest = date_after(worked.day, log.estimate.earliest), date_after(worked.day, log.estimate.latest)
        words += f" Our estimate of the end, {earliest.isoformat()} to {latest.isoformat()}: {ASSUMPTION}."
    first = begun + datetime.timedelta(days=math.ceil(days))
    again = first + datetime.timedelta(days=int(DAYS_APART))
    return [
        (first, f"{title}: read the {name}", words),
        (again, f"{title}: read the {name} again", f"{words} If it has moved, wait and read again."),
    ]


def calendar_text(worked: WorkedDay) -> str:
    """The days to come as the text of an ``.ics`` file."""
    calendar = Calendar()
    calendar.add("prodid", "-//historical brewing presenter//days to come//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    stamp = datetime.datetime.combine(worked.day.date, datetime.time(), datetime.UTC)
    for number, (date, title, words) in enumerate(days_to_come(worked), start=1):
        event = Event()
        event.add("uid", f"{worked.made.lesson.name}-{worked.day.date.isoformat()}-{number}@days-to-come")
        event.add("dtstamp", stamp)
        event.add("dtstart", date)
        event.add("dtend", date + datetime.timedelta(days=1))
        event.add("summary", title)
        event.add("description", words)
        event.add("transp", "TRANSPARENT")
        calendar.add_component(event)
    return str(calendar.to_ical().decode("utf-8"))
