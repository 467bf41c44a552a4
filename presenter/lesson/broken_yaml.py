"""Where YAML breaks off, in an author's words: a tab, a colon inside a text, a quotation that closes too soon.

In: the text and the error of the YAML reader. Out: line and column (from 1), what is wrong, and what to do.
"""

from __future__ import annotations

import yaml

__all__ = ["told_in_words"]

_QUOTE = "Put the whole text between quotation marks."
_INDENT = "Set it in by as many spaces as the lines that it belongs with."


def told_in_words(text: str, error: yaml.MarkedYAMLError) -> tuple[int, int, str, str]:
    """Line, column, what is wrong there, and the remedy."""
    mark = error.problem_mark or error.context_mark
    if mark is None:
        return 1, 1, "The file cannot be read as YAML text.", ""
    said, context, opened = error.problem or "", error.context or "", error.context_mark
    line, column = mark.line, mark.column
    if _never_closed(said, context) and opened is not None:
        wrong, remedy = "What opens here is never closed.", "Close the quotation mark or the bracket where it ends."
        return opened.line + 1, opened.column + 1, wrong, remedy
    if "'\\t'" in said or _tab_leads(text, line):
        wrong = "A tab stands here; only spaces may set lines and values off."
        return line + 1, _tab_in(text, line, column) + 1, wrong, "Put spaces in place of the tab."
    if "another document" in said:
        remedy = "Take the three dashes out, or keep the second lesson in a file of its own."
        return line + 1, column + 1, "Three dashes begin a second file here.", remedy
    if "unknown escape" in said:
        return (
            line + 1,
            column + 1,
            "A backslash stands between double quotation marks here.",
            "Leave the backslash out.",
        )
    if said.startswith("found undefined alias"):
        return line + 1, column + 1, "A text cannot begin with * here.", _QUOTE
    if "cannot start any token" in said or "expected alphabetic or numeric" in said:
        sign = mark.buffer[mark.pointer] if mark.buffer and mark.pointer < len(mark.buffer) else ""
        return line + 1, column + 1, f"A text cannot begin with {sign or 'this sign'} here.", _QUOTE
    if said.startswith("mapping values are not allowed"):
        if ": " in _line_of(text, line)[:column]:
            return line + 1, column + 1, "A colon followed by a space stands inside a text here.", _QUOTE
        wrong = "This line is set in too far: the line above it has its value already."
        return line + 1, len(_line_of(text, line)) - len(_line_of(text, line).lstrip()) + 1, wrong, _INDENT
    if said.startswith("could not find expected ':'") and opened is not None:
        remedy = "Write a key, a colon, a space and its value; set a line that goes on with a text in further."
        return opened.line + 1, opened.column + 1, "No colon follows these words, so they are no key.", remedy
    if "flow" in context and opened is not None:
        if opened.line != line:
            wrong = "What opens here is not closed before a new line begins a key of its own."
            return opened.line + 1, opened.column + 1, wrong, "Close the bracket where it ends."
        wrong = "Something other than a comma or the closing bracket follows here."
        return (
            line + 1,
            column + 1,
            wrong,
            "Put a comma between two values, and quotation marks round a text with signs.",
        )
    quoted = _quotation_before(text, line, column) if "<scalar>" in said else None
    if quoted is not None:
        closed = f" on line {line + 1}" if quoted[0] != line else ""
        wrong = f"The quotation that opens here is closed too soon{closed}: more words follow."
        remedy = "Close it where its words end; put a text that holds an apostrophe between double quotation marks."
        return quoted[0] + 1, quoted[1] + 1, wrong, remedy
    if "block" in context:
        return line + 1, column + 1, "This line does not stand in line with the ones before it.", _INDENT
    remedy = "Look for a missing colon, quotation mark or closing bracket, or a tab used to indent."
    return line + 1, column + 1, "The lesson cannot be read from here on.", remedy


def _never_closed(said: str, context: str) -> bool:
    """Whether the file ended inside a quotation or a bracket, so that the place to look at is where that opened."""
    opened = ("while scanning a quoted", "while parsing a flow")
    ended = ("unexpected end of stream", "'<stream end>'")
    return any(words in context for words in opened) and any(words in said for words in ended)


def _line_of(text: str, number: int) -> str:
    lines = text.splitlines()
    return lines[number] if number < len(lines) else ""


def _tab_leads(text: str, line: int) -> bool:
    written = _line_of(text, line)
    return "\t" in written[: len(written) - len(written.lstrip())]


def _tab_in(text: str, line: int, column: int) -> int:
    return max(_line_of(text, line).find("\t"), 0) if "\t" in _line_of(text, line) else column


def _quotation_before(text: str, line: int, column: int) -> tuple[int, int] | None:
    """Where the quotation opens that ends just before ``line`` and ``column`` (from 0); nothing where none does."""
    found = None
    try:
        for token in yaml.scan(text, yaml.SafeLoader):
            if (token.start_mark.line, token.start_mark.column) >= (line, column):
                break
            if isinstance(token, yaml.ScalarToken) and token.style in ("'", '"'):
                after = (token.end_mark.line, token.end_mark.column)
                near = after[0] == line and not _line_of(text, line)[after[1] : column].strip()
                found = (token.start_mark.line, token.start_mark.column) if near else None
            else:
                found = None
    except yaml.YAMLError:
        return found
    return found
