"""The order of work: every step with its place, tools, cautions and what must come first.

A step that would cut or move a pair somebody depends on, or make a hole where somebody still has to
test or make safe, is held until the sign-off is recorded; a stop point stands before it.
"""

from __future__ import annotations

from rehaul.house import open_obligations
from rehaul.takeoff.cautions import is_telephone
from rehaul.takeoff.holds import cabling_hold
from rehaul.takeoff.kept_steps import keep, leave
from rehaul.takeoff.pull_steps import pull
from rehaul.takeoff.results import Task
from rehaul.takeoff.scope import Scope
from rehaul.takeoff.steps import Place, Steps
from rehaul.takeoff.stops import Stops

DOOR, HOUSE = Place("door"), Place("house")


def order(scope: Scope) -> tuple[Task, ...]:
    """Tasks in the order of work, numbered T01, T02, ...; `needs` names what comes first."""
    steps = Steps(scope)
    gate = steps.add("gate", "Ask at the door, and sign what will not be touched", DOOR)
    stops = Stops(steps, gate)
    baseline = [
        steps.add(
            "baseline",
            f"Measure {steps.room(room).name} before the work",
            steps.room(room),
            needs=[gate],
            because=[room],
        )
        for room in _needed_rooms(scope)
    ]
    photos = _photographs(steps, gate)
    checks = {run.id: _check(steps, run.id, photos[""]) for run in scope.job.house.runs}
    tones = {
        run.id: steps.add(
            "tone",
            f"Tone {run.id} and tag both ends",
            steps.closet,
            needs=[checks[run.id]],
            because=[run.id],
        )
        for run in scope.job.house.runs
    }
    steps.board = steps.add(
        "rack",
        "Mount the panel board; cables are dressed to it as they come",
        steps.closet,
        needs=[photos[""]],
        poe=True,
    )
    ends = [keep(steps, stops, kept, tones, photos) for kept in scope.kept]
    ends += [pull(steps, stops, new, tones, photos) for new in scope.pulls]
    leave(steps, stops, tones)
    bond = steps.add(
        "bond", "Check bonding, separation and power at the closet", steps.closet, needs=[steps.board]
    )
    boxes = [
        steps.add("switch", f"Mount {item.name}", steps.closet, needs=[bond], because=[item.name])
        for item in scope.network.rack
        if item.equipment
    ]
    mounted = _access_points(steps, [*boxes, *ends])
    configure = steps.add(
        "configure", "Set names, channels and networks", steps.closet, needs=[*boxes, *mounted]
    )
    proved = [
        steps.add(
            "prove",
            f"Measure {steps.room(room).name} after the work",
            steps.room(room),
            needs=[configure, *baseline],
            because=[room],
        )
        for room in _needed_rooms(scope)
    ]
    steps.add("handover", "Walk the house and hand over the record", HOUSE, needs=proved or [configure])
    return tuple(steps.tasks)


def _photographs(steps: Steps, gate: str) -> dict[str, str]:
    """A photograph of the closet (under the empty name) and of every box that is located."""
    found = {
        "": steps.add(
            "photo",
            "Photograph the closet, every joint, before anything is disconnected",
            steps.closet,
            needs=[gate],
            photo=True,
        )
    }
    for outlet in steps.scope.job.house.outlets:
        if outlet.position is not None:
            found[outlet.id] = steps.add(
                "photo",
                f"Photograph the box of {outlet.id} before anything is disconnected",
                steps.outlet(outlet.id),
                needs=[gate],
                because=[outlet.id],
                photo=True,
            )
    return found


def _check(steps: Steps, run_id: str, photo: str) -> str:
    holders = open_obligations(steps.scope.job, run_id)
    words = " and ".join(f"{o.kind.value} ({o.id})" for o in holders)
    title = (
        f"Leave {run_id} connected: {words} depends on it; get the sign-off"
        if holders
        else f"Prove that {run_id} is dead before touching it"
    )
    return steps.add(
        "live_check",
        title,
        steps.closet,
        needs=[photo],
        because=[run_id, *(o.id for o in holders)],
        telephone=is_telephone(steps.scope.job, run_id),
        alarm=bool(holders),
    )


def _access_points(steps: Steps, needs: list[str]) -> list[str]:
    hold = cabling_hold(steps.scope.job)
    return [
        steps.add(
            "access_point",
            f"Mount {ap.id} in {ap.name}",
            steps.room(ap.site.room) if ap.site.room else Place(ap.name, ap.site.storey),
            needs=needs,
            high=ap.site.height_m > 1.8,
            because=[ap.id, ap.site.id],
            held=hold if ap.site.run or ap.site.new_pull_m else "",
        )
        for ap in steps.scope.access_points
    ]


def _needed_rooms(scope: Scope) -> list[str]:
    return list(dict.fromkeys(need.room for need in scope.job.needs))
