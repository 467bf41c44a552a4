"""Every formula of the package: its docstring, its example, its sources and what it was checked against."""

import doctest
import re
from pathlib import Path

import pint
import pytest

from presenter.quantities import Q, unit_named
from presenter.science.formula_index import KINDS_OF_CHECK, every_formula, recorded_checks
from presenter.sources import package_bibliography

SECTIONS = ["Parameters", "Returns", "Raises", "Notes", "Examples", "References"]
FORMULAS = every_formula()
each_formula = pytest.mark.parametrize("formula", FORMULAS.values(), ids=list(FORMULAS))


def lines_of(formula, section):
    """The lines of a section that open an entry: not indented, not empty."""
    return [line for line in formula.section(section).splitlines() if line.strip() and not line.startswith(" ")]


def unit_written(text):
    """The unit that ``text`` opens with, as in "kilogram, all of it dissolved" or "percent of the mass"."""
    words = re.split("[,;]", text)[0].split()
    for count in range(len(words), 0, -1):
        try:
            return str(unit_named(" ".join(words[:count])))
        except (pint.UndefinedUnitError, pint.DefinitionSyntaxError, ValueError):
            continue
    return ""


@each_formula
def test_docstring_has_its_sections_in_order(formula):
    """This test ensures that each formula says what it gives, its mathematics, and the six sections in order."""
    text = formula.plain.__doc__ or ""
    headings = re.findall(r"^ *(\w+)\n +-{3,}$", text, flags=re.MULTILINE)
    assert headings == SECTIONS
    assert formula.title
    assert ".. math::" in text.partition("Parameters")[0]


@each_formula
def test_docstring_units_are_the_formulas(formula):
    """This test ensures that the units in the docstring are those that the formula converts to."""
    written = {}
    for line in lines_of(formula, "Parameters"):
        names, _, rest = line.partition(" : ")
        for name in names.split(","):
            written[name.strip()] = unit_written(rest)
    assert written == dict(formula.takes)
    assert unit_written(formula.section("Returns").splitlines()[0]) == formula.gives


@each_formula
def test_docstring_example_runs(formula):
    """This test ensures that each example gives what it shows."""
    example = doctest.DocTestParser().get_doctest(
        formula.section("Examples") + "\n", {"Q": Q, **FORMULAS}, formula.name, None, 0
    )
    assert example.examples, f"{formula.name} has no example"
    told = []
    results = doctest.DocTestRunner(verbose=False).run(example, out=told.append)
    assert results.failed == 0, "".join(told)


@each_formula
def test_sources_are_in_the_bibliography(formula):
    """This test ensures that each formula cites sources that exist, or says in words what it rests on."""
    missing = [key for key in formula.sources if key not in package_bibliography()]
    assert not missing
    assert formula.sources or formula.rests_on, f"{formula.name} names no source and rests on nothing"


@each_formula
def test_ranges_and_errors_are_argued(formula):
    """This test ensures that ranges are of the formula's own arguments and that no error stands without a reason."""
    assert set(formula.valid) <= set(formula.takes)
    assert all(low < high for low, high in formula.valid.values())
    if formula.error or formula.relative_error:
        assert formula.error_because
    if formula.valid:
        assert "OutOfRange" in formula.section("Raises")


@each_formula
def test_every_formula_was_checked(formula):
    """This test ensures that each formula has a recorded check against something outside it."""
    checks = recorded_checks().get(formula.name, ())
    assert any(check.kind != "fitted" for check in checks), f"{formula.name} was checked against nothing"
    if formula.sources and not formula.rests_on:
        assert any(check.kind in {"published", "library", "closed form", "common practice"} for check in checks)


@pytest.mark.parametrize(
    "check",
    [check for checks in recorded_checks().values() for check in checks],
    ids=lambda check: f"{check.formula}, {check.against}",
)
def test_recorded_checks_stand(check):
    """This test ensures that each recorded check is of a formula and a test that still exist, kept its tolerance and,
    where it is published, names a source."""
    assert check.formula in FORMULAS
    assert check.kind in KINDS_OF_CHECK
    assert check.worst_miss <= check.tolerance
    assert check.because
    if check.kind == "published":
        assert package_bibliography()[check.against].published
    file, _, function = check.test.partition("::")
    text = (Path(__file__).parent / file).read_text(encoding="utf-8")
    assert f"def {function}(" in text
