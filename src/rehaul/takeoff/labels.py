"""What is written on labels: both ends of each cable, plates, panel ports and boxes, under one id each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from rehaul.design.results import Choice, Network
from rehaul.house import UNKNOWN, Job, Model, Outlet, Run, held_on
from rehaul.network.core import core_point
from rehaul.takeoff.scope import KeptLink, Pull, Scope
from rehaul.words import Saying, say, term
from rehaul.words.fields import Words

Where = Literal["cable end", "plate", "panel", "box"]
UNTESTED = "untested"


class LabelLine(Model):
    """What is written on one label, and where it goes."""

    id: str  # the same on both ends, plate, panel, plan and test row
    alias: Words  # friendly words beside it
    on: Where
    place: Words  # where the person stands who sticks it on
    wrap: bool = False  # goes round a cable: the words are repeated


def labels_of(scope: Scope) -> tuple[LabelLine, ...]:
    """All labels of a scope of work, in the order of `labels_for`; none where nobody comes."""
    if not scope.visited:
        return ()
    return labels_for(scope.job, scope.choice, scope.network, scope.kept, scope.pulls, cabling=scope.cabling)


def labels_for(
    job: Job,
    choice: Choice,
    network: Network,
    kept: Sequence[KeptLink],
    pulls: Sequence[Pull],
    *,
    cabling: bool = True,
) -> tuple[LabelLine, ...]:
    """All labels, in the order in which somebody walks: the meeting point first, then plate by plate.

    Parameters
    ----------
    kept : old pairs that become links
    pulls : new cables
    cabling : whether any cable is touched; without it only panel ports and boxes get labels

    Returns
    -------
    kept links, old cables that stay, new cables (both ends each), plates, panel ports, boxes; a plate
    without a place in the house gets none
    """
    names = _place_names(job)
    found: list[LabelLine] = []
    if cabling:
        used = {run.id for link in kept for run in link.runs} | {pull.spends for pull in pulls}
        found += [label for link in kept for label in _link(job, link, names)]
        found += [label for run in job.house.runs if run.id not in used for label in _cable(job, run, names)]
        core = core_point(job)
        found += [
            label
            for pull in pulls
            for label in _pull(pull, core.name if core else say("takeoff_labels.the_switch"))
        ]
        rooms = {room.id: room.name for room in job.house.rooms}
        for plate in job.house.outlets:
            if plate.position is not None:
                alias = rooms.get(plate.room or "", "")
                found.append(LabelLine(id=plate.id, alias=alias, on="plate", place=names[plate.id]))
        for outlet in choice.outlets:
            if outlet.id not in names:
                found.append(LabelLine(id=outlet.id, alias=outlet.name, on="plate", place=outlet.name))
    for port in network.ports:
        if port.panel_port is not None:
            alias = names.get(port.outlet, port.device)
            name = port.link or port.run or port.outlet
            place = say("takeoff_labels.panel", port=port.panel_port)
            found.append(LabelLine(id=name, alias=alias, on="panel", place=place))
    for point in choice.access_points:
        found.append(LabelLine(id=point.id, alias=point.name, on="box", place=point.name))
    for item in network.rack:
        if item.kind == "switch":
            place = say("takeoff_labels.rack_unit", unit=item.unit)
            found.append(LabelLine(id="switch", alias="", on="box", place=place))
    return tuple(found)


def _place_names(job: Job) -> dict[str, str]:
    """Where every end of a cable is, for people."""
    rooms = {room.id: room.name for room in job.house.rooms}
    storeys = {storey.id: storey.name for storey in job.house.storeys}
    names = {point.id: point.name for point in job.house.meeting_points}
    names |= {splitter.id: splitter.name for splitter in job.house.splitters}
    return names | {outlet.id: _place(outlet, rooms, storeys) for outlet in job.house.outlets}


def _place(outlet: Outlet, rooms: dict[str, str], storeys: dict[str, str]) -> str:
    return rooms.get(outlet.room or "", storeys.get(outlet.storey, outlet.storey))


def _link(job: Job, kept: KeptLink, names: dict[str, str]) -> Iterator[LabelLine]:
    """Both ends of a link over old pairs, and the boxes that it is joined through, with what holds it."""
    near, far = names.get(kept.start, kept.start), names.get(kept.plate, kept.plate)
    names_of = tuple(filter(None, (hold_names(job, run.id) for run in kept.runs)))
    held = say("takeoff_labels.holds", names=names_of)
    ends = [(near, _to(far)), (far, _to(near))]
    ends += [(names.get(box, box), say("takeoff_labels.joined")) for box in kept.joins]
    for place, words in ends:
        alias = say("takeoff_labels.do_not_cut_to", held=held, words=words) if held else words
        yield LabelLine(id=kept.link.id, alias=alias, on="cable end", place=place, wrap=True)


def _pull(pull: Pull, closet: str) -> Iterator[LabelLine]:
    for here, there in ((closet, pull.room), (pull.room, closet)):
        yield LabelLine(id=pull.id, alias=_to(there), on="cable end", place=here, wrap=True)


def _cable(job: Job, run: Run, names: dict[str, str]) -> Iterator[LabelLine]:
    """A label for each known end that says where the others are, or what holds the cable."""
    held = hold_names(job, run.id)
    for end in run.ends:
        if end == UNKNOWN:
            continue
        others = [names[other] for other in run.ends if other not in {end, UNKNOWN}]
        to = _to(*others) if others else say("takeoff_labels.lost")
        warning = say("takeoff_labels.do_not_cut", held=held)
        if held == UNTESTED:
            warning = say("takeoff_labels.do_not_cut_to", held=held, words=to)
        alias = warning if held else to
        yield LabelLine(id=run.id, alias=alias, on="cable end", place=names.get(end, end), wrap=True)


def _to(*places: str) -> Saying:
    return say("takeoff_labels.to", places=places)


def hold_names(job: Job, run_id: str) -> str:
    """What holds a run, short enough for a label: ids such as `O1 O2`, a state, or `untested`.

    Empty where nothing holds it. Ids of obligations come before all else.
    """
    reasons = held_on(job, run_id)
    named = " ".join(reason.obligation for reason in reasons if reason.obligation)
    if named or not reasons:
        return named  # ids alone
    state = next(run.state.value for run in job.house.runs if run.id == run_id)
    return term(UNTESTED if reasons[0].untested else state)
