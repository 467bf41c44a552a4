"""Times of the clock: an author's "9:30" into minutes since midnight, and minutes into "09:30".

In: text, or minutes since the midnight before the first day. Out: minutes, or words. No time zone and no date: a
lesson's day begins when its author says.
"""

from __future__ import annotations

import re

from presenter.quantities.parsing import UnreadableQuantityError

__all__ = ["DAY", "clock_from_text", "clock_in_words"]

DAY = 24 * 60  # minutes
_CLOCK = re.compile(r"^(\d{1,2})[:.]([0-5]\d)$")


def clock_from_text(text: str) -> int:
    """Minutes since midnight, from 0 to 1439.

    Raises :class:`UnreadableQuantityError` for anything that is no time of a day.

    >>> clock_from_text("9:30")
    570
    """
    found = _CLOCK.match(text.strip())
    if found is None or int(found[1]) > 23:
        raise UnreadableQuantityError(f"{text} is no time of day.", "Write hours and minutes, such as 10:45.")
    return int(found[1]) * 60 + int(found[2])


def clock_in_words(minutes: float) -> str:
    """The time of day, to five minutes: nobody keeps a brewing day by the single minute.

    >>> clock_in_words(572.0)
    '09:30'
    """
    rounded = round(minutes / 5) * 5 % DAY
    return f"{rounded // 60:02d}:{rounded % 60:02d}"
