"""What a stranger meets in the source: how much is said, sourced, annotated, named once, and reached.

    python tools/measure_shape.py            the table
    python tools/measure_shape.py --short    public functions whose docstring is one line, by package

Public is a function, or a method of a public class, without a leading underscore at any level. The faces
(command line, server), what is handed to a library by a decorator, and properties are left out.
"""

from __future__ import annotations

import argparse
import ast
import re
import subprocess
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from reach import Graph

SOURCE = Path(__file__).parents[1] / "src" / "rehaul"
FACES = ("cli", "web")  # called by name of a verb or a route
REFERENCE = re.compile(
    r"\*\*Source\*\*|docs/\w+\.md|ITU-R|IEEE|TIA|IEC|RFC|\b(?:19|20)\d\d\)|fact row|fact table"
)
HANDED = {
    "property",
    "cached_property",
    "command",
    "group",
    "option",
    "field_validator",
    "model_validator",
    "overload",
}
Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Public:
    """One public function."""

    file: Path
    name: str
    lines: int  # of its docstring
    has_reference: bool
    is_annotated: bool

    @property
    def package(self) -> str:
        return self.file.relative_to(SOURCE).parts[0].removesuffix(".py")


def functions(source: Path = SOURCE) -> Iterator[Public]:
    """Every public function and method."""
    for file in sorted(source.rglob("*.py")):
        if file.name.startswith("_") and file.name != "__init__.py":
            continue
        yield from _of(file, ast.parse(file.read_text(encoding="utf-8")).body, "")


def _of(file: Path, body: list[ast.stmt], prefix: str) -> Iterator[Public]:
    for node in body:
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            yield from _of(file, node.body, f"{prefix}{node.name}.")
        elif isinstance(node, Function) and not node.name.startswith("_") and not _handed(node):
            text = ast.get_docstring(node) or ""
            yield Public(
                file,
                prefix + node.name,
                len(text.splitlines()),
                bool(REFERENCE.search(text)),
                _annotated(node),
            )


def _handed(node: Function) -> bool:
    names = {
        ast.unparse(d.func if isinstance(d, ast.Call) else d).split(".")[-1] for d in node.decorator_list
    }
    return bool(names & HANDED)


def _annotated(node: Function) -> bool:
    every = [
        *node.args.posonlyargs,
        *node.args.args,
        *node.args.kwonlyargs,
        node.args.vararg,
        node.args.kwarg,
    ]
    return node.returns is not None and all(
        one.annotation is not None for one in every if one and one.arg not in ("self", "cls")
    )


def named_twice(source: Path = SOURCE) -> dict[str, list[str]]:
    """Names of types (classes, aliases at the top of a module) that are defined in more than one place."""
    found: dict[str, list[str]] = defaultdict(list)
    for file in sorted(source.rglob("*.py")):
        for node in ast.parse(file.read_text(encoding="utf-8")).body:
            name = node.name if isinstance(node, ast.ClassDef) else ""
            if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
                name = node.targets[0].id if not node.targets[0].id.isupper() else ""
            if name[:1].isupper():
                found[name].append(file.relative_to(source).as_posix())
    return {name: places for name, places in found.items() if len(places) > 1}


def hidden_modules(source: Path = SOURCE) -> list[str]:
    """Modules that bear the name of something that their package hands on."""
    found = []
    for init in source.rglob("__init__.py"):
        inside = {file.stem for file in init.parent.glob("*.py")}
        inside |= {folder.parent.name for folder in init.parent.glob("*/__init__.py")}
        handed = {
            alias.asname or alias.name
            for node in ast.parse(init.read_text(encoding="utf-8")).body
            if isinstance(node, ast.ImportFrom)
            for alias in node.names
        }
        found += [f"{init.parent.name}.{name}" for name in sorted(inside & handed)]
    return found


def import_s() -> float:
    """Seconds that a fresh `import rehaul` takes beyond starting Python: the least of seven."""

    def took(code: str) -> float:
        started = time.perf_counter()
        subprocess.run([sys.executable, "-c", code], check=True)
        return time.perf_counter() - started

    return min(took("import rehaul") for _ in range(7)) - min(took("") for _ in range(7))


def main() -> None:
    said = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    said.add_argument("--short", action="store_true")
    every = [one for one in functions() if one.package not in FACES]
    if said.parse_args().short:
        short = Counter(one.package for one in every if one.lines < 2)
        for one in every:
            if one.lines < 2:
                print(f"{one.file.relative_to(SOURCE)}: {one.name}")
        print(dict(short))
        return
    longer, sourced = sum(one.lines > 1 for one in every), sum(one.has_reference for one in every)
    annotated = sum(one.is_annotated for one in every)
    sizes = [len(file.read_text(encoding="utf-8").splitlines()) for file in SOURCE.rglob("*.py")]
    rows = (
        ("public functions below the faces", f"{len(every)}"),
        ("docstring of more than one line", f"{longer / len(every):.0%}"),
        ("with a reference", f"{sourced / len(every):.0%}"),
        ("annotated", f"{annotated / len(every):.1%}"),
        ("names of types defined twice", f"{len(named_twice())}"),
        ("modules hidden behind a function", f"{len(hidden_modules())}"),
        ("functions and classes nobody reaches", f"{len(Graph().unreached())}"),
        ("longest module, lines", f"{max(sizes)}"),
        ("import rehaul, seconds", f"{import_s():.3f}"),
    )
    for what, value in rows:
        print(f"{what:40} {value:>8}")


if __name__ == "__main__":
    main()
