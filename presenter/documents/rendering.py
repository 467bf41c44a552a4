"""Templates and values into page text.

In: a Jinja2 template (the lesson's own folder first, then the library's, then the package's) and the values it may
name. Out: page text. Author text is escaped here, in one place; a bare float is refused, since rounding belongs to
``quantities``; an unknown name is an error; what a template may write is bounded.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import jinja2
from jinja2.sandbox import ImmutableSandboxedEnvironment

from presenter.documents.page_text import escaped
from presenter.problems import BrewingPresenterError, Place, Problem, ProblemsFoundError, nearest

__all__ = ["LARGEST_PAGE_TEXT", "PageText", "environment", "render", "render_text"]

LARGEST_PAGE_TEXT = 2_000_000  # characters


class PageText(str):
    """Text that is page text already: blocks and sentences that this package made. It is not escaped again."""


class _RefusedValueError(BrewingPresenterError):
    """A template tried to print what no sheet prints."""


def _finalize(value: Any) -> str:
    if isinstance(value, PageText):
        return value
    if isinstance(value, jinja2.Undefined):
        return str(value)  # raises, naming the value
    if isinstance(value, str):
        return escaped(value)
    if isinstance(value, int) and not isinstance(value, bool):
        return str(value)
    kind = {float: "a bare number", bool: "yes or no", type(None): "nothing"}.get(
        type(value), "a list or a group of values"
    )
    raise _RefusedValueError(f"the template prints {kind}; print its words instead, such as number.words()")


class _Sentences(ImmutableSandboxedEnvironment):
    """A sandbox in which templates hold sentences: whatever would calculate is refused."""

    intercepted_binops = frozenset({"+", "-", "*", "/", "//", "%", "**"})

    def call_binop(self, context: jinja2.runtime.Context, operator: str, left: Any, right: Any) -> Any:
        raise _RefusedValueError(
            f"the template calculates ({operator}); numbers are worked out in the lesson, not on the page"
        )


def environment(folders: Sequence[Path]) -> ImmutableSandboxedEnvironment:
    """An environment whose templates come from ``folders``, the nearest first."""
    return _Sentences(
        loader=jinja2.FileSystemLoader([str(folder) for folder in folders]),
        undefined=jinja2.StrictUndefined,
        finalize=_finalize,
        autoescape=False,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        extensions=["jinja2.ext.loopcontrols"],
    )


def render(env: ImmutableSandboxedEnvironment, template: str, values: Mapping[str, Any]) -> str:
    """The page text that ``template`` makes of ``values``.

    Raises ProblemsFoundError at the template's file and line for anything wrong in it.
    """
    return _filled(lambda: env.get_template(template), template, values)


def render_text(env: ImmutableSandboxedEnvironment, text: str, name: str, values: Mapping[str, Any]) -> str:
    """The page text that a few lines of template make; ``name`` is the file that holds them.

    Raises ProblemsFoundError at that file for anything wrong in them.
    """
    return _filled(lambda: env.from_string(text), name, values)


def _filled(read: Callable[[], jinja2.Template], template: str, values: Mapping[str, Any]) -> str:
    try:
        parts: list[str] = []
        length = 0
        for part in read().generate(**values):
            parts.append(part)
            length += len(part)
            if length > LARGEST_PAGE_TEXT:
                raise _RefusedValueError("the template writes more than any sheet can hold")
        return "".join(parts)
    except jinja2.TemplateSyntaxError as error:
        _refuse(error.name or template, error.lineno, f"The template cannot be read: {_sentence(error.message)}")
    except jinja2.TemplateNotFound as error:
        _refuse(str(error.name), 1, "There is no such template.")
    except jinja2.UndefinedError as error:
        known = ", ".join(sorted(values))
        word = str(error.message).split("'")[1] if "'" in str(error.message) else ""
        close = nearest(word, values)
        _refuse(
            template,
            _line(error, template),
            f"The template names something that does not exist: {_sentence(str(error.message))}",
            f"Did you mean {close}?" if close else f"It may name: {known}.",
        )
    except (_RefusedValueError, jinja2.TemplateError, TypeError, ValueError, OverflowError, MemoryError) as error:
        _refuse(template, _line(error, template), f"The template cannot be filled in: {_sentence(str(error))}")
    raise AssertionError("unreachable")


def _sentence(text: str | None) -> str:
    return f"{(text or 'it is not understood').rstrip('.')}."


def _line(error: BaseException, template: str) -> int:
    """The line of the template at which ``error`` came up."""
    line = 1
    trace = error.__traceback__
    while trace is not None:
        if trace.tb_frame.f_code.co_filename.endswith(template):
            line = trace.tb_lineno
        trace = trace.tb_next
    return line


def _refuse(template: str, line: int, wrong: str, remedy: str = "") -> None:
    raise ProblemsFoundError((Problem(Place(template, line, 1), "", "", wrong, remedy),)) from None
