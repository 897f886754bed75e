"""Powers of all paths to a receiver, side by side: begun with the straight one, ended as levels."""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats
from rehaul.kernels.loops import compiled, inner, uncounted
from rehaul.radio.beams import Bench
from rehaul.radio.decibels import POWER_SHIFT_DB, decibels, powers
from rehaul.radio.lanes import FEW, add_power, address, float_at, put_level

_NEVER_DB = np.float32(1000.0)  # free-space loss of a lane that is no band


@compiled
def begin(gain: Floats, sd: Floats, shadowing_db: float, power: Floats, scatter: Floats) -> None:
    """Write the straight path to `power` and `scatter` (receiver, float), which are nothing before.

    `gain` (band, receiver) and `sd` (receiver,) [dB] with shadowing, which the scatter (power² times
    variance) is without. Powers stand POWER_SHIFT_DB above the gain. **Source**: docs/radio.md, "Levels of
    paths".
    """
    line, shadows = np.empty(gain.shape[1], dtype=np.float32), np.float32(shadowing_db * shadowing_db)
    for b in range(gain.shape[0]):
        for i in range(line.size):
            line[i] = gain[b, i] + np.float32(POWER_SHIFT_DB)
        powers(line)
        for i in range(line.size):
            power[i, b] = line[i]
            scatter[i, b] = line[i] * line[i] * (sd[i] * sd[i] - shadows)


@compiled
def end(power: Floats, scatter: Floats, shadowing_db: float, gain: Floats, sd: Floats) -> None:
    """Gain and spread (band, receiver) [dB] from powers and scatter (receiver, float).

    Independent paths i of power P_i: variance of 10 log10 ΣP_i is Σ (P_i / ΣP)² var_i, to first order; all
    share the shadowing. **Source**: docs/radio.md, "Uncertainty".
    """
    shadows = np.float32(shadowing_db * shadowing_db)
    for b in range(gain.shape[0]):
        level, spread = gain[b], sd[b]
        for i in range(level.size):
            whole = power[i, b]
            level[i] = whole
            spread[i] = np.sqrt(shadows + scatter[i, b] / (whole * whole))
        decibels(level)
        for i in range(level.size):
            level[i] -= np.float32(POWER_SHIFT_DB)


@compiled
def want(power: Floats, free_db: Floats, wanted: Floats) -> None:
    """Free-space loss at 1 m plus the gain of a receiver, to `wanted` (receiver, float) [dB].

    By `power`, of the same shape; lanes that are no band want more than any path has. **Source**: as `begin`.
    """
    line = np.empty(power.shape[0], dtype=np.float32)
    for b in range(power.shape[1]):
        for i in range(line.size):
            line[i] = power[i, b] if b < free_db.size else np.float32(1.0)
        decibels(line)
        more = free_db[b] - np.float32(POWER_SHIFT_DB) if b < free_db.size else _NEVER_DB
        for i in range(line.size):
            wanted[i, b] = line[i] + more


@inner
def free_of(free_db: Floats, few: int) -> Floats:
    """Free-space loss at 1 m of every band less the shift of powers (few,); elsewhere too much for any."""
    found = np.full(few, _NEVER_DB, dtype=np.float32)
    for b in range(free_db.size):
        found[b] = free_db[b] - np.float32(POWER_SHIFT_DB)
    return found


@uncounted
def gather(
    bench: Bench,
    count: int,
    lanes: int,
    few: int,
    bands: int,
    free: Floats,
    together: float,
    power: int,
    scatter: int,
) -> None:
    """Add the powers of the `count` listed receivers of a storey, and power² times variance to `scatter`.

    Both are addresses of the storey's first receiver (receiver, float), `few` floats each; `free` as
    `free_of`, `together` how far errors of crossings go together. **Source**: docs/radio.md, "Levels of
    paths" (powers add) and "Uncertainty".
    """
    share, alone = np.float32(together), np.float32(1.0 - together)
    line, level, listed = bench.line, bench.cells[0], bench.listed
    lost_at, line_at, free_at = address(bench.lost), address(line), address(free)
    for n in range(count):
        at, to = 4 * lanes * listed[n], 4 * few * n
        put_level(line_at + to, level[n], free_at, lost_at + at)
        if few > FEW:
            for c in range(4 * FEW, 4 * few, 4 * FEW):
                put_level(line_at + to + c, level[n], free_at + c, lost_at + at + c)
    powers(line[: few * count])
    for n in range(count):
        at, there, to = 4 * lanes * listed[n], 4 * few * listed[n], 4 * few * n
        total, squared = float_at(lost_at + at, bands), float_at(lost_at + at, bands + 1)
        variance = share * total * total + alone * squared
        add_power(power + there, scatter + there, line_at + to, variance)
        if few > FEW:
            for c in range(4 * FEW, 4 * few, 4 * FEW):
                add_power(power + there + c, scatter + there + c, line_at + to + c, variance)
