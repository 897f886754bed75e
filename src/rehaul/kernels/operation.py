"""A few operations of the processor put together for LLVM, which numba takes for a function that it knows."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any


class Operation:
    """What compiled code calls by this name.

    The function given is one for `numba.extending.intrinsic`: from the types of what it is called with to
    the signature and what builds it. It is asked when a loop is compiled that calls it, so that numba stays
    out of a process that compiles none; it imports what it needs of numba and llvmlite itself.
    """

    def __init__(self, function: Callable[..., Any]) -> None:
        self._function = function
        self._type: Any = None

    @property
    def _numba_type_(self) -> Any:
        """What numba asks a name that a compiled function calls."""
        if self._type is None:
            from numba.core.registry import cpu_target
            from numba.extending import intrinsic

            known, made = cpu_target.typing_context, intrinsic(self._function)
            known.refresh()  # else it has not heard of what was made just now
            self._type = known.resolve_value_type(made)
        return self._type
