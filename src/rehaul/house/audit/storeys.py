"""Storeys: do they stack, and is their floor known."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from rehaul.facts.constructions import constructions
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.base import UNKNOWN
from rehaul.house.job import Job
from rehaul.words import say

TOUCH_M = 0.02
FREE_GAP_M = 1.5  # more than this between a ceiling and the next floor is a slip, or a storey not listed


def storey_findings(job: Job) -> Iterator[Finding]:
    """What is amiss with the storeys of a job: none, one in the next, a gap between, floor not known, empty.

    Storeys are taken from the lowest up; the floor of the lowest is not asked for, since nothing lies under
    it. **Source**: docs/readers.md, "The audit".
    """
    storeys = sorted(job.house.storeys, key=lambda storey: (storey.elevation_m, storey.id))
    if not storeys:
        yield Finding(
            code="no-storey",
            severity=Severity.SERIOUS,
            where=("house.storeys",),
            sentence=say("findings.no_storey"),
            proposed_fix=say("fixes.read_or_draw_storey"),
        )
    for below, above in pairwise(storeys):
        overlap_m = below.elevation_m + below.height_m - above.elevation_m
        if overlap_m > TOUCH_M:
            height_m = max(0.0, above.elevation_m - above.floor.thickness_m - below.elevation_m)
            yield Finding(
                code="storeys-overlap",
                severity=Severity.MEND,
                where=(below.id, above.id),
                sentence=say(
                    "findings.storeys_overlap", below=below.name, overlap_m=overlap_m, above=above.name
                ),
                proposed_fix=say("fixes.set_storey_height", storey=below.name, height_m=height_m),
            )
        elif -overlap_m > FREE_GAP_M:
            yield Finding(
                code="storeys-apart",
                severity=Severity.MEND,
                where=(below.id, above.id),
                sentence=say("findings.storeys_apart", gap_m=-overlap_m, below=below.name, above=above.name),
                proposed_fix=say("fixes.correct_elevation"),
            )
    known = {row.name for row in constructions().values() if row.use == "floor"}
    for storey in storeys[1:]:
        if not storey.floor.layers and storey.floor.construction not in known:
            named = storey.floor.construction
            yield Finding(
                code="floor-unknown",
                severity=Severity.ASK,
                where=(storey.id,),
                sentence=say("findings.floor_unknown", storey=storey.name)
                if named == UNKNOWN
                else say("findings.floor_not_listed", storey=storey.name, named=named),
                proposed_fix=say("fixes.look_at_the_floor"),
            )
    inhabited = {wall.storey for wall in job.house.walls} | {room.storey for room in job.house.rooms}
    for storey in storeys:
        if storey.id not in inhabited:
            yield Finding(
                code="storey-empty",
                severity=Severity.ASK,
                where=(storey.id,),
                sentence=say("findings.storey_empty", storey=storey.name),
                proposed_fix=say("fixes.draw_or_take_out"),
            )
