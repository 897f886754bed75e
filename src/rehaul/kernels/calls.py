"""Loops as they are called from Python, noted down with what came of it: what machine code is made for."""

from __future__ import annotations

import copy
from dataclasses import dataclass
from typing import Any

from rehaul.kernels.blocks import Unready, block_of
from rehaul.kernels.loop import Loop

CALLS = "calls"  # file of them
SAME_KIND = 3  # calls of one loop with one kind of arguments that are noted


@dataclass(frozen=True)
class Call:
    """One call of a loop."""

    loop: str
    kind: str
    given: tuple[Any, ...]  # as it was before
    after: tuple[Any, ...]  # the same when it came back
    answer: Any


class Heard:
    """A listener of loops: numba compiles and runs them."""

    def __init__(self) -> None:
        self.calls: list[Call] = []
        self.loops: dict[tuple[str, str], tuple[Loop, tuple[Any, ...]]] = {}  # with one call's arguments

    def __call__(self, loop: Loop, given: tuple[Any, ...]) -> Any:
        try:
            kind = ",".join([block_of(value)[0] for value in given])
        except Unready:
            return loop.in_numba(*given)
        noted = sum((call.loop, call.kind) == (loop.name, kind) for call in self.calls)
        before = copy.deepcopy(given) if noted < SAME_KIND else None
        answer = loop.in_numba(*given)
        self.loops.setdefault((loop.name, kind), (loop, given))
        if before is not None:
            self.calls.append(Call(loop.name, kind, before, copy.deepcopy(given), answer))
        return answer
