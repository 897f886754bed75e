"""The shape of the code: short files, bare package fronts, physics that says how far it holds and why."""

from __future__ import annotations

import ast
import importlib
import inspect
import re
from collections import Counter
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "rehaul"
PACKAGES = sorted(path.parent.name for path in SOURCE.glob("*/__init__.py"))
PHYSICS = ("radio", "wlan", "copper", "power")
LONGEST_FILE = 400
SUFFIXES = [
    "m",
    "m2",
    "mm",
    "km",
    "hz",
    "mhz",
    "ghz",
    "s",
    "us",
    "ns",
    "ms",
    "h",
    "w",
    "va",
    "v",
    "a",
    "ah",
    "ohm",
    "db",
    "dbm",
    "dbi",
    "mbps",
    "deg",
    "c",
    "pct",
    "awg",
    "u",
    "min",
    "90",
    "per_h",
    "kg",
    "m3_per_h",
]
NUMBERS = ("float", "NDArray")  # what a function that computes a quantity returns
DIMENSIONLESS = {
    "share",
    "air_share",
    "fraction",
    "probability",
    "chance",
    "ratio",
    "fairness",
    "stretch",
    "thickness_tolerance",
    "index",
    "cosine",
    "correlation",
    "power_ratio",
    "weight",
    "value",
    "low",
    "high",
    "at_least",
}


@pytest.mark.parametrize("path", sorted(SOURCE.rglob("*.py")), ids=lambda p: str(p.relative_to(SOURCE)))
def test_no_file_is_two_ideas(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST_FILE


@pytest.mark.parametrize("package", PACKAGES)
def test_a_package_front_lists_names_and_nothing_else(package: str) -> None:
    tree = ast.parse((SOURCE / package / "__init__.py").read_text(encoding="utf-8"))
    docstring, *rest = tree.body
    assert isinstance(docstring, ast.Expr) and isinstance(docstring.value, ast.Constant)
    for node in rest:
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            assert all(isinstance(told, ast.ImportFrom) for told in node.body + node.orelse), ast.unparse(
                node
            )
            continue
        named = isinstance(node, ast.Assign) and [t.id for t in node.targets if isinstance(t, ast.Name)]
        late = named == ["__getattr__"] and ast.unparse(node.value).startswith("named(__name__, {")
        assert isinstance(node, ast.ImportFrom) or named == ["__all__"] or late, ast.unparse(node)


@pytest.mark.parametrize("package", PHYSICS)
def test_public_physics_says_validity_and_source(package: str) -> None:
    module = importlib.import_module(f"rehaul.{package}")
    for name in module.__all__:
        thing = getattr(module, name)
        if inspect.isfunction(thing):
            words = inspect.getdoc(thing) or ""
            assert words, f"{package}.{name} has no docstring"
            if not any(kind in str(inspect.signature(thing).return_annotation) for kind in NUMBERS):
                continue
            for heading in ("Validity", "Source"):
                assert heading in words, f"{package}.{name} does not say {heading}"


@pytest.mark.parametrize("package", PHYSICS)
def test_quantities_carry_their_unit(package: str) -> None:
    """Plain numbers of public physics functions are named with a unit, or are dimensionless by name."""
    module = importlib.import_module(f"rehaul.{package}")
    bare = []
    for name in module.__all__:
        thing = getattr(module, name)
        if inspect.isfunction(thing):
            for parameter in inspect.signature(thing).parameters.values():
                if str(parameter.annotation) in ("float", "float | None") and not _named(parameter.name):
                    bare.append(f"{name}({parameter.name})")
    assert not bare, ", ".join(bare)


def _named(name: str) -> bool:
    return name in DIMENSIONLESS or any(name.endswith("_" + suffix) for suffix in SUFFIXES)


def test_nothing_is_left_marked_unfinished() -> None:
    marks = ("TO" + "DO", "FIX" + "ME", "XX" + "X")
    for path in SOURCE.rglob("*.py"):
        found = [mark for mark in marks if re.search(rf"\b{mark}\b", path.read_text(encoding="utf-8"))]
        assert not found, path


def test_no_two_modules_of_tests_have_one_name() -> None:
    """Tests are collected by their file's name: the second of a name would not be looked at."""
    seen = Counter(path.name for path in (SOURCE.parents[1] / "tests").rglob("test_*.py"))
    assert not [name for name, times in seen.items() if times > 1]
