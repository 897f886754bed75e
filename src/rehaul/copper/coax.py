"""Loss of a coax path through a house's tree of splitters, and the rate that data over it can have."""

from __future__ import annotations

import math

import numpy as np

from rehaul.errors import BadInput, require_range
from rehaul.facts.coax import CoaxKind, coax_limit, coax_losses
from rehaul.facts.grades import Prospect, band_of
from rehaul.facts.media import media_rows
from rehaul.words import say

INPUT = 0  # of a splitter; its outputs are 1, 2, ...
BIT_DB = 10 * math.log10(2)  # one bit a tone less for each of these
Z_95 = 1.6448536269514722  # quantile of the standard normal distribution


def cable_loss_db(length_m: float, kind: CoaxKind = "RG-6", at_hz: float | None = None) -> float:
    """Loss of a coax alone, in dB; at the top of the band used for data where no frequency is given.

    **Validity**: about the band used for data, from 1000 to 1675 MHz (RG-6: 2150 MHz), 20 °C, sound cable.
    **Source**: fact rows `coax_losses`, along the root of frequency between two rows.

    >>> round(cable_loss_db(30.0, "RG-6", 1125e6), 1)
    6.8
    """
    require_range(length_m, 0.0, 1000.0, name="length_m")
    rows = coax_losses(kind)
    hz = coax_limit("band top") if at_hz is None else at_hz
    require_range(hz, rows[0].at_hz, rows[-1].at_hz, name="at_hz")
    roots = [math.sqrt(row.at_hz) for row in rows]
    return float(np.interp(math.sqrt(hz), roots, [row.loss_db for row in rows])) * length_m / 100.0


def splitter_loss_db(
    ways: int, one: int, other: int, *, through_db: float | None = None, across_db: float | None = None
) -> float:
    """Loss between two ports of a splitter, in dB; port 0 is the input, the outputs are 1 to `ways`.

    A splitter is a tree of two-ways. Between the input and an output every two-way on the way is passed;
    from output to output the one where the two part is crossed, and those below it are passed.

    **Validity**: rated for the working band, every port terminated; old ones can be 10 dB worse.
    **Source**: fact rows `coax_limits` for a two-way; the tree is how splitters are built.

    >>> [round(splitter_loss_db(4, 1, n, through_db=3.7, across_db=20.0), 1) for n in (0, 2, 3)]
    [7.4, 20.0, 27.4]
    """
    if not 1 <= ways <= 32 or not all(INPUT <= port <= ways for port in (one, other)):
        raise BadInput(
            say("refused_copper.no_ports", ways=ways, one=one, other=other),
            where="splitters",
            remedy=say("refused_copper.name_ports"),
        )
    through = coax_limit("two-way through") if through_db is None else through_db
    across = coax_limit("two-way across") if across_db is None else across_db
    if one == other:
        return 0.0
    if INPUT in (one, other):
        return through * len(_branches(ways, max(one, other)))
    a, b = _branches(ways, one), _branches(ways, other)
    common = next(depth for depth, (x, y) in enumerate(zip(a, b, strict=False)) if x != y)
    return across + through * (len(a) + len(b) - 2 * common - 2)


def _branches(ways: int, output: int) -> tuple[bool, ...]:
    """The turns from the input to an output: at every two-way the lower half or the upper."""
    found, first, count = [], 1, ways
    while count > 1:
        lower = count // 2
        upper = output >= first + lower
        found.append(upper)
        first, count = (first + lower, count - lower) if upper else (first, lower)
    return tuple(found)


def splitter_range_db(ways: int, *, across: bool) -> tuple[float, float]:
    """Least and greatest loss of a splitter: from output to output, or between its input and an output.

    Which output a cable hangs on is hardly ever noted, so that a plan counts on the greatest.

    **Validity**: as `splitter_loss_db`. **Source**: as `splitter_loss_db`.
    """
    outputs = range(1, ways + 1)
    pairs = [(a, b) for a in outputs for b in outputs if a < b] if across else [(INPUT, a) for a in outputs]
    losses = [splitter_loss_db(ways, a, b) for a, b in pairs] or [0.0]
    return min(losses), max(losses)


def coax_spread_db() -> float:
    """Standard deviation of an old path's loss about what is computed, in dB.

    **Validity**: old joints and cable, splitters rated for the band. **Source**: fact row `worse by`.
    """
    return coax_limit("worse by") / Z_95


def coax_rate_mbps(path_db: float) -> float:
    """What a pair of adapters carries together, both ways, over a path of this loss; 0 where none links.

    Full up to the loss that full rates are usual at; beyond it one bit a tone is lost for every 3 dB.

    **Validity**: an ordinate of the trade, not of a document: the receivers' tables were not read.
    **Source**: fact rows `coax_limits`; a tone carries log2 of its signal over noise.
    """
    if path_db > coax_limit("last link loss"):
        return 0.0
    lost = max(path_db - coax_limit("full rate loss"), 0.0) / BIT_DB
    return full_coax_mbps() * max(1.0 - lost / coax_limit("full bits"), 0.0)


def coax_loss_at_db(rate_mbps: float) -> float:
    """The greatest loss over which a pair of adapters still carries a rate, in dB.

    **Validity**: as `coax_rate_mbps`, of which it is the inverse. **Source**: as `coax_rate_mbps`.
    """
    lost = coax_limit("full bits") * (1.0 - rate_mbps / full_coax_mbps())
    return min(coax_limit("full rate loss") + lost * BIT_DB, coax_limit("last link loss"))


def full_coax_mbps() -> float:
    """What two adapters carry over a good path, in Mb/s.

    **Validity**: two adapters; more of them share it. **Source**: the first coax row of `other_media`.
    """
    return media_rows("coax")[0].rate_mbps


def coax_chance(path_db: float, at_most_db: float) -> float:
    """Chance that a path computed at `path_db` loses no more than `at_most_db`.

    **Validity**: losses spread normally about what is computed. **Source**: `coax_spread_db`.
    """
    return 0.5 * math.erfc((path_db - at_most_db) / coax_spread_db() / math.sqrt(2.0))


def coax_band(path_db: float) -> Prospect:
    """Whether data over coax holds over a path loss in dB.

    **Validity**: bands only; a pair of adapters on trial decides.
    **Source**: fact rows `coax_limits` (from memory).
    """
    return band_of(coax_chance(path_db, coax_limit("last link loss")))
