"""The decorators of compiled loops: kept on disk, outside the interpreter's lock, dividing as numpy does.

A loop takes names only from its own package, so that the package's key knows everything it is made of.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any

import numba
from numba import njit

from rehaul.kernels.places import place_for

Decorator = Callable[[Callable[..., Any]], Any]

_OPTIONS: dict[str, Any] = {"nogil": True, "error_model": "numpy"}
_NO_WAY_IN: dict[str, Any] = {"no_cpython_wrapper": True, "no_cfunc_wrapper": True}  # costly to compile
_PLACING = threading.Lock()
_SETTINGS: Any = numba.config


def _kept(**more: Any) -> Decorator:
    """A decorator whose machine code lies where the package of the function keeps it."""

    def decorate(function: Callable[..., Any]) -> Any:
        place = place_for(function.__module__.split(".")[1])
        if place is None:
            return njit(**_OPTIONS, **more)(function)
        with _PLACING:  # numba asks for the folder once, while it decorates
            others, _SETTINGS.CACHE_DIR = _SETTINGS.CACHE_DIR, str(place)
            try:
                return njit(cache=True, **_OPTIONS, **more)(function)
            finally:
                _SETTINGS.CACHE_DIR = others

    return decorate


compiled = _kept()
inner = _kept(**_NO_WAY_IN)  # called from compiled code only
inlined = _kept(inline="always")
