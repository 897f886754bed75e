"""How the search is compiled: kept on disk, outside the interpreter's lock, and quickly."""

from __future__ import annotations

from typing import Any

from numba import njit

_OPTIONS: dict[str, Any] = {"cache": True, "nogil": True, "error_model": "numpy"}
_NO_WAY_IN: dict[str, Any] = {"no_cpython_wrapper": True, "no_cfunc_wrapper": True}  # costly to compile

compiled: Any = njit(**_OPTIONS)
inner: Any = njit(**_OPTIONS, **_NO_WAY_IN)  # called from compiled code only
