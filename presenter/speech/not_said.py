"""What a lesson must disclose, and whether the talk ever does.

In: the text of a talk and the duties. Out: the duties that the talk leaves unsaid. Words count when they fall close
together: a duty is said by one of its own phrases, or by enough of its telling words within one stretch of the talk.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable, Sequence

from presenter.speech.hearing import Heard
from presenter.speech.lesson_view import Disclosure
from presenter.speech.tying import dimension_of
from presenter.speech.word_lists import word_lists

__all__ = ["amounts_unsaid", "unsaid"]

_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")
_STRETCH = 45  # words within which the telling words of a duty must fall
_AMOUNTS = {"[mass]", "[length] ** 3", "measure"}


@functools.cache
def _idle() -> frozenset[str]:
    return frozenset(word_lists()["idle"])


@functools.cache
def _kin() -> dict[str, str]:
    """Each word of a group of words that say the same, with the first of its group."""
    return {word: group[0] for group in word_lists()["kin"] for word in group}


@functools.lru_cache(maxsize=8192)
def _root(word: str) -> str:
    """A word without its ending, and for words that say the same one of them."""
    bare = word.removesuffix("'s")
    kin = _kin()
    if bare in kin:
        return kin[bare]
    stem = re.sub(r"(?:ing|edly|ed|es|s|ly|er|en)$", "", bare) if len(bare) > 4 else bare
    stem = stem.rstrip("e")
    return kin.get(stem, stem)


def _telling(text: str) -> list[str]:
    idle = _idle()
    words = (word.lower() for word in _WORD.findall(text.replace("’", "'")))
    return list(dict.fromkeys(_root(word) for word in words if len(word) > 2 and word not in idle))


def unsaid(text: str, duties: Iterable[Disclosure]) -> list[Disclosure]:
    """The duties that ``text`` never speaks of, in their order."""
    lower = text.lower().replace("’", "'")
    roots = [_root(word) for word in _WORD.findall(lower)]
    where: dict[str, list[int]] = {}
    for place, root in enumerate(roots):
        where.setdefault(root, []).append(place)
    return [duty for duty in duties if not _said(duty, lower, where)]


def _said(duty: Disclosure, lower: str, where: dict[str, list[int]]) -> bool:
    if any(re.search(rf"\b{re.escape(phrase.lower())}", lower) for phrase in duty.said_by):
        return True
    return any(_close_together(_telling(words), where) for words in duty.words)


def _close_together(telling: Sequence[str], where: dict[str, list[int]]) -> bool:
    """Whether enough of the telling words stand within one stretch: half of a few words, fewer of many."""
    if not telling:
        return False
    needed = max(min(2, len(telling)), min(4, round(0.4 * len(telling))))
    found = sorted((place, root) for root in telling for place in where.get(root, ()))
    first = 0
    within: dict[str, int] = {}
    for place, root in found:
        within[root] = within.get(root, 0) + 1
        while found[first][0] < place - _STRETCH:
            gone = found[first][1]
            within[gone] -= 1
            if not within[gone]:
                del within[gone]
            first += 1
        if len(within) >= needed:
            return True
    return False


def amounts_unsaid(sentences: Sequence[tuple[str, Sequence[Heard]]], ingredients: Sequence[str]) -> list[Disclosure]:
    """The ingredients that the talk names without ever giving an amount in the same sentence.

    ``sentences`` are the talk's, in lower case, each with what was heard in it.
    """
    found = []
    for ingredient in ingredients:
        names = [word for word in ingredient.lower().split() if len(word) > 2]
        if not names:
            continue
        name = re.compile(rf"\b{re.escape(names[-1].rstrip('s'))}s?\b")
        named = [heard for lower, heard in sentences if name.search(lower)]
        if named and not any(dimension_of(one.unit) in _AMOUNTS for heard in named for one in heard):
            found.append(Disclosure(f"amount of {ingredient}", "amount", f"says how much {ingredient} goes in", ()))
    return found
