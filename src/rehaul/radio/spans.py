"""What a piece does to a run of receivers in its shadow: take decibels, or turn and weaken a field.

Written for the compiler: slices start at 0 so that no index can be negative, and a band is added in
its own line of arithmetic where there are three or fewer.
"""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Floats
from rehaul.kernels.loops import compiled, inlined


@compiled
def add_span(
    depth: np.float32, growth: np.float32, inverse: Floats, loss_db: Floats, sd_db: float, out: Floats
) -> None:
    """Add one piece to a run of receivers in its shadow, to `out` (band + 2, n).

    The cosine of incidence in table steps is (depth + growth i) · `inverse` (n,), at most the last step of
    `loss_db` (band, cosine step). The last two rows gather the spread and its square. **Source**:
    docs/radio.md, "Levels of paths": the loss of every crossing at its own angle.
    """
    bands = loss_db.shape[0]
    limit = np.float32(loss_db.shape[1] - 2)
    next_step = np.uint32(1)
    for i in range(inverse.size):
        place = min((depth + growth * np.float32(np.int32(i))) * inverse[i], limit)
        k = np.uint32(place)
        part = place - np.float32(k)
        out[0, i] += loss_db[0, k] + part * (loss_db[0, k + next_step] - loss_db[0, k])
        if bands > 1:
            out[1, i] += loss_db[1, k] + part * (loss_db[1, k + next_step] - loss_db[1, k])
        if bands > 2:
            out[2, i] += loss_db[2, k] + part * (loss_db[2, k + next_step] - loss_db[2, k])
        for b in range(3, bands):
            out[b, i] += loss_db[b, k] + part * (loss_db[b, k + next_step] - loss_db[b, k])
        out[bands, i] += sd_db
        out[bands + 1, i] += sd_db * sd_db


@compiled
def turn_span(
    depth: np.float32,
    growth: np.float32,
    inverse: Floats,
    amplitude: Floats,
    normal: tuple[float, float],
    x: float | np.float32,
    y: float | np.float32,
    rise: float | np.float32,
    sd_db: float,
    field: Floats,
) -> None:
    """Pass the field of a run of receivers through one piece with both its polarisations.

    `amplitude` (3 band, cosine step) holds te and the real and imaginary parts of tm; `normal` (nx, ny),
    (0, 0) for a plate; the first receiver is at x, y, rise from the source, in cells. `field`
    (4 band + 2, receiver) holds real and imaginary parts of its upright and its level component, and the
    sums of the spreads. **Source**: te and tm of ITU-R P.2040; docs/radio.md, "Levels of paths" (upright).
    """
    bands = amplitude.shape[0] // 3
    limit = np.float32(amplitude.shape[1] - 2)
    nx, ny = np.float32(normal[0]), np.float32(normal[1])
    x, y, rise = np.float32(x), np.float32(y), np.float32(rise)
    places = np.empty(inverse.size, dtype=np.float32)
    uprights, levels = np.empty_like(places), np.empty_like(places)  # the te direction in the field's parts
    for i in range(places.size):
        at = x + np.float32(np.int32(i))
        places[i] = min((depth + growth * np.float32(np.int32(i))) * inverse[i], limit)
        upright = ny * at - nx * y
        level = -rise * (nx * at + ny * y) * inverse[i]
        scale = np.float32(1.0) / np.sqrt(upright * upright + level * level + np.float32(1e-20))
        uprights[i], levels[i] = upright * scale, level * scale
    if nx == 0.0 and ny == 0.0:
        levels[:] = 1.0
    for i in range(places.size):
        k = np.uint32(places[i])
        part = places[i] - np.float32(k)
        upright, level = uprights[i], levels[i]
        _turn(amplitude, k, part, upright, level, field, i, np.uint32(0))
        if bands > 1:
            _turn(amplitude, k, part, upright, level, field, i, np.uint32(1))
        if bands > 2:
            _turn(amplitude, k, part, upright, level, field, i, np.uint32(2))
        for b in range(3, bands):
            _turn(amplitude, k, part, upright, level, field, i, np.uint32(b))
        field[4 * bands, i] += sd_db
        field[4 * bands + 1, i] += sd_db * sd_db


@inlined
def _turn(amplitude, k, part, upright, level, field, i, band):  # type: ignore[no-untyped-def]
    """Pass the field of one receiver in one band through a piece: tm of all, and te less tm along te."""
    row, c, next_step = np.uint32(3) * band, np.uint32(4) * band, k + np.uint32(1)
    one, two, three = np.uint32(1), np.uint32(2), np.uint32(3)
    te = amplitude[row, k] + part * (amplitude[row, next_step] - amplitude[row, k])
    pr = amplitude[row + one, k] + part * (amplitude[row + one, next_step] - amplitude[row + one, k])
    pi = amplitude[row + two, k] + part * (amplitude[row + two, next_step] - amplitude[row + two, k])
    ur, ui, lr, li = field[c, i], field[c + one, i], field[c + two, i], field[c + three, i]
    along_r, along_i = ur * upright + lr * level, ui * upright + li * level
    extra_r, extra_i = (te - pr) * along_r + pi * along_i, (te - pr) * along_i - pi * along_r
    field[c, i] = pr * ur - pi * ui + extra_r * upright
    field[c + one, i] = pr * ui + pi * ur + extra_i * upright
    field[c + two, i] = pr * lr - pi * li + extra_r * level
    field[c + three, i] = pr * li + pi * lr + extra_i * level
