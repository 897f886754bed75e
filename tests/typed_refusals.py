"""Words of refusals that are typed into code, directly, in a name, or by way of a function that refuses."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "src" / "rehaul"
WORDS = ("problem", "remedy")
Function = ast.FunctionDef | ast.AsyncFunctionDef


def typed_refusals(text: str) -> list[int]:
    """The lines of a source that give a refusal a problem or a remedy typed there, each once.

    Followed are names that hold it in the same function or in the module, both ends of `a if b else c`, and
    functions of any module that hand a refusal what they were given.
    """
    tree = ast.parse(text)
    scopes: list[ast.AST] = [node for node in ast.walk(tree) if isinstance(node, Function)]
    found = set()
    for scope in [*scopes, tree]:
        for call in ast.walk(scope):
            if isinstance(call, ast.Call):
                for words in _words_of(call):
                    found |= {end.lineno for end in _ends(words, scope, tree) if _is_typed(end)}
    return sorted(found)


@cache
def sources() -> tuple[tuple[Path, ast.Module], ...]:
    """Every module of the source, parsed."""
    return tuple((path, ast.parse(path.read_text(encoding="utf-8"))) for path in sorted(SOURCE.rglob("*.py")))


@cache
def refusal_classes() -> frozenset[str]:
    """The names of every class of refusals."""
    bases = {
        node.name: {_last_name(base) for base in node.bases}
        for _, tree in sources()
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef)
    }
    found = {"Refusal"}
    while more := {name for name, above in bases.items() if above & found} - found:
        found |= more
    return frozenset(found)


@cache
def _refusing() -> dict[str, set[tuple[int, str]]]:
    """Functions that give a refusal a parameter of theirs: its place among the arguments, and its name."""
    found: dict[str, set[tuple[int, str]]] = {}
    for _, tree in sources():
        for function in ast.walk(tree):
            if not isinstance(function, Function) or function.name == "__init__":
                continue
            given = [one.arg for one in (*function.args.posonlyargs, *function.args.args)]
            given = given[1:] if given[:1] == ["self"] else given
            named = [*given, *(one.arg for one in function.args.kwonlyargs)]
            for call in ast.walk(function):
                if isinstance(call, ast.Call) and _refuses(call):
                    for words in _words_of_refusal(call):
                        if isinstance(words, ast.Name) and words.id in named:
                            place = given.index(words.id) if words.id in given else -1
                            found.setdefault(function.name, set()).add((place, words.id))
    return found


def _words_of(call: ast.Call) -> Iterator[ast.expr]:
    if _refuses(call):
        yield from _words_of_refusal(call)
    for place, name in _refusing().get(_last_name(call.func), ()):
        if 0 <= place < len(call.args):
            yield call.args[place]
        yield from (word.value for word in call.keywords if word.arg == name)


def _words_of_refusal(call: ast.Call) -> list[ast.expr]:
    return [*call.args[:1], *(word.value for word in call.keywords if word.arg in WORDS)]


def _refuses(call: ast.Call) -> bool:
    """A refusal is made: by a class of them, or by `super().__init__` of one."""
    if isinstance(call.func, ast.Attribute) and call.func.attr == "__init__":
        return isinstance(call.func.value, ast.Call) and _last_name(call.func.value.func) == "super"
    return _last_name(call.func) in refusal_classes()


def _ends(node: ast.expr, scope: ast.AST, tree: ast.AST) -> Iterator[ast.expr]:
    if isinstance(node, ast.IfExp):
        parts = [node.body, node.orelse]
    elif isinstance(node, ast.BinOp):
        parts = [node.left, node.right]
    elif isinstance(node, ast.BoolOp):
        parts = node.values
    elif isinstance(node, ast.Name):
        held = [value for home in (scope, tree) for value in _held(node.id, home)]
        yield from (end for value in held for end in ([value] if _is_typed(value) else _sides(value)))
        return
    else:
        yield node
        return
    for part in parts:
        yield from _ends(part, scope, tree)


def _sides(value: ast.expr) -> list[ast.expr]:
    return [value.body, value.orelse] if isinstance(value, ast.IfExp) else []


def _held(name: str, home: ast.AST) -> Iterator[ast.expr]:
    """What a name is set to, in a function or, at its outermost, in a module."""
    for node in home.body if isinstance(home, ast.Module) else ast.walk(home):
        if isinstance(node, ast.Assign):
            for target in node.targets:
                if isinstance(target, ast.Name) and target.id == name:
                    yield node.value
                if isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple):
                    pairs = zip(target.elts, node.value.elts, strict=False)
                    yield from (value for one, value in pairs if getattr(one, "id", "") == name)


def _is_typed(node: ast.expr) -> bool:
    """A sentence in quotation marks; a code of the tables is none, and is not shown."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value != "" and not node.value.startswith("refused_")
    return isinstance(node, ast.JoinedStr)


def _last_name(node: ast.expr) -> str:
    return str(getattr(node, "id", getattr(node, "attr", "")))
