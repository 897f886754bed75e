"""Steps of a new cable, by the way it takes."""

from __future__ import annotations

from rehaul.design.conduit import fill_after_pull
from rehaul.design.pulls import pull_tasks, storeys_passed, walls_around
from rehaul.facts.work import labour as norms
from rehaul.house import Room
from rehaul.takeoff.holds import cabling_hold, hole_hold, joined, run_hold
from rehaul.takeoff.results import HoleLine, Task
from rehaul.takeoff.scope import Pull, Scope
from rehaul.takeoff.steps import StepPlace, TaskList
from rehaul.takeoff.stops import Stops
from rehaul.words import Saying, say, term

_HOLES = {
    "fire_seal": ("floor", "fire-stop sealant, both sides"),
    "surface_floor": ("floor or masonry wall, drilled in the corner", "fire-stop sealant, both sides"),
    "fish_easy": ("plate cut-out and any block on the way", "plate; fire-stop where a block was drilled"),
    "fish_hard": ("plate cut-out, top or sole plate", "plate; fire-stop at every plate that was drilled"),
    "fish_open": ("sole or top plate from the open side", "fire-stop sealant"),
    "fibre": ("outer walls of both buildings", "sealant against water and vermin, sloping outwards"),
}
_WAYS = {
    "fished": "takeoff_steps.pull_fished",
    "open floor": "takeoff_steps.pull_open_floor",
    "open attic": "takeoff_steps.pull_open_attic",
    "surface": "takeoff_steps.pull_surface",
    "fibre": "takeoff_steps.pull_fibre",
}


def pull(steps: TaskList, stops: Stops, new: Pull, tones: dict[str, str], photos: dict[str, str]) -> str:
    """Everything for one new cable, added to `steps`; the id of its last step, its test.

    Parameters
    ----------
    stops : stop points, made where they are not there yet
    tones : steps that found old runs, by run, for one that is drawn out
    photos : steps that photographed a box, by its id; "" that of the closet

    A cable beside another needs that one's holes, and makes none of its own. **Source**: docs/work.md,
    "Steps": way of a new cable.
    """
    job = steps.scope.job
    place = StepPlace(new.room, new.storey)
    holes = _holes(steps.scope, new)
    needs = [photos[""], *(stop for hole in holes for stop in stops.before_hole(*hole))]
    held = [joined(*(hole_hold(job, *hole) for hole in holes)), cabling_hold(job)]
    if new.spends:
        needs += [tones[new.spends], photos.get(new.outlet, ""), *stops.before_run(new.spends)]
        held.append(run_hold(job, new.spends))
        needs.append(_conduit(steps, new, tones))
    hold = joined(*held)
    attic = new.way.way == "open attic" or (
        new.way.way == "fished" and bool(new.storey) and new.storey == _top_storey(steps.scope)
    )
    last = ""
    tasks = () if new.beside else pull_tasks(new.way, new.hard, new.floors_crossed)
    for norm in tasks:
        last = steps.add(
            norm,
            _words(steps, new, norm),
            place,
            needs=[*needs, last],
            because=[new.id],
            touches=[new.spends] if new.spends else [],
            held=hold,
            hole=norm in _HOLES,
            passes=[storey for storey, room in holes if not room] if norm in _HOLES else [],
            attic=attic,
            photo=bool(new.spends),
        )
    if new.beside:
        last = next(
            (task.id for task in reversed(steps.tasks) if new.beside in task.because and task.hole), ""
        )
    if new.way.way == "fibre":
        ends = steps.add(
            "switch",
            say("takeoff_steps.converters", name=new.id),
            place,
            needs=[last],
            because=[f"conv-{new.outlet}", new.id],
            held=hold,
        )
        title = say("takeoff_steps.test", name=new.id)
        return steps.add("test", title, place, needs=[ends], because=[new.id], held=hold)
    jack = steps.add(
        "jack",
        say("takeoff_steps.end_in", name=new.id, room=new.room),
        place,
        needs=[last],
        because=[new.id],
        held=hold,
    )
    plate = steps.add(
        "plate", _plate_words(steps.scope, new), place, needs=[jack], because=[new.id], held=hold
    )
    port = steps.add(
        "panel_port",
        steps.end_at_the_core(new.id),
        steps.closet,
        needs=[last, steps.board],
        because=[new.id],
        held=hold,
    )
    return steps.add(
        "test",
        say("takeoff_steps.test", name=new.id),
        steps.closet,
        needs=[jack, plate, port],
        because=[new.id],
        held=hold,
    )


def _holes(scope: Scope, new: Pull) -> list[tuple[str, str]]:
    """Storey and room of every place that a cable makes holes in; a storey on its way is meant as a whole."""
    point = scope.meeting_point
    passed = () if point is None or new.spends else storeys_passed(scope.job.house, new.storey, point.storey)
    return [(new.storey, new.room_id), *((storey, "") for storey in passed if storey != new.storey)]


def hole_log(tasks: tuple[Task, ...]) -> tuple[HoleLine, ...]:
    """A row for every hole that the order of work makes, to be filled in while it is open.

    H01, H02 in the order of work; none where nothing is drilled. What seals it depends on what it goes
    through.
    """
    making = [task for task in tasks if task.norm in _HOLES and task.because]
    return tuple(
        HoleLine(
            id=f"H{number:02d}",
            cable=task.because[0],
            place=task.place,
            through=term(_HOLES[task.norm][0]),
            seal=term(_HOLES[task.norm][1]),
            task=task.key,
        )
        for number, task in enumerate(making, 1)
    )


def _conduit(steps: TaskList, new: Pull, tones: dict[str, str]) -> str:
    run = next(run for run in steps.scope.job.house.runs if run.id == new.spends)
    fill = fill_after_pull(run)
    title = (
        say("takeoff_steps.conduit_bore", run=steps.called(run.id))
        if fill is None
        else say(
            "takeoff_steps.conduit_fill",
            run=steps.called(run.id),
            fill_pct=fill.fill_pct,
            most_pct=fill.most_pct,
        )
    )
    return steps.add(
        "conduit",
        title,
        steps.closet,
        needs=[tones[run.id]],
        because=[run.id, new.id],
    )


def _words(steps: TaskList, new: Pull, norm: str) -> Saying:
    if norm == new.way.floor_norm:
        return say("takeoff_steps.pass_floor", task=norms()[norm].title, name=new.id)
    if new.way.way == "pull cord":
        return say("takeoff_steps.pull_cord", name=new.id, room=new.room, old=steps.called(new.spends))
    return say(_WAYS[new.way.way], name=new.id, room=new.room)


def _plate_words(scope: Scope, new: Pull) -> Saying:
    room: Room | None = next((room for room in scope.job.house.rooms if room.id == new.room_id), None)
    if room is not None and new.way.way == "fished" and _is_mesh(scope, room):
        return say("takeoff_steps.cut_mesh", name=new.id)
    return say("takeoff_steps.fit_plate", name=new.id)


def _is_mesh(scope: Scope, room: Room) -> bool:
    """Whether a wall of the room is plaster on metal mesh."""
    return any(w.construction == "metal-lath-plaster" for w in walls_around(scope.job.house, room))


def _top_storey(scope: Scope) -> str:
    return max(scope.job.house.storeys, key=lambda storey: storey.elevation_m).id
