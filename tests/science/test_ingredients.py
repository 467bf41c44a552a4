"""Ingredients by name: what is found, what is refused, what each rests on; and the allergens they bring."""

from importlib.resources import files
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from presenter.quantities import Q
from presenter.science.allergens import allergen_facts, allergen_groups, allergens_of
from presenter.science.composition import HYDROLYSIS, table
from presenter.science.formula import OutOfRangeError, WrongUnitError
from presenter.science.ingredients import (
    UnknownIngredientError,
    ingredient_named,
    ingredient_names,
)
from presenter.science.plants import plant_rows
from presenter.science.portion import extract_of_ingredient
from presenter.sources import package_bibliography

PUBLISHED = yaml.safe_load(
    (Path(__file__).parent / "published" / "extract_of_ingredients.yaml").read_text(encoding="utf-8")
)
EVERY = [ingredient_named(name) for name in ingredient_names()]
WITH_EXTRACT = [entry for entry in EVERY if entry.extract_share]
GLUTEN = "cereals containing gluten"
SULPHITES = "sulphur dioxide and sulphites"


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("pale barley malt", "pale barley malt"),
        ("Pale Malt", "pale barley malt"),
        ("malted oats", "malted oats"),
        ("oat malt", "malted oats"),
        ("dried baker's yeast", "dried baker's yeast"),
        ("Dried baker’s yeast", "dried baker's yeast"),
        ("dried ale yeast", "dried ale yeast"),
        ("rye_bread", "rye bread"),
        ("rye  flour.", "rye flour"),
        ("raw barley", "raw barley"),
        ("apples", "apples"),
        ("honey", "honey"),
        ("cane sugar", "cane sugar"),
        ("wheat malts", "wheat malt"),
    ],
)
def test_ingredient_is_found_as_authors_write_it(written, name):
    """This test ensures that capitals, plurals, curly apostrophes, hyphens and the other names are understood."""
    assert ingredient_named(written).name == name


@pytest.mark.parametrize(
    ("written", "sentence"),
    [
        ("pale barly malt", "pale barly malt is no ingredient that this toolkit knows. Did you mean pale barley malt?"),
        ("honney", "honney is no ingredient that this toolkit knows. Did you mean honey?"),
        ("henbane", "henbane is no ingredient that this toolkit knows."),
        ("", " is no ingredient that this toolkit knows."),
    ],
)
def test_unknown_ingredient_offers_the_nearest_and_nothing_far(written, sentence):
    """This test ensures that a slip gets the nearest name, and a poisonous plant no harmless name in its place."""
    with pytest.raises(UnknownIngredientError) as caught:
        ingredient_named(written)
    assert str(caught.value) == sentence


@pytest.mark.parametrize("entry", EVERY, ids=lambda entry: entry.name)
def test_every_entry_is_honest(entry):
    """This test ensures that each entry's sources exist, that it says what it rests on, that a figure from memory is
    never called published, and that no share leaves 0 to 1."""
    assert entry.rests_on
    assert all(key in package_bibliography() for key in entry.sources)
    shares = (entry.extract_share, entry.moisture, entry.starch_share, entry.sugar_share, entry.attenuable)
    assert all(share is None or 0 <= share <= 1 for share in shares)
    if entry.status == "from memory":
        assert "from memory, not published" in entry.rests_on
        assert not entry.sources
    if entry.status.startswith("published"):
        assert entry.sources
    if entry.extract_share:
        assert 0 < entry.extract_spread < 0.5 * max(entry.extract_share, 0.1)


def caution_table(name):
    """One of the tables that cautions read, as text."""
    return files("presenter.cautions").joinpath("tables", name).read_text(encoding="utf-8")


@pytest.mark.parametrize("entry", EVERY, ids=lambda entry: entry.name)
def test_every_entry_uses_the_words_that_cautions_read(entry):
    """This test ensures that each caution word is in the closed list that cautions read, and each plant's key in their
    list of plants."""
    words = set(yaml.load(caution_table("ingredient_words.yaml"), yaml.CSafeLoader)["words"])
    plants = set(plant_rows())
    assert entry.caution_words
    assert set(entry.caution_words) <= words
    assert not entry.plant or entry.plant in plants


@pytest.mark.parametrize("entry", WITH_EXTRACT, ids=lambda entry: entry.name)
def test_extract_fits_into_dry_matter(entry):
    """This test ensures that no ingredient gives more extract than its dry matter and the water that splitting its
    starch takes up."""
    assert entry.extract_share <= 1 - entry.moisture + (HYDROLYSIS - 1) * entry.starch_share + 1e-9


TOLERANCE = {"solids": 0.01, "sugars": 0.15, "estimate": 0.10, "laboratory": 0.02}


@pytest.mark.parametrize(
    ("entry", "row"),
    [
        pytest.param(entry, row, id=entry.name)
        for entry in WITH_EXTRACT
        for row in PUBLISHED["rows"]
        if row["key"] in {entry.food, table("ingredients")["ingredients"][entry.name].get("malt")}
        and row["basis"] == table("ingredients")["ingredients"][entry.name]["basis"]
        and row["status"] == "derived"
    ],
)
def test_ingredient_extract_agrees_with_the_rows_worked_beforehand(entry, row):
    """This test ensures that each ingredient's extract agrees with the derived rows: sugars within 1 percent, malts 2,
    unmalted grain 10, fruit 15."""
    assert 100 * entry.extract_share == pytest.approx(row["typical"], rel=TOLERANCE[row["basis"]])


