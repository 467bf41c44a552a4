"""Page text of the demo lesson's documents; what templates may and may not do."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from presenter.cautions import Cautioned
from presenter.documents import DOCUMENTS, documents_for
from presenter.documents.page_text import escaped, read_page_text
from presenter.documents.rendering import environment, render
from presenter.documents.sheets import content_mark
from presenter.problems import ProblemsFoundError
from presenter.working import WorkedLesson

GOLDEN = Path(__file__).parent / "golden"


@pytest.mark.parametrize("name", list(DOCUMENTS))
def test_page_text_unchanged(
    name: str, netherfold: WorkedLesson, netherfold_cautioned: Cautioned, golden: Callable[[Path, str], None]
) -> None:
    """This test ensures that each document's page text has not moved since it was last read."""
    document = documents_for(netherfold, netherfold_cautioned, [name])[0]
    golden(GOLDEN / f"{name}.md", document.page_text)
    assert read_page_text(document.page_text)


def rendered(tmp_path: Path, template: str, **values: object) -> str:
    (tmp_path / "one.md.j2").write_text(template, encoding="utf-8")
    return render(environment([tmp_path]), "one.md.j2", values)


@pytest.mark.parametrize(
    ("template", "told"),
    [
        ("a\n{{ nobody }}", "one.md.j2:2:1"),
        ("{{ 0.3 }}", "the template prints a bare number"),
        ("{{ 1 + 2 }}", "the template calculates (+)"),
        ("{{ true }}", "the template prints yes or no"),
        ("{% if %}", "The template cannot be read"),
        ('{{ "a" * 10 ** 9 }}', "the template calculates"),
        (
            "{% for i in range(99999) %}{{ word }} and {{ word }} and so on and on{% endfor %}",
            "writes more than any sheet can hold",
        ),
        ("{{ word.__class__ }}", "The template cannot be filled in"),
        ("{% include 'none.md.j2' %}", "There is no such template"),
    ],
)
def test_a_template_that_is_wrong_is_told_where(tmp_path: Path, template: str, told: str) -> None:
    """This test ensures that a mistaken template gives a Problem at its file and line, never a trace."""
    with pytest.raises(ProblemsFoundError) as caught:
        rendered(tmp_path, template, word="hop")
    assert told in caught.value.told()


def test_author_text_is_escaped_once(tmp_path: Path) -> None:
    """This test ensures that an author's signs come out as letters and not as structure."""
    text = rendered(tmp_path, "{{ line }}\n", line="1412. # *barm* <img src=x> [a](b)")
    (block,) = read_page_text(text)
    assert "".join(span.text for span in block.words) == "1412. # *barm* <img src=x> [a](b)"  # type: ignore[union-attr]


def test_content_mark_follows_the_numbers(netherfold: WorkedLesson) -> None:
    """This test ensures that the content mark changes when any number does."""
    from dataclasses import replace

    from presenter.quantities import Q

    numbers = dict(netherfold.numbers)
    first = next(iter(numbers))
    numbers[first] = replace(numbers[first], quantity=Q(99, "kg"))
    assert content_mark(replace(netherfold, numbers=numbers)) != content_mark(netherfold)


def test_answers_are_the_lessons_own_numbers(netherfold: WorkedLesson, netherfold_cautioned: Cautioned) -> None:
    """This test ensures that the answers sheet holds the worked values, and the worksheet does not give them away."""
    sheets = {
        d.kind.name: d.page_text for d in documents_for(netherfold, netherfold_cautioned, ["worksheet", "answers"])
    }
    strike = escaped(netherfold.numbers["first-mash.strike-heat"].words())
    assert strike in sheets["answers"]
    assert strike not in sheets["worksheet"]
    assert sheets["worksheet"].count("```answer") >= 9
