"""All bands of a receiver side by side, so that what a crossing costs is read, added and written at once.

On a row a piece shades some eight receivers: too few for a loop that takes many receivers together. So the
losses of one receiver stand next to each other, filled up to LANES floats, and its bands are taken together.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from llvmlite import ir  # type: ignore[import-untyped]
from numba import types
from numba.extending import intrinsic
from numpy.typing import NDArray

from rehaul.kernels.loops import inner

LANES = 8  # floats that are taken together
_FUSED = ("contract",)  # a product and a sum may be one operation where the processor has it


def lanes_for(bands: int) -> int:
    """How many floats a receiver takes: its bands, the sum of spreads, of their squares, and two marks.

    >>> lanes_for(3), lanes_for(5)
    (8, 16)
    """
    return -(-(bands + 4) // LANES) * LANES


def in_lanes(rows: NDArray[np.float32], sd_db: NDArray[np.float32], mark: int | None) -> NDArray[np.float32]:
    """Losses (kind, band, cosine step) as rows of lanes (kind, cosine step, lane) [dB].

    With the spread of each kind (kind,) and its square behind the bands; `mark` is which of the two marks
    behind those is set, of mirrors, or None.
    """
    kinds, bands, steps = rows.shape
    out = np.zeros((kinds, steps, lanes_for(bands)), dtype=np.float32)
    out[:, :, :bands] = rows.transpose(0, 2, 1)
    out[:, :, bands], out[:, :, bands + 1] = sd_db[:, None], sd_db[:, None] ** 2
    if mark is not None:
        out[:, :, bands + 2 + mark] = 1.0
    return out


def _lanes_at(builder: Any, address: Any) -> Any:
    """Pointer to LANES floats."""
    return builder.inttoptr(address, ir.VectorType(ir.FloatType(), LANES).as_pointer())


def _load(builder: Any, address: Any) -> Any:
    return builder.load(_lanes_at(builder, address), align=4)


def _store(builder: Any, value: Any, address: Any) -> None:
    builder.store(value, _lanes_at(builder, address), align=4)


def _in_all(builder: Any, value: Any) -> Any:
    """LANES times the same float."""
    unset = ir.Constant(ir.VectorType(ir.FloatType(), LANES), ir.Undefined)
    one = builder.insert_element(unset, value, ir.Constant(ir.IntType(32), 0))
    return builder.shuffle_vector(one, unset, ir.Constant(ir.VectorType(ir.IntType(32), LANES), [0] * LANES))


@intrinsic  # type: ignore[misc]
def address(_: Any, array: Any) -> Any:
    """Where an array begins in memory: numbers are handed on for less than arrays, whose users are counted."""

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        data = context.make_array(signature.args[0])(context, builder, given[0]).data
        return builder.ptrtoint(data, ir.IntType(64))

    return types.int64(array), build


@intrinsic  # type: ignore[misc]
def float_at(_: Any, start: Any, index: Any) -> Any:
    """The float32 number `index` places after an address."""

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        base = builder.inttoptr(given[0], ir.FloatType().as_pointer())
        return builder.load(builder.gep(base, [given[1]]), align=4)

    return types.float32(types.int64, types.int64), build


@intrinsic  # type: ignore[misc]
def add_between(_: Any, into: Any, row: Any, next_row: Any, part: Any) -> Any:
    """Add to the lanes `into` what lies `part` of the way from those at `row` to those at `next_row`."""

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        low, high = _load(builder, given[1]), _load(builder, given[2])
        steep = builder.fsub(high, low)
        more = builder.fmul(_in_all(builder, given[3]), steep, flags=_FUSED)
        found = builder.fadd(low, more, flags=_FUSED)
        _store(builder, builder.fadd(_load(builder, given[0]), found), given[0])
        return context.get_dummy_value()

    return types.void(*[types.int64] * 3, types.float32), build


@intrinsic  # type: ignore[misc]
def put_level(_: Any, into: Any, level: Any, free: Any, lost: Any) -> Any:
    """Write to the lanes `into` a level less the lanes `free` and less the lanes `lost`."""

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        left = builder.fsub(_in_all(builder, given[1]), _load(builder, given[2]))
        _store(builder, builder.fsub(left, _load(builder, given[3])), given[0])
        return context.get_dummy_value()

    return types.void(types.int64, types.float32, types.int64, types.int64), build


@intrinsic  # type: ignore[misc]
def add_power(_: Any, total: Any, scatter: Any, power: Any, variance: Any) -> Any:
    """Add the lanes `power` to the lanes `total`, and their squares times `variance` to `scatter`."""

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        power = _load(builder, given[2])
        _store(builder, builder.fadd(_load(builder, given[0]), power), given[0])
        spread = builder.fmul(builder.fmul(power, power), _in_all(builder, given[3]))
        _store(builder, builder.fadd(_load(builder, given[1]), spread), given[1])
        return context.get_dummy_value()

    return types.void(*[types.int64] * 3, types.float32), build


@intrinsic  # type: ignore[misc]
def least_sum(_: Any, one: Any, other: Any) -> Any:
    """The least of the sums of two times LANES floats."""

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        found, size, whole = builder.fadd(_load(builder, given[0]), _load(builder, given[1])), LANES, ir.IntType(32)
        while size > 1:
            size //= 2
            halves = [ir.Constant(ir.VectorType(whole, size), list(range(c, c + size))) for c in (0, size)]
            low, high = (builder.shuffle_vector(found, found, half) for half in halves)
            found = builder.select(builder.fcmp_ordered("<", low, high), low, high)
        return builder.extract_element(found, ir.Constant(whole, 0))

    return types.float32(types.int64, types.int64), build


@inner
def add_run(depth, growth, inverse, into, size, table, lanes, limit):  # type: ignore[no-untyped-def]
    """Add one piece to a run of `size` receivers.

    `inverse`, `into` and `table` (cosine step, lane) are addresses; the cosine of incidence in steps of the
    table is (depth + growth i) · inverse, at most `limit`.
    """
    wide = 4 * lanes
    for i in range(size):
        place = min((depth + growth * np.float32(np.int32(i))) * float_at(inverse, i), limit)
        k = np.int32(place)
        part = place - np.float32(k)
        if lanes == LANES:
            row = table + np.int64(k) * (4 * LANES)
            add_between(into + i * (4 * LANES), row, row + 4 * LANES, part)
        else:
            row = table + np.int64(k) * wide
            for c in range(0, wide, 4 * LANES):
                add_between(into + i * wide + c, row + c, row + wide + c, part)
