"""Page text is read into the blocks that it says, and author text in it stays what the author typed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from presenter.documents import blocks as b
from presenter.documents.page_text import PageTextError, escaped, read_page_text, read_words

PRINTABLE = st.characters(exclude_categories=["Cc", "Cs", "Cf", "Cn", "Co"])
TRICKY = " \\`*_{}[]<>#+-.!|~&:='\"()1234567890ax;/\n?,%@\t"
AUTHOR_TEXT = st.text(PRINTABLE, max_size=60) | st.text(TRICKY, max_size=40)


def squeezed(text: str) -> str:
    """The text with its whitespace normalised."""
    return " ".join(text.split())


@given(AUTHOR_TEXT)
def test_escaped_text_is_one_paragraph_of_the_same_words(text: str) -> None:
    """Author text on a line of its own is read back as one paragraph with the author's words."""
    blocks = read_page_text(escaped(text))
    if not squeezed(text):
        assert blocks == ()
        return
    (only,) = blocks
    assert isinstance(only, b.Text)
    assert squeezed(b.plain(only.words)) == squeezed(text)


@given(AUTHOR_TEXT)
def test_escaped_text_is_the_same_in_every_place(text: str) -> None:
    """Author text is literal in list items, table cells, headings, attributes and YAML values."""
    safe = escaped(text)
    wanted = squeezed(text)
    if not wanted:
        return
    page = (
        f"# {safe}\n\n- {safe}\n\n| a | b |\n| --- | --- |\n| {safe} | x |\n\n"
        f'```caution id=x severity=danger duty=mandatory heading="{safe}"\n{safe}\n```\n\n'
        f'```key\nlabel: {safe}\nvalue: "{safe}"\ngive or take: {safe}\n```\n\nwords {safe}\n{safe}'
    )
    heading, listing, table, caution, key, text_block = read_page_text(page)
    assert isinstance(heading, b.Heading)
    assert isinstance(listing, b.ListBlock)
    assert isinstance(table, b.Table)
    assert isinstance(caution, b.Caution)
    assert isinstance(key, b.Numbers)
    assert isinstance(text_block, b.Text)
    (item,) = listing.items[0]
    (said,) = caution.body
    assert isinstance(item, b.Text)
    assert isinstance(said, b.Text)
    row = key.rows[0]
    for words in (
        heading.words,
        item.words,
        table.rows[0][0],
        caution.heading,
        said.words,
        row.label,
        row.value,
        row.give_or_take,
    ):
        assert squeezed(b.plain(words)) == wanted
    assert squeezed(b.plain(text_block.words)) == squeezed(f"words {text} {text}")


@pytest.mark.parametrize(
    "text",
    [
        "1412. The year the roll ends",
        "# x",
        '<img src="x">',
        "[a](b)",
        "*",
        "_x_",
        "`x`",
        "a | b",
        "- x",
        ":",
        "a: b",
        "===",
        "---",
        "![a](b)",
        "1) x",
        "~~~",
        "&amp;",
        "\\",
        "> x",
        "12\u00a0°C",
        "end!",
        "www.harrowmere.example",
    ],
)
def test_escaped_examples_are_literal(text: str) -> None:
    """Text that Markdown would read as structure comes out as it was typed."""
    assert read_page_text(escaped(text)) == (b.Text((b.Span(text),)),)


def test_headings_carry_step_number_and_anchor() -> None:
    """A heading's number in brackets and its anchor in braces are taken off its words."""
    assert read_page_text("## (3a) First mash {#first-mash}") == (
        b.Heading(2, (b.Span("First mash"),), "3a", "first-mash"),
    )


def test_inline_markdown_becomes_spans() -> None:
    """Weight and links become spans, and stress is weight because sheets have no italics."""
    assert read_words("a **b** *c* [d](https://e.example)") == (
        b.Span("a "),
        b.Span("b", True),
        b.Span(" "),
        b.Span("c", True),
        b.Span(" "),
        b.Span("d", False, "https://e.example"),
    )


