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
    """The kinds of loss that count in a band."""
    return tuple(row for row in load(DeliveredShare) if row.band in (None, band))
