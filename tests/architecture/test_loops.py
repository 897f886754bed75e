"""Compiled loops: decorated in one place, made of their own package alone, and all warmed up."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from rehaul.kernels.preparing import packages
from rehaul.kernels.sources import HERE, PACKAGE, files_of

DECORATORS = "rehaul.kernels.loops"
TYPES = "rehaul.arrays"  # for annotations, which numba does not read


def tree_of(file: Path) -> ast.Module:
    return ast.parse(file.read_text(encoding="utf-8"))


def taken(tree: ast.Module) -> Iterator[ast.ImportFrom]:
    """Imports of names from our own modules."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "rehaul":
            yield node


def has_loops(tree: ast.Module) -> bool:
    return any(node.module == DECORATORS for node in taken(tree))


def with_loops() -> list[Path]:
    return [file for file in sorted(PACKAGE.rglob("*.py")) if has_loops(tree_of(file))]


def names_in_loops(tree: ast.Module) -> set[str]:
    """Names that a decorated function reads."""
    loops = [node for node in tree.body if isinstance(node, ast.FunctionDef) and node.decorator_list]
    return {name.id for loop in loops for name in ast.walk(loop) if isinstance(name, ast.Name)}


def assigned(tree: ast.Module) -> dict[str, ast.expr]:
    """Names of a module with the expression that they stand for; each of a tuple with the whole."""
    found = {}
    for node in tree.body:
        targets = node.targets if isinstance(node, ast.Assign) else []
        for target in targets:
            for name in ast.walk(target):
                if isinstance(name, ast.Name):
                    found[name.id] = node.value
    return found


def home_of(file: Path) -> str:
    """The package of a module, whatever part of it it stands in."""
    return file.relative_to(PACKAGE).parts[0] if file.is_relative_to(PACKAGE) else file.parent.name


def dotted(file: Path) -> str:
    """The name a module is imported by."""
    return ".".join(file.relative_to(PACKAGE.parent).with_suffix("").parts)


def faults(file: Path) -> list[str]:
    """What a loop of this module is made of that the key of its package does not see."""
    tree, home = tree_of(file), home_of(file)
    known = {dotted(path): path for path in files_of(home)}
    read, problems = names_in_loops(tree), []
    values = {name: value for name, value in assigned(tree).items() if name in read}
    for node in taken(tree):
        if node.module in (DECORATORS, TYPES):
            continue
        name = str(node.module)
        if not name.startswith(f"rehaul.{home}.") or name not in known:
            problems.append(f"{file.name}:{node.lineno}: takes names from {node.module}")
            continue
        source = tree_of(known[name])
        defined = {
            node.name for node in source.body if isinstance(node, ast.FunctionDef | ast.ClassDef)
        } | set(assigned(source))
        for alias in node.names:
            if alias.name not in defined and alias.name in read:
                problems.append(f"{file.name}:{node.lineno}: {alias.name} comes from elsewhere")
        values |= {alias.name: assigned(source).get(alias.name, ast.Constant(0)) for alias in node.names}
    for name, value in values.items():
        calls = [ast.unparse(node.func) for node in ast.walk(value) if isinstance(node, ast.Call)]
        if name in read and any(not call.startswith("np.") for call in calls):
            problems.append(f"{file.name}: {name} is computed, perhaps from a table")
    return problems


def test_loops_are_made_of_their_own_package() -> None:
    files = with_loops()
    assert len(files) > 10
    problems = [fault for file in files for fault in faults(file)]
    assert not problems, "\n".join(problems)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("from rehaul.facts.wlan_numbers import X", "takes names from rehaul.facts.wlan_numbers"),
        ("from rehaul.radio import X", "takes names from rehaul.radio"),
        ("from rehaul.radio.antenna import STEPS", "STEPS comes from elsewhere"),
        ("X = len(open('table').read())", "X is computed"),
    ],
)
def test_the_check_has_teeth(line: str, says: str, tmp_path: Path) -> None:
    file = tmp_path / "radio" / "bad.py"
    file.parent.mkdir()
    (file.parent / "antenna.py").write_text("from rehaul.facts.radio_numbers import STEPS\n")
    file.write_text(
        f"from {DECORATORS} import compiled\n{line}\n\n@compiled\ndef f():\n    return X, STEPS\n"
    )
    assert any(says in fault for fault in faults(file))


def test_numba_compiles_in_one_place() -> None:
    users = [file for file in PACKAGE.rglob("*.py") if "import numba" in file.read_text(encoding="utf-8")]
    assert users == [HERE / "making.py"]


def test_every_package_with_loops_is_warmed_up() -> None:
    assert sorted({home_of(file) for file in with_loops()}) == packages()
