"""Machine code tried, in a process without numba: it is used where it does to the last bit what numba did."""

from __future__ import annotations

import pickle
from pathlib import Path
from typing import Any

import numpy as np

from rehaul.kernels.blocks import block_of
from rehaul.kernels.calls import CALLS, Call
from rehaul.kernels.machine import code_of, index_of, load


def try_out(folder: str, place: str) -> None:
    """Repeat the calls noted in `folder`; where all come out alike, its code goes to `place`.

    Raises
    ------
    ValueError : one of them does something else
    """
    made = Path(folder)
    entries = load(made)
    calls: list[Call] = pickle.loads((made / CALLS).read_bytes())
    for call in calls:
        blocks = [block_of(value) for value in call.given]
        answer = entries[call.loop][call.kind](b"".join(words for _, words in blocks))
        if not alike((call.given, answer), (call.after, call.answer)):
            raise ValueError(f"{call.loop} does not do what numba does")
    for file in (code_of, index_of):  # the index last: with it the code counts
        file(made).replace(file(Path(place)))


def alike(one: Any, other: Any) -> bool:
    """Whether two values have the same bits."""
    if isinstance(one, tuple):
        return len(one) == len(other) and all(map(alike, one, other))
    if one is None or other is None:
        return one is other
    return np.asarray(one).tobytes() == np.asarray(other).tobytes()
