"""Every example in a docstring of the lower floors runs and prints what it says."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import pytest

import rehaul

SOURCE = Path(rehaul.__file__).parent
FLOORS = ("apart", "facts", "house", "network", "predict", "radio", "errors.py", "numerals.py", "saving.py")
# copper, power and wlan have tests of their own beside this one
MODULES = sorted(
    ".".join(("rehaul", *file.relative_to(SOURCE).with_suffix("").parts))
    for name in (*FLOORS, "units.py")
    for file in ((SOURCE / name).rglob("*.py") if (SOURCE / name).is_dir() else (SOURCE / name,))
    if ">>> " in file.read_text(encoding="utf-8")
)


@pytest.mark.parametrize("name", MODULES)
def test_examples(name: str) -> None:
    found = doctest.testmod(importlib.import_module(name))
    assert found.attempted
    assert not found.failed


def test_there_are_examples_on_every_floor_that_computes() -> None:
    assert {name.split(".")[1] for name in MODULES} >= {"facts", "house", "predict", "radio"}
