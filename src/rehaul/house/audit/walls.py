"""Walls: do they meet, does one stand in another, is their construction known."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from rehaul.facts.composites import composites, is_layer
from rehaul.facts.constructions import constructions
from rehaul.house.audit.finding import Finding, Severity
from rehaul.house.base import UNKNOWN
from rehaul.house.called import called
from rehaul.house.geometry import wall_length_m
from rehaul.house.job import Job
from rehaul.house.model import Wall
from rehaul.words import say

USUAL_WALL_M = 0.1  # where nothing says how thick a wall is
TOUCH_M = 0.02
NEARLY_M = 0.30  # ends nearer than this to another wall were meant to meet it
SAME_PLACE_SHARE = 0.5  # centre lines nearer than this share of the thickness stand in one place
OVERLAP_M = 0.25
PARALLEL_SINE = 0.05


def thickness_m(wall: Wall) -> float:
    """Thickness of a wall [m]: its own, else its layers', else its construction's, else a usual 0.1 m.

    Of a construction in parts it is the thickest part's. **Source**: the fact table `constructions`.
    """
    if wall.thickness_m is not None:
        return wall.thickness_m
    if wall.layers:
        return sum(layer.thickness_m for layer in wall.layers)
    known = constructions().get(wall.construction)
    return known.thickness_m if known else USUAL_WALL_M


def wall_findings(job: Job) -> Iterator[Finding]:
    """What is amiss with the walls of a job, storey by storey.

    Ends that stop short, two walls in one place, walls of which nothing is known. An end that stops less
    than 0.3 m before another wall was meant to meet it. What several unknown walls of one storey are made
    of is asked once. **Source**: docs/readers.md, "The audit".
    """
    for storey in job.house.storeys:
        walls = [wall for wall in job.house.walls if wall.storey == storey.id]
        yield from _ends(job, walls)
        yield from _doubles(job, walls)
        yield from _unknown(job, walls, storey.name)


def _lines(walls: list[Wall]) -> list[shapely.LineString]:
    return [shapely.LineString([wall.start, wall.end]) for wall in walls]


def _ends(job: Job, walls: list[Wall]) -> Iterator[Finding]:
    """Ends that stop short of another wall, so that a gap stays that nobody would see in the house."""
    lines = _lines(walls)
    tree = shapely.STRtree(lines)
    for index, wall in enumerate(walls):
        for tip, back in ((wall.start, wall.end), (wall.end, wall.start)):
            spot = shapely.Point(tip)
            near = [int(i) for i in tree.query(spot.buffer(1.0)) if int(i) != index]
            gaps = sorted(
                (lines[other].distance(spot) - thickness_m(walls[other]) / 2, walls[other].id, other)
                for other in near
            )
            if not gaps or gaps[0][0] <= TOUCH_M:
                continue
            gap_m, name, other = gaps[0]
            if gap_m <= NEARLY_M and _ahead(tip, back, lines[other]):
                yield Finding(
                    code="walls-nearly-meet",
                    severity=Severity.MEND,
                    where=(wall.id, name),
                    sentence=say(
                        "findings.walls_nearly_meet",
                        wall=called(job, wall.id),
                        gap_m=gap_m,
                        other=called(job, name),
                        x_m=tip[0],
                        y_m=tip[1],
                    ),
                    proposed_fix=say(
                        "fixes.draw_wall_on", wall=called(job, wall.id), other=called(job, name)
                    ),
                )


def _ahead(tip: tuple[float, float], back: tuple[float, float], other: shapely.LineString) -> bool:
    """True where the other wall lies on from the tip, not beside the wall."""
    target = other.interpolate(other.project(shapely.Point(tip)))
    forward = np.array(tip) - back
    onward = np.array([target.x, target.y]) - tip
    return float(forward @ onward) > 0.3 * float(np.hypot(*forward) * np.hypot(*onward))


def _doubles(job: Job, walls: list[Wall]) -> Iterator[Finding]:
    lines = _lines(walls)
    tree = shapely.STRtree(lines)
    for index, wall in enumerate(walls):
        for other in sorted(int(i) for i in tree.query(lines[index].buffer(0.5))):
            if other <= index or not _heights_meet(wall, walls[other]):
                continue
            shared_m = _in_one_place_m(wall, walls[other])
            if shared_m > OVERLAP_M:
                yield Finding(
                    code="walls-overlap",
                    severity=Severity.MEND,
                    where=(wall.id, walls[other].id),
                    sentence=say(
                        "findings.walls_overlap",
                        one=called(job, wall.id),
                        other=called(job, walls[other].id),
                        shared_m=shared_m,
                    ),
                    proposed_fix=say("fixes.take_one_wall_out"),
                )


def _heights_meet(one: Wall, other: Wall) -> bool:
    tops = [wall.base_m + (wall.height_m or 1000.0) for wall in (one, other)]
    return min(tops) - max(one.base_m, other.base_m) > TOUCH_M


def _in_one_place_m(one: Wall, other: Wall) -> float:
    start, end = np.array(one.start), np.array(one.end)
    along = (end - start) / wall_length_m(one)
    across = np.array([-along[1], along[0]])
    relative = np.array([other.start, other.end]) - start
    direction = (relative[1] - relative[0]) / wall_length_m(other)
    aside = np.abs(relative @ across)
    limit = SAME_PLACE_SHARE * (thickness_m(one) + thickness_m(other)) / 2
    if abs(float(direction @ across)) > PARALLEL_SINE or float(aside.max()) > limit:
        return 0.0
    low, high = np.sort(relative @ along)
    return max(0.0, min(float(high), wall_length_m(one)) - max(0.0, float(low)))


def _unknown(job: Job, walls: list[Wall], storey_name: str) -> Iterator[Finding]:
    bare = [wall for wall in walls if not wall.layers and wall.construction == UNKNOWN]
    if bare:
        yield Finding(
            code="construction-unknown",
            severity=Severity.ASK,
            where=tuple(wall.id for wall in bare),
            sentence=say(
                "findings.construction_unknown", bare=len(bare), walls=len(walls), storey=storey_name
            ),
            proposed_fix=say("fixes.knock_and_measure"),
        )
    known = constructions()
    for wall in walls:
        if wall.construction != UNKNOWN and wall.construction not in known and not wall.layers:
            yield Finding(
                code="construction-not-listed",
                severity=Severity.MEND,
                where=(wall.id,),
                sentence=say("findings.wall_not_listed", wall=called(job, wall.id), named=wall.construction),
                proposed_fix=say("fixes.choose_construction"),
            )
    strange: dict[str, list[str]] = {}
    for wall in walls:
        for layer in wall.layers:
            if not is_layer(layer.material, layer.thickness_m):
                strange.setdefault(layer.material, []).append(wall.id)
    for name, ids in strange.items():
        code = "findings.material_not_so_thick" if name in composites() else "findings.material_unknown"
        yield Finding(
            code="material-unknown",
            severity=Severity.ASK,
            where=tuple(dict.fromkeys(ids)),
            sentence=say(code, material=name, walls=len(set(ids)), storey=storey_name),
            proposed_fix=say("fixes.nearest_material"),
        )
