"""Packages whose modules are loaded when a name of theirs is asked for."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import rehaul
import rehaul.proof
from rehaul.ondemand import named

SOURCE = Path(rehaul.__file__).parent
LATE = [file for file in sorted(SOURCE.glob("*/__init__.py")) if "named(" in file.read_text(encoding="utf-8")]


@pytest.mark.parametrize("file", LATE, ids=lambda file: file.parent.name)
def test_what_is_loaded_is_what_types_are_told_of(file: Path) -> None:
    """The same names of the same modules as under TYPE_CHECKING, and all that the package lists."""
    package = f"rehaul.{file.parent.name}"
    tree = ast.parse(file.read_text(encoding="utf-8"))
    told = {
        (alias.name, node.module)
        for part in tree.body
        if isinstance(part, ast.If)
        for node in ast.walk(part)
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    homes = next(
        ast.literal_eval(call.args[1])
        for call in ast.walk(tree)
        if isinstance(call, ast.Call) and ast.unparse(call.func) == "named"
    )
    loaded = {
        (name, home if home.startswith("rehaul.") else f"{package}.{home}")
        for home, names in homes.items()
        for name in names
    }
    assert loaded == told
    made = __import__(package, fromlist=["x"])
    assert {name for name, _ in loaded} == set(made.__all__)
    for name in made.__all__:
        assert getattr(made, name) is not None


def test_a_name_that_is_not_there() -> None:
    with pytest.raises(AttributeError, match=r"module 'rehaul.proof' has no attribute 'nothing'"):
        rehaul.proof.nothing  # noqa: B018
    with pytest.raises(ImportError):
        exec("from rehaul.jobs import nothing")


def test_a_name_is_looked_for_once() -> None:
    get = named("rehaul.proof", {"medians": ("Interval",)})
    before = sys.modules["rehaul.proof"].__dict__.pop("Interval", None)
    assert get("Interval") is sys.modules["rehaul.proof"].__dict__["Interval"]
    sys.modules["rehaul.proof"].__dict__.pop("Interval")
    assert before is None


def test_one_name_loads_its_own_module() -> None:
    code = "import sys, rehaul.jobs; rehaul.jobs.log_path; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())
    assert "rehaul.jobs.logs" in loaded
    assert not {"rehaul.jobs.people", "rehaul.jobs.store", "rehaul.jobs.ledger"} & loaded
