"""What gets past a big body on straight rays: knife edges at its sides, over its top and beneath it.

A ray V from its start meets a body, a box of half sizes h about c, in the plane across it through mV, the
middle of its way through the box's ellipsoid: m = cWV / VWV with W = diag(1 / h²), c seen from the start,
or as near to that as the body reaches along the ray.
There the box is an outline of three pairs of parallel edges, upright ones and those along x and y. Each is a
knife edge of its own,

    nu = distance of the edge from the ray · sqrt(2 / wavelength · (1/d1 + 1/d2)),

negative where the ray passes clear of it. The shares of power past the open ways are summed to Q, at most 1:
for rays flatter than 45 degrees past both sides, over the top and underneath, where edges along x and y
count by how far they lie across the ray; for upright rays past the four faces. Of what they leave the body
lets its share T through, and past it comes besides what its room scatters, r of what comes straight
(`radio.diffuse`): loss = -10 log10((T + (1 - T) Q + r) / (1 + r)). Q is never less than the share past the
nearest edge alone, so the loss goes smoothly to nothing beside the body; it does not depend on which end
sends, and without a body nothing is lost.
"""

from __future__ import annotations

import numpy as np

from rehaul.arrays import Bools, Floats, Reals, Wholes
from rehaul.kernels.loops import inner
from rehaul.radio.decibels import decibels

CLEAR_NU = -0.7807  # below this a knife edge takes nothing
APART = 0.1  # sqrt(m); a body this times sqrt(length) above or below both ends of a ray is not on it
RAY_ROWS = 5  # x, y, z, and the part of the ray that counts, from and to
EDGES = 6  # left, right; along x above and below; along y above and below
EDGE_ROWS = 10  # edges; share of body between the ends; how flat; how far edges along x lie across; 1/(1+r)
_SHARE = 10.0**-0.69  # of the power past a knife edge, at nu = 0.1
_AT_EDGE = _SHARE * (np.sqrt(1.01) + 0.1) ** 2  # at nu = 0
_NEAREST_M = 0.01  # a body is at least this far from both ends of a ray


@inner
def measure(centre: Reals, half: Reals, room: Reals, ray: Floats, count: int, found: Floats) -> None:
    """Nu of all edges in a wave of sqrt(2 / wavelength) = 1, and what they are weighed by.

    `ray` (RAY_ROWS, count), with `centre` seen from where they start; `room` (3,) the body's, as a row of
    `DiffuseRoom`; writes `found` (EDGE_ROWS, count). **Source**: ITU-R P.526, section 4.1 (nu of an edge);
    docs/radio.md, "Big bodies".
    """
    bx, by, bz = np.float32(centre[0]), np.float32(centre[1]), np.float32(centre[2])
    hx, hy, hz = np.float32(half[0]), np.float32(half[1]), np.float32(half[2])
    wx, wy, wz = np.float32(1.0) / (hx * hx), np.float32(1.0) / (hy * hy), np.float32(1.0) / (hz * hz)
    one, nearest = np.float32(1.0), np.float32(_NEAREST_M)
    nil, two, tiny, far = np.float32(0.0), np.float32(2.0), np.float32(1e-6), np.float32(APART)
    thrown, reach, decay = np.float32(room[0]), np.float32(room[1]), np.float32(room[2])
    for i in range(count):
        x, y, z = ray[0, i] + tiny, ray[1, i] + tiny, ray[2, i]
        xx, yy, zz = x * x, y * y, z * z
        length2, weight = xx + yy + zz, xx * wx + yy * wy + zz * wz
        length, place = np.sqrt(length2), (bx * x * wx + by * y * wy + bz * z * wz) / weight
        ax, ay, az = abs(x), abs(y), abs(z)
        middle, depth = (bx * x + by * y + bz * z) / length2, (hx * ax + hy * ay + hz * az) / length2
        place = min(max(place, middle - depth), middle + depth)
        inside = two * np.sqrt(weight)  # over half of the body's depth along the ray, halved
        part = min(max((place - ray[3, i]) * inside, nil), one)
        part *= min(max((ray[4, i] - place) * inside, nil), one)
        gap = max(bz - hz - max(z, nil), min(z, nil) - bz - hz)
        found[6, i] = part if gap < far * np.sqrt(length) else nil
        flat2 = xx + yy
        found[7, i], found[8, i] = min(two * flat2 / length2, one), yy / flat2
        before, after = max(place * length, nearest), max((one - place) * length, nearest)
        found[9, i] = _missed(before, after, thrown, reach, decay)
        scale = np.sqrt(one / before + one / after)
        over = scale / np.sqrt(flat2)
        wide, aside = (hx * ay + hy * ax) * over, (by * x - bx * y) * over
        found[0, i], found[1, i] = wide + aside, wide - aside
        over = scale / np.sqrt(yy + zz)
        wide, aside = (hy * az + hz * ay) * over, (bz * ay - by * (z if y > nil else -z)) * over
        found[2, i], found[3, i] = wide + aside, wide - aside
        over = scale / np.sqrt(xx + zz)
        wide, aside = (hx * az + hz * ax) * over, (bz * ax - bx * (z if x > nil else -z)) * over
        found[4, i], found[5, i] = wide + aside, wide - aside


@inner
def _missed(before, after, scale, reach, decay):  # type: ignore[no-untyped-def]
    """1 / (1 + r): how much of what a body takes is missed beside what the room scatters.

    **Validity**, **Source**: as `radio.diffuse`, whose row the three last are; the exponential is its Padé
    fraction, two over two, within 0.2 % up to d = D.
    """
    six, twelve = np.float32(6.0), np.float32(12.0)
    way = min(before, reach) + min(after, reach)
    x = way * decay
    even = twelve + x * x
    above, below = even - six * x, even + six * x
    return below / (below + scale * way * way * above)


