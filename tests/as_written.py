"""Compiled loops run by Python itself, as they are written: on a small problem it needs no compiler."""

from __future__ import annotations

from types import ModuleType

import pytest

from rehaul.exact import cuts, planes, simplex, trail
from rehaul.exact.covering import finish, nearby, search, solve
from rehaul.exact.feeding import covers, rounds, tree
from rehaul.exact.feeding import nearby as feeding_nearby
from rehaul.exact.feeding import search as feeding_search
from rehaul.kernels.loop import Loop

MODULES: tuple[ModuleType, ...] = (
    planes, cuts, simplex, trail, finish, nearby, search, solve, covers, rounds, tree, feeding_nearby,
    feeding_search,
)  # fmt: skip


def as_written(patch: pytest.MonkeyPatch) -> None:
    """Every loop of the package `exact` as the function that was written, until the patch is undone."""
    for module in MODULES:
        for name, value in vars(module).items():
            if isinstance(value, Loop):
                patch.setattr(module, name, value.py_func)
    patch.setattr(planes, "_ones", lambda word: int(word).bit_count())
