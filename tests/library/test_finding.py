"""Finding in a library: lists, searches in words and numbers, uses, and what wants attention."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from presenter.lesson import demo_folder
from presenter.library.index import Index, cache_folder, index_of
from presenter.library.looking_over import looked_over, used_where
from presenter.library.searching import UnclearSearchError, asked_for, found_in
from presenter.library.shelves import shelf_in
from presenter.problems import ProblemsFoundError

TODAY = datetime.date(2026, 6, 1)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Index:
    """The index of the demo library, which these tests only ask: made once."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PRESENTER_CACHE", str(tmp_path_factory.mktemp("demo-cache")))
        return index_of(shelf_in(demo_folder("lessons_demo")))


def test_the_demo_library_is_listed(demo: Index) -> None:
    """This test ensures that every demo lesson is listed with scene, strength, length, cautions, and no problem."""
    facts = demo.facts()
    assert {"netherfold-two-ales", "storhaug-juniper-raw-ale"} <= facts.keys()
    for name, one in facts.items():
        assert one["problems"] == [], name
        assert one["scene"], name
        assert one["state"] in {"sketched", "tried", "taught"}
        assert one["hazards"], name
    two_ales = facts["netherfold-two-ales"]
    assert [drink["name"] for drink in two_ales["drinks"]] == ["strong", "small"]
    assert two_ales["days"] == 7
    assert 180 < two_ales["minutes"] < 400


@pytest.mark.parametrize(
    ("words", "kind", "found"),
    [
        ("juniper", "note", "jun-23"),
        ("juniper", "lesson", "storhaug-juniper-raw-ale"),
        ("Beta amylase", "note", "beta-amylase-dies-first"),
        ("beta-amylase", "number", "first-mash.beta-amylase-left"),
        ("broom of heather", "step", "scald-the-gear"),
        ("Judith Bennett 1996", "source", "bennett1996"),
        ("above 5 percent", "number", "ferment-the-strong-ale.strength"),
        ("strike heat above 60 degC", "number", "first-mash.strike-heat"),
        ("more than 10 days", "number", ""),
    ],
)
def test_searches_find_what_stands_there(demo: Index, words: str, kind: str, found: str) -> None:
    """This test ensures that words find lessons, steps, notes, sources and numbers, however hyphens stand."""
    hits = {hit.id for hit in found_in(demo, asked_for(words)) if hit.kind == kind}
    assert (found in hits) if found else (hits == set())


def test_a_number_search_keeps_to_its_range(demo: Index) -> None:
    """This test ensures that "above 5 percent" finds the strong ale and not the small one, and "below" the reverse."""
    above = {hit.id for hit in found_in(demo, asked_for("above 5 percent"))}
    below = {hit.id for hit in found_in(demo, asked_for("under 5 percent"))}
    between = {hit.id for hit in found_in(demo, asked_for("strength between 3 and 5 percent"))}
    assert "ferment-the-strong-ale.strength" in above
    assert "ferment-the-small-ale.strength" not in above
    assert "ferment-the-small-ale.strength" in below & between
    assert not above & below


@pytest.mark.parametrize("words", ["above 5 bananas", "under 1,2,3 kg of"])
def test_a_number_that_is_none_is_told(words: str) -> None:
    """This test ensures that a search for a number that cannot be read says so."""
    with pytest.raises(UnclearSearchError, match="is no quantity"):
        asked_for(words)


def test_uses_lead_to_lesson_step_and_line(demo: Index) -> None:
    """This test ensures that a note's use names the lesson, the step, and the very line of its file."""
    [(lesson, step, line), *_] = used_where(demo, "starch-meets-enzymes")
    assert (lesson, step) == ("netherfold-two-ales", "first-mash")
    file = demo_folder("lessons_demo") / lesson / "lesson.yaml"
    assert "starch-meets-enzymes" in file.read_text(encoding="utf-8").splitlines()[line - 1]
    assert ("", "ale-01") in {(lesson, note) for lesson, note, _ in used_where(demo, "bennett1996")} or any(
        lesson == "" for lesson, _, _ in used_where(demo, "bennett1996")
    )


def test_the_demo_library_wants_nothing_that_is_missing(demo: Index) -> None:
    """This test ensures that no demo lesson names a note or source that is not there, nor a note without a source."""
    overview = looked_over(demo, TODAY)
    assert overview.missing == ()
    assert overview.notes_without_source == ()
    assert overview.unused_sources == ()
    assert "ale-01" in overview.unused_notes or overview.unused_notes == ()


