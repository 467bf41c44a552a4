"""What one rest does, as formulas with units; and apparent attenuation by Balling's quotient."""

import doctest
from pathlib import Path

import pytest
import yaml

import presenter.science.attenuation as attenuation_module
import presenter.science.gelatinisation as gelatinisation_module
import presenter.science.mash as mash_module
import presenter.science.mash_state as state_module
import presenter.science.mash_sugars as sugars_module
import presenter.science.rests as rests_module
from presenter.quantities import Q
from presenter.science.attenuation import apparent_attenuation_from_fermentable
from presenter.science.formula import Formula, OutOfRangeError
from presenter.science.mash import mash_end
from presenter.science.mash_state import MashPart, fresh
from presenter.science.rests import (
    alpha_amylase_left,
    attenuation_from_mash_model,
    beta_amylase_left,
    starch_dissolved_from_mash_model,
)
from presenter.sources import package_bibliography

TABLE_A = yaml.safe_load((Path(__file__).parent / "published" / "balling_table_a.yaml").read_text(encoding="utf-8"))
MODULES = (attenuation_module, gelatinisation_module, mash_module, state_module, sugars_module, rests_module)


@pytest.mark.parametrize("temperature", [58.0, 65.0, 72.0])
def test_enzymes_left_agree_with_the_solved_mash(temperature):
    """This test ensures that the closed form of the decay is what the solver finds."""
    after = mash_end(fresh([MashPart("barley", 1.0, 1.0)]), [(0, temperature), (45, temperature)])
    rest = Q(temperature, "degC"), Q(45, "minute")
    assert beta_amylase_left(*rest).magnitude == pytest.approx(100 * after.beta_left, abs=1e-4)
    assert alpha_amylase_left(*rest).magnitude == pytest.approx(100 * after.alpha_left, abs=1e-4)


def test_beta_amylase_gone_at_70_matches_published():
    """This test ensures that beta-amylase is practically gone at 70 degC (chizhova_handbook, rye flour), read as 5
    percent after half an hour; never fitted."""
    assert beta_amylase_left(Q(70, "degC"), Q(30, "minute")).magnitude < 5


def test_yield_at_the_beginning_of_gelatinisation_matches_published():
    """This test ensures that ten minutes at the gelatinisation onset, 54.5 to 57.1 degC, dissolve little
    (rittenauer2021, abstract: negligible change), and ten at 57.5 to 59.8 degC about 61.7 percent of a full mash's
    sugar can have been made from what dissolved."""
    assert starch_dissolved_from_mash_model(Q(55.8, "degC"), Q(10, "minute")).magnitude < 10
    assert starch_dissolved_from_mash_model(Q(58.65, "degC"), Q(10, "minute")).magnitude > 61.7


@pytest.mark.parametrize("formula", [beta_amylase_left, alpha_amylase_left, attenuation_from_mash_model])
def test_rest_formulas_refuse_what_they_do_not_hold(formula):
    """This test ensures that a rest of 85 degC is refused."""
    with pytest.raises(OutOfRangeError):
        formula(Q(85, "degC"), Q(60, "minute"))


def test_balling_quotient_on_his_worked_beer_matches_published():
    """This test ensures that Balling's worked beer, 11.177 percent with 5.550 real and 4.250 apparent, comes out: its
    apparent attenuation 6.927 of 11.177 (balling_gaerungschemie, pages 480 and 496), to 0.005 degrees."""
    original, real, lost = 11.177, 5.550, 6.927
    fermentable = 100 * (original - real) / original
    assert original * apparent_attenuation_from_fermentable.plain(fermentable, original) / 100 == pytest.approx(
        lost, abs=0.005
    )


@pytest.mark.parametrize("original", [9, 11, 12, 14, 16])
def test_balling_quotient_matches_published_table(original):
    """This test ensures that the quotient is that of Balling's table A, first row, to the last digit he printed
    (balling_gaerungschemie): q = 1 + 1 / cell."""
    cell = _cell(original)
    assert apparent_attenuation_from_fermentable.plain(100.0, original) / 100 == pytest.approx(1 + 1 / cell, abs=0.0006)


def _cell(original):
    rows = TABLE_A["rows"]
    first = next(row for row in rows if float(row["difference"]) == 1.0)
    return float(first[f"p{original}"])


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rpartition(".")[2])
def test_every_public_function_says_what_it_must(module):
    """This test ensures that every public function has its docstring's parts, cites sources that exist, and shows an
    example that runs."""
    known = package_bibliography()
    space = {"Q": Q} | {name: item for each in MODULES for name, item in vars(each).items() if not name.startswith("_")}
    for name in module.__all__:
        item = getattr(module, name)
        function = item.plain if isinstance(item, Formula) else item
        if isinstance(function, type) or not callable(function):
            continue
        text = function.__doc__
        for part in (".. math::", "Parameters", "Returns", "Raises", "Notes", "Examples", "References"):
            assert part in text, (name, part)
        cited = [line.strip()[3:-1] for line in text.splitlines() if line.strip().startswith("- `")]
        assert all(key in known for key in cited), name
        test = doctest.DocTestParser().get_doctest(text, dict(space), name, None, 0)
        assert test.examples, name
        runner = doctest.DocTestRunner()
        runner.run(test)
        assert runner.failures == 0, name
