"""Doors and windows: do they fit their wall, and does one stand in another."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise

from rehaul.facts.constructions import constructions
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.base import UNKNOWN
from rehaul.house.geometry import storey_of
from rehaul.house.job import Job
from rehaul.house.model import Opening

TOUCH_M = 0.02


def opening_findings(job: Job) -> Iterator[Finding]:
    """What is amiss with the openings of a job, one by one.

    Too high for its wall, of no construction that is listed, one in another, glass not known. Openings that
    touch by up to 2 cm do not count as one in another. `where` of a finding names openings and walls by id.
    """
    walls = {wall.id: wall for wall in job.house.walls}
    on_wall: dict[str, list[Opening]] = defaultdict(list)
    for opening in job.house.openings:
        on_wall[opening.wall].append(opening)
        wall = walls[opening.wall]
        top_m = wall.base_m + (wall.height_m or storey_of(job.house, wall.storey).height_m)
        over_m = opening.sill_m + opening.height_m - top_m
        if over_m > TOUCH_M:
            yield Finding(
                code="opening-too-high",
                severity=Severity.MEND,
                where=(opening.id, wall.id),
                sentence=f"The {opening.kind.value} {opening.id} rises {over_m:.2f} m over wall {wall.id}.",
                proposed_fix="Correct its sill or height, or the height of the wall.",
            )
        if opening.construction != UNKNOWN and opening.construction not in constructions():
            yield Finding(
                code="construction-not-listed",
                severity=Severity.MEND,
                where=(opening.id,),
                sentence=f"The {opening.kind.value} {opening.id} is said to be {opening.construction!r}, "
                "which no table lists.",
                proposed_fix="Choose a door or window of the table.",
            )
    for wall_id, openings in on_wall.items():
        ordered = sorted(openings, key=lambda opening: (opening.offset_m, opening.id))
        for one, other in pairwise(ordered):
            shared_m = one.offset_m + one.width_m - other.offset_m
            above = min(one.sill_m + one.height_m, other.sill_m + other.height_m) - max(
                one.sill_m, other.sill_m
            )
            if shared_m > TOUCH_M and above > TOUCH_M:
                yield Finding(
                    code="openings-overlap",
                    severity=Severity.MEND,
                    where=(one.id, other.id),
                    sentence=f"{one.id} and {other.id} overlap by {shared_m:.2f} m in wall {wall_id}.",
                    proposed_fix="Move one of them along the wall.",
                )
    unknown = [o.id for o in job.house.openings if o.construction == UNKNOWN and o.kind.value == "window"]
    if unknown:
        yield Finding(
            code="glass-unknown",
            severity=Severity.ASK,
            where=tuple(unknown),
            sentence=f"The glass of {len(unknown)} windows is not known; coated glass holds radio back.",
            proposed_fix="Hold a lamp to the pane: one reflection of another colour is a coating.",
        )
