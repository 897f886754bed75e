"""The order of work: every step with its place, tools, cautions and what must come first.

A step that would cut or move a pair somebody depends on is held until the sign-off is recorded.
"""

from __future__ import annotations

from rehaul.facts.table import load
from rehaul.facts.work import Tool
from rehaul.facts.work import labour as norms
from rehaul.house.geometry import storey_of
from rehaul.house.obligations import open_obligations
from rehaul.takeoff.cautions import Circumstances, cautions_for, is_telephone
from rehaul.takeoff.labour import SURVEY_STAGES, SURVEY_VISIT, WORK_VISIT
from rehaul.takeoff.results import Task
from rehaul.takeoff.scope import KeptRun, Pull, Scope, place_name
from rehaul.trace import held_on


def order(scope: Scope) -> tuple[Task, ...]:
    """Tasks in the order of work, numbered T01, T02, ...; `needs` names what comes first."""
    steps = _Steps(scope)
    gate = steps.add("gate", "Ask at the door, and sign what will not be touched", "door")
    baseline = [
        steps.add("baseline", f"Measure {name} before the work", name, needs=[gate], because=[room])
        for room, name in _needed_rooms(scope)
    ]
    photo = steps.add(
        "photo", "Photograph the closet and every plate", _closet(scope), needs=[gate], photo=True
    )
    checks = {run.id: _check(steps, run.id, photo) for run in scope.job.house.runs}
    for run in scope.job.house.runs:
        steps.add(
            "tone",
            f"Tone {run.id} and tag both ends",
            _closet(scope),
            needs=[checks[run.id]],
            because=[run.id],
        )
    ends = [_kept(steps, kept, checks) for kept in scope.kept]
    ends += [_pulled(steps, pull, gate) for pull in scope.pulls]
    rack = steps.add("rack", "Mount the panel board and dress the cables", _closet(scope), poe=True)
    bond = steps.add(
        "bond", "Check bonding, separation and power at the closet", _closet(scope), needs=[rack]
    )
    boxes = steps.add("switch", "Mount switch, router and battery", _closet(scope), needs=[bond])
    mounted = [
        steps.add(
            "access_point",
            f"Mount {ap.id} in {ap.name}",
            ap.name,
            needs=[boxes, *ends],
            high=ap.site.height_m > 1.8,
            because=[ap.id, ap.site.id],
        )
        for ap in scope.access_points
    ]
    configure = steps.add(
        "configure", "Set names, channels and networks", _closet(scope), needs=[boxes, *mounted]
    )
    proved = [
        steps.add(
            "prove", f"Measure {name} after the work", name, needs=[configure, *baseline], because=[room]
        )
        for room, name in _needed_rooms(scope)
    ]
    steps.add("handover", "Walk the house and hand over the record", "house", needs=proved or [configure])
    return tuple(steps.tasks)


class _Steps:
    """Collects tasks and numbers them as they come."""

    def __init__(self, scope: Scope) -> None:
        self.scope = scope
        self.tasks: list[Task] = []

    def add(
        self,
        norm: str,
        title: str,
        place: str,
        *,
        needs: list[str] | None = None,
        because: list[str] | None = None,
        held: str = "",
        photo: bool = False,
        telephone: bool = False,
        alarm: bool = False,
        high: bool = False,
        hole: bool = False,
        attic: bool = False,
        poe: bool = False,
    ) -> str:
        row = norms()[norm]
        step = Circumstances(telephone, alarm, high, hole, attic, poe)
        name = f"T{len(self.tasks) + 1:02d}"
        self.tasks.append(
            Task(
                id=name,
                key=self._key(norm, place, because or []),
                title=title,
                stage=row.stage,
                visit=SURVEY_VISIT if row.stage in SURVEY_STAGES else WORK_VISIT,
                place=place,
                minutes=row.minutes,
                minutes_90=row.minutes_90,
                needs=tuple(dict.fromkeys(needs or ())),
                tools=tuple(tool.name for tool in load(Tool) if tool.task == norm),
                cautions=cautions_for(self.scope.job, row.stage, step),
                because=tuple(because or ()),
                held=held,
                photo=photo,
            )
        )
        return name

    def _key(self, norm: str, place: str, because: list[str]) -> str:
        """A name that stays the same when the plan is made anew, so that ticks stay where they were."""
        key = ":".join([norm, *(because or [place])])[:70]
        repeats = sum(task.key == key or task.key.startswith(key + "#") for task in self.tasks)
        return f"{key}#{repeats + 1}" if repeats else key


