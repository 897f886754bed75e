"""What coax or another medium could do where copper pairs fail."""

from __future__ import annotations

from dataclasses import dataclass

from rehaul.copper.coax import coax_band
from rehaul.facts.grades import Evidence, Prospect
from rehaul.facts.media import MediaRow, OldMedium, media_rows
from rehaul.words import Saying, cited, say, term


@dataclass(frozen=True)
class MediaOption:
    """One open standard on one medium, with a rate to count on and the best case."""

    medium: OldMedium
    standard: str
    rate_low_mbps: float
    rate_mbps: float
    needs: str
    caution: str
    band: Prospect
    reason: Saying
    evidence: Evidence
    source: str


def other_media(
    medium: OldMedium, *, length_m: float = 0.0, live_dsl: bool = False, path_db: float | None = None
) -> tuple[MediaOption, ...]:
    """What a medium already in the wall, or new glass, could carry; fastest first.

    Parameters: medium; length_m of the run; live_dsl where a DSL line shares the pair, which rules
    the pair out; path_db of a coax path through its splitters, unknown if None.
    Returns options within reach, perhaps none.

    **Validity**: rates from secondary pages; a pair of adapters on trial decides.
    **Source**: the fact rows of `other_media`, each of which says how it was read.
    """
    if medium == "telephone pair" and live_dsl:
        return ()
    rows = (row for row in media_rows(medium) if length_m <= row.reach_m)
    return tuple(_option(row, path_db) for row in rows)


def _option(row: MediaRow, path_db: float | None) -> MediaOption:
    band: Prospect = "likely" if row.medium == "fibre" else "try it"
    reason = say("copper.glass_with_ease") if band == "likely" else say("copper.adapters_decide")
    if row.medium == "coax":
        reason = say("copper.splitters_not_known")
        if path_db is not None:
            band = coax_band(path_db)
            reason = say("copper.path_loses", path_db=path_db)
    return MediaOption(
        medium=row.medium,
        standard=row.standard,
        rate_low_mbps=row.rate_low_mbps,
        rate_mbps=row.rate_mbps,
        needs=term(row.needs),
        caution=term(row.caution),
        band=band,
        reason=reason,
        evidence="unknown" if row.medium == "coax" and path_db is None else "inferred",
        source=cited(row.source),
    )
