"""Lessons that rest on one another in a library: what is built again when one of them changes, and what is missing."""

from __future__ import annotations

import datetime
from pathlib import Path

from presenter.library.building import Wanted, build_all
from presenter.library.index import Index, index_of, index_opened
from presenter.library.looking_over import looked_over, used_where
from presenter.library.shelves import shelf_in

BAKEHOUSE = Path(__file__).parents[1] / "lesson" / "bakehouse" / "lesson.yaml"
KVASS = """\
title: Kvass (invented)
scene: Harrowmere, the kitchen (invented)
date: 2026-05-02
kit:
  thermometer: {right within: 1 degC}
  jar: {of: stainless steel, holds: 8 L, weighs: 1 kg}
ingredients:
  crumbs: {what: rye loaf, amount: 1 pieces, made in: MADE_IN}
steps:
  - {name: Soak, do: mash, in: jar, with: [crumbs], water: 3 L, reach: 63 degC, hold: 60 min}
"""
NOTE = """\
by-hand:
  title: Kneaded by hand (invented)
  say: The miller's wife at Harrowmere kneads it on a board.
  rests_on: invented for these tests
  kind_of_evidence: disputed
"""


def put(library: Path, name: str, text: str) -> Path:
    (library / name).mkdir(parents=True, exist_ok=True)
    (library / name / "lesson.yaml").write_text(text, encoding="utf-8")
    return library / name / "lesson.yaml"


def three(library: Path) -> Path:
    """A library of a bakehouse, a kvass that soaks its loaf, and a lesson that has nothing to do with either."""
    put(library, "bakehouse", BAKEHOUSE.read_text(encoding="utf-8"))
    put(library, "kvass", KVASS.replace("MADE_IN", "bakehouse"))
    put(library, "other-bakehouse", BAKEHOUSE.read_text(encoding="utf-8"))
    (library / "library.yaml").write_text("name: A library (invented)\n", encoding="utf-8")
    return library


def became(index: Index, out: Path) -> dict[str, str]:
    wanted = Wanted(only=("worksheet",))
    return {outcome.lesson: outcome.became for outcome in build_all(index, out, wanted)}


def test_a_change_in_one_lesson_builds_those_that_rest_on_it(tmp_path: Path) -> None:
    """This test ensures that a lesson is built again when the lesson that bakes its loaf has changed, has broken, or
    has been mended, and that no other is."""
    library, out = three(tmp_path / "library"), tmp_path / "out"
    index = index_opened(shelf_in(library))
    assert set(became(index, out).values()) == {"built"}
    assert set(became(index, out).values()) == {"unchanged"}
    bakehouse = library / "bakehouse" / "lesson.yaml"
    right = bakehouse.read_text(encoding="utf-8")
    for text, found in (
        (right.replace("700 mL", "720 mL"), "built"),
        (right.replace("220 degC", "warm"), "problems"),
        (right, "built"),
    ):
        bakehouse.write_text(text, encoding="utf-8")
        assert became(index, out) == {"bakehouse": found, "kvass": found, "other-bakehouse": "unchanged"}
    assert set(became(index, out).values()) == {"unchanged"}


def test_a_lesson_further_down_counts_too(tmp_path: Path) -> None:
    """This test ensures that a change is followed over a lesson that lies between, and over one that was missing."""
    library, out = three(tmp_path / "library"), tmp_path / "out"
    rusk = BAKEHOUSE.read_text(encoding="utf-8").replace("call it: rye loaf", "call it: rusk")
    rusk = rusk.replace("steps:", "  old: {what: rye loaf, amount: 200 g, made in: bakehouse}\nsteps:")
    put(library, "rusks", rusk.replace("[flour]", "[flour, old]"))
    put(library, "kvass", KVASS.replace("MADE_IN", "rusks").replace("rye loaf", "rusk"))
    bakehouse = library / "bakehouse" / "lesson.yaml"
    right = bakehouse.read_text(encoding="utf-8")
    bakehouse.unlink()
    first = became(index_opened(shelf_in(library)), out)
    assert first == {"kvass": "problems", "other-bakehouse": "built", "rusks": "problems"}
    bakehouse.write_text(right, encoding="utf-8")
    index = index_opened(shelf_in(library))
    mended = {"bakehouse": "built", "kvass": "built", "other-bakehouse": "unchanged", "rusks": "built"}
    assert became(index, out) == mended
    bakehouse.write_text(right.replace("1 kg", "1100 g"), encoding="utf-8")
    assert became(index, out) == mended


def test_a_shelf_within_a_library_follows_what_lies_beside_it(tmp_path: Path) -> None:
    """This test ensures that a part of a library, built alone, is built again when a lesson outside that part changes
    on which one of its lessons rests."""
    library, out = three(tmp_path / "library"), tmp_path / "out"
    put(library / "drinks", "bread-drink", KVASS.replace("MADE_IN", "bakehouse"))
    index = index_opened(shelf_in(library / "drinks"))
    assert became(index, out) == {"bread-drink": "built"}
    assert became(index, out) == {"bread-drink": "unchanged"}
    bakehouse = library / "bakehouse" / "lesson.yaml"
    bakehouse.write_text(bakehouse.read_text(encoding="utf-8").replace("700 mL", "720 mL"), encoding="utf-8")
    assert became(index, out) == {"bread-drink": "built"}


def test_a_note_of_the_other_lesson_is_followed_and_not_told_twice(tmp_path: Path) -> None:
    """This test ensures that a note which only the other lesson uses counts as that lesson's own use, and that its
    going away is noticed in both."""
    library, out = three(tmp_path / "library"), tmp_path / "out"
    notes = library / "notes" / "history" / "few.yaml"
    notes.parent.mkdir(parents=True)
    notes.write_text(NOTE, encoding="utf-8")
    bakehouse = library / "bakehouse" / "lesson.yaml"
    text = bakehouse.read_text(encoding="utf-8").replace("    do: bake\n", "    do: bake\n    history: [by-hand]\n")
    bakehouse.write_text(text, encoding="utf-8")
    index = index_opened(shelf_in(library))
    assert set(became(index, out).values()) == {"built"}
    assert [lesson for lesson, _, _ in used_where(index, "by-hand")] == ["bakehouse"]
    notes.write_text(NOTE.replace("by-hand", "by-machine"), encoding="utf-8")
    assert became(index, out) == {"bakehouse": "problems", "kvass": "problems", "other-bakehouse": "unchanged"}


def test_a_lesson_that_is_not_there_is_missing(tmp_path: Path) -> None:
    """This test ensures that looking a library over tells a lesson that is named under made in and is not there."""
    library = three(tmp_path / "library")
    put(library, "kvass", KVASS.replace("MADE_IN", "bakehouze"))
    overview = looked_over(index_of(shelf_in(library)), datetime.date(2026, 5, 2))
    assert [(one.named_by, one.kind, one.id) for one in overview.missing] == [("kvass", "lesson", "bakehouze")]