def test_malts_without_published_extract_say_so():
    """This test ensures that malted oats and rye malt, whose extract nobody printed, are marked from memory, wider than
    pale malt, and with enzymes unknown."""
    pale = ingredient_named("pale barley malt")
    for name in ("malted oats", "rye malt"):
        entry = ingredient_named(name)
        assert entry.status == "from memory"
        assert entry.extract_spread > pale.extract_spread
        assert entry.enzyme_strength is None


def test_honey_attenuable_matches_published():
    """This test ensures that honey's fermentable share spans the survey's 78.1 of 82.8 (white_1962 and crane_1980, as
    quoted) and the food table's 82.12 of 82.9 (usda_sr28)."""
    honey = ingredient_named("honey")
    for share in (78.1 / 82.8, 82.12 / 82.9):
        assert honey.attenuable == pytest.approx(share, abs=honey.attenuable_spread)
    averages = {row["what"]: row["average"] for row in table("honey_sugars")["rows"]}
    sugars = sum(averages[kind] for kind in ("fructose", "glucose", "sucrose", "reducing disaccharides as maltose"))
    assert sugars == pytest.approx(78.1, abs=0.05)


def test_ingredient_pale_malt_unchanged():
    """This test ensures that the demo's malt has not moved since it was last reviewed."""
    pale = ingredient_named("pale barley malt")
    assert (pale.extract_share, pale.extract_spread, pale.moisture) == pytest.approx((0.764, 0.02, 0.045))
    assert (pale.enzyme_strength, pale.grain, pale.soluble) == (1, "barley", False)


def test_extract_of_ingredient_matches_published():
    """This test ensures that Balling's brewhouse of the 1850s comes out: 60 lb of extract in 100 lb of malt, of which
    86.25 percent reached the wort, 51.75 lb (Balling, as read directly)."""
    found = extract_of_ingredient(Q(100, "pound"), Q(60, "percent"), Q(86.25, "percent"))
    assert found.to("pound").magnitude == pytest.approx(51.75, abs=0.005)


@given(
    mass=st.floats(min_value=0, max_value=1e3),
    share=st.floats(min_value=0, max_value=100),
    mash=st.floats(min_value=0, max_value=100),
)
def test_extract_of_ingredient_never_exceeds_what_went_in(mass, share, mash):
    """This test ensures that extract is between nothing and the mass, and rises with the mash yield."""
    found = extract_of_ingredient.plain(mass, share, mash)
    assert 0 <= found <= mass * (1 + 1e-12)
    assert found <= extract_of_ingredient.plain(mass, share, 100.0) * (1 + 1e-12)


def test_extract_of_ingredient_refuses():
    """This test ensures that a volume of malt, and a yield above 100 percent, are refused."""
    with pytest.raises(WrongUnitError, match="mass is a mass"):
        extract_of_ingredient(Q(3, "litre"), Q(76, "percent"), Q(80, "percent"))
    with pytest.raises(OutOfRangeError, match="mash yield is 120 percent"):
        extract_of_ingredient(Q(3, "kg"), Q(76, "percent"), Q(120, "percent"))


@pytest.mark.parametrize(
    ("names", "groups"),
    [
        (["pale barley malt"], {GLUTEN}),
        (["malted oats"], {GLUTEN}),
        (["raw rye", "raw spelt", "emmer"], {GLUTEN}),
        (["whey"], {"milk"}),
        (["celery seed", "mustard seed"], {"celery", "mustard"}),
        (["raisins"], {SULPHITES}),
        (["dates"], {SULPHITES}),
        (["barm"], {GLUTEN}),
        (["isinglass"], set()),
        (["maize", "honey", "hops", "dried baker's yeast", "water"], set()),
        ([], set()),
    ],
)
def test_allergens_match_published(names, groups):
    """This test ensures that the groups are those of the regulation's list (eu_1169_annex2, as quoted), with what is
    only possible counted as present."""
    assert allergens_of(names) == groups


@given(names=st.lists(st.sampled_from(ingredient_names()), max_size=6), other=st.sampled_from(ingredient_names()))
def test_allergens_only_ever_grow(names, other):
    """This test ensures that adding an ingredient never takes an allergen away, and that every group is listed."""
    before = allergens_of(names)
    after = allergens_of([*names, other])
    assert before <= after
    assert after == before | set(ingredient_named(other).allergens)
    assert after <= set(allergen_groups())


def test_allergens_of_an_unknown_name_is_an_error():
    """This test ensures that a name nobody knows is never silently free of allergens."""
    with pytest.raises(UnknownIngredientError):
        allergens_of(["pale barley malt", "moonflower"])


def test_allergen_rows_are_all_sourced_or_from_memory():
    """This test ensures that every fact about an allergen has a source that exists or says that it is from memory."""
    assert len(allergen_groups()) == 14
    for fact in allergen_facts(ingredient_names()):
        assert fact.source in package_bibliography() if fact.source else fact.status == "from memory"
        assert fact.how_sure in {"always", "likely", "possible", "exempt", "none", "none in EU"}
        assert fact.present == (fact.how_sure in {"always", "likely", "possible"})


@pytest.mark.parametrize("entry", EVERY, ids=lambda entry: entry.name)
def test_gluten_grain_is_never_without_its_allergen(entry):
    """This test ensures that whatever holds barley, wheat, rye, oats or spelt names the gluten group."""
    if entry.grain in {"barley", "wheat", "rye", "oats", "spelt", "emmer", "einkorn"} or entry.family == "bread":
        assert GLUTEN in entry.allergens
