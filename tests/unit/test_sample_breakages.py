"""The tool that breaks the source has teeth: a weak test lets breakages pass, a strong one does not."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

TOOLS = Path(__file__).parents[2] / "tools"
sys.path.insert(0, str(TOOLS))
from breaking import change_at, places  # noqa: E402

PLANTED = '''"""Planted."""

LIMIT = 10


def held(load: int, others: list[int]) -> bool:
    """Whether it holds; `1 < 2` here is text."""
    total = load
    for other in others:
        if other < 0:
            continue
        total += other
    return total <= LIMIT
'''
WEAK = """from rehaul.{name} import held


def test_it() -> None:
    held(1, [2])
"""
STRONG = """import pytest
from rehaul.{name} import held


@pytest.mark.parametrize(
    ("load", "others", "holds"),
    [(1, [2], True), (8, [2], True), (8, [3], False), (11, [], False), (10, [], True), (9, [-1, 2], False),
     (9, [0, 1], True), (9, [0, 2], False), (9, [-1, 1], True), (0, [5, 5], True), (0, [5, 6], False)],
)
def test_it(load, others, holds):
    assert held(load, others) is holds
"""

SET_UP = """import gc


def pytest_collection_finish():
    gc.freeze()  # as our own set-up does: functions are then no longer listed
"""


def tree(folder: Path) -> Path:
    """Two packages with the same function, one tested weakly and one strongly."""
    for name, text in (("weak", WEAK), ("strong", STRONG)):
        source, tests = folder / "src" / "rehaul" / name, folder / "tests" / "unit" / name
        source.mkdir(parents=True)
        tests.mkdir(parents=True)
        (folder / "src" / "rehaul" / "__init__.py").write_text("")
        (source / "__init__.py").write_text(PLANTED)
        (tests / f"test_{name}.py").write_text(text.format(name=name))
    (folder / "tests" / "conftest.py").write_text(SET_UP)
    return folder


def test_a_weak_test_lets_breakages_through_and_a_strong_one_does_not(tmp_path: Path) -> None:
    planted = tree(tmp_path / "tree")
    command = [sys.executable, str(TOOLS / "sample_breakages.py"), "--tree", str(planted), "--seed", "3"]
    command += ["--per-file", "6", "--package", "weak", "--package", "strong"]
    environment = os.environ | {"TMPDIR": str(tmp_path)}
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=environment)
    assert done.returncode == 0, done.stderr
    *listed, weak, strong, whole = done.stdout.splitlines()
    survivors = [line for line in listed if line.startswith("survives")]
    assert weak.split()[0] == "weak" and strong.split()[0] == "strong" and whole.split()[0] == "all"
    caught = {line.split()[0]: int(line.split()[1]) for line in (weak, strong, whole)}
    made = {line.split()[0]: int(line.split()[3]) for line in (weak, strong, whole)}
    assert caught["strong"] == made["strong"] >= 5, survivors
    assert caught["weak"] < made["weak"] / 2
    assert len(survivors) == made["weak"] - caught["weak"] == made["all"] - caught["all"]
    assert all("src/rehaul/weak/__init__.py:" in line and "->" in line for line in survivors)
    assert (planted / "src/rehaul/weak/__init__.py").read_text() == PLANTED, "only a copy is broken"


SOURCE = '''"""Text with 3 < 4."""

from functools import lru_cache

__all__ = ["f"]; Cell = str | int | None
SIZE = 4


@lru_cache(maxsize=16)
def f(a: int = 2, b: "int | None" = None) -> "str | None":
    """More text: a + b."""
    print(1 + 2, a)
    if a > 3 and not b:
        raise ValueError(f"{a + 1} is too much", 7)
    return g(a, b)


def g(one, two):
    def inner():
        return one

    return inner
'''


def kinds(path: Path) -> set[tuple[int, str, str]]:
    parsed = ast.parse(path.read_text())
    found = {
        (c.line, c.kind, c.after) for c in (change_at(p, parsed, path, path.parent) for p in places(parsed))
    }
    assert ast.unparse(parsed) == ast.unparse(ast.parse(path.read_text())), "left as it was"
    return found


def test_what_is_changed_and_what_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "one.py"
    path.write_text(SOURCE)
    found = kinds(path)
    assert found == {
        (6, "constant", "5"),
        (10, "constant", "3"),
        (13, "comparison", "a >= 3"),
        (13, "comparison", "a < 3"),
        (13, "constant", "4"),
        (13, "and/or", "a > 3 or not b"),
        (13, "not", "b"),
        (13, "not", "not (a > 3 and (not b))"),
        (13, "branch", "True"),
        (13, "branch", "False"),
        (15, "swapped", "g(b, a)"),
        (15, "returned", "return None"),
        (20, "returned", "return None"),
        (22, "returned", "return None"),
    }


def test_each_change_is_one_change_of_valid_source(tmp_path: Path) -> None:
    path = tmp_path / "one.py"
    path.write_text(PLANTED)
    parsed = ast.parse(PLANTED)
    plain = ast.unparse(parsed).splitlines()
    for place in places(parsed):
        change = change_at(place, parsed, path, tmp_path)
        compile(change.text, "x", "exec")
        differing = [1 for a, b in zip(plain, change.text.splitlines(), strict=True) if a != b]
        assert len(differing) == 1, str(change)
        assert change.function == (0 if change.line < 6 else 6)


@pytest.mark.parametrize(("name", "compiled"), [("rehaul.kernels.loops", True), ("rehaul.kernels", False)])
def test_compiled_loops_are_told(tmp_path: Path, name: str, compiled: bool) -> None:
    path = tmp_path / "one.py"
    path.write_text(f"from {name} import inner\n\nSIZE = 1\n")
    parsed = ast.parse(path.read_text())
    assert [change_at(place, parsed, path, tmp_path).compiled for place in places(parsed)] == [compiled]
