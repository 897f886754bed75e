"""Where a house's network begins: the box that routes, and the place where its cables meet."""

from __future__ import annotations

from rehaul.facts.equipment import equipment
from rehaul.house import Box, CableKind, Job, MeetingKind, MeetingPoint

BEST_KINDS = (MeetingKind.CLOSET, MeetingKind.PANEL)


def kind_of(box: Box) -> str:
    """What kind of box it is, such as `router` or `switch`; empty for a class that the table does not hold.

    **Source**: the fact table `equipment`.
    """
    row = equipment().get(box.equipment)
    return row.kind if row else ""


def gateway(job: Job) -> Box | None:
    """The box that routes: the one the service ends in where it is a router, else the first router that
    stays, else whatever the service ends in; None where no such box is recorded.
    """
    boxes = {box.id: box for box in job.boxes}
    modem = boxes.get(job.service.modem or "")
    if modem is not None and kind_of(modem) == "router":
        return modem
    routers = [box for box in job.boxes if kind_of(box) == "router"]
    return next((box for box in routers if box.keep), routers[0] if routers else modem)


def runs_in_use(job: Job) -> frozenset[str]:
    """Ids of the cables that carry the network and go on to: the provider's line, feeds of boxes that stay.

    A box that goes frees its cable.
    """
    feeding = {box.run for box in job.boxes if box.keep and box.run}
    return frozenset(feeding | ({job.service.run} if job.service.run else set()))


def core_point(job: Job) -> MeetingPoint | None:
    """Where the main switch goes: the place that most cables with pairs come to.

    A closet or panel goes before a demarcation point or a junction box; among equals the first of the job.
    """
    points = job.house.meeting_points
    if not points:
        return None
    ends = [end for run in job.house.runs if run.kind.may_have_pairs for end in run.ends]
    fibre = [end for run in job.house.runs if run.kind is CableKind.FIBRE for end in run.ends]

    def rank(point: MeetingPoint) -> tuple[bool, int, int]:
        return (point.kind in BEST_KINDS, ends.count(point.id) + fibre.count(point.id), -points.index(point))

    return max(points, key=rank)
