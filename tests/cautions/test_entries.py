"""The cautions as data: their shape, their words, their sources, and what a mistake in them says."""

from __future__ import annotations

import copy
import re
from pathlib import Path
from typing import Any

import pytest

from presenter.cautions import CautionDataError, caution_book
from presenter.cautions.entries import SEVERITIES, read_caution_book
from presenter.cautions.facts import read_own_yaml
from presenter.science.plants import source_of_botanicals
from presenter.sources import package_bibliography

ENTRIES = caution_book().cautions
each_entry = pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.id)


def test_no_id_is_renamed_or_lost() -> None:
    """This test ensures that ids are permanent: the 87 of the reference pack, later ones and the fallback."""
    pinned = (Path(__file__).parent / "permanent_ids.txt").read_text(encoding="utf-8").split()
    assert [entry.id for entry in ENTRIES] == pinned
    assert len(set(pinned)) == 89
    assert pinned[-1] == "unknown-item"


@each_entry
def test_words_are_few_and_whole(entry: Any) -> None:
    """This test ensures that a short form has at most 14 words, the full words at most 40, both end as
    sentences.
    """
    assert len(entry.short.split()) <= 14
    assert len(entry.say.split()) <= 40
    for text in (entry.short, entry.say, entry.because):
        assert text[0].isupper()
        assert text.endswith(".")


@each_entry
def test_duty_follows_severity_or_is_argued(entry: Any) -> None:
    """This test ensures that never, danger and warning are mandatory unless the entry says in words why
    not.
    """
    if entry.mandatory != (SEVERITIES.index(entry.severity) >= SEVERITIES.index("warning")):
        assert len(entry.duty_because.split()) > 5


@each_entry
def test_sources_are_records(entry: Any) -> None:
    """This test ensures that each source key leads to a full record of what was read and how."""
    for key in entry.source:
        source = package_bibliography()[key]
        assert source.title
        assert source.where
        assert source.how
        assert "from memory" not in source.citation()


@each_entry
def test_from_memory_gives_no_number_and_no_citation(entry: Any) -> None:
    """This test ensures that what nobody read in a source is printed as plain advice only."""
    if entry.status == "from memory":
        assert not entry.source
        assert not any(mark.isdigit() for mark in entry.short + entry.say + entry.because)


@each_entry
def test_no_caution_calls_a_drink_safe(entry: Any) -> None:
    """This test ensures that the word "safe" stands only after "not", or of a vessel, label or wood for
    food.
    """
    text = re.sub(r"food-safe|safe level|safe way", "", f"{entry.short} {entry.say}".lower())
    for sentence in re.split(r"[.:;]", text):
        if re.search(r"\bsafe\b", sentence):
            assert re.search(r"\bnot\b", sentence), sentence


def test_sources_that_nobody_cites_are_not_kept() -> None:
    """This test ensures that the sources of the cautions are those that an entry or the plants' table
    cites.
    """
    cited = {key for entry in ENTRIES for key in entry.source}
    cited |= set(source_of_botanicals()["source"])
    sources = package_bibliography().sources
    kept = {key for key, source in sources.items() if source.topic == "safety"}
    assert kept <= cited
    assert all(key in package_bibliography() for key in cited)


def test_a_covering_caution_says_what_it_covers() -> None:
    """This test ensures that each cover argues, and that its short form holds the words it names for the
    covered.
    """
    covers = [(entry, cover) for entry in ENTRIES for cover in entry.covers]
    assert {(entry.id, cover.id) for entry, cover in covers} == {
        ("scald", "burns-first-aid"),
        ("mash-is-hot", "scald"),
        ("mash-is-hot", "burns-first-aid"),
        ("co2-space", "co2-rescue"),
    }
    for entry, cover in covers:
        covered = caution_book()[cover.id]
        assert len(cover.because.split()) > 10
        assert all(words in entry.short for words in cover.said_by)
        assert SEVERITIES.index(entry.severity) >= SEVERITIES.index(covered.severity)
        assert entry.mandatory >= covered.mandatory
    # The content words of the covered short form, or their like, looked for one by one.
    mash, gas = caution_book()["mash-is-hot"].short.lower(), caution_book()["co2-space"].short.lower()
    scald = caution_book()["scald"].short.lower()
    assert all(word in mash for word in ("scald", "presenter only", "never carried open"))
    assert all(word in line for line in (mash, scald) for word in ("burnt", "cool running water", "20 minutes"))
    assert all(word in gas for word in ("collapse", "stay out", "call", "ventilate"))


# The figures a caution prints, as the source beside each prints them (read directly unless the record says
# otherwise).
FIGURES = [
    ("boil-water", "one minute", "epa_wsg11"),
    ("boil-water", "three minutes above 1500 m (5000 ft)", "epa_5000ft"),
    ("sulfite-asthma", "10 mg per litre", "fsa_so2"),
    ("wort-danger-zone", "21 °C within two hours, then 5 °C within six", "foodcode_cool"),
    ("spores-survive", "5 °C or below", "foodcode_hold"),
    ("warm-souring", "pH below 4.6", "cfr_114_3"),
    ("sample-time", "four hours", "nyc_time"),
    ("sanitise", "77 °C for 30 seconds", "utah_sanit"),
    ("bot-elder", "eight people", "cdc_elder_1984"),
    ("honey-infant", "under 12 months", "inspq_honey"),
    ("burns-first-aid", "20 minutes", "bba_2018"),
    ("scald", "at 60 °C an adult burns badly in about five seconds", "antiscald_tbl"),
    ("standard-drink", "8 to 20 grams", "kalinowski_2016"),
    ("freeze-concentration", "0.5 per cent of the volume", "atf_94_3"),
    ("law-estimate-label", "0.3 to 0.5 per cent by volume", "eu1169_annex12"),
]


