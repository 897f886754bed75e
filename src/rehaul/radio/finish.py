"""From losses along a ray to gain and spread: free-space spreading, antenna pattern, shadowing."""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats, Reals
from rehaul.kernels.loops import compiled
from rehaul.radio.antenna import PATTERN_STEPS
from rehaul.radio.decibels import decibels

Spreads = tuple[tuple[float, float, float, float], float, float]  # shadowing, fall, crossings together


@compiled
def finish_grid(
    losses: Floats,
    sources: Reals,
    axes: Reals,
    patterns: Floats,
    free_db: Floats,
    origin: tuple[float, float],
    step: float,
    heights: Reals,
    nearest: float,
    spreads: Spreads,
    gain: Floats,
    sd: Floats,
) -> None:
    """Losses (n, storey, ny, band + 2, nx) to gain (n, band, storey, ny, nx) and spread (n, storey, ny, nx).

    Of n transmitters: `sources` and `axes` (n, 3), `patterns` a row of levels each. `spreads`: of shadowing
    as `shadowing_steps` has it, of the fall with distance [dB per decade], and how far crossings err
    together. **Source**: ITU-R P.525 (free space); docs/radio.md, "Levels of paths" and "Uncertainty".
    """
    count, bands, storeys, rows, columns = gain.shape
    square = np.empty(columns, dtype=np.float32)
    level = np.empty(columns, dtype=np.float32)
    for n in range(count):
        source, axis, pattern = sources[n], axes[n], patterns[n]
        x0 = np.float32(origin[0] - source[0])
        for s in range(storeys):
            z = heights[s] - source[2]
            for j in range(rows):
                y = origin[1] + j * step - source[1]
                squares(x0, np.float32(step), y, z, nearest, square)
                pattern_levels(x0, np.float32(step), y, z, axis, pattern, square, level)
                decibels(square)
                for b in range(bands):
                    line, lost, free = gain[n, b, s, j], losses[n, s, j, b], np.float32(free_db[b])
                    for i in range(columns):
                        line[i] = level[i] - square[i] - free - lost[i]
                spread(losses[n, s, j, bands], losses[n, s, j, bands + 1], square, spreads, sd[n, s, j])


@compiled
def squares(x0: np.float32, step: np.float32, y: float, z: float, nearest: float, square: Floats) -> None:
    """Squared distances from the source to a row of receivers [m²], to `square` (n,).

    The first receiver is `x0` from the source, each next `step` further; `y` and `z` are those of the row.
    None is nearer than `nearest` [m]. **Source**: docs/radio.md, "Levels of paths": nearer than 0.1 m counts
    as 0.1 m.
    """
    flat, least = np.float32(y * y + z * z), np.float32(nearest * nearest)
    for i in range(square.size):
        x = x0 + step * np.float32(np.int32(i))
        square[i] = max(x * x + flat, least)


@compiled
def pattern_levels(
    x0: np.float32,
    step: np.float32,
    y: float,
    z: float,
    axis: Reals,
    pattern: Floats,
    square: Floats,
    level: Floats,
) -> None:
    """Level of the antenna toward each receiver of a row [dB], to `level` (n,).

    The row as in `squares`, whose result `square` is; `axis` (3,) is a unit vector and `pattern` as
    `pattern_table_db` has it. **Source**: shapes of the fact table `antenna_patterns`, between whose steps it
    goes straight.
    """
    along, slope = np.float32(axis[1] * y + axis[2] * z), np.float32(axis[0])
    half, last = np.float32(PATTERN_STEPS / 2), np.float32(PATTERN_STEPS - 0.001)
    for i in range(square.size):
        toward = (slope * (x0 + step * np.float32(np.int32(i))) + along) / np.sqrt(square[i])
        place = min(max((toward + np.float32(1.0)) * half, np.float32(0.0)), last)
        k = np.uint32(place)
        low = pattern[k]
        level[i] = low + (place - np.float32(k)) * (pattern[k + np.uint32(1)] - low)


@compiled
def spread(total: Floats, squares: Floats, distance_db: Floats, spreads: Spreads, sd: Floats) -> None:
    """Standard deviation of the power of a row of receivers [dB], to `sd` (n,).

    Shadowing, the fall with distance, and crossings whose errors go partly together. `total` and `squares`
    (n,) are the sum and the sum of squares of the spreads of all crossings; `distance_db` is 20 log10 of
    the distance in metres. **Source**: the fact table `radio_numbers` (docs/radio.md).
    """
    (near_db, more_db, from_db, per_db), per_decade, together = spreads
    near, more = np.float32(near_db), np.float32(more_db)
    start, rise = np.float32(from_db), np.float32(per_db)
    nil, one, alone = np.float32(0.0), np.float32(1.0), np.float32(1.0 - together)
    slope = np.float32(per_decade / 20.0)  # of what spreading in free space costs
    for i in range(sd.size):
        farther = slope * max(distance_db[i], nil)
        shadowing = near + more * min(max((distance_db[i] - start) * rise, nil), one)
        own_there = shadowing * shadowing + farther * farther
        sd[i] = np.sqrt(own_there + np.float32(together) * total[i] * total[i] + alone * squares[i])


@compiled
def finish_points(
    losses: Floats,
    source: Reals,
    axis: Reals,
    pattern: Floats,
    free_db: Floats,
    points: Reals,
    nearest: float,
    spreads: Spreads,
    gain: Floats,
    sd: Floats,
) -> None:
    """Losses (point, band + 2) to gain (band, point) and spread (point,) [dB].

    `losses` ends in the sum and the sum of squares of the spreads; `free_db` (band,) is the free-space loss
    at 1 m. **Validity**: receivers nearer than `nearest` [m] count as there. **Source**: free space ITU-R
    P.525; spreads as `spread`.
    """
    bands = gain.shape[0]
    square = np.empty(1, dtype=np.float32)
    level = np.empty(1, dtype=np.float32)
    for p in range(points.shape[0]):
        x, y, z = points[p, 0] - source[0], points[p, 1] - source[1], points[p, 2] - source[2]
        squares(np.float32(x), np.float32(0.0), y, z, nearest, square)
        pattern_levels(np.float32(x), np.float32(0.0), y, z, axis, pattern, square, level)
        decibels(square)
        for b in range(bands):
            gain[b, p] = level[0] - square[0] - free_db[b] - losses[p, b]
        spread(losses[p, bands : bands + 1], losses[p, bands + 1 : bands + 2], square, spreads, sd[p : p + 1])