def test_what_wants_attention_is_told(make_library) -> None:  # type: ignore[no-untyped-def]
    """This test ensures that broken references, unused notes and sources, law lines due and lost lessons are named."""
    library = make_library(2)
    lesson = library / "lesson-01" / "lesson.yaml"
    lesson.write_text(
        lesson.read_text(encoding="utf-8")
        .replace("[barm-was-shared]", "[barm-was-lost]")
        .replace("from: our choice", "from: nobody1800"),
        encoding="utf-8",
    )
    (library / "library.yaml").write_text(
        (library / "library.yaml").read_text(encoding="utf-8").replace("lesson-01]", "lesson-99]"), encoding="utf-8"
    )
    index = index_of(shelf_in(library))
    overview = looked_over(index, TODAY)
    assert {(one.named_by, one.id) for one in overview.missing} == {
        ("lesson-01", "barm-was-lost"),
        ("lesson-01", "nobody1800"),
        ("note cites-nothing-known", "nobody1900"),
        ("series one after another", "lesson-99"),
    }
    lines = lesson.read_text(encoding="utf-8").splitlines()
    assert all(one.id in lines[one.line - 1] for one in overview.missing if one.named_by == "lesson-01")
    assert overview.unused_sources == ("unread1900",)
    assert [line.words for line in overview.law_due] == ["Ask the council before you pour."]
    assert index.facts()["lesson-01"]["problems"]
    assert index.facts()["lesson-00"]["problems"] == []


def test_only_what_changed_is_worked_again(make_library) -> None:  # type: ignore[no-untyped-def]
    """This test ensures that a changed lesson, note or library file works exactly the lessons that it touches again."""
    library = make_library(3)
    shelf = shelf_in(library)
    index = index_of(shelf)
    assert index.changed() == []
    lesson = library / "lesson-01" / "lesson.yaml"
    lesson.write_text(lesson.read_text(encoding="utf-8").replace("hold: 60 min", "hold: 70 min"), encoding="utf-8")
    assert [one.name for one in index.changed()] == ["lesson-01"]
    index.refresh()
    assert index.changed() == []
    science = library / "notes" / "science" / "few.yaml"
    science.write_text(
        science.read_text(encoding="utf-8") + "another: {title: A, say: B., rests_on: C}\n", encoding="utf-8"
    )
    assert index.changed() == [], "a note that nobody uses touches no lesson"
    science.write_text(science.read_text(encoding="utf-8").replace("title: ", "title: New "), encoding="utf-8")
    assert len(index.changed()) == 3
    index.refresh()
    (library / "library.yaml").write_text("name: Another (invented)\n", encoding="utf-8")
    assert len(index.changed()) == 3


def test_a_lesson_that_is_gone_is_forgotten(make_library) -> None:  # type: ignore[no-untyped-def]
    """This test ensures that nothing of a deleted lesson is found any more."""
    library = make_library(2)
    assert index_of(shelf_in(library)).facts().keys() == {"lesson-00", "lesson-01"}
    (library / "lesson-01" / "lesson.yaml").unlink()
    index = index_of(shelf_in(library))
    assert index.facts().keys() == {"lesson-00"}
    assert {hit.lesson for hit in found_in(index, asked_for("strike"))} == {"lesson-00"}


def test_the_index_is_safe_to_delete_or_spoil(make_library) -> None:  # type: ignore[no-untyped-def]
    """This test ensures that a lost or damaged index is made anew, and that a search then finds the same."""
    library = make_library(2)
    before = found_in(index_of(shelf_in(library)), asked_for("strike heat"))
    [file] = cache_folder().glob("library-*.sqlite")
    for spoil in (lambda: file.unlink(), lambda: file.write_bytes(b"no index at all, only some words" * 99)):
        for beside in cache_folder().glob("library-*.sqlite-*"):
            beside.unlink()
        spoil()
        assert found_in(index_of(shelf_in(library)), asked_for("strike heat")) == before
    assert len(before) == 2


def test_a_library_that_is_nowhere_is_told(tmp_path: Path) -> None:
    """This test ensures that a folder that is not there is a problem, told without a line."""
    with pytest.raises(ProblemsFoundError) as caught:
        shelf_in(tmp_path / "nowhere")
    assert caught.value.told().splitlines()[0] == str(tmp_path / "nowhere")
