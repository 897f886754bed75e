"""The delivered share: what devices in homes deliver of the rate that modulation, airtime and protocol allow.

A factor whose logarithm is normal. A part of its spread is shared by all places of one box and one device
(drivers, radios, processors, ports), the rest is of each place and hour (fading of each stream, the air of
others). Readings of Mb/s narrow the shared part.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from functools import cache

import numpy as np

from rehaul.errors import OutOfRange
from rehaul.facts.delivered import OTHER_NETWORKS, delivered_shares
from rehaul.facts.spectrum import BandGhz
from rehaul.words import say


@dataclass(frozen=True)
class ShareSpread:
    """Natural logarithm of the delivered share: its mean, and its spread in two parts."""

    ln_mean: float = 0.0
    shared_sd: float = 0.0  # alike at all places of one box and one device
    own_sd: float = 0.0  # of each place and hour

    def __post_init__(self) -> None:
        if not (self.shared_sd >= 0 and self.own_sd >= 0):
            raise OutOfRange(
                say("refused_wlan.no_deviation"),
                where="delivered",
                remedy=say("refused_common.give_0_or_more"),
            )

    @property
    def sd(self) -> float:
        """Spread of the whole."""
        return float(np.hypot(self.shared_sd, self.own_sd))

    @property
    def median(self) -> float:
        """The middle share, 1: all."""
        return float(np.exp(self.ln_mean))


WHOLE = ShareSpread()  # all that the radio allows


@cache
def usual_share(band: BandGhz, without: Collection[str] = frozenset()) -> ShareSpread:
    """The delivered share of a box and a device of which nothing was read.

    Parameters
    ----------
    band : on which they talk
    without : kinds of loss, or whose they are, that are counted elsewhere or are not there

    Validity: bulk transfers of one device in a home; judgement on about five homes and benches, not a
    survey. Kinds are taken to be independent.
    Source: the table of delivered shares; docs/wlan.md, "The delivered share".

    >>> round(usual_share("5").median, 2)
    0.55
    """
    shared, own = (part_sd(band, whose, without) for whose in (("device", "box"), ("place", "hour")))
    rows = [row for row in delivered_shares(band) if not {row.kind, row.whose} & set(without)]
    return ShareSpread(sum(row.ln_mean for row in rows), shared, own)


def part_sd(band: BandGhz, whose: Collection[str], without: Collection[str] = frozenset()) -> float:
    """Spread of the logarithm by the kinds of loss of a device, a box, a place or an hour.

    Validity, Source: as `usual_share`; docs/wlan.md, "The delivered share".
    """
    rows = delivered_shares(band)
    parts = [row.ln_sd for row in rows if row.whose in whose and not {row.kind, row.whose} & set(without)]
    return float(np.sqrt(np.sum(np.square(parts))))


def air_of_others(band: BandGhz) -> float:
    """What the air of other networks leaves in the usual share, 0 to 1: for where a scan counts it.

    Validity, Source: as `usual_share`; docs/wlan.md, "The delivered share".
    """
    return float(np.exp(sum(row.ln_mean for row in delivered_shares(band) if row.kind == OTHER_NETWORKS)))
