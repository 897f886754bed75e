"""Another point of the front than the chosen one, told as a choice of its own."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.design.choosing import Chosen, at_point
from rehaul.design.results import FrontPoint, PaidOnce, RoomShortfall, told_beaten
from rehaul.house import Job
from rehaul.words import say, term


def chosen_at(job: Job, chosen: Chosen, point: FrontPoint) -> Chosen:
    """What is built where that point is taken; the choice itself where it is the chosen one.

    Parameters: `point`, one of the front of `chosen`. Rooms that it does not serve stand among the
    shortfalls; reasons are left empty: nothing was weighed there.
    """
    if point.chosen:
        return chosen
    whole = chosen.choice
    other = at_point(job, chosen.placing, whole, point)
    choice = other.choice.model_copy(
        update={
            "front": told_beaten(
                tuple(one.model_copy(update={"chosen": one.ways == point.ways}) for one in whole.front)
            ),
            "bound": min(whole.bound, point.cost),
            "resources": tuple(_resources(other, point)),
            "rooms_met": tuple(
                dict.fromkeys(
                    need.room for need in job.needs if chosen.placing.rooms[need.room] in point.rooms
                )
            ),
            "shortfalls": tuple(_left_out(job, chosen, point)),
            "what_one_more_buys": "",
            "why_not": (),
            "words": "",
        }
    )
    return Chosen(choice, other.options, other.placing, other.pulls, other.switch)


def _resources(other: Chosen, point: FrontPoint) -> Iterator[PaidOnce]:
    works = other.placing.offering.works
    for name in works.all_of(name for option in other.options for name in option.needs):
        row = PaidOnce(id=name, words=works.known[name].words, cost=works.cost(name).middle)
        if row.cost > 0 or row.words:
            yield row
    for kind in other.placing.problem.switch_classes:
        if kind.id == point.switch:
            yield PaidOnce(id=f"main switch {kind.id}", words=term(kind.id), cost=kind.cost)


def _left_out(job: Job, chosen: Chosen, point: FrontPoint) -> Iterator[RoomShortfall]:
    """Needs of rooms that the point does not serve; what they will get is said once it is predicted."""
    names = chosen.placing.rooms
    for need in chosen.placing.needs:
        if names[need.room] in point.rooms:
            continue
        for kind, need_mbps in (("down", need.down_mbps), ("up", need.up_mbps)):
            if need_mbps > 0:
                yield RoomShortfall(
                    room=need.room,
                    name=names[need.room],
                    need_mbps=need_mbps,
                    gets_mbps=0.0,
                    served_pct=0.0,
                    fix=say("design_why.left_out"),
                    fix_cost=None,
                    kind=kind,
                )
    for row in job.needs:
        if row.wired_outlets and names[row.room] not in point.rooms:
            yield RoomShortfall(
                room=row.room,
                name=names[row.room],
                need_mbps=float(row.wired_outlets),
                gets_mbps=0.0,
                served_pct=0.0,
                fix=say("design_why.left_out"),
                fix_cost=None,
                kind="outlets",
            )
