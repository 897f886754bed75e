"""Small breakages of a file of source, for `sample_breakages.py`: where they are possible, how they read.

Left as they are: docstrings and all other text, annotations, decorators, what a `raise` says, `__all__`,
what is printed or logged, and arguments that only tell a library how to do its work.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

HAS_LOOPS = "from rehaul.kernels.loops import "
COMPARE: dict[type, tuple[type, ...]] = {
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.GtE),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.LtE),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
ARITHMETIC: dict[type, type] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
}
SAME_EITHER_WAY = ("min", "max", "zip", "isclose", "hypot", "isinstance", "issubclass", "hasattr", "getattr")
TELLING = ("print", "warn", "warning", "debug", "info", "echo")  # what is said on the way, not what comes out
HOW = (
    "strict",
    "encoding",
    "exist_ok",
    "parents",
    "check",
    "ensure_ascii",
    "indent",
    "maxsize",
    "missing_ok",
)
SKIPPED = ("annotation", "returns", "decorator_list", "format_spec")


@dataclass(frozen=True)
class Change:
    """One small change: the place, how it read before and after, and the whole text with it."""

    file: str  # from the top of the tree
    line: int
    kind: str
    before: str
    after: str
    function: int  # the first line of the innermost function around it; 0 at the top of the module
    compiled: bool  # the module has compiled loops
    text: str  # the module with the change in it
    code: Any  # the same, compiled where its lines still are those of the file

    def __str__(self) -> str:
        return f"{self.file}:{self.line}  {self.kind}: {self.before}  ->  {self.after}"


@dataclass(frozen=True)
class Place:
    """A node that may be changed, and what holds it."""

    parent: ast.AST
    field: str
    at: int | None  # in a list
    function: int
    kind: str
    old: ast.AST
    new: ast.AST

    @property
    def line(self) -> int:
        return int(getattr(self.old, "lineno", 0))

    def put(self, node: ast.AST) -> None:
        if self.at is None:
            setattr(self.parent, self.field, node)
        else:
            getattr(self.parent, self.field)[self.at] = node


def places(tree: ast.Module) -> list[Place]:
    return list(_within(tree, 0))


def change_at(place: Place, tree: ast.Module, path: Path, root: Path) -> Change:
    """The change of that place; the tree is as it was afterwards."""
    before = _said(place.old)
    ast.copy_location(place.new, place.old)
    place.put(ast.fix_missing_locations(place.new))
    try:
        text, code = ast.unparse(tree), compile(tree, str(path), "exec", dont_inherit=True)
    finally:
        place.put(place.old)
    compiled, after = HAS_LOOPS in path.read_text(encoding="utf-8"), _said(place.new)
    file = str(path.relative_to(root))
    return Change(file, place.line, place.kind, before, after, place.function, compiled, text, code)


def _said(node: ast.AST) -> str:
    text = " ".join(ast.unparse(node).split())
    return text if len(text) < 90 else f"{text[:86]} ..."


def _within(parent: ast.AST, function: int) -> Iterator[Place]:
    """Places under a node, in the order of the source."""
    for field, value in ast.iter_fields(parent):
        inside = function
        if isinstance(parent, ast.FunctionDef | ast.AsyncFunctionDef) and field == "body":
            inside = min([parent.lineno, *(one.lineno for one in parent.decorator_list)])
        nodes = enumerate(value) if isinstance(value, list) else [(None, value)]
        for at, node in nodes if field not in SKIPPED else ():
            if isinstance(node, ast.AST) and not _left_alone(node, parent):
                for kind, new in _changes(node, parent, field):
                    yield Place(parent, field, at, inside, kind, node, new)
                yield from _within(node, inside)


def _left_alone(node: ast.AST, parent: ast.AST) -> bool:
    if isinstance(node, ast.JoinedStr | ast.Import | ast.ImportFrom | ast.Assert):
        return True
    if isinstance(node, ast.If) and ast.unparse(node.test) in ("TYPE_CHECKING", "__name__ == '__main__'"):
        return True
    if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]).startswith("__"):
        return True
    if isinstance(node, ast.FunctionDef) and node.name in ("__repr__", "__str__"):
        return True
    if isinstance(node, ast.keyword) and node.arg in HOW:
        return True
    if isinstance(node, ast.Call) and _name(node) in (*TELLING, "TypeVar", "Literal", "cast"):
        return True
    return isinstance(parent, ast.Raise)


def _name(call: ast.Call) -> str:
    return ast.unparse(call.func).rsplit(".", 1)[-1]


def _changes(node: ast.AST, parent: ast.AST, field: str) -> Iterator[tuple[str, ast.AST]]:
    if isinstance(node, ast.stmt):
        yield from _of_statement(node)
    elif isinstance(node, ast.Compare) and len(node.ops) == 1:
        for other in COMPARE[type(node.ops[0])]:
            yield "comparison", ast.Compare(node.left, [other()], node.comparators)
    elif isinstance(node, ast.BoolOp):
        yield "and/or", ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values)
    elif isinstance(node, ast.BinOp) and type(node.op) in ARITHMETIC and not _of_text_or_types(node):
        yield "arithmetic", ast.BinOp(node.left, ARITHMETIC[type(node.op)](), node.right)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield "not", node.operand
    elif isinstance(node, ast.Constant) and type(node.value) in (int, float, bool):
        yield "constant", ast.Constant(_moved(node.value))
    elif isinstance(node, ast.Call) and len(node.args) > 1 and _name(node) not in SAME_EITHER_WAY:
        first, second, *others = node.args
        starred = isinstance(first, ast.Starred) or isinstance(second, ast.Starred)
        if not starred and ast.dump(first) != ast.dump(second):
            yield "swapped", ast.Call(node.func, [second, first, *others], node.keywords)
    if field == "test" or (isinstance(parent, ast.comprehension) and field == "ifs"):
        if not isinstance(node, ast.Constant | ast.UnaryOp):
            yield "not", ast.UnaryOp(ast.Not(), copy.deepcopy(node))
        if not isinstance(parent, ast.While):
            yield "branch", ast.Constant(True)
        yield "branch", ast.Constant(False)


def _of_statement(node: ast.stmt) -> Iterator[tuple[str, ast.AST]]:
    if isinstance(node, ast.Return) and node.value is not None and not _is_none(node.value):
        empty = {ast.List: ast.List([], ast.Load()), ast.ListComp: ast.List([], ast.Load())}
        yield "returned", ast.Return(empty.get(type(node.value), ast.Constant(None)))
    elif isinstance(node, ast.AugAssign) and type(node.op) in ARITHMETIC:
        yield "arithmetic", ast.AugAssign(node.target, ARITHMETIC[type(node.op)](), node.value)
        yield "dropped", ast.Pass()
    elif _may_go(node):
        yield "dropped", ast.Pass()


def _may_go(node: ast.stmt) -> bool:
    """Statements without which the rest still runs."""
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Call) and _name(node.value) not in TELLING
    if isinstance(node, ast.Assign):
        return isinstance(node.targets[0], ast.Attribute | ast.Subscript)
    if isinstance(node, ast.Raise):
        return "Error" not in ast.unparse(node)[:40]
    return isinstance(node, ast.Continue | ast.Break)


def _is_none(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def _of_text_or_types(node: ast.BinOp) -> bool:
    """Text put together or filled in, and `A | B` as types."""
    sides = (node.left, node.right)
    text = any(isinstance(n, ast.JoinedStr) or isinstance(getattr(n, "value", 0), str) for n in sides)
    first = ast.unparse(node.left).split()[0]
    types = isinstance(node.op, ast.BitOr) and (
        first[0].isupper() or first in ("str", "int", "float", "bytes")
    )
    return text or types


def _moved(value: float | bool) -> float | bool:
    if isinstance(value, bool):
        return not value
    return value + 1 if isinstance(value, int) else value * 1.5 or 1.0
