"""What is written on labels: both ends of each cable, plates, panel ports and boxes, under one id each."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from rehaul.house import UNKNOWN, Job, Model, Outlet, Run, held_on
from rehaul.takeoff.scope import KeptLink, Pull, Scope

Where = Literal["cable end", "plate", "panel", "box"]


class LabelLine(Model):
    """What is written on one label, and where it goes."""

    id: str  # the same on both ends, plate, panel, plan and test row
    alias: str  # friendly words beside it
    on: Where
    place: str  # where the person stands who sticks it on
    wrap: bool = False  # goes round a cable: the words are repeated


def labels_of(scope: Scope) -> tuple[LabelLine, ...]:
    """All labels, in the order in which somebody walks: the meeting point first, then plate by plate.

    Nothing is labelled where nothing is done.
    """
    if scope.nothing:
        return ()
    job = scope.job
    names = place_names(job)
    found: list[LabelLine] = []
    if scope.cabling:
        kept = {run.id for link in scope.kept for run in link.runs}
        found += [label for link in scope.kept for label in _link(link, names)]
        kept |= {pull.spends for pull in scope.pulls}
        found += [label for run in job.house.runs if run.id not in kept for label in _cable(job, run, names)]
        closet = scope.meeting_point.name if scope.meeting_point else "the switch"
        found += [label for pull in scope.pulls for label in _pull(pull, closet)]
        rooms = {room.id: room.name for room in job.house.rooms}
        for outlet in job.house.outlets:
            if outlet.position is not None:
                found.append(
                    LabelLine(
                        id=outlet.id,
                        alias=rooms.get(outlet.room or "", ""),
                        on="plate",
                        place=names[outlet.id],
                    )
                )
        for outlet in scope.choice.outlets:
            if outlet.id not in names:
                found.append(LabelLine(id=outlet.id, alias=outlet.name, on="plate", place=outlet.name))
    for port in scope.network.ports:
        if port.panel_port is not None:
            alias = names.get(port.outlet, port.device)
            found.append(LabelLine(id=port.link, alias=alias, on="panel", place=f"panel {port.panel_port}"))
    for point in scope.access_points:
        found.append(LabelLine(id=point.id, alias=point.name, on="box", place=point.name))
    for item in scope.network.rack:
        if item.name == "Switch":
            found.append(LabelLine(id="switch", alias="", on="box", place=f"rack unit {item.unit}"))
    return tuple(found)


def place_names(job: Job) -> dict[str, str]:
    """Where every end of a cable is, for people."""
    rooms = {room.id: room.name for room in job.house.rooms}
    storeys = {storey.id: storey.name for storey in job.house.storeys}
    names = {point.id: point.name for point in job.house.meeting_points}
    names |= {splitter.id: splitter.name for splitter in job.house.splitters}
    return names | {outlet.id: _place(outlet, rooms, storeys) for outlet in job.house.outlets}


def _place(outlet: Outlet, rooms: dict[str, str], storeys: dict[str, str]) -> str:
    return rooms.get(outlet.room or "", storeys.get(outlet.storey, outlet.storey))


def _link(kept: KeptLink, names: dict[str, str]) -> Iterator[LabelLine]:
    """Both ends of a link over old pairs, and the boxes that it is joined through."""
    near, far = names.get(kept.start, kept.start), names.get(kept.plate, kept.plate)
    for here, there in ((near, far), (far, near)):
        yield LabelLine(id=kept.link.id, alias=f"to {there}", on="cable end", place=here, wrap=True)
    for box in kept.joins:
        yield LabelLine(
            id=kept.link.id,
            alias="joined straight through",
            on="cable end",
            place=names.get(box, box),
            wrap=True,
        )


def _pull(pull: Pull, closet: str) -> Iterator[LabelLine]:
    for here, there in ((closet, pull.room), (pull.room, closet)):
        yield LabelLine(id=pull.id, alias=f"to {there}", on="cable end", place=here, wrap=True)


def _cable(job: Job, run: Run, names: dict[str, str]) -> Iterator[LabelLine]:
    """A label for each known end that says where the others are, or what holds the cable."""
    held = hold_names(job, run.id)
    for end in run.ends:
        if end == UNKNOWN:
            continue
        others = [names[other] for other in run.ends if other not in {end, UNKNOWN}]
        to = f"to {', '.join(others)}" if others else "far end not found"
        warning = f"DO NOT CUT {held}"
        alias = f"{warning}, {to}" if held == "untested" else warning if held else to
        yield LabelLine(id=run.id, alias=alias, on="cable end", place=names.get(end, end), wrap=True)


def hold_names(job: Job, run_id: str) -> str:
    """What holds a run, short enough for a label: `O1 O2`, `alarm`, `untested`."""
    reasons = held_on(job, run_id)
    named = " ".join(reason.obligation for reason in reasons if reason.obligation)
    if named or not reasons:
        return named
    state = next(run.state.value for run in job.house.runs if run.id == run_id)
    return "untested" if reasons[0].untested else state
