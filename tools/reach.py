"""What nobody reaches: functions and classes that no verb, route or front of the library leads to.

    python tools/reach.py              the names, with their lines
    python tools/reach.py --totals     counts by package

Definitions at the top of a module are nodes. What a definition names, of its own module or of what its module
imports, it reaches; a module that is imported reaches what its own statements name. Where calls begin: the
command line, the program of the server, what a process is started with by name, and the public names of
`rehaul` itself. Methods are reached with their class, but for public ones that nobody in the program names.
"""

from __future__ import annotations

import argparse
import ast
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "src" / "rehaul"
BEGINS = ("rehaul.__main__", "rehaul.cli.main", "rehaul")
VERB = ("rehaul.cli.", "_verb")  # modules of the command line that are imported when they are called
WARM = ".warm"  # modules that are started by the name of their package, to compile
FRONT = "rehaul"  # what it hands on is for whoever imports it
HANDED = ("ROUTES", "warm_up", "__getattr__")  # names that are taken from every module that is loaded
BODY = "<module>"
BY_NAME = re.compile(r"(rehaul(?:\.\w+)+)(?: import |:)(\w+)")  # as processes are started
Node = tuple[str, str]  # module, name at its top


@dataclass(frozen=True)
class Definition:
    """A function or class at the top of a module."""

    module: str
    name: str
    lines: int


def module_of(file: Path, source: Path) -> str:
    parts = ("rehaul", *file.relative_to(source).with_suffix("").parts)
    return ".".join(part for part in parts if part != "__init__")


@cache
def modules(source: Path = SOURCE) -> dict[str, ast.Module]:
    return {
        module_of(file, source): ast.parse(file.read_text(encoding="utf-8"))
        for file in sorted(source.rglob("*.py"))
    }


def top(tree: ast.Module) -> Iterator[ast.stmt]:
    """Statements at the top, those under a condition too."""
    for node in tree.body:
        if isinstance(node, ast.If | ast.Try):
            for inner in ast.iter_child_nodes(node):
                if isinstance(inner, ast.stmt):
                    yield inner
        else:
            yield node


