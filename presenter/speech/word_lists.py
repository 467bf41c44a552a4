"""The word lists of ``words.yaml``.

In: nothing. Out: the lists as they stand, and single lists as one expression over whole words.
"""

from __future__ import annotations

import functools
import re
from importlib.resources import files
from typing import Any

import yaml

__all__ = ["word_lists", "words_of_talks"]


@functools.cache
def word_lists() -> dict[str, Any]:
    """The lists as they stand in the file; every scalar is text."""
    text = files("presenter.speech").joinpath("words.yaml").read_text(encoding="utf-8")
    loaded: dict[str, Any] = yaml.load(text, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
    return loaded


@functools.cache
def words_of_talks(name: str) -> re.Pattern[str]:
    """The list called ``name`` as one expression over whole words."""
    return re.compile(rf"\b(?:{word_lists()[name]})\b")
