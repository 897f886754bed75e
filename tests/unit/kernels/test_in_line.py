"""Loops put in line where they are called, and operations built for LLVM: numba sees what each is."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np

from rehaul.kernels.loops import compiled, inlined, inner, operation
from rehaul.kernels.sources import PACKAGE


@inlined
def twice_in_line(x):  # type: ignore[no-untyped-def]
    return x + x


@inner
def twice_by_call(x):  # type: ignore[no-untyped-def]
    return x + x


@operation
def doubled(_, x):  # type: ignore[no-untyped-def]
    from numba import types

    return types.float64(x), lambda context, builder, signature, given: builder.fadd(given[0], given[0])


@compiled
def in_line(x):  # type: ignore[no-untyped-def]
    return twice_in_line(x)


@compiled
def by_call(x):  # type: ignore[no-untyped-def]
    return twice_by_call(x)


@compiled
def by_operation(x):  # type: ignore[no-untyped-def]
    return doubled(x)


def test_all_three_do_the_same() -> None:
    assert in_line(1.5) == by_call(1.5) == by_operation(1.5) == 3.0


def test_what_is_put_in_line_is_never_called() -> None:
    """Numba compiles a function of its own for what is called, and none for what is put in line."""
    assert in_line(np.float64(2.5)) == by_call(np.float64(2.5)) == 5.0
    assert len(twice_by_call.in_numba.overloads) == 1
    assert not twice_in_line.in_numba.overloads


def test_operations_leave_the_compiler_out_until_one_is_compiled() -> None:
    code = "import sys, rehaul.radio; sys.exit(bool({'numba', 'llvmlite.ir'} & set(sys.modules)))"
    where = {"PYTHONPATH": str(PACKAGE.parent), "PATH": str(Path(sys.executable).parent)}
    assert subprocess.run([sys.executable, "-c", code], env=where, check=False).returncode == 0
