"""What devices in homes deliver of the rate that modulation, airtime and protocol allow, by kind of loss."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.spectrum import BandGhz
from rehaul.facts.table import FactRow, load

Whose = Literal["device", "box", "place", "hour"]
OTHER_NETWORKS = "other networks"


class DeliveredShare(FactRow):
    """One kind of loss as a factor on the rate: mean and spread of its natural logarithm, and whose it is."""

    table: ClassVar[str] = "delivered_shares"
    decides: ClassVar[str] = "which part of the computed rate a room is told it will get"
    kind: str
    whose: Whose
    band: BandGhz | None = None  # None: every band
    ln_mean: float
    ln_sd: float


@cache
def delivered_shares(band: BandGhz) -> tuple[DeliveredShare, ...]:
    """The kinds of loss that count in a band, as factors on the rate, those of every band among them.

    `band` is "2.4", "5" or "6". Mean and spread are of the factor's natural logarithm, so that they add up
    over independent kinds. **Source**: the fact table `delivered_shares` (docs/wlan.md).
    """
    return tuple(row for row in load(DeliveredShare) if row.band in (None, band))
