"""A loaf baked in one lesson and used in another, held against the same loaf baked and used in one.

In: small lessons written here, one folder each. Out: what must hold whatever the figures are.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from presenter.cautions import cautions_of
from presenter.commands.telling import why_lines
from presenter.documents import Asked, documents_for
from presenter.lesson import load_lesson
from presenter.problems import ProblemsFoundError
from presenter.working import WorkedLesson, work_out
from presenter.working.allergens import allergen_lines, ingredients_unknown_to_allergens

HEAD = """\
title: {title}
scene: Harrowmere, the bakehouse (invented)
date: 2026-05-02
site: {{altitude: 0 m, indoors: yes, room: 90 m3, heat: electric oven, water: mains, who brews: museum}}
audience: {{youngest: 12, tasting: none}}
kit:
  thermometer: {{right within: 1 degC}}
  scales: {{right within: 5 g}}
  jar: {{of: stainless steel, holds: 20 L, weighs: 1 kg}}
ingredients:
"""
DOUGH = """\
  flour: {{what: rye flour, amount: {flour} g, from: our choice}}
  malt flour: {{what: pale barley malt, amount: {malt} g, from: our choice}}
"""
CRUMBS = """\
  crumbs: {{what: dark loaf, amount: {amount}, from: our choice{made_in}}}
  malt: {{what: pale barley malt, amount: 300 g, from: our choice}}
steps:
"""
BAKE = (
    "  - {{name: Bake, do: bake, with: [flour, malt flour], water: {water} mL, shape: slab, thickness: 60 mm,"
    " oven: 220 degC, until core: {core} degC, call it: dark loaf, loaves: {loaves}}}\n"
)
SOAK = "  - {name: Soak, do: mash, in: jar, with: [crumbs, malt], water: 4300 mL, reach: 63 degC, hold: 60 min}\n"
USUAL = {"flour": 1500, "malt": 120, "water": 1000, "core": 96, "loaves": 4}


def written(folder: Path, name: str, text: str) -> Path:
    (folder / name).mkdir(parents=True, exist_ok=True)
    (folder / name / "lesson.yaml").write_text(text, encoding="utf-8")
    return folder / name


def bakehouse(folder: Path, name: str = "rye-loaves", **dough: int) -> Path:
    """A lesson that only bakes."""
    wanted = {**USUAL, **dough}
    text = HEAD.format(title="Rye loaves (invented)") + DOUGH.format_map(wanted) + "steps:\n" + BAKE.format_map(wanted)
    return written(folder, name, text)


def kvass(folder: Path, amount: str = "2 pieces", made_in: str = "rye-loaves", name: str = "kvass") -> Path:
    """A lesson that soaks what another has baked."""
    head = HEAD.format(title="Bread kvass (invented)")
    return written(folder, name, head + CRUMBS.format(amount=amount, made_in=f", made in: {made_in}") + SOAK)


def in_one(folder: Path, amount: str = "2 pieces", **dough: int) -> Path:
    """The two as one lesson."""
    wanted = {**USUAL, **dough}
    head = HEAD.format(title="Loaves and kvass (invented)") + DOUGH.format_map(wanted)
    return written(folder, "in-one", head + CRUMBS.format(amount=amount, made_in="") + BAKE.format_map(wanted) + SOAK)


def told(lesson: Path) -> str:
    with pytest.raises(ProblemsFoundError) as caught:
        work_out(load_lesson(lesson))
    return caught.value.told()


def numbers(of: WorkedLesson) -> dict[str, tuple[float, float]]:
    """The soak's numbers: value and give-or-take."""
    return {
        number.id: (
            float(number.quantity.magnitude),
            0.0 if number.spread is None else float(number.spread.magnitude),
        )
        for number in of.numbers.values()
        if number.step == "soak"
    }


