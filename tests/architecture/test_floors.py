"""Imports go down or stay in the same package: never up, never across a floor."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "rehaul"
FLOORS: dict[str, int] = {
    "figures": -5,
    "words": -4,
    "errors": -3,
    "printable": -5,
    "ondemand": -5,
    "numerals": -2,
    "arrays": -2,
    "same": -2,
    "progress": -2,
    "beside": -2,
    "clock": -2,
    "units": -1,
    "saving": -1,
    "kernels": -1,
    "apart": -1,
    "facts": 0,
    "normal": 0,
    "house": 1,
    "radio": 1,
    "wlan": 1,
    "copper": 1,
    "power": 1,
    "exact": 1,
    "network": 2,
    "predict": 3,
    "tracing": 3,
    "design": 4,
    "proof": 5,
    "takeoff": 5,
    "auditor": 6,
    "planning": 7,
    "sheets": 8,
    "jobs": 8,
    "web": 9,
    "cli": 10,
    "front": 11,
}


def package_of(path: Path) -> str:
    first = path.relative_to(SOURCE).parts[0]
    return first.removesuffix(".py")


def imports_of(path: Path) -> list[tuple[int, str]]:
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.level:
            pytest.fail(f"{path}:{node.lineno}: relative import")
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module] if node.module != "rehaul" else [f"rehaul.{a.name}" for a in node.names]
        found += [(node.lineno, name.split(".")[1]) for name in names if name.startswith("rehaul.")]
    return found


def faults(path: Path) -> list[str]:
    home = package_of(path)
    if home in ("__init__", "__main__"):
        return []
    problems = []
    for line, target in imports_of(path):
        if target != home and FLOORS[target] >= FLOORS[home]:
            problems.append(
                f"{path.relative_to(SOURCE)}:{line}: {home} (floor {FLOORS[home]}) imports {target}"
            )
    return problems


def test_imports_go_down() -> None:
    problems = [fault for path in sorted(SOURCE.rglob("*.py")) for fault in faults(path)]
    assert not problems, "\n".join(problems)


def test_the_drawing_of_the_floors_is_this() -> None:
    drawing = (SOURCE.parents[1] / "docs" / "design.md").read_text(encoding="utf-8")
    drawn: dict[str, int] = {}
    floor = 0
    for line in re.findall(r"^ *(-?\d+|  ) +((?:[a-z]+(?:/|\.py) *)+)  ", drawing, re.MULTILINE):
        floor = int(line[0]) if line[0].strip() else floor
        drawn |= dict.fromkeys(re.findall(r"[a-z]+", line[1].replace(".py", "")), floor)
    assert drawn == FLOORS


def test_every_package_has_a_floor() -> None:
    packages = {package_of(path) for path in SOURCE.rglob("*.py")} - {"__init__", "__main__"}
    assert packages <= set(FLOORS), packages - set(FLOORS)


def test_the_check_has_teeth(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bad = tmp_path / "radio" / "bad.py"
    bad.parent.mkdir()
    bad.write_text("def f():\n    from rehaul.house import model\n")
    monkeypatch.setitem(globals(), "SOURCE", tmp_path)
    assert faults(bad) == ["radio/bad.py:2: radio (floor 1) imports house"]
