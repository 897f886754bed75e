"""Doors and windows: do they fit their wall, and does one stand in another."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise

from rehaul.facts.constructions import constructions
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.base import UNKNOWN
from rehaul.house.called import called
from rehaul.house.geometry import storey_of
from rehaul.house.job import Job
from rehaul.house.model import Opening
from rehaul.words import say

TOUCH_M = 0.02


def opening_findings(job: Job) -> Iterator[Finding]:
    """What is amiss with the openings of a job, one by one.

    Too high for its wall, of no construction that is listed, one in another, glass not known. Openings that
    touch by up to 2 cm do not count as one in another. `where` of a finding names openings and walls by id.
    **Source**: docs/readers.md, "The audit".
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
                sentence=say("findings.opening_too_high", opening=called(job, opening.id), over_m=over_m),
                proposed_fix=say("fixes.correct_sill_or_height"),
            )
        if opening.construction != UNKNOWN and opening.construction not in constructions():
            yield Finding(
                code="construction-not-listed",
                severity=Severity.MEND,
                where=(opening.id,),
                sentence=say(
                    "findings.opening_not_listed",
                    opening=called(job, opening.id),
                    named=opening.construction,
                ),
                proposed_fix=say("fixes.choose_door_or_window"),
            )
    for openings in on_wall.values():
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
                    sentence=say(
                        "findings.openings_overlap",
                        one=called(job, one.id),
                        other=called(job, other.id),
                        shared_m=shared_m,
                    ),
                    proposed_fix=say("fixes.move_along_the_wall"),
                )
    unknown = [o.id for o in job.house.openings if o.construction == UNKNOWN and o.kind.value == "window"]
    if unknown:
        yield Finding(
            code="glass-unknown",
            severity=Severity.ASK,
            where=tuple(unknown),
            sentence=say("findings.glass_unknown", windows=len(unknown)),
            proposed_fix=say("fixes.hold_a_lamp"),
        )
