"""Every example in a docstring of the program runs and prints what it says."""

from __future__ import annotations

import doctest
import importlib
from collections import Counter
from pathlib import Path

import pytest

import rehaul

SOURCE = Path(rehaul.__file__).parent
ELSEWHERE = ("__init__.py", "front.py")  # the library's front: test_library_page.py
MODULES = sorted(
    ".".join(("rehaul", *file.relative_to(SOURCE).with_suffix("").parts)).removesuffix(".__init__")
    for file in SOURCE.rglob("*.py")
    if ">>> " in file.read_text(encoding="utf-8") and file not in [SOURCE / name for name in ELSEWHERE]
)


@pytest.mark.parametrize("name", MODULES)
def test_examples(name: str) -> None:
    found = doctest.testmod(importlib.import_module(name))
    assert found.attempted
    assert not found.failed


def test_there_are_examples_where_things_are_computed() -> None:
    counts = Counter(name.split(".")[1] for name in MODULES)
    assert counts["copper"] + counts["power"] >= 6
    assert counts["wlan"] >= 5
    computing = {"exact", "facts", "house", "predict", "proof", "radio", "sheets", "takeoff"}
    assert set(counts) >= computing | {"tracing"}
