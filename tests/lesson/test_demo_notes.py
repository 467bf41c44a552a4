"""The demo library's notes and sources keep their shape: what an author's lesson leans on.

In: ``lessons_demo/sources.yaml``, ``lessons_demo/notes/`` and the package's own source files. Out: one finding
per note or source that breaks a rule of the shape; an empty list passes.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
import yaml

from presenter.sources.bibliography import source_from_record

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "lessons_demo"
HISTORY_FILES = sorted((DEMO / "notes" / "history").glob("*.yaml"))
SCIENCE_FILES = sorted((DEMO / "notes" / "science").glob("*.yaml"))

# The six grades of the history material; the science notes have their own four.
HISTORY_EVIDENCE = {
    "attested in a primary source",
    "archaeologically inferred",
    "experimental archaeology",
    "modern substitution",
    "disputed",
    "modern study",
}
SCIENCE_EVIDENCE = {"measured and published", "published, read as quoted", "common practice", "our arithmetic"}
CONFIDENCE = {"high", "medium", "low"}
READERS = {"younger", "older", "adult"}
# What can be seen of a work that was never opened: its title, its preface, or what somebody else says of it.
SEEN_FROM_OUTSIDE = (
    "through",
    "as quoted by",
    "publisher's description",
    "account of the book",
    "title",
    "preface",
    "contents",
)


def read(path: Path) -> dict[str, Any]:
    """The mapping in one file; a doubled key is refused, because plain YAML keeps only the last."""
    node = yaml.compose(path.read_text(encoding="utf-8"), Loader=yaml.SafeLoader)
    assert isinstance(node, yaml.MappingNode), f"{path.name} is not a mapping"
    names = Counter(key.value for key, _ in node.value)
    assert not [name for name, times in names.items() if times > 1], f"{path.name} has a doubled key"
    loaded = yaml.safe_load(path.read_text(encoding="utf-8"))
    assert isinstance(loaded, dict)
    return loaded


def notes(paths: list[Path]) -> dict[str, dict[str, Any]]:
    """Every note of these files by id."""
    return {name: note for path in paths for name, note in read(path).items()}


def history_sources() -> dict[str, dict[str, Any]]:
    """The records of the history sources by key."""
    return read(DEMO / "sources.yaml")


def package_sources() -> dict[str, dict[str, Any]]:
    """The records that the package itself carries, by key."""
    return {
        key: record
        for path in sorted((ROOT / "presenter" / "sources").glob("*.yaml"))
        for key, record in read(path).items()
    }


def words(text: str) -> int:
    """How many words a presenter reads out."""
    return len(text.split())


def pages(text: str) -> list[int]:
    """The page numbers that a locator names: "pp. 179-180" and "p. 33", but not "note 1451"."""
    found: list[int] = []
    for first, last in re.findall(r"\bpp?\.\s*(\d+)(?:-(\d+))?", text):
        found += [int(first), *([int(last)] if last else [])]
    return found


def test_every_note_file_is_there() -> None:
    """Ensures that the four lessons' history, the shared history and seven subjects of science have a file."""
    assert {path.stem for path in HISTORY_FILES} >= {"ale", "juniper", "kvass", "chicha", "shared"}
    assert {path.stem for path in SCIENCE_FILES} >= {"mash", "yeast", "gravity", "hygiene", "heat", "gas", "measures"}


def test_ids_are_unique_across_all_files() -> None:
    """Ensures that no note id stands in two files, so that a lesson that names one gets one."""
    times = Counter(name for path in [*HISTORY_FILES, *SCIENCE_FILES] for name in read(path))
    assert [name for name, count in times.items() if count > 1] == []


def test_no_key_means_two_sources() -> None:
    """Ensures that a history source does not silently stand in for a source that the package cites."""
    assert sorted(set(history_sources()) & set(package_sources())) == []


def test_ids_are_plain() -> None:
    """Ensures that an id can be typed by hand: small letters, figures and hyphens."""
    ids = [*notes(HISTORY_FILES), *notes(SCIENCE_FILES)]
    assert [name for name in ids if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name)] == []


@pytest.mark.parametrize(
    ("paths", "limit"), [pytest.param(HISTORY_FILES, 60, id="history"), pytest.param(SCIENCE_FILES, 80, id="science")]
)
def test_titles_and_words_keep_their_length(paths: list[Path], limit: int) -> None:
    """Ensures that a note can be read out in one breath: title of 3 to 7 words, text within its limit."""
    found = []
    for name, note in notes(paths).items():
        if not 3 <= words(note["title"]) <= 7:
            found.append(f"{name}: a title of {words(note['title'])} words")
        if not 10 <= words(note["say"]) <= limit:
            found.append(f"{name}: {words(note['say'])} words, allowed 10 to {limit}")
    assert found == []


@pytest.mark.parametrize(
    ("paths", "kinds", "required", "allowed"),
    [
        pytest.param(
            HISTORY_FILES,
            HISTORY_EVIDENCE,
            {"title", "say", "kind_of_evidence", "basis", "confidence", "sources"},
            {"myth", "sums", "reader"},
            id="history",
        ),
        pytest.param(
            SCIENCE_FILES,
            SCIENCE_EVIDENCE,
            {"title", "say", "kind_of_evidence", "confidence"},
            {"sources", "rests_on", "reader"},
            id="science",
        ),
    ],
)
def test_each_note_has_its_shape(paths: list[Path], kinds: set[str], required: set[str], allowed: set[str]) -> None:
    """Ensures that each note says how we know it and how surely, in the agreed words and keys."""
    found = []
    for name, note in notes(paths).items():
        missing, extra = required - set(note), set(note) - required - allowed
        if missing or extra:
            found.append(f"{name}: lacks {sorted(missing)}, knows not {sorted(extra)}")
        if note.get("kind_of_evidence") not in kinds:
            found.append(f"{name}: kind of evidence {note.get('kind_of_evidence')!r}")
        if note.get("confidence") not in CONFIDENCE:
            found.append(f"{name}: confidence {note.get('confidence')!r}")
        if note.get("reader", "older") not in READERS:
            found.append(f"{name}: reader {note['reader']!r}")
    assert found == []


