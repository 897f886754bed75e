"""Which lines of our own code a file leads its reader through, and the smallest files that reach them all."""

from __future__ import annotations

import contextlib
import os
import pickle
import sys
import tempfile
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from types import FrameType
from typing import Any

import rehaul
from fuzzed_readers import outcome

OURS = str(Path(rehaul.__file__).parent)
Lines = frozenset[tuple[str, int]]
MOST_TRIES = 60


def lines_reached(suffix: str, data: bytes) -> Lines:
    """File and line of all that ran while it was read, in a copy of this process; none where that died."""
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        with contextlib.suppress(BaseException), open(theirs, "wb") as pipe:  # noqa: PTH123
            pickle.dump(_lines(suffix, data), pipe)
        os._exit(0)
    os.close(theirs)
    with open(ours, "rb") as pipe:  # noqa: PTH123
        said = pipe.read()
    os.waitpid(child, 0)
    return frozenset(pickle.loads(said)) if said else frozenset()


def _lines(suffix: str, data: bytes) -> set[tuple[str, int]]:
    found: set[tuple[str, int]] = set()

    def line(frame: FrameType, event: str, _: Any) -> Any:
        if event == "line":
            found.add((frame.f_code.co_filename, frame.f_lineno))
        return line

    def call(frame: FrameType, _: str, __: Any) -> Any:
        return line if frame.f_code.co_filename.startswith(OURS) else None

    with tempfile.TemporaryDirectory(prefix="reached-") as folder:
        path = Path(folder) / f"file{suffix}"
        path.write_bytes(data)
        sys.settrace(call)
        try:
            outcome(path)
        finally:
            sys.settrace(None)
    return found


def new_and_small(
    suffix: str, known: Sequence[bytes], found: Iterable[bytes], largest: int
) -> list[tuple[bytes, int]]:
    """Of what was found, small files that reach lines which `known` does not, and how many each adds."""
    reached: set[tuple[str, int]] = set()
    _lines(suffix, known[0])  # imports are no part of it
    for data in known:
        reached |= lines_reached(suffix, data)
    kept = []
    for data in sorted(found, key=len):
        new = lines_reached(suffix, data) - reached
        if not new:
            continue
        small = shrunk(data, lambda less, new=new: new <= lines_reached(suffix, less))  # type: ignore[misc]
        if len(small) <= largest:
            kept.append((small, len(new)))
            reached |= lines_reached(suffix, small)
    return kept


def shrunk(data: bytes, still: Callable[[bytes], bool]) -> bytes:
    """The data without whatever can be left out while `still` holds."""
    length, tries = len(data) // 2, 0
    while length >= 4 and tries < MOST_TRIES:
        at = 0
        while at < len(data) and tries < MOST_TRIES:
            less, tries = data[:at] + data[at + length :], tries + 1
            if still(less):
                data = less
            else:
                at += length
        length //= 2
    return data
