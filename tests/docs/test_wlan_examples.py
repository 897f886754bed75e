"""The examples in the docstrings of wlan run and print what they say."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import rehaul.wlan

MODULES = [f"rehaul.wlan.{module.name}" for module in pkgutil.iter_modules(rehaul.wlan.__path__)]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name: str) -> None:
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_there_are_examples() -> None:
    finder = doctest.DocTestFinder()
    found = [test for name in MODULES for test in finder.find(importlib.import_module(name)) if test.examples]
    assert len(found) >= 7