@settings(max_examples=4, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(
    flour=st.integers(900, 1500), malt=st.integers(40, 400), core=st.sampled_from([62, 80, 96]),
    loaves=st.integers(3, 5), amount=st.sampled_from(["1 pieces", "2 pieces", "350 g"]),
)  # fmt: skip
def test_one_loaf_has_the_same_numbers_in_one_lesson_or_two(
    flour: int, malt: int, core: int, loaves: int, amount: str
) -> None:
    """This test ensures that every number of a mash of crumbs, and its give-or-take with every share of it, is the
    same whether the loaf was baked in the same lesson or in another."""
    dough = {"flour": flour, "malt": malt, "water": flour * 7 // 10, "core": core, "loaves": loaves}
    with TemporaryDirectory() as name:
        folder = Path(name)
        bakehouse(folder, **dough)
        apart = work_out(load_lesson(kvass(folder, amount)))
        together = work_out(load_lesson(in_one(folder, amount, **dough)))
    found, wanted = numbers(apart), numbers(together)
    assert found.keys() == wanted.keys()
    for number, (value, spread) in wanted.items():
        assert found[number] == (pytest.approx(value, rel=1e-9), pytest.approx(spread, rel=1e-6, abs=1e-12)), number
    gravity = "soak.gravity"
    assert (have := apart.numbers[gravity].give_or_take) is not None
    assert (want := together.numbers[gravity].give_or_take) is not None
    assert dict(have.shares) == pytest.approx(dict(want.shares), rel=1e-6, abs=1e-12)


def test_a_loaf_is_worked_as_its_own_lesson_has_it(tmp_path: Path) -> None:
    """This test ensures that a loaf's mass, water, extract and sugars, each with its give-or-take, are those that the
    lesson which bakes it prints."""
    baked = work_out(load_lesson(bakehouse(tmp_path)))
    used = work_out(load_lesson(kvass(tmp_path)))
    pairs = {"mass": "loaf-mass", "moisture": "moisture", "extract": "extract-share", "sugars": "sugar-share"}
    for here, there in pairs.items():
        mine, theirs = used.numbers[f"lesson.rye-loaves-dark-loaf-{here}"], baked.numbers[f"bake.{there}"]
        assert mine.quantity == theirs.quantity
        assert mine.spread is not None
        assert theirs.spread is not None
        assert mine.spread.magnitude == pytest.approx(theirs.spread.magnitude)
    assert used.numbers["lesson.crumbs"].quantity.magnitude == pytest.approx(
        2 * baked.numbers["bake.loaf-mass"].quantity.magnitude
    )


def test_why_walks_on_into_the_other_lesson(tmp_path: Path) -> None:
    """This test ensures that the walk back from a soak's number leads over the loaf to the flour that was weighed for
    it, in the lesson that bakes it."""
    bakehouse(tmp_path)
    lines = why_lines(work_out(load_lesson(kvass(tmp_path))), "soak.gravity")
    made = next(number for number, line in enumerate(lines) if "made in rye-loaves, named at" in line)
    assert "kvass/lesson.yaml:11:" in lines[made]
    after = "\n".join(lines[made:])
    assert "[bake.loaf-mass]" in after
    assert "you wrote “1500 g” at" in after
    assert "rye-loaves/lesson.yaml:11:" in after


def test_three_lessons_in_a_row(tmp_path: Path) -> None:
    """This test ensures that a loaf of crumbs that hold another lesson's loaf brings that one's allergens and numbers,
    and that the first lesson is worked once for both."""
    bakehouse(tmp_path)
    head = HEAD.format(title="Second bread (invented)") + DOUGH.format_map(USUAL)
    crumbs = "  old bread: {what: dark loaf, amount: 1 pieces, made in: rye-loaves}\nsteps:\n"
    bake = BAKE.format_map(USUAL).replace("flour, malt flour", "flour, old bread").replace("dark loaf", "second loaf")
    written(tmp_path, "second", head + crumbs + bake)
    third = kvass(tmp_path, made_in="second")
    third.joinpath("lesson.yaml").write_text(
        third.joinpath("lesson.yaml").read_text(encoding="utf-8")
        .replace("dark loaf", "second loaf")
        .replace("  malt:", "  rye: {what: dark loaf, amount: 200 g, made in: rye-loaves}\n  malt:")
        .replace("[crumbs, malt]", "[crumbs, rye, malt]"),
        encoding="utf-8",
    )  # fmt: skip
    lesson = load_lesson(third)
    assert lesson.others["second"].others["rye-loaves"] is lesson.others["rye-loaves"]
    worked = work_out(lesson)
    assert worked.others["second"].others["rye-loaves"] is worked.others["rye-loaves"]
    gluten = next(line for line in allergen_lines(lesson) if "gluten" in line.group)
    assert ("pale barley malt in the second loaf", "always") in gluten.brought_by  # by way of the first lesson's loaf
    assert ("rye flour in the dark loaf", "always") in gluten.brought_by
    assert ingredients_unknown_to_allergens(lesson) == ()


def test_sheets_say_where_the_loaf_is_baked(tmp_path: Path) -> None:
    """This test ensures that the handout and the shopping list name the lesson that bakes the loaf, and that the
    cautions of a lesson know bread when the loaf comes from another."""
    bakehouse(tmp_path)
    worked = work_out(load_lesson(kvass(tmp_path)))
    apart, together = cautions_of(worked), cautions_of(work_out(load_lesson(in_one(tmp_path))))
    pages = {page.name: page.page_text for page in documents_for(worked, apart, (), Asked())}
    assert "Crumbs, of the dark loaf, baked in “Rye loaves (invented)”" in pages["handout"]
    here, there = ({each.caution.id for each in found.full_words} for found in (apart, together))
    assert here <= there
    assert {id_ for id_ in there - here if "allergen" in id_ or "gluten" in id_} == set()


def test_lessons_in_a_circle(tmp_path: Path) -> None:
    """This test ensures that lessons which rest on one another are one Problem, at the line of the one that is read."""
    head = HEAD.format(title="Round (invented)") + DOUGH.format_map(USUAL)
    for name, other in (("one", "two"), ("two", "three"), ("three", "one")):
        crumbs = f"  crumbs: {{what: dark loaf, amount: 100 g, made in: {other}}}\nsteps:\n"
        written(tmp_path, name, head + crumbs + BAKE.format_map(USUAL))
    with pytest.raises(ProblemsFoundError) as caught:
        load_lesson(tmp_path / "one")
    (problem,) = caught.value.problems
    assert problem.wrong == (
        "This goes round in a circle: this lesson rests on two, which rests on three, which rests on this lesson."
    )
    assert problem.written == "two"
    assert problem.place.file.endswith("one/lesson.yaml")
    assert problem.place.line == 13


def test_a_circle_further_on_is_the_other_lessons_problem(tmp_path: Path) -> None:
    """This test ensures that a lesson which rests on one of a circle is told of that lesson's problem, once."""
    head = HEAD.format(title="Round (invented)") + DOUGH.format_map(USUAL)
    for name, other in (("one", "two"), ("two", "one")):
        crumbs = f"  crumbs: {{what: dark loaf, amount: 100 g, made in: {other}}}\nsteps:\n"
        written(tmp_path, name, head + crumbs + BAKE.format_map(USUAL))
    with pytest.raises(ProblemsFoundError) as caught:
        load_lesson(kvass(tmp_path, made_in="one"))
    (problem,) = caught.value.problems
    assert problem.wrong.startswith("The lesson one has a problem of its own, at ")
    assert "This goes round in a circle" in problem.wrong


def test_a_lesson_with_problems_is_one_problem_here(tmp_path: Path) -> None:
    """This test ensures that whatever is wrong with the other lesson, when it is read or when it is worked, gives one
    Problem here, and that the steps which use its loaf are silent."""
    bakehouse(tmp_path, core=300)
    shown = told(kvass(tmp_path))
    assert shown.count("The lesson rye-loaves has a problem of its own, at ") == 1
    assert shown.count("Mend that lesson first.") == 1
    assert "kvass/lesson.yaml:11:" in shown.split("\n", maxsplit=1)[0]
    other = tmp_path / "rye-loaves" / "lesson.yaml"
    other.write_text(other.read_text(encoding="utf-8").replace("220 degC", "warm").replace("96", "96"), "utf-8")
    assert told(kvass(tmp_path)).count("The lesson rye-loaves has a problem of its own, at ") == 1


def test_it_is_found_in_the_library_too(tmp_path: Path) -> None:
    """This test ensures that a lesson's others are looked for beside it and then from the library's folder down, and
    never outside of that."""
    (tmp_path / "library.yaml").write_text("name: A library (invented)\n", encoding="utf-8")
    bakehouse(tmp_path / "breads")
    lesson = load_lesson(kvass(tmp_path / "drinks", made_in="breads/rye-loaves"))
    assert lesson.others["breads/rye-loaves"].name == "rye-loaves"
    with pytest.raises(ProblemsFoundError, match=r"no lesson in a folder called \.\./breads/rye-loaves"):
        load_lesson(kvass(tmp_path / "drinks", made_in="../breads/rye-loaves"))
    shutil.rmtree(tmp_path / "breads")
    with pytest.raises(ProblemsFoundError, match="no lesson in a folder called breads/rye-loaves"):
        load_lesson(kvass(tmp_path / "drinks", made_in="breads/rye-loaves"))


def test_a_lesson_does_not_rest_on_itself(tmp_path: Path) -> None:
    """This test ensures that a lesson which names itself is told to leave that out."""
    shown = told(kvass(tmp_path, made_in="kvass"))
    assert "kvass is this lesson itself.\n  Leave out made in: where this lesson bakes the loaf." in shown