def defined(tree: ast.Module) -> dict[str, ast.stmt]:
    """Functions, classes and values at the top, by name."""
    found: dict[str, ast.stmt] = {}
    for node in top(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            found[node.name] = node
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            for target in targets:
                for name in ast.walk(target):
                    if isinstance(name, ast.Name):
                        found[name.id] = node
    return found


def imported(tree: ast.AST, known: dict[str, ast.Module]) -> dict[str, Node]:
    """What names stand for that were imported anywhere in this code, from our own modules."""
    found: dict[str, Node] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module in known:
            for alias in node.names:
                found[alias.asname or alias.name] = (str(node.module), alias.name)
        elif isinstance(node, ast.Import):
            for alias in node.names:
                if alias.name in known:
                    found[alias.asname or alias.name] = (alias.name, BODY)
    return found


class Graph:
    """Who names whom."""

    def __init__(self, source: Path = SOURCE) -> None:
        self.known = modules(source)
        self.defined = {name: defined(tree) for name, tree in self.known.items()}
        self.imported = {name: imported(tree, self.known) for name, tree in self.known.items()}

    def settled(self, node: Node) -> Node:
        """The place of a definition behind names that are handed on."""
        seen: set[Node] = set()
        while node not in seen and node[0] in self.known:
            seen.add(node)
            module, name = node
            if name != BODY and name not in self.defined[module]:
                if name in self.imported[module]:
                    node = self.imported[module][name]
                elif f"{module}.{name}" in self.known:
                    node = f"{module}.{name}", BODY
        return node

    def named(self, module: str, code: ast.AST) -> Iterator[Node]:
        """What this code names."""
        here, names = self.defined[module], self.imported[module]
        for node in ast.walk(code):
            if isinstance(node, ast.Name):
                if node.id in here:
                    yield module, node.id
                if node.id in names:
                    yield self.settled(names[node.id])
            elif isinstance(node, ast.Attribute):
                yield from self._through(module, node)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield from self._by_name(module, node.value)
            elif isinstance(node, ast.ImportFrom | ast.Import):
                yield from ((target, BODY) for target in self._loads(node))

    def _through(self, module: str, node: ast.Attribute) -> Iterator[Node]:
        """`words.listed`, where `words` is a module."""
        dotted = ast.unparse(node.value)
        first = self.settled(self.imported[module].get(dotted, (dotted, BODY)))
        known = first[1] == BODY and first[0] in self.known
        if known and (node.attr in self.defined[first[0]] or node.attr in self.imported[first[0]]):
            yield self.settled((first[0], node.attr))

    def _by_name(self, module: str, text: str) -> Iterator[Node]:
        """What a process is started with, and names in annotations."""
        for target, name in BY_NAME.findall(text):
            if target in self.known and name in self.defined[target]:
                yield target, BODY
                yield target, name
        if text in self.known:
            yield text, BODY
        elif text.isidentifier() and text in self.defined[module]:
            yield module, text

    def _loads(self, node: ast.ImportFrom | ast.Import) -> Iterator[str]:
        names = [node.module or ""] if isinstance(node, ast.ImportFrom) else [a.name for a in node.names]
        if isinstance(node, ast.ImportFrom):
            names += [f"{node.module}.{alias.name}" for alias in node.names]
        for name in names:
            parts = name.split(".")
            for size in range(1, len(parts) + 1):
                if ".".join(parts[:size]) in self.known:
                    yield ".".join(parts[:size])

    def reached(self, begins: tuple[str, ...] = BEGINS) -> set[Node]:
        waiting: list[Node] = [
            (module, BODY)
            for module in self.known
            if module in begins
            or module.endswith(WARM)
            or (module.startswith(VERB[0]) and module.endswith(VERB[1]))
        ]
        waiting += [self.settled(node) for node in self.imported.get(FRONT, {}).values()]
        found: set[Node] = set()
        while waiting:
            node = waiting.pop()
            if node in found:
                continue
            found.add(node)
            module, name = node
            if name == BODY:
                for statement in top(self.known[module]):
                    waiting += self._of_statement(module, statement)
            elif name in self.defined[module]:
                waiting += self.named(module, self.defined[module][name])
        return found

    def _of_statement(self, module: str, statement: ast.stmt) -> Iterator[Node]:
        """What a module reaches by being loaded: its imports, and what its own statements call."""
        if isinstance(statement, ast.ImportFrom | ast.Import):
            yield from ((target, BODY) for target in self._loads(statement))
        elif isinstance(statement, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            if statement.name in HANDED:
                yield module, statement.name
            for decorator in statement.decorator_list:
                yield from self.named(module, decorator)
                if registers(decorator):
                    yield module, statement.name
        elif isinstance(statement, ast.Assign | ast.AnnAssign):
            handed = [name for name in HANDED if self.defined[module].get(name) is statement]
            yield from ((module, name) for name in handed)  # the others are reached by their name
        else:
            yield from self.named(module, statement)

    def unreached(self) -> list[Definition]:
        reached = self.reached()
        return [
            Definition(module, name, (node.end_lineno or 0) - node.lineno + 1)
            for module, names in self.defined.items()
            for name, node in names.items()
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef)
            and (module, name) not in reached
        ]


def registers(decorator: ast.expr) -> bool:
    """Whether a decorator hands the function to somebody who calls it: a verb, a rule of a table."""
    call = decorator.func if isinstance(decorator, ast.Call) else decorator
    return isinstance(call, ast.Attribute) and call.attr in (
        "command",
        "group",
        "route",
        "callback",
        "register",
    )


def main() -> None:
    said = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    said.add_argument("--totals", action="store_true")
    asked = said.parse_args()
    found = Graph().unreached()
    if asked.totals:
        counts, lines = Counter(one.module.split(".")[1] for one in found), Counter[str]()
        for one in found:
            lines[one.module.split(".")[1]] += one.lines
        for package, count in counts.most_common():
            print(f"{package:12} {count:4} definitions, {lines[package]:5} lines")
    else:
        for one in found:
            print(f"{one.module}.{one.name}: {one.lines} lines")
    print(f"{len(found)} functions and classes that nobody reaches, {sum(one.lines for one in found)} lines")


if __name__ == "__main__":
    main()
