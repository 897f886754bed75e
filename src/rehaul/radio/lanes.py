"""All bands of a receiver side by side, so that what a crossing costs is read, added and written at once.

On a row a piece shades some eight receivers: too few for a loop that takes many receivers together. So the
losses of one receiver stand next to each other, filled up to LANES floats, and its bands are taken together.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from rehaul.kernels.loops import inlined, inner, operation

LANES = 8  # floats that are taken together where losses are added
FEW = 4  # and where there are bands alone
_FUSED = ("contract",)  # a product and a sum may be one operation where the processor has it


def lanes_for(bands: int) -> int:
    """How many floats a receiver takes: its bands, the sum of spreads, of their squares, and two marks.

    >>> lanes_for(3), lanes_for(5)
    (8, 16)
    """
    return -(-(bands + 4) // LANES) * LANES


def few_for(bands: int) -> int:
    """How many floats the bands of a receiver take alone.

    >>> few_for(3), few_for(5)
    (4, 8)
    """
    return -(-bands // FEW) * FEW


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


def with_swaps(table: NDArray[np.float32], swaps: NDArray[np.int32]) -> NDArray[np.float32]:
    """Lanes of kinds (kind, cosine step, lane), and behind them of holes, the last of `swaps` (s, 2) first.

    A hole is what is there instead, which is nothing where that is negative, less what it lies in; so row -1
    is the first of them.
    """
    nothing = np.zeros_like(table[:1])
    within, instead = swaps[::-1, 0], swaps[::-1, 1]  # NOTHING, -1, finds the row that is put last
    return np.concatenate([table, np.concatenate([table, nothing])[instead] - table[within]])


def _at(builder: Any, address: Any, size: int) -> Any:
    """Pointer to `size` floats."""
    from llvmlite import ir

    return builder.inttoptr(address, ir.VectorType(ir.FloatType(), size).as_pointer())


def _load(builder: Any, address: Any, size: int) -> Any:
    return builder.load(_at(builder, address, size), align=4)


def _store(builder: Any, value: Any, address: Any, size: int) -> None:
    builder.store(value, _at(builder, address, size), align=4)


def _in_all(builder: Any, value: Any, size: int) -> Any:
    """`size` times the same float."""
    from llvmlite import ir

    unset = ir.Constant(ir.VectorType(ir.FloatType(), size), ir.Undefined)
    one = builder.insert_element(unset, value, ir.Constant(ir.IntType(32), 0))
    return builder.shuffle_vector(one, unset, ir.Constant(ir.VectorType(ir.IntType(32), size), [0] * size))


@operation
def address(_: Any, array: Any) -> Any:
    """Where an array begins in memory: numbers are handed on for less, as nobody counts their users."""
    from llvmlite import ir
    from numba import types

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        data = context.make_array(signature.args[0])(context, builder, given[0]).data
        return builder.ptrtoint(data, ir.IntType(64))

    return types.int64(array), build


@operation
def float_at(_: Any, start: Any, index: Any) -> Any:
    """The float32 number `index` places after an address."""
    from llvmlite import ir
    from numba import types

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        base = builder.inttoptr(given[0], ir.FloatType().as_pointer())
        return builder.load(builder.gep(base, [given[1]]), align=4)

    return types.float32(types.int64, types.int64), build


@operation
def add_between(_: Any, into: Any, row: Any, next_row: Any, part: Any) -> Any:
    """Add to LANES floats `into` what lies `part` of the way from those at `row` to those at `next_row`."""
    from numba import types

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        low, high = _load(builder, given[1], LANES), _load(builder, given[2], LANES)
        more = builder.fmul(_in_all(builder, given[3], LANES), builder.fsub(high, low), flags=_FUSED)
        found = builder.fadd(low, more, flags=_FUSED)
        _store(builder, builder.fadd(_load(builder, given[0], LANES), found), given[0], LANES)
        return context.get_dummy_value()

    return types.void(*[types.int64] * 3, types.float32), build


@operation
def put_level(_: Any, into: Any, level: Any, free: Any, lost: Any) -> Any:
    """Write to FEW floats `into` a level less those at `free` and less those at `lost`."""
    from numba import types

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        left = builder.fsub(_in_all(builder, given[1], FEW), _load(builder, given[2], FEW))
        _store(builder, builder.fsub(left, _load(builder, given[3], FEW)), given[0], FEW)
        return context.get_dummy_value()

    return types.void(types.int64, types.float32, types.int64, types.int64), build


@operation
def add_power(_: Any, total: Any, scatter: Any, power: Any, variance: Any) -> Any:
    """Add FEW floats at `power` to those at `total`, and their squares times `variance` to `scatter`."""
    from numba import types

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        power = _load(builder, given[2], FEW)
        _store(builder, builder.fadd(_load(builder, given[0], FEW), power), given[0], FEW)
        spread = builder.fmul(builder.fmul(power, power), _in_all(builder, given[3], FEW))
        _store(builder, builder.fadd(_load(builder, given[1], FEW), spread), given[1], FEW)
        return context.get_dummy_value()

    return types.void(*[types.int64] * 3, types.float32), build


@operation
def least_sum(_: Any, one: Any, other: Any) -> Any:
    """The least of the sums of two times FEW floats."""
    from llvmlite import ir
    from numba import types

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        found = builder.fadd(_load(builder, given[0], FEW), _load(builder, given[1], FEW))
        size, whole = FEW, ir.IntType(32)
        while size > 1:
            size //= 2
            halves = [ir.Constant(ir.VectorType(whole, size), list(range(c, c + size))) for c in (0, size)]
            low, high = (builder.shuffle_vector(found, found, half) for half in halves)
            found = builder.select(builder.fcmp_ordered("<", low, high), low, high)
        return builder.extract_element(found, ir.Constant(whole, 0))

    return types.float32(types.int64, types.int64), build


@operation
def _add_run(
    _: Any, depth: Any, growth: Any, inverse: Any, into: Any, size: Any, table: Any, limit: Any
) -> Any:
    """As `add_run` where a receiver has LANES: places in the table are found for LANES receivers at once."""
    from llvmlite import ir
    from numba import types
    from numba.core import cgutils

    number, whole, wide = (
        ir.VectorType(ir.FloatType(), LANES),
        ir.VectorType(ir.IntType(32), LANES),
        4 * LANES,
    )

    def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
        depth, growth, inverse, into, size, table, limit = given
        with builder.goto_entry_block():
            parts, steps = (builder.alloca(ir.ArrayType(kind.element, LANES)) for kind in (number, whole))
        depths, growths, limits = (_in_all(builder, one, LANES) for one in (depth, growth, limit))
        eight, row_bytes = ir.Constant(size.type, LANES), ir.Constant(size.type, wide)
        with cgutils.for_range_slice(builder, size.type(0), size, eight) as (first, _):
            start = builder.trunc(first, ir.IntType(32))
            ones = builder.insert_element(
                ir.Constant(whole, ir.Undefined), start, ir.Constant(ir.IntType(32), 0)
            )
            starts = builder.shuffle_vector(ones, ones, ir.Constant(whole, [0] * LANES))
            places = builder.sitofp(builder.add(starts, ir.Constant(whole, list(range(LANES)))), number)
            at = builder.add(inverse, builder.mul(first, ir.Constant(size.type, 4)))
            cosines = builder.fmul(
                builder.fadd(depths, builder.fmul(growths, places)), _load(builder, at, LANES)
            )
            places = builder.select(builder.fcmp_ordered("<", cosines, limits), cosines, limits)
            floors = builder.fptosi(places, whole)
            builder.store(
                builder.fsub(places, builder.sitofp(floors, number)),
                builder.bitcast(parts, number.as_pointer()),
                align=4,
            )
            builder.store(
                builder.mul(floors, ir.Constant(whole, [wide] * LANES)),
                builder.bitcast(steps, whole.as_pointer()),
                align=4,
            )
            left = builder.sub(size, first)
            count = builder.select(builder.icmp_signed("<", left, eight), left, eight)
            base = builder.add(into, builder.mul(first, row_bytes))
            with cgutils.for_range(builder, count, intp=size.type) as one:
                slot = [ir.Constant(ir.IntType(32), 0), builder.trunc(one.index, ir.IntType(32))]
                step = builder.load(builder.gep(steps, slot, inbounds=True))
                part = _in_all(builder, builder.load(builder.gep(parts, slot, inbounds=True)), LANES)
                row = builder.add(table, builder.sext(step, size.type))
                low, high = _load(builder, row, LANES), _load(builder, builder.add(row, row_bytes), LANES)
                more = builder.fmul(part, builder.fsub(high, low), flags=_FUSED)
                found = builder.fadd(low, more, flags=_FUSED)
                to = builder.add(base, builder.mul(one.index, row_bytes))
                _store(builder, builder.fadd(_load(builder, to, LANES), found), to, LANES)
        return context.get_dummy_value()

    return types.void(types.float32, types.float32, *[types.int64] * 4, types.float32), build


@inlined
def add_run(depth, growth, inverse, into, size, table, lanes, limit):  # type: ignore[no-untyped-def]
    """Add one piece to a run of `size` receivers.

    `inverse`, `into` and `table` (cosine step, lane) are addresses; the cosine of incidence in steps of the
    table is (depth + growth i) · inverse, at most `limit`. LANES places behind the last `inverse` are read.
    """
    if lanes > LANES:
        _add_wide_run(depth, growth, inverse, into, size, table, lanes, limit)
    else:
        _add_run(depth, growth, inverse, into, size, table, limit)


@inner
def _add_wide_run(depth, growth, inverse, into, size, table, lanes, limit):  # type: ignore[no-untyped-def]
    """As `add_run` where a receiver has several times LANES."""
    wide = 4 * lanes
    for i in range(size):
        place = min((depth + growth * np.float32(np.int32(i))) * float_at(inverse, i), limit)
        k = np.int32(place)
        row = table + np.int64(k) * wide
        for c in range(0, wide, 4 * LANES):
            add_between(into + i * wide + c, row + c, row + wide + c, place - np.float32(k))
