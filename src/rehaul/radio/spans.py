"""What a piece does to a run of receivers in its shadow: take decibels, or turn and weaken a field.

Written for the compiler: slices start at 0 so that no index can be negative, and a band is added in
its own line of arithmetic where there are three or fewer.
"""

from __future__ import annotations

import numpy as np
from numba import njit


@njit(cache=True, nogil=True, error_model="numpy")
def add_span(depth, growth, inverse, loss_db, sd_db, out):  # type: ignore[no-untyped-def]
    """Add one piece to a run of receivers; the cosine in table steps is (depth + growth i) · inverse."""
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


@njit(cache=True, nogil=True, error_model="numpy")
def turn_span(depth, growth, inverse, amplitude, normal, x, y, rise, sd_db, field):  # type: ignore[no-untyped-def]
    """Pass the field of a run of receivers through one piece with both its polarisations.

    `amplitude` (4 band, cosine step) holds real and imaginary parts for te and tm; `normal` (nx, ny),
    (0, 0) for a plate; the first receiver is at x, y, rise from the source, in cells. `field`
    (4 band + 2, receiver) holds real and imaginary parts of its upright and its level component, and the
    sums of the spreads.
    """
    bands = amplitude.shape[0] // 4
    limit = np.float32(amplitude.shape[1] - 2)
    nx, ny = np.float32(normal[0]), np.float32(normal[1])
    flat = nx == 0.0 and ny == 0.0
    next_step = np.uint32(1)
    for i in range(inverse.size):
        place = min((depth + growth * np.float32(np.int32(i))) * inverse[i], limit)
        k = np.uint32(place)
        part = place - np.float32(k)
        at = np.float32(x) + np.float32(np.int32(i))
        upright, level = np.float32(0.0), np.float32(1.0)  # the te direction in the field's two components
        if not flat:
            upright = ny * at - nx * np.float32(y)
            level = -np.float32(rise) * (nx * at + ny * np.float32(y)) * inverse[i]
            scale = np.float32(1.0) / np.sqrt(upright * upright + level * level + np.float32(1e-20))
            upright, level = upright * scale, level * scale
        for b in range(bands):
            c = 4 * b
            sr = amplitude[c, k] + part * (amplitude[c, k + next_step] - amplitude[c, k])
            si = amplitude[c + 1, k] + part * (amplitude[c + 1, k + next_step] - amplitude[c + 1, k])
            pr = amplitude[c + 2, k] + part * (amplitude[c + 2, k + next_step] - amplitude[c + 2, k])
            pi = amplitude[c + 3, k] + part * (amplitude[c + 3, k + next_step] - amplitude[c + 3, k])
            ur, ui, lr, li = field[c, i], field[c + 1, i], field[c + 2, i], field[c + 3, i]
            along_r, along_i = ur * upright + lr * level, ui * upright + li * level
            dr, di = sr - pr, si - pi
            extra_r, extra_i = dr * along_r - di * along_i, dr * along_i + di * along_r
            field[c, i] = pr * ur - pi * ui + extra_r * upright
            field[c + 1, i] = pr * ui + pi * ur + extra_i * upright
            field[c + 2, i] = pr * lr - pi * li + extra_r * level
            field[c + 3, i] = pr * li + pi * lr + extra_i * level
        field[4 * bands, i] += sd_db
        field[4 * bands + 1, i] += sd_db * sd_db
