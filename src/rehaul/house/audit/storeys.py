"""Storeys: do they stack, and is their floor known."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from rehaul.facts.constructions import constructions
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.base import UNKNOWN
from rehaul.house.job import Job

TOUCH_M = 0.02
FREE_GAP_M = 1.5  # more than this between a ceiling and the next floor is a slip, or a storey not listed


def storey_findings(job: Job) -> Iterator[Finding]:
    """What is amiss with the storeys of a job: none, one in the next, a gap between, floor not known, empty.

    Storeys are taken from the lowest up; the floor of the lowest is not asked for, since nothing lies under
    it.
    """
    storeys = sorted(job.house.storeys, key=lambda storey: (storey.elevation_m, storey.id))
    if not storeys:
        yield Finding(
            code="no-storey",
            severity=Severity.SERIOUS,
            where=("house.storeys",),
            sentence="The house has no storey.",
            proposed_fix="Read a building model or a room list, or draw the first storey.",
        )
    for below, above in pairwise(storeys):
        overlap_m = below.elevation_m + below.height_m - above.elevation_m
        if overlap_m > TOUCH_M:
            yield Finding(
                code="storeys-overlap",
                severity=Severity.MEND,
                where=(below.id, above.id),
                sentence=f"{below.name} reaches {overlap_m:.2f} m above the floor of {above.name}.",
                proposed_fix=f"Set the height of {below.name} to "
                f"{max(0.0, above.elevation_m - above.floor.thickness_m - below.elevation_m):.2f} m, "
                f"or correct an elevation; leave it if the storeys stand beside each other.",
            )
        elif -overlap_m > FREE_GAP_M:
            yield Finding(
                code="storeys-apart",
                severity=Severity.MEND,
                where=(below.id, above.id),
                sentence=f"There are {-overlap_m:.2f} m between {below.name} and {above.name}.",
                proposed_fix="Correct the elevation, or list the storey between them.",
            )
    known = {row.name for row in constructions().values() if row.use == "floor"}
    for storey in storeys[1:]:
        if not storey.floor.layers and storey.floor.construction not in known:
            named = storey.floor.construction
            yield Finding(
                code="floor-unknown",
                severity=Severity.ASK,
                where=(storey.id,),
                sentence=f"What the floor of {storey.name} is made of is not known"
                + ("." if named == UNKNOWN else f": {named!r} is not in the table of floors."),
                proposed_fix="Look at it from a stair well or a hatch and name its construction.",
            )
    inhabited = {wall.storey for wall in job.house.walls} | {room.storey for room in job.house.rooms}
    for storey in storeys:
        if storey.id not in inhabited:
            yield Finding(
                code="storey-empty",
                severity=Severity.ASK,
                where=(storey.id,),
                sentence=f"{storey.name} has neither walls nor rooms.",
                proposed_fix="Draw them, or take the storey out.",
            )