def test_a_myth_says_what_not_to_say_and_what_instead() -> None:
    """Ensures that a myth is never printed without its correction, nor said in the note's own text."""
    myths = {name: note for name, note in notes(HISTORY_FILES).items() if "myth" in note}
    assert len(myths) >= 10
    for name, note in myths.items():
        assert set(note["myth"]) == {"do_not_say", "say_instead"}, name
        assert note["myth"]["do_not_say"] not in note["say"], name
        assert note["myth"]["do_not_say"] != note["myth"]["say_instead"], name


def test_history_notes_cite_sources_of_the_library() -> None:
    """Ensures that every history note cites a source that the library or the package defines, at a place."""
    known, found = {**package_sources(), **history_sources()}, []
    for name, note in notes(HISTORY_FILES).items():
        if not note["sources"]:
            found.append(f"{name}: cites nothing")
        found += [f"{name}: source {cited['key']} is nowhere" for cited in note["sources"] if cited["key"] not in known]
        found += [
            f"{name}: {cited['key']} without a place"
            for cited in note["sources"]
            if set(cited) != {"key", "locator"} or not cited["locator"].strip()
        ]
    assert found == []


def test_every_source_is_used() -> None:
    """Ensures that the list of sources holds only what some note cites."""
    used = {cited["key"] for note in notes(HISTORY_FILES).values() for cited in note["sources"]}
    assert sorted(set(history_sources()) - used) == []


def test_science_notes_cite_a_source_or_say_what_they_rest_on() -> None:
    """Ensures that each science note cites known sources, or says in words what it rests on, never both or neither."""
    known, found = {**package_sources(), **history_sources()}, []
    for name, note in notes(SCIENCE_FILES).items():
        if ("sources" in note) == ("rests_on" in note):
            found.append(f"{name}: wants either sources or rests_on")
        if note["kind_of_evidence"] == "common practice" and "sources" in note:
            found.append(f"{name}: common practice that cites a source")
        for cited in note.get("sources", []):
            if cited["key"] not in known:
                found.append(f"{name}: source {cited['key']} is nowhere")
            if set(cited) != {"key", "locator"} or not cited["locator"].strip():
                found.append(f"{name}: {cited['key']} without a place")
    assert found == []


def test_a_note_that_says_read_as_quoted_cites_a_quotation() -> None:
    """Ensures that second-hand figures are not called measured and published, nor the other way about."""
    known, found = {**package_sources(), **history_sources()}, []
    for name, note in notes(SCIENCE_FILES).items():
        seen = {known[cited["key"]]["seen"] for cited in note.get("sources", []) if cited["key"] in known}
        if note["kind_of_evidence"] == "published, read as quoted" and seen and "secondary" not in seen:
            found.append(f"{name}: says read as quoted, but every source was read directly")
        if note["kind_of_evidence"] == "measured and published" and seen == {"secondary"}:
            found.append(f"{name}: says measured and published, but was read only as quoted")
    assert found == []


def test_every_source_makes_a_citation() -> None:
    """Ensures that each source can be printed, and that one read second-hand is printed "as quoted by"."""
    for key, record in history_sources().items():
        source = source_from_record(key, record)
        assert source.how, f"{key} does not say how it was read"
        assert (source.seen != "secondary") or ("; as quoted by " in source.citation()), key


def test_nothing_from_memory_is_printed() -> None:
    """Ensures that what was only remembered is neither in a note nor in a source."""
    printed = [DEMO / "sources.yaml", *HISTORY_FILES, *SCIENCE_FILES]
    assert [path.name for path in printed if "from memory" in path.read_text(encoding="utf-8").lower()] == []


def test_a_work_never_opened_is_cited_from_outside() -> None:
    """Ensures that a locator never claims a place inside a work of which only the existence was seen."""
    known, found = {**package_sources(), **history_sources()}, []
    for name, note in notes(HISTORY_FILES).items():
        for cited in note["sources"]:
            outside = any(word in cited["locator"] for word in SEEN_FROM_OUTSIDE)
            if known[cited["key"]]["seen"] == "existence" and not outside:
                found.append(f"{name}: {cited['key']}, {cited['locator']}")
    assert found == []


def test_locators_lie_within_the_pages_of_their_source() -> None:
    """Ensures that a page cited lies between the first and the last page that the source's record gives."""
    known, found, compared = {**package_sources(), **history_sources()}, [], 0
    for name, note in notes(HISTORY_FILES).items():
        for cited in note["sources"]:
            span = re.fullmatch(r"(\d+)-(\d*)", str(known[cited["key"]].get("page", "")))
            if span is None:
                continue
            first, last = int(span[1]), int(span[2] or 10**6)
            # "p. 287, note citing Coventry Leet Book, p. 397": only the first part is the source's own page
            for page in pages(cited["locator"].split(",")[0]):
                compared += 1
                if not first <= page <= last:
                    found.append(f"{name}: page {page} of {cited['key']} ({first}-{last})")
    assert found == []
    assert compared >= 5


def test_pages_reads_a_locator() -> None:
    """Ensures that the reader of locators finds pages and leaves note numbers alone."""
    assert pages("pp. 179-180") == [179, 180]
    assert pages("note 1451") == []
    assert pages("p. 33") == [33]