@inner
def keep_met(wave_root: Floats, found: Floats, index: Wholes, count: int) -> int:
    """Keep, in place, the rays that the body may cost something; returns how many.

    `wave_root` (wave,) as in `BodyTables`; `found` (EDGE_ROWS, count) as `measure` wrote it and `index`
    (count,) are closed up at the front. A ray is kept where it passes no edge clear by more than CLEAR_NU.
    **Source**: ITU-R P.526, section 4.1, where the loss ends below -0.78; docs/radio.md, "Big bodies".
    """
    clear = np.float32(CLEAR_NU) / wave_root.min()
    kept = 0
    for i in range(count):
        nearest = min(min(found[0, i], found[1, i]), min(found[2, i], found[3, i]))
        nearest = min(nearest, min(found[4, i], found[5, i]))
        if nearest > clear and found[6, i] > 0.0:
            for row in range(EDGE_ROWS):
                found[row, kept] = found[row, i]
            index[kept] = index[i]
            kept += 1
    return kept


@inner
def losses(
    open_ways: Bools, wave_root: Floats, through: Floats, found: Floats, count: int, loss: Floats
) -> None:
    """Loss of one body on each of `count` rays, in every wave: to `loss` (wave, count) [dB], 0 or more.

    `open_ways` (2,): whether there is space over the top and underneath; `through` (wave,) the share of
    power let through; `found` as `measure` wrote it. **Validity**: bodies wide against the wavelength;
    box-shaped, square to the axes. **Source**: knife edges ITU-R P.526, combined as the head of this module
    says (docs/radio.md).
    """
    one, nil = np.float32(1.0), np.float32(0.0)
    # where a slab closes a way, nothing comes past that edge until the ray itself does
    steep, start = np.float32(1.0 / (1.0 - _AT_EDGE)), np.float32(-_AT_EDGE / (1.0 - _AT_EDGE))
    over, over_from = (one, nil) if open_ways[0] else (steep, start)
    under, under_from = (one, nil) if open_ways[1] else (steep, start)
    for w in range(wave_root.size):
        root, twin = wave_root[w], w
        for v in range(w):
            twin = v if wave_root[v] == root else twin
        if twin < w:  # what goes round depends on the wave alone
            loss[w, :count] = loss[twin, :count]
            continue
        for i in range(count):
            left, right = _share(root * found[0, i]), _share(root * found[1, i])
            above_x, below_x = _share(root * found[2, i]), _share(root * found[3, i])
            above_y, below_y = _share(root * found[4, i]), _share(root * found[5, i])
            flat, along_x = found[7, i], found[8, i]
            faces = above_x + below_x + above_y + below_y
            above_x, above_y = max(over * above_x + over_from, nil), max(over * above_y + over_from, nil)
            below_x, below_y = max(under * below_x + under_from, nil), max(under * below_y + under_from, nil)
            way = left + right + along_x * (above_x + below_x) + (one - along_x) * (above_y + below_y)
            past = flat * way + (one - flat) * faces
            past = max(max(past, max(left, right)), max(max(above_x, below_x), max(above_y, below_y)))
            loss[w, i] = min(past, one)
    for w in range(wave_root.size):
        lets = through[w]
        for i in range(count):
            lost = found[9, i]
            loss[w, i] = (one - lost) + lost * (lets + (one - lets) * loss[w, i])
        decibels(loss[w, :count])
        for i in range(count):
            loss[w, i] = max(-loss[w, i], nil) * found[6, i]


@inner
def _share(nu):  # type: ignore[no-untyped-def]
    """Share of power past a knife edge, 10^(-J / 10).

    **Validity**, **Source**: as `knife_edge_db`, whose J = 6.9 + 20 log10(sqrt((nu - 0.1)² + 1) + nu - 0.1)
    is written here without a logarithm.
    """
    one = np.float32(1.0)
    x = min(max(nu - np.float32(0.1), np.float32(CLEAR_NU - 0.12)), np.float32(100.0))
    y = np.sqrt(x * x + one) - x  # one over sqrt(x² + 1) + x
    return min(np.float32(_SHARE) * y * y, one)


@inner
def add(
    loss: Floats, index: Wholes, count: int, sd_db: float, per_db: float, eased: bool, apart: int, out: Floats
) -> None:
    """Add the losses of one body to the receivers of its rays, and its spread by its share of the loss.

    `index` is where in `out`, laid flat, the first band of each receiver is, `apart` how far apart bands are.
    **Source**: docs/radio.md, "Many crossings" (root of the squares), "Big bodies" (its spread).
    """
    bands = loss.shape[0] - 1
    scale, first = per_db * sd_db, 0
    while first < count:  # receivers side by side are added side by side
        at, end = index[first], first + 1
        while end < count and index[end] == at + end - first:
            end += 1
        for b in range(bands):
            into, lost = out[at + b * apart : at + b * apart + end - first], loss[b, first:end]
            if eased:  # squares of the losses, and spreads times the losses they are of
                for i in range(lost.size):
                    into[i] += lost[i] * lost[i]
            else:
                for i in range(lost.size):
                    into[i] += lost[i]
        unsure, place = loss[bands, first:end], at + bands * apart
        total, squares = out[place : place + unsure.size], out[place + apart : place + apart + unsure.size]
        for i in range(unsure.size):
            sd = unsure[i] * scale * (unsure[i] if eased else np.float32(1.0))
            total[i] += sd
            squares[i] += sd * sd
        first = end
