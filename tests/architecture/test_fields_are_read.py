"""Columns of fact tables and fields of a job that nobody reads: they are used, or they go.

A field counts as read where an attribute of its name is read anywhere in the program but in a check of the
row or model as it is made, or where a field of the job is named as a text (the gate's questions are asked by
name). So a field whose name another class shares may hide; what is found is true.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "rehaul"
JOB = ("house/model.py", "house/job.py")
WORDS = {"meaning", "language"}  # columns that tell whoever keeps a table, or looks it up, what its row is


def classes(source: Path) -> Iterator[tuple[str, ast.ClassDef]]:
    """Rows of facts, and models of the job."""
    for file in sorted(source.rglob("*.py")):
        place = file.relative_to(source).as_posix()
        for node in ast.parse(file.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef):
                bases = {ast.unparse(base) for base in node.bases}
                if (place.startswith("facts/") and "FactRow" in bases) or (place in JOB and "Model" in bases):
                    yield place, node


def fields(node: ast.ClassDef) -> Iterator[str]:
    for line in node.body:
        if isinstance(line, ast.AnnAssign) and "ClassVar" not in ast.unparse(line.annotation):
            yield ast.unparse(line.target)


def is_validator(node: ast.AST) -> bool:
    return isinstance(node, ast.FunctionDef) and any(
        "validator" in ast.unparse(decorator) for decorator in node.decorator_list
    )


def parts(node: ast.AST) -> Iterator[ast.AST]:
    """Everything in it but what only checks a row or model as it is made."""
    yield node
    for child in ast.iter_child_nodes(node):
        if not is_validator(child):
            yield from parts(child)


def reads(source: Path) -> set[str]:
    """Names that are read as attributes; texts in their quotes."""
    found = set()
    for file in source.rglob("*.py"):
        for node in parts(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Load):
                found.add(node.attr)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                found.add(repr(node.value))
    return found


def unread(source: Path = SOURCE) -> list[str]:
    read = reads(source)
    return [
        f"{place}: {node.name}.{name}"
        for place, node in classes(source)
        for name in fields(node)
        if name not in read | WORDS and not (place in JOB and repr(name) in read)
    ]


def test_every_column_and_field_is_read() -> None:
    assert unread() == []


ROW = """
class Row(FactRow):
    table: ClassVar[str] = "rows"
    name: str
    meaning: str
    more: float

    @model_validator(mode="after")
    def _checked(self): return self.more > 0

    def doubled(self): return 2 * self.name
"""


@pytest.mark.parametrize(
    ("use", "expected"),
    [
        ("", ["facts/rows.py: Row.more"]),
        ("def told(row): return row.more", []),
        ("def told(row): row.more = row.name", ["facts/rows.py: Row.more"]),
        ("def told(row): return getattr(row, 'more')", ["facts/rows.py: Row.more"]),
    ],
)
def test_the_check_has_teeth(use: str, expected: list[str], tmp_path: Path) -> None:
    (tmp_path / "facts").mkdir()
    (tmp_path / "facts" / "rows.py").write_text(ROW)
    (tmp_path / "used.py").write_text(use)
    assert unread(tmp_path) == expected
