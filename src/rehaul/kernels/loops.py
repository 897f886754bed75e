"""The decorators of compiled loops: kept on disk, outside the interpreter's lock, dividing as numpy does.

A loop takes names only from its own package, so that the package's key knows everything it is made of.
"""

from __future__ import annotations

from typing import Any

from rehaul.kernels.loop import Function, Loop
from rehaul.kernels.operation import Operation

_OPTIONS: dict[str, Any] = {"nogil": True, "error_model": "numpy"}
_UNCOUNTED: dict[str, Any] = {"_nrt": False}
_NO_WAY_IN: dict[str, Any] = {"no_cpython_wrapper": True, "no_cfunc_wrapper": True}  # costly to compile


def compiled(function: Function) -> Any:
    """A loop that is called from Python, and from other loops."""
    return Loop(function, _OPTIONS)


def inner(function: Function) -> Any:
    """A loop that is called from compiled code; from Python it runs as it is written."""
    return Loop(function, _OPTIONS | _NO_WAY_IN)


def uncounted(function: Function) -> Any:
    """As `inner`, for a loop that makes no array: nobody counts there who uses those that it is given.

    Counting takes a hundred ticks a call and more; views of arrays are had without.
    """
    return Loop(function, _OPTIONS | _NO_WAY_IN | _UNCOUNTED)


def inlined(function: Function) -> Any:
    """A loop whose text is put where it is called."""
    return Loop(function, _OPTIONS | {"inline": "always"})


def operation(function: Function) -> Any:
    """An operation of the processor, built for LLVM by the function as `numba.extending.intrinsic` has it."""
    return Operation(function)
