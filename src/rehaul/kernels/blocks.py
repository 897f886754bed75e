"""What a loop is called with, as one block of eight-byte words: how numba passes it, in the same order.

An array is an owner (none), a parent (none), its number of items, bytes of one, address, lengths of its
axes and steps along them; a tuple is its parts one after the other.
"""

from __future__ import annotations

from ctypes import addressof, c_char
from struct import Struct, error
from typing import Any

import numpy as np

Block = tuple[str, bytes]  # the kind, which names the machine code; the words

_SCALARS: dict[type, tuple[str, Struct]] = {
    bool: ("b", Struct("=?7x")),
    np.bool_: ("b", Struct("=?7x")),
    int: ("i", Struct("=q")),
    np.int64: ("i", Struct("=q")),
    float: ("f", Struct("=d")),
    np.float64: ("f", Struct("=d")),
}
_ARRAYS = [Struct(f"=5q{2 * axes}q") for axes in range(9)]


class Unready(Exception):
    """Nothing that machine code is kept for."""


def block_of(value: Any) -> Block:
    """The kind of a value and its words.

    Kinds are as fine as numba's types: by item, axes and whether it may be written, and by the name of a
    named tuple, whose fields a loop finds by their place.

    Raises
    ------
    Unready : a value of another type, an array whose items do not lie one after the other, a number of more
        than 64 bits

    **Source**: docs/decisions.md, "Compiled once".
    """
    given = type(value)
    if given is np.ndarray:
        flags = value.flags
        axes = value.ndim
        if not (flags.c_contiguous and flags.aligned) or axes >= len(_ARRAYS):
            raise Unready
        writeable = flags.writeable
        # the first is several times as quick, and for what may be written alone
        address = addressof(c_char.from_buffer(value)) if writeable and value.size else value.ctypes.data
        words = _ARRAYS[axes].pack(0, 0, value.size, value.itemsize, address, *value.shape, *value.strides)
        return f"{value.dtype.str}{axes}{'' if writeable else 'r'}", words
    if given in _SCALARS:
        kind, form = _SCALARS[given]
        try:
            return kind, form.pack(value)
        except error:
            raise Unready from None
    if isinstance(value, tuple):
        parts = [block_of(part) for part in value]
        name = given.__name__ if hasattr(value, "_fields") else ""
        return f"{name}({','.join([kind for kind, _ in parts])})", b"".join([words for _, words in parts])
    raise Unready
