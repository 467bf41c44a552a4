"""The river: which stage of the package may import which other, read from the imports themselves.

In: every module under ``presenter/``. Out: one finding per import that the table does not allow. The table is the
design's column "may import"; ``problems`` is open to all, and a stage is open to itself.
"""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "presenter"

ABOVE_DOCUMENTS = {"quantities", "sources", "science", "lesson", "working", "cautions", "days", "speech"}
ALL = ABOVE_DOCUMENTS | {"documents", "printing", "releasing", "library"}
MAY_IMPORT: dict[str, set[str]] = {
    "problems": set(),
    "quantities": set(),
    "sources": set(),
    "science": {"quantities", "sources"},
    "lesson": {"quantities", "sources"},
    "working": {"lesson", "science", "quantities", "sources"},
    "cautions": {"working", "lesson", "science", "quantities", "sources"},
    "days": {"working", "lesson", "cautions", "science", "quantities", "sources"},
    "speech": {"working", "lesson", "quantities"},
    "documents": ABOVE_DOCUMENTS,
    "printing": {"documents.blocks"},
    "releasing": {"printing", "documents", "cautions"},
    "library": ABOVE_DOCUMENTS | {"documents", "printing", "releasing"},
    "commands": ALL,
}
# Modules at the top of the package that belong to the command line: they call the stages and print.
COMMAND_LINE = {"commands", "__main__"}


def stage_of(module: str) -> str:
    """The stage of a dotted name such as ``presenter.lesson.reading``; empty for the package itself."""
    parts = module.split(".")
    if len(parts) < 2:
        return ""
    return "commands" if parts[1] in COMMAND_LINE else parts[1]


def modules() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def dotted(path: Path) -> str:
    parts = ["presenter", *path.relative_to(PACKAGE).with_suffix("").parts]
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports_of(path: Path) -> list[tuple[int, str]]:
    """Line and dotted name of everything of ours that a module imports, at any depth, with names of submodules."""
    own = dotted(path)
    package = own if path.name == "__init__.py" else own.rpartition(".")[0]
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(node.lineno, name.name) for name in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                up = package.split(".")[: len(package.split(".")) - node.level + 1]
                base = ".".join([*up, *([base] if base else [])])
            for name in node.names:
                inner = PACKAGE.parent.joinpath(*base.split("."), name.name)
                is_module = inner.with_suffix(".py").is_file() or inner.is_dir()
                found.append((node.lineno, f"{base}.{name.name}" if is_module else base))
    return [(line, name) for line, name in found if name.split(".")[0] == "presenter"]


def allowed(stage: str, imported: str) -> bool:
    """Whether a module of ``stage`` may import the dotted name ``imported``."""
    other = stage_of(imported)
    if other in {"problems", stage} or (stage == "commands" and other == ""):
        return True
    rest = imported.removeprefix("presenter.")
    return any(rest == permitted or rest.startswith(f"{permitted}.") for permitted in MAY_IMPORT[stage])


def test_there_is_a_stage_for_every_module() -> None:
    """This test ensures that every module lies in a stage of the table, and that the table holds most of them."""
    stages = {stage_of(dotted(path)) for path in modules()} - {""}
    assert stages <= set(MAY_IMPORT)
    assert {"problems", "quantities", "sources", "science", "lesson", "working", "cautions"} <= stages


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(PACKAGE)))
def test_imports_follow_the_river(path: Path) -> None:
    """This test ensures that a module imports only what the table allows to its stage, wherever the import stands."""
    stage = stage_of(dotted(path))
    if stage == "":  # presenter/__init__.py lists the public names of every stage
        stage = "commands"
    refused = [f"line {line}: {name}" for line, name in imports_of(path) if not allowed(stage, name)]
    assert refused == []


def test_the_river_does_not_turn_back() -> None:
    """This test ensures that the table itself holds no two stages that may import one another, round any bend."""
    reach = {stage: {name.split(".")[0] for name in may} for stage, may in MAY_IMPORT.items()}
    for _ in reach:
        reach = {stage: may | {far for near in may for far in reach.get(near, set())} for stage, may in reach.items()}
    assert [stage for stage, may in reach.items() if stage in may] == []


@pytest.mark.parametrize(
    ("stage", "imported", "answer"),
    [
        ("lesson", "presenter.working", False),
        ("lesson", "presenter.problems", True),
        ("printing", "presenter.documents.blocks", True),
        ("printing", "presenter.documents.page_text", False),
        ("printing", "presenter.documents", False),
        ("science", "presenter.lesson.fields", False),
        ("working", "presenter.science.wort", True),
        ("commands", "presenter.releasing", True),
    ],
)
def test_the_judge_itself(stage: str, imported: str, answer: bool) -> None:
    """This test ensures that the judging of an import agrees with cases decided by hand from the table."""
    assert allowed(stage, imported) is answer
