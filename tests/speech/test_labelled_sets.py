"""Shape of the labelled sentences: files of ``heard/`` and ``judged/`` in, nothing out but an assertion.

The sentences and labels are our own (see the heads of the files for the conventions); these checks guard
the labels against slips of the pen. They say nothing of how well the speech stage hears or judges.
"""

import math
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
import yaml

HERE = Path(__file__).parent
PARTS = ("open", "kept_aside")
EVERY_PART = (*PARTS, "more")
JUDGED_PARTS = (*EVERY_PART, "fresh")


def read(folder: str, name: str) -> dict[str, Any]:
    """The labelled file ``folder/name.yaml`` as plain lists and mappings."""
    text = (HERE / folder / f"{name}.yaml").read_text(encoding="utf-8")
    labelled: dict[str, Any] = yaml.safe_load(text)
    return labelled


HEARD = {part: read("heard", part)["sentences"] for part in EVERY_PART}
JUDGED = {part: read("judged", part)["pairs"] for part in JUDGED_PARTS}
LESSONS = {lesson["id"]: lesson for lesson in read("judged", "lessons")["lessons"]}
UNITS = {unit for part in ("open", "more") for row in read("heard", part)["units"] for unit in row}
VERDICTS = read("judged", "open")["verdicts"]
SETS = {"heard": HEARD, "judged": JUDGED}
KIND = {"heard": "kind", "judged": "verdict"}


def both(items: dict[str, list[dict[str, Any]]]) -> list[dict[str, Any]]:
    """The items of every part, in one list."""
    return [item for part in items for item in items[part]]


def plain(text: str) -> str:
    """The letters and digits of a text in lower case, so that punctuation cannot hide a repeated sentence."""
    return " ".join("".join(letter if letter.isalnum() else " " for letter in text.lower()).split())


def test_ids_and_texts_occur_once() -> None:
    """This test ensures that no id and no sentence stands twice, in any of the files.

    The fresh pairs were written by another hand without sight of the rest: their ids are their own, but two of their
    sentences happen to stand in another part too, and the set is kept as it was scored.
    """
    items = both(HEARD) + both(JUDGED)
    assert [key for key, times in Counter(item["id"] for item in items).items() if times > 1] == []
    items = both(HEARD) + [item for part in EVERY_PART for item in JUDGED[part]]
    assert [key for key, times in Counter(plain(item["text"]) for item in items).items() if times > 1] == []


@pytest.mark.parametrize("name", SETS)
def test_ids_tell_the_part(name: str) -> None:
    """This test ensures that an id shows whether its sentence is open or kept aside."""
    for part, mark in zip(EVERY_PART, ("-o-", "-k-", "-m-"), strict=True):
        assert [item["id"] for item in SETS[name][part] if mark not in item["id"]] == []


@pytest.mark.parametrize("name", SETS)
def test_a_third_of_every_kind_is_kept_aside(name: str) -> None:
    """This test ensures that about a third is kept aside, overall and (more loosely) for each kind."""
    open_part, kept = (Counter(item[KIND[name]] for item in SETS[name][part]) for part in PARTS)
    share = kept.total() / (open_part.total() + kept.total())
    assert 0.30 <= share <= 0.37
    assert set(open_part) == set(kept)
    for kind, times in kept.items():
        assert 0.25 <= times / (times + open_part[kind]) <= 0.5, kind


def test_the_sets_are_large_enough() -> None:
    """This test ensures that the sets hold at least the sentences the speech stage is to be measured on."""
    assert len(both(HEARD)) >= 500
    assert len([item for item in both(HEARD) if not item["heard"]]) >= 80
    assert len(both(JUDGED)) >= 350


def test_both_parts_share_one_head() -> None:
    """This test ensures that both parts of a set name the same units and the same verdicts."""
    assert read("heard", "open")["units"] == read("heard", "kept_aside")["units"]
    assert read("judged", "open")["verdicts"] == read("judged", "kept_aside")["verdicts"]


@pytest.mark.parametrize("item", both(HEARD), ids=lambda item: item["id"])
def test_heard_label_is_well_formed(item: dict[str, Any]) -> None:
    """This test ensures that the words stand in the text in order, with a value or range and a unit."""
    assert set(item) == {"id", "kind", "text", "heard"}
    start = 0
    for label in item["heard"]:
        scored = set(label) - {"count", "hedge"}
        assert scored in ({"words", "value", "unit"}, {"words", "low", "high", "unit"})
        found = item["text"].find(label["words"], start)
        assert found >= 0, label["words"]
        start = found + len(label["words"])
        assert label["unit"] in UNITS
        numbers = [label[key] for key in ("value", "low", "high", "count") if key in label]
        assert all(isinstance(number, int | float) and math.isfinite(number) for number in numbers)
        if "low" in label:
            assert label["low"] < label["high"]
        if label["unit"] == "gravity":
            assert 0.99 <= label.get("value", label.get("low")) <= 1.2


@pytest.mark.parametrize("item", both(JUDGED), ids=lambda item: item["id"])
def test_judged_label_is_well_formed(item: dict[str, Any]) -> None:
    """This test ensures that a pair names a known lesson, number and verdict, and words of its text."""
    needed = {"id", "lesson", "text", "words", "about", "verdict", "why"}
    assert needed <= set(item) <= needed | {"context", "after", "also"}
    assert item["words"] in item["text"]
    assert item["verdict"] in VERDICTS
    assert set(item.get("also", [])) <= set(VERDICTS)
    assert (item["verdict"] == "cleared") == ("after" in item)
    assert item["about"] in {"none", *(number["id"] for number in LESSONS[item["lesson"]]["numbers"])}
    if item["verdict"] in {"agrees", "off", "slip of scale", "cleared"}:
        assert item["about"] != "none"
    if item["verdict"] == "myth":
        assert item["why"] in {myth["id"] for myth in LESSONS[item["lesson"]]["myths"]}


@pytest.mark.parametrize("lesson", LESSONS.values(), ids=lambda lesson: lesson["id"])
def test_lesson_numbers_are_well_formed(lesson: dict[str, Any]) -> None:
    """This test ensures that a lesson's numbers have unique ids, listed units, no negative give-or-take."""
    numbers = lesson["numbers"]
    assert len({number["id"] for number in numbers}) == len(numbers)
    for number in numbers:
        assert {"id", "step", "label", "value", "unit", "give_or_take"} <= set(number)
        assert number["unit"] in UNITS
        assert number["give_or_take"] >= 0


@pytest.mark.parametrize(
    ("lesson", "start", "finish", "strength", "factor"),
    [
        ("netherfold", "strong.gravity", "strong.final-gravity", "strong.strength", 0.131),
        ("netherfold", "boil.gravity", "small.final-gravity", "small.strength", 0.128),
        ("zalesje", "wort.gravity", "kvass.final-gravity", "kvass.strength", 0.125),
        ("storhaug", "wort.gravity", "ale.final-gravity", "ale.strength", 0.131),
    ],
)
def test_lesson_strengths_follow_from_gravities(
    lesson: str, start: str, finish: str, strength: str, factor: float
) -> None:
    """This test ensures that the strengths agree with the gravities, to half of the last digit given.

    Factors: HM Revenue and Customs, Excise Notice 226, paragraph 30.3, as quoted by a community page.
    """
    value = {number["id"]: number["value"] for number in LESSONS[lesson]["numbers"]}
    reckoned = 1000 * (value[start] - value[finish]) * factor
    assert reckoned == pytest.approx(value[strength], abs=0.05)
