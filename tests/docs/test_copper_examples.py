"""The examples in the docstrings of copper and power run and print what they say."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import rehaul.copper
import rehaul.power

MODULES = [
    f"{package.__name__}.{module.name}"
    for package in (rehaul.copper, rehaul.power)
    for module in pkgutil.iter_modules(package.__path__)
]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name: str) -> None:
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_there_are_examples() -> None:
    finder = doctest.DocTestFinder()
    found = [test for name in MODULES for test in finder.find(importlib.import_module(name)) if test.examples]
    assert len(found) >= 9
