"""Arguments as words: the kinds are numba's types, the words lie as numba passes them."""

from __future__ import annotations

import struct
from typing import Any

import numba
import numpy as np
import pytest

from loops_tried import Heap, Pile
from rehaul.kernels.blocks import Unready, block_of


def read_only() -> Any:
    array = np.zeros(3)
    array.setflags(write=False)
    return array


REALS, WHOLES = np.arange(3.0), np.arange(6).reshape(2, 3)
VALUES: list[Any] = [
    True, np.True_, 7, np.int64(-7), 0.5, np.float64(0.5), REALS, WHOLES, read_only(),
    np.zeros((2, 3)), np.zeros((1, 2, 3, 4)), np.zeros(0), np.zeros(3, np.bool_), np.zeros(3, np.int8),
    np.zeros(3, np.float32), np.zeros(3, np.int32), np.zeros(3, np.uint64), np.zeros(3, np.complex128),
    (1, 2.0), (1, 2), (2.0, (1, REALS)), (REALS, REALS), (REALS, REALS, WHOLES, 1.0),
    Heap(REALS, REALS, WHOLES, 1.0), Pile(REALS, REALS, WHOLES, 1.0), REALS[1:],
]  # fmt: skip


def test_kinds_are_told_apart_where_numba_tells_types_apart() -> None:
    kinds = [block_of(value)[0] for value in VALUES]
    types = [str(numba.typeof(value)) for value in VALUES]
    for one, kind in enumerate(kinds):
        for other in range(one):
            assert (kind == kinds[other]) == (types[one] == types[other]), (VALUES[one], VALUES[other])


def test_words_of_numbers() -> None:
    for value, form in ((7, "<q"), (np.int64(-7), "<q"), (0.5, "<d"), (True, "<?7x"), (np.False_, "<?7x")):
        assert block_of(value)[1] == struct.pack(form, value)


def test_words_of_an_array() -> None:
    """No owner, no parent; items, bytes of each, address; lengths; steps."""
    words = struct.unpack("<9q", block_of(WHOLES)[1])
    assert words == (0, 0, 6, 8, WHOLES.ctypes.data, 2, 3, 24, 8)
    later = struct.unpack("<7q", block_of(REALS[1:])[1])
    assert later == (0, 0, 2, 8, REALS.ctypes.data + 8, 2, 8)


def test_a_tuple_is_its_parts() -> None:
    kind, words = block_of(Heap(REALS, REALS[1:], WHOLES, 2.0))
    assert kind == "Heap(<f81,<f81,<i82,f)"
    assert words == b"".join(block_of(part)[1] for part in (REALS, REALS[1:], WHOLES, 2.0))
    assert block_of((REALS, (REALS[1:], WHOLES), 2.0)) == ("(<f81,(<f81,<i82),f)", words)


@pytest.mark.parametrize(
    "value",
    [
        2**63,
        -(2**63) - 1,
        "text",
        None,
        WHOLES[:, 1:],
        WHOLES.T,
        np.float32(1.0),
        np.zeros((1,) * 9),
        np.frombuffer(b"\0" * 17, dtype=np.uint8)[1:].view(np.float64),
        [1.0],
        (1, None),
        np.ma.masked_array(REALS),
    ],
)
def test_what_nothing_is_kept_for(value: Any) -> None:
    with pytest.raises(Unready):
        block_of(value)


def test_the_ends_of_a_whole_number_fit() -> None:
    assert struct.unpack("<q", block_of(2**63 - 1)[1]) == (2**63 - 1,)
    assert struct.unpack("<q", block_of(-(2**63))[1]) == (-(2**63),)
