"""What coax or another medium could do where copper pairs fail."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.facts.grades import Evidence
from rehaul.facts.media import MediaRow, Medium, media_rows


@dataclass(frozen=True)
class MediaOption:
    """One open standard on one medium, with a rate to count on and the best case."""

    medium: Medium
    standard: str
    rate_low_mbps: float
    rate_mbps: float
    needs: str
    caution: str
    evidence: Evidence
    source: str


def other_media(medium: Medium, *, length_m: float = 0.0, live_dsl: bool = False) -> tuple[MediaOption, ...]:
    """What a medium already in the wall, or new glass, could carry; fastest first.

    Parameters: medium; length_m of the run; live_dsl where a DSL line shares the pair, which rules
    the pair out. Returns options within reach, perhaps none.

    **Validity**: rates from secondary pages; a pair of adapters on trial decides.
    **Source**: the fact rows of `other_media`, each of which says how it was read.
    """
    if medium == "telephone pair" and live_dsl:
        return ()
    return tuple(_option(row) for row in media_rows(medium) if length_m <= row.reach_m)


def _option(row: MediaRow) -> MediaOption:
    return MediaOption(
        medium=row.medium,
        standard=row.standard,
        rate_low_mbps=row.rate_low_mbps,
        rate_mbps=row.rate_mbps,
        needs=row.needs,
        caution=row.caution,
        evidence="inferred",
        source=str(row.source),
    )
