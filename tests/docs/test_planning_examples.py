"""The examples in the docstrings of design, proof, planning and auditor run and print what they say."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import pytest

import rehaul

SOURCE = Path(rehaul.__file__).parent
MODULES = [
    ".".join(file.relative_to(SOURCE.parent).with_suffix("").parts)
    for package in ("auditor", "design", "planning", "proof")
    for file in sorted((SOURCE / package).rglob("*.py"))
    if ">>>" in file.read_text(encoding="utf-8")
]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name: str) -> None:
    found = doctest.testmod(importlib.import_module(name))
    assert found.attempted
    assert not found.failed


def test_there_are_examples() -> None:
    assert len(MODULES) >= 12
