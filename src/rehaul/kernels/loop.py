"""A loop: machine code from the disk where it is ready, else made by numba."""

from __future__ import annotations

import threading
from collections.abc import Callable
from functools import update_wrapper
from typing import Any, ClassVar

import numpy as np

from rehaul.kernels.blocks import Block, Unready, block_of
from rehaul.kernels.machine import Entry, entries_of

Function = Callable[..., Any]
Listener = Callable[["Loop", tuple[Any, ...]], Any]

MOST_SMALL, SMALL_BYTES = 16, 200_000  # tuples that a loop goes on holding
_MAKING = threading.RLock()


class Loop:
    """A function that is compiled.

    Where its package's machine code is ready (`rehaul.kernels.machine`) it is called as it is, and numba,
    which takes longer to load than most loops to run, stays out of the process. What is not ready, or is
    called with other types, numba compiles, or takes from what it has kept.

    Arrays in a named tuple keep their shape and place: a tuple given twice running is looked at once, and a
    small one of the last few.
    """

    listener: ClassVar[Listener | None] = None  # what is called instead, while machine code is being made
    __name__: str

    def __init__(self, function: Function, options: dict[str, Any]) -> None:
        update_wrapper(self, function)
        self.py_func = function
        self.options = self.targetoptions = options  # by the second name numba asks whether to put it in line
        self.package = function.__module__.partition(".")[2].partition(".")[0]
        self._entries: dict[str, Entry] | None = None
        self._last: dict[int, tuple[Any, Block]] = {}  # by place
        self._small: dict[int, tuple[Any, Block]] = {}  # by the object's number, which is its own while held
        self._dispatcher: Any = None

    def __call__(self, *given: Any) -> Any:
        entries = self._entries
        if entries is None:
            ready = entries_of(self.package) if Loop.listener is None else {}
            entries = self._entries = ready.get(self.name, {})
        if entries:
            blocks = self._blocks(given)
            if blocks is not None:
                entry = entries.get(",".join([kind for kind, _ in blocks]))
                if entry is not None:
                    return entry(b"".join([words for _, words in blocks]))
        if self.options.get("no_cpython_wrapper"):
            return self.py_func(*given)  # numba's would end the process
        if Loop.listener is not None:
            return Loop.listener(self, given)
        return self.in_numba(*given)

    def _blocks(self, given: tuple[Any, ...]) -> list[Block] | None:
        try:
            return [self._block(place, value) for place, value in enumerate(given)]
        except Unready:
            return None

    def _block(self, place: int, value: Any) -> Block:
        if not hasattr(value, "_fields"):
            return block_of(value)
        last = self._last.get(place)
        if last is None or last[0] is not value:
            last = self._last[place] = self._small.get(id(value)) or self._seen(value)
        return last[1]

    def _seen(self, value: Any) -> tuple[Any, Block]:
        found = value, block_of(value)
        if sum(part.nbytes for part in value if isinstance(part, np.ndarray)) <= SMALL_BYTES:
            if len(self._small) >= MOST_SMALL:
                self._small = {}
            self._small[id(value)] = found
        return found

    @property
    def name(self) -> str:
        """Where it stands: module and function."""
        return f"{self.__module__}.{self.__name__}"

    @property
    def in_numba(self) -> Any:
        """The same as a function of numba's, which compiles for the types it is called with."""
        if self._dispatcher is None:
            from rehaul.kernels.making import dispatcher_of

            with _MAKING:
                if self._dispatcher is None:
                    self._dispatcher = dispatcher_of(self.py_func, self.options, self.package)
        return self._dispatcher

    @property
    def _numba_type_(self) -> Any:
        """What numba asks a name that a compiled function calls."""
        return self.in_numba._numba_type_
