"""Make an author's text safe to put into page text.

In: any text. Out: the same on one line, with whatever Markdown or YAML would read as a sign written as an entity.
"""

from __future__ import annotations

import re

__all__ = ["escaped"]

_ENTITIES = {
    "&": "&amp;",
    "<": "&lt;",
    ">": "&gt;",
    '"': "&quot;",
    "\\": "&bsol;",
    "`": "&grave;",
    "*": "&ast;",
    "_": "&lowbar;",
    "[": "&lbrack;",
    "]": "&rbrack;",
    "{": "&lbrace;",
    "}": "&rbrace;",
    "|": "&vert;",
    "~": "&#126;",
    "#": "&num;",
}
_AT_START = {
    "-": "&#45;",
    "+": "&plus;",
    "=": "&equals;",
    ":": "&colon;",
    ".": "&period;",
    ")": "&rpar;",
    "(": "&lpar;",
    "!": "&excl;",
    "?": "&quest;",
    ",": "&comma;",
    "%": "&percnt;",
    "@": "&commat;",
    "'": "&apos;",
}
_SPACES = re.compile(r"[ \t\r\n\f\v\x1c-\x1f\x85\u2028\u2029]+")
_COUNTED = re.compile(r"^(\d{1,9})([.)])")


def escaped(text: str) -> str:
    """``text`` so that page text prints it as it stands, on one line.

    Whitespace (but not the no-break space) is folded to single spaces. Characters with a meaning in Markdown or
    YAML become named entities, which are right in paragraphs, attributes, table cells and YAML values alike.
    """
    folded = _SPACES.sub(" ", text).strip()
    if not folded:
        return ""
    first, last = folded[0], folded[-1]
    counted = _COUNTED.match(folded)
    out = "".join(_ENTITIES.get(letter, letter) for letter in folded)
    if counted:
        stop = "&period;" if counted[2] == "." else "&rpar;"
        out = counted[1] + stop + out[counted.end() :]
    elif first in _AT_START:
        out = _AT_START[first] + out[1:]
    if len(folded) > 1 and last in "!:":
        out = out[:-1] + _AT_START[last]
    return out.replace(": ", "&colon; ")
