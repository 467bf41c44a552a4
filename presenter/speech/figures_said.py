"""Four figures said in two pairs or one by one, as gravities and years are.

In: the words of a talk and an index. Out: the figures as a whole number, 1046 for "ten forty-six" or "one oh four six".
"""

from __future__ import annotations

from presenter.speech.numbers_said import HYPHENS, NOUGHTS, ONES, TENS, Words, small_at
from presenter.speech.units_said import unit_at
from presenter.speech.word_lists import word_lists

__all__ = ["pair_at"]


_READ = frozenset(word_lists()["read_on_a_hydrometer"])
_BEFORE_A_YEAR = {"in", "since", "year", "circa", "before", "after", "until"}


def pair_at(said: Words, index: int) -> tuple[int, int, int] | None:
    """Four figures said in two pairs or one by one: "ten forty-six", "ten oh nine", "10 48", "one oh four six".

    Gives the figures as a whole number, the index after them and the index where their second half begins.
    """
    first = small_at(said, index)
    if first is None:
        return None
    value, at = first
    if value == 1 and said.word(at) in HYPHENS and said.joined(at) and said.word(at + 1) in NOUGHTS:
        return _one_by_one(said, index)  # "one-oh-six-four"
    if value == 1 and said.word(at) in NOUGHTS | {"0"}:
        return _one_by_one(said, index)
    if value == 1 and said.word(at).isdigit() and len(said.word(at)) == 3 and said.word(at)[0] == "0":
        return 1000 + int(said.word(at)), at + 1, index  # "1 046"
    if said.word(at) in HYPHENS:
        if not said.joined(at) or "number" in (said.kinds[index], said.kinds[min(at + 1, len(said.kinds) - 1)]):
            return None
        at += 1  # "fifteen-fifty"
    if not (9 <= value <= 20):
        return None
    if said.word(at) in NOUGHTS:
        last = small_at(said, at + 1)
        if last is None or not 0 < last[0] < 10 or value == 9:
            return None
        return value * 100 + last[0], last[1], at
    last = small_at(said, at)
    if last is not None and last[0] < 10 and value == 10 and _is_gravity(said, index, last[1]):
        return 1000 + last[0], last[1], at  # "it stopped at ten eight"
    if last is None or not 10 <= last[0] <= 99:
        return None
    if value == 9 and last[0] < 90 and said.word(index - 1) not in _BEFORE_A_YEAR:
        return None
    return value * 100 + last[0], last[1], at


def _is_gravity(said: Words, index: int, end: int) -> bool:
    """Whether "ten eight" is a reading: said in two words, among words of gravities, and counting nothing after it."""
    if said.kinds[index] != "word" or said.kinds[end - 1] != "word" or said.word(end) in {"-", "–", "o'clock", "of"}:
        return False
    if end - index != 2 or unit_at(said, end) is not None:
        return False
    beside = said.words[max(0, index - 9) : index] + said.words[end : end + 6]
    return not _READ.isdisjoint(beside)


def _one_by_one(said: Words, index: int) -> tuple[int, int, int] | None:
    figures, at = "", index
    while len(figures) < 7:
        word = said.word(at)
        if word in NOUGHTS:
            figures += "0"
        elif word in ONES and ONES[word] < 10:
            figures += str(ONES[word])
        elif word.isdigit() and len(word) == 1:
            figures += word
        elif word.isdigit() and len(word) == 2 and len(figures) == 2:  # "one oh 58"
            return 1000 + int(word), at + 1, index
        elif word in HYPHENS and said.joined(at) and figures:
            at += 1
            continue
        elif word in TENS and len(figures) == 2:  # "one oh forty-six"
            small = small_at(said, at)
            if small is None:
                break
            return 1000 + small[0], small[1], index
        else:
            break
        at += 1
    return (int(figures), at, index) if len(figures) in {3, 4} else None