@pytest.mark.parametrize(("id_", "figure", "source"), FIGURES)
def test_figures_of_the_full_words_matches_published(id_: str, figure: str, source: str) -> None:
    """This test ensures that a figure that guards people stands as its source prints it, and that source
    is cited.
    """
    entry = caution_book()[id_]
    assert figure in entry.say
    assert source in entry.source
    assert package_bibliography()[source].published


def _data() -> dict[str, Any]:
    data: dict[str, Any] = copy.deepcopy(read_own_yaml("cautions.yaml"))
    return data


def _entry(data: dict[str, Any], id_: str) -> dict[str, Any]:
    return next(entry for entry in data["cautions"] if entry["id"] == id_)


WRONG: dict[str, tuple[dict[str, Any], str]] = {
    "a fact that is not listed": (
        {"applies_when": {"temp": ">=48"}},
        "the caution scald: there is no fact temp; did you mean temp_c?",
    ),
    "a word the fact cannot hold": (
        {"applies_when": {"heat_source": ["gass"]}},
        "the caution scald: the test on heat_source asks for 'gass', which the fact cannot hold "
        "(gas, electric, open fire, hot stones)",
    ),
    "a comparison without a number": (
        {"applies_when": {"temp_c": ">=hot"}},
        "the caution scald: the test on temp_c compares with no number: >=hot",
    ),
    "a comparison of words": (
        {"applies_when": {"heat_source": ">5"}},
        "the caution scald: the test on heat_source compares (>5), but the fact is no number",
    ),
    "a test nobody knows": (
        {"applies_when": {"temp_c": {"about": 60}}},
        "the caution scald: the test on temp_c is not one that is known: about",
    ),
    "a plant outside the table": (
        {"applies_when": {"temp_c": ">=48", "plants": {"any_of": ["henbain"]}}},
        "the caution scald: the test on plants names henbain, which its list does not hold; did you mean henbane?",
    ),
    "a range upside down": (
        {"applies_when": {"temp_c": {"from": 80, "to": 48}}},
        "the caution scald: the test on temp_c has no range from 80 to 48",
    ),
    "no condition": (
        {"applies_when": {}},
        "the caution scald: applies_when must name at least one fact, or always: true",
    ),
    "always and more": (
        {"applies_when": {"always": True, "temp_c": 5}},
        "the caution scald: always must be true and stand alone",
    ),
    "a danger made advice": (
        {"duty": "advice"},
        "the caution scald: danger is mandatory, unless duty_because argues otherwise",
    ),
    "too many words": ({"short": "hot " * 15}, "the caution scald: short has more than 14 words"),
    "a kind of step nobody does": (
        {"beside": ["sparge"]},
        "the caution scald: beside names sparge, which is no kind of step",
    ),
    "a misspelt key": ({"besides": ["mash"]}, "the caution scald: unknown key besides"),
    "seen, but where": ({"source": []}, "the caution scald: it is seen but cites no source"),
    "a step's fact on the sheet": (
        {"at": "sheet"},
        "the caution scald: a caution of the sheet cannot read the facts of a step",
    ),
    "braces that nothing fills": (
        {"short": "Contains {milk}."},
        "the caution scald: the words in braces and fills do not agree",
    ),
    "an old id": ({"id": "mash-is-hot"}, "the caution mash-is-hot: its id is used twice"),
}


@pytest.mark.parametrize("case", WRONG)
def test_a_mistake_in_the_data_is_named(case: str) -> None:
    """This test ensures that a wrong entry is refused with its name, before any lesson relies on it."""
    change, sentence = WRONG[case]
    data = _data()
    _entry(data, "scald").update(change)
    with pytest.raises(CautionDataError) as raised:
        read_caution_book(data)
    assert str(raised.value) == sentence


@pytest.mark.parametrize(
    ("coverer", "covers", "sentence"),
    [
        (
            "wood-vessel",
            "wood-toxic",
            "the caution wood-vessel: it covers wood-toxic, which is the stronger one",
        ),
        (
            "open-fire",
            "hot-stones",
            "the caution open-fire: its short form does not say what hot-stones says",
        ),
        (
            "open-fire",
            "mash-is-hot",
            "the caution open-fire: it cannot stand in for mash-is-hot at any one place",
        ),
        ("open-fire", "nothing", "the caution open-fire: it covers nothing, which does not exist"),
    ],
)
def test_a_cover_cannot_hide_a_stronger_caution(coverer: str, covers: str, sentence: str) -> None:
    """This test ensures that a caution stands in only for one that is no stronger, in words that are
    really there.
    """
    data = _data()
    _entry(data, coverer)["covers"] = [{"id": covers, "said_by": ["burst like a bomb"], "because": "a try"}]
    with pytest.raises(CautionDataError) as raised:
        read_caution_book(data)
    assert str(raised.value) == sentence


def test_a_merged_line_holds_only_cautions_of_the_sheet() -> None:
    """This test ensures that no step's caution can be merged away into a line of the sheet."""
    data = _data()
    data["merged_lines"][0]["parts"]["scald"] = "hot things"
    with pytest.raises(CautionDataError, match="the merged line no-alcohol-for: scald is no printed caution"):
        read_caution_book(data)
