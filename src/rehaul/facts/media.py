"""What else in the wall can carry a network when copper pairs fail: open standards by medium."""

from __future__ import annotations

from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load

OldMedium = Literal["coax", "telephone pair", "power line", "fibre"]


class MediaRow(FactRow):
    """One standard on one medium, with the rate people get and what it asks of the wiring."""

    table: ClassVar[str] = "other_media"
    decides: ClassVar[str] = "which rate is named when coax, a telephone pair or the mains has to do"
    medium: OldMedium
    standard: str
    rate_low_mbps: float  # what to count on in a house
    rate_mbps: float  # best case
    reach_m: float
    needs: str
    caution: str = ""


def media_rows(medium: OldMedium) -> tuple[MediaRow, ...]:
    """Open standards for one old medium, fastest first: the usual rate, the best one, and the reach [m].

    Empty for a medium without a row. **Source**: the fact table `other_media`; most of it is from memory.
    """
    rows = [row for row in load(MediaRow) if row.medium == medium]
    return tuple(sorted(rows, key=lambda row: -row.rate_mbps))
