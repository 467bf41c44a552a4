"""Charts: no word lies over another, every word is inside, and the words for who cannot see one say what it shows."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.graphics.shapes import Drawing, Group, String

from presenter.cautions import Cautioned
from presenter.documents import DOCUMENTS, documents_for
from presenter.documents.blocks import Axis, Band, Chart, Line, Mark
from presenter.documents.page_text import read_page_text
from presenter.documents.papers.clock import day_plan
from presenter.documents.temperature_chart import enzyme_bands, traces_of_day
from presenter.printing.charts import chart_drawing
from presenter.printing.fonts import ready, width_of
from presenter.printing.style import Setting, Type, style_for
from presenter.science.published_tables import published_table
from presenter.working import WorkedLesson

WORDS = st.sampled_from(
    [
        "mash",
        "strong wort",
        "small wort",
        "beta-amylase left",
        "starch in its granules",
        "12",
        "Raise it with hot stones",
    ]
)
HEIGHTS = st.floats(0, 100, allow_subnormal=False)


def strings(shape: Drawing | Group) -> Iterator[String]:
    """Every text of a drawing."""
    for part in shape.contents:
        if isinstance(part, String):
            yield part
        elif isinstance(part, Group):
            yield from strings(part)


def box_of(text: String) -> tuple[float, float, float, float]:
    """Where its letters stand: from the baseline's descent to the height of capitals."""
    wide = width_of(text.text, text.fontName.endswith("Bold"), text.fontSize)
    left = text.x - {"start": 0.0, "middle": wide / 2, "end": wide}[text.textAnchor]
    return left, text.y - text.fontSize * 0.2, left + wide, text.y + text.fontSize * 0.72


def over_one_another(drawing: Drawing) -> list[tuple[str, str]]:
    """Pairs of texts of which one lies over the other."""
    found = []
    for one, other in combinations(list(strings(drawing)), 2):
        a, b = box_of(one), box_of(other)
        if a[0] < b[2] - 0.1 and b[0] < a[2] - 0.1 and a[1] < b[3] - 0.1 and b[1] < a[3] - 0.1:
            found.append((one.text, other.text))
    return found


@st.composite
def charts(draw: st.DrawFn) -> Chart:
    """Charts of one to five courses, up to two bands and up to fourteen marks, as lessons make them."""
    lines = []
    for name in draw(st.lists(WORDS, min_size=1, max_size=5)):
        end = draw(st.sampled_from([100.0, 100.0, 60.0, 30.0]))
        points = tuple((end * part / 4, draw(HEIGHTS)) for part in range(5))
        lines.append(Line(name, points))
    bands = tuple(
        Band(f"{name}, {low} to {low + 5}", low, low + 5)
        for name, low in draw(st.lists(st.tuples(WORDS, st.integers(20, 80)), max_size=2))
    )
    marks = tuple(Mark(name, at) for name, at in draw(st.lists(st.tuples(WORDS, st.floats(0, 100)), max_size=14)))
    low, high = Axis("minutes of mashing", 0, 100), Axis("percent", 0, 100)
    return Chart("a chart", low, high, tuple(lines), bands, tuple(sorted(marks, key=lambda mark: mark.at)))


@settings(max_examples=150, deadline=None)
@given(charts(), st.sampled_from([(460.0, 260.0), (740.0, 250.0), (740.0, 380.0), (1060.0, 540.0)]))
def test_no_word_lies_over_another(chart: Chart, size: tuple[float, float]) -> None:
    """This test ensures that no text drawn in a chart lies over another, or beyond the drawing's edges."""
    ready()
    drawing = chart_drawing(chart, *size, Type(12, 15.75))
    assert over_one_another(drawing) == []
    for text in strings(drawing):
        left, low, right, high = box_of(text)
        assert left >= -0.5
        assert right <= size[0] + 0.5
        assert low >= -0.5
        assert high <= size[1] + 0.5


# --- in documents


def charts_in(blocks: Any) -> Iterator[Chart]:
    """Every chart of a page text, on cards too."""
    for block in blocks:
        if isinstance(block, Chart):
            yield block
        for part in ("front", "back", "body"):
            if isinstance(getattr(block, part, None), tuple):
                yield from charts_in(getattr(block, part))


def test_every_chart_says_what_it_shows(demo: tuple[WorkedLesson, Cautioned]) -> None:
    """This test ensures that each chart's words name every course it draws, with a figure, and that what it draws
    lies clear of other words on every paper that the document goes on."""
    worked, cautioned = demo
    found = 0
    for document in documents_for(worked, cautioned, ["handout", "wall-chart"]):
        for chart in charts_in(read_page_text(document.page_text)):
            found += 1
            for line in chart.lines:
                assert line.name.split(" left")[0].lower() in chart.says.lower()
            assert any(letter.isdigit() for letter in chart.says)
            for paper in DOCUMENTS[document.kind.name].papers:
                for size in ("ordinary", "large"):
                    style = style_for(Setting(paper, size, document.kind.layout))
                    for share in (0.35, 0.5, 0.76):
                        assert (
                            over_one_another(chart_drawing(chart, style.column, style.depth * share, style.small)) == []
                        )
    assert found


def test_bands_match_published() -> None:
    """This test ensures that the band of alpha-amylase is that of Rani and others 2024 (abstract: optimum 65 to 75
    degrees), and that the other band names no source, since it is common practice."""
    rows = {row["enzyme"]: row for row in published_table("enzyme_windows").rows}
    assert (rows["alpha-amylase"]["low"], rows["alpha-amylase"]["high"]) == (65, 75)
    assert rows["beta-amylase"]["source"] == ""
    assert "common practice" in rows["beta-amylase"]["rests_on"]
    assert len(enzyme_bands()) == 2


def test_traces_keep_to_the_lesson(demo: tuple[WorkedLesson, Cautioned]) -> None:
    """This test ensures that the day's traces run forward in time and stay between ice and the boil, and that each
    wort ends the day at the temperature at which the lesson leaves it."""
    worked, _ = demo
    for trace in traces_of_day(worked, day_plan(worked)):
        times = [minute for minute, _ in trace.points]
        assert times == sorted(times)
        assert all(0 <= value <= 100.5 for _, value in trace.points)