def test_every_fence_is_read() -> None:
    """Each fence of the documented table gives its block."""
    page = """```caution id=hot severity=never duty=advice at=sheet heading="Old pots"
Words **here**.
```
```note kind=science title="Why" evidence="modern study" confidence=sure
Body.
```
````card
Front.
```back
Back.
```
````
```table caption="C" widths="2 1" row-heads=yes
| a | b |
| - | -: |
| 1 | 2 |
```
```numbers what=W worth=X give-or-take=Y
- {label: a, value: 1, give or take: 2, key: yes}
```
```chart
says: It falls.
across: {label: min, low: 0, high: 10}
up: {label: heat}
lines: [{name: a, points: [[0, 1], [10, −2.5]], spread: [[0, 1, 2]]}]
bands: [{name: b, low: 1, high: 2}]
marks: [{name: c, at: 5}]
caption: Words
size: wall
```
```picture
path: a.png
says: A tub.
```
```qr
address: https://harrowmere.example
words: More
```
```answer lines=3 marks="2 marks"
```
```answer squares="20x8"
```
```page-break
```
***
"""
    words = (b.Span("a"),)
    assert read_page_text(page) == (
        b.Caution(
            "hot",
            "advice",
            "never",
            "sheet",
            (b.Span("Old pots"),),
            (b.Text((b.Span("Words "), b.Span("here", True), b.Span("."))),),
        ),
        b.Note(
            "science", (b.Span("Why"),), (b.Span("modern study"),), (b.Span("sure"),), (b.Text((b.Span("Body."),)),)
        ),
        b.Card((b.Text((b.Span("Front."),)),), (b.Text((b.Span("Back."),)),)),
        b.Table(
            (words, (b.Span("b"),)),
            (((b.Span("1"),), (b.Span("2"),)),),
            (2.0, 1.0),
            (False, True),
            (b.Span("C"),),
            True,
        ),
        b.Numbers(
            (b.NumberRow(words, (b.Span("1"),), (b.Span("2"),), True),),
            ((b.Span("W"),), (b.Span("X"),), (b.Span("Y"),)),
        ),
        b.Chart(
            "It falls.",
            b.Axis("min", 0, 10),
            b.Axis("heat"),
            (b.Line("a", ((0, 1), (10, -2.5)), ((0, 1, 2),)),),
            (b.Band("b", 1, 2),),
            (b.Mark("c", 5),),
            (b.Span("Words"),),
            "wall",
        ),
        b.Picture("a.png", "A tub."),
        b.QRCode("https://harrowmere.example", (b.Span("More"),)),
        b.AnswerSpace(3, None, (b.Span("2 marks"),)),
        b.AnswerSpace(0, (20, 8)),
        b.PageBreak(),
        b.Rule(),
    )


@pytest.mark.parametrize(
    ("page", "line", "wrong"),
    [
        ("a\n\n```cuation\nx\n```", 3, "there is no fence named 'cuation'; did you mean 'caution'?"),
        (
            "```caution id=a severity=high duty=advice\nx\n```",
            1,
            "'severity' is 'high'; it may be never, danger, warning, caution, notice",
        ),
        ("```caution severity=danger duty=advice\nx\n```", 1, "the fence 'caution' needs 'id'"),
        ("```caution id=a severity=danger duty=advice\n```", 1, "a caution has no words"),
        ("```key\nlabel: a\nvalu: 3\n```", 3, "a key number has no 'valu'; did you mean 'value'?"),
        ("```key\nlabel: a\nlabel: b\nvalue: c\n```", 3, "'label' is written twice"),
        ("````card\nx\n\n```note kind=sceince\n```\n````", 4, "'kind' is 'sceince'; it may be science, history"),
        ("```back\nx\n```", 1, "a 'back' fence stands outside a card"),
        ("> x", 1, "a quotation mark '>' starts this line; page text has no quotations, use a note"),
        (
            "```chart\nsays: a\nacross: {label: x}\nup: {label: y}\nlines:\n- name: l\n"
            "  points: [[0, hot], [1, 2]]\n```",
            7,
            "'points' holds 'hot', which is not a number",
        ),
        (
            "```qr\naddress: [\n```",
            3,
            "the fence 'qr' is not good YAML: expected the node content, but found '<stream end>'",
        ),
        ("words ![x](y.png)", 1, "a picture stands among words; give it a paragraph of its own"),
        ('```note kind=science title="a\nx\n```', 1, '\'title="a\' does not read as key=value or key="some words"'),
    ],
)
def test_wrong_page_text_names_its_line(page: str, line: int, wrong: str) -> None:
    """Page text that cannot be read gives the line and one sentence."""
    with pytest.raises(PageTextError) as caught:
        read_page_text(page)
    assert (caught.value.line, caught.value.wrong) == (line, wrong)
    assert str(caught.value) == f"page text, line {line}: {wrong}"