def _check(steps: _Steps, run_id: str, photo: str) -> str:
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
        _closet(steps.scope),
        needs=[photo],
        because=[run_id, *(o.id for o in holders)],
        telephone=is_telephone(steps.scope.job, run_id),
        alarm=bool(holders),
    )


def _kept(steps: _Steps, kept: KeptRun, checks: dict[str, str]) -> str:
    run = kept.run.id
    telephone = is_telephone(steps.scope.job, run)
    qualify = steps.add(
        "qualify",
        f"Qualify {run}: wire map, length, link",
        _closet(steps.scope),
        needs=[checks[run]],
        because=[run],
    )
    before = [qualify]
    if kept.repair:
        before.append(
            steps.add("repair", f"Mend {run}", place_name(steps.scope.job, kept.outlets[0]), needs=before)
        )
    if kept.break_chain:
        before.append(
            steps.add(
                "break_chain",
                f"Take {run} out of its chain",
                _closet(steps.scope),
                needs=before,
                because=[run],
                held=_held(steps.scope, run),
                telephone=telephone,
                photo=True,
            )
        )
    jacks = [
        steps.add(
            "jack",
            f"Terminate and label {run} at {outlet}",
            place_name(steps.scope.job, outlet),
            needs=before,
            because=[run, outlet],
            held=_held(steps.scope, run),
            telephone=telephone,
        )
        for outlet in kept.outlets
    ]
    port = steps.add(
        "panel_port",
        f"Terminate and label {run} at the panel",
        _closet(steps.scope),
        needs=before,
        because=[run],
        held=_held(steps.scope, run),
        telephone=telephone,
    )
    return steps.add(
        "test", f"Test and record {run}", _closet(steps.scope), needs=[*jacks, port], because=[run]
    )


def _pulled(steps: _Steps, pull: Pull, gate: str) -> str:
    norm = "fish_hard" if pull.floors_crossed else "fish_easy"
    attic = (
        bool(pull.storey)
        and pull.storey == max(steps.scope.job.house.storeys, key=lambda storey: storey.elevation_m).id
    )
    before = [
        steps.add(
            norm,
            f"Pull {pull.id} to {pull.room}",
            pull.room,
            needs=[gate],
            because=[pull.id],
            hole=True,
            attic=attic,
        )
    ]
    if pull.floors_crossed:
        before.append(
            steps.add("fire_seal", f"Seal and log the holes of {pull.id}", pull.room, needs=before, hole=True)
        )
    jack = steps.add(
        "jack", f"Terminate and label {pull.id} in {pull.room}", pull.room, needs=before, because=[pull.id]
    )
    port = steps.add(
        "panel_port",
        f"Terminate and label {pull.id} at the panel",
        _closet(steps.scope),
        needs=before,
        because=[pull.id],
    )
    return steps.add(
        "test", f"Test and record {pull.id}", _closet(steps.scope), needs=[jack, port], because=[pull.id]
    )


def _held(scope: Scope, run_id: str) -> str:
    """Why a run may not be cut or moved yet, and what would release it; empty where nothing holds it."""
    return " ".join(f"Held: {reason}" for reason in held_on(scope.job, run_id))


def _needed_rooms(scope: Scope) -> list[tuple[str, str]]:
    names = {room.id: room.name for room in scope.job.house.rooms}
    return list(dict.fromkeys((need.room, names[need.room]) for need in scope.job.needs))


def _closet(scope: Scope) -> str:
    point = scope.meeting_point
    return f"{point.name}, {storey_of(scope.job.house, point.storey).name}" if point else "closet"
