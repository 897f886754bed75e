"""The order of work: every step with its place, tools, cautions and what must come first.

A step that would cut or move a pair somebody depends on, or make a hole where somebody still has to
test or make safe, is held until the sign-off is recorded; a stop point stands before it.
"""

from __future__ import annotations

from rehaul.design.oldcables import checked_at_the_closet, ends_known, may_tone
from rehaul.design.places import may_drill
from rehaul.design.results import AccessPoint
from rehaul.design.routerplaces import SET as ROUTER_STANDS
from rehaul.house import CableKind, Run, open_obligations
from rehaul.takeoff.cautions import is_telephone
from rehaul.takeoff.extra_steps import extra_step
from rehaul.takeoff.holds import cabling_hold, joined, screw_hold
from rehaul.takeoff.kept_steps import keep, leave
from rehaul.takeoff.pull_steps import pull
from rehaul.takeoff.results import Task
from rehaul.takeoff.scope import KeptLink, Scope, handled_runs, opened_boxes
from rehaul.takeoff.steps import StepPlace, TaskList
from rehaul.takeoff.stops import Stops
from rehaul.words import Saying, say


def order(scope: Scope) -> tuple[Task, ...]:
    """Tasks in the order of work, T01, T02, ...; none where there is nothing to do.

    Each names in `needs` what comes first, and every task but a stop point is needed by a later one or by
    the handover. Held ones are among them, with a stop point before them. A task's `key` stays when the
    plan is made anew, its number not.

    **Source**: docs/work.md, "Steps" and "What holds a step".
    """
    if scope.nothing:
        return ()
    steps = TaskList(scope)
    plugged = _new_radios(steps)
    if not scope.visited:
        return tuple(steps.tasks)
    gate = steps.add("gate", say("takeoff_steps.gate"), steps.door)
    stops = Stops(steps, gate)
    baseline = [
        steps.add(
            "baseline",
            say("takeoff_steps.measure_before", room=steps.room(room).name),
            steps.room(room),
            needs=[gate],
            because=[room],
        )
        for room in _needed_rooms(scope)
    ]
    seen: dict[str, str] = {}
    if scope.cabling:
        ends = _cabling(steps, stops, gate, seen)
    else:
        ends, steps.board = [], _board(steps, gate)
    boxes = _boxes(steps)
    ends += _extras(steps, stops, [gate, *baseline], ends, seen)
    mounted = _access_points(steps, stops, [*boxes, *ends] or [gate])
    configure = _configure(steps, [*boxes, *mounted, *ends] or [gate, *baseline])
    proved = [
        steps.add(
            "prove",
            say("takeoff_steps.measure_after", room=steps.room(room).name),
            steps.room(room),
            needs=[configure, *ends, *baseline, plugged],
            because=[room],
        )
        for room in _needed_rooms(scope)
    ]
    done = [task.id for task in steps.tasks]
    needed = {need for task in steps.tasks for need in task.needs}
    warnings = {task.id for task in steps.tasks if task.stop}
    loose = [name for name in done if name not in needed and name not in warnings]
    steps.add("handover", say("takeoff_steps.handover"), steps.house, needs=loose or proved)
    return tuple(steps.tasks)


def _configure(steps: TaskList, needs: list[str]) -> str:
    """Names, channels and networks of all boxes; where none is mounted, of those that are set afresh."""
    scope = steps.scope
    fresh = scope.choice.set_afresh
    if not (scope.access_points or fresh):
        return ""
    names = [row.box for row in fresh]
    if scope.access_points:
        return steps.add(
            "configure", say("takeoff_steps.configure"), steps.closet, needs=needs, because=names
        )
    words = say("words.in_turn", parts=tuple(row.words for row in fresh))
    return steps.add("configure", words, steps.house, needs=needs, because=names)


def _new_radios(steps: TaskList) -> str:
    """New radios for old devices, plugged in by the household one after the other; the last of them."""
    last = ""
    for device in steps.scope.choice.devices:
        last = steps.add(
            "swap_device",
            say("takeoff_steps.new_radio", device=device.was, room=device.name),
            steps.room(device.room),
            needs=[last],
            because=[device.room, device.id],
            household=True,
        )
    return last


def _extras(
    steps: TaskList, stops: Stops, needs: list[str], ends: list[str], seen: dict[str, str]
) -> list[str]:
    """What is no cable's. What hangs on the router comes after the router stands where it goes, what is tried
    over something else after all of that."""
    found: list[str] = []
    moved: list[str] = []
    extras = [extra for extra in steps.scope.extras if not extra.work.over]
    for extra in sorted(extras, key=lambda extra: extra.work.id.startswith("router port ")):
        last = extra_step(steps, stops, extra, [*needs, *moved], seen)
        found.append(last)
        if extra.work.excludes == ROUTER_STANDS:
            moved.append(last)
    over = [extra for extra in steps.scope.extras if extra.work.over]
    return [*found, *(extra_step(steps, stops, extra, [*needs, *ends, *found], seen) for extra in over)]


def _cabling(steps: TaskList, stops: Stops, gate: str, seen: dict[str, str]) -> list[str]:
    """Everything on cables: checks and tones first, then the links.

    `seen` takes in the photographs and the last of the checks on each cable, by what they are of.
    """
    scope = steps.scope
    photos = _photographs(steps, gate)
    handled = handled_runs(scope)
    close = {*handled, *checked_at_the_closet(scope.job)}
    checks = {
        run.id: _check(steps, run.id, photos[""]) if run.id in close else photos[""]
        for run in scope.job.house.runs
    }
    tones = {
        run.id: _tone(steps, run, checks[run.id]) if run.id in handled else checks[run.id]
        for run in scope.job.house.runs
    }
    seen |= photos | tones
    steps.board = _board(steps, photos[""])
    fitted: dict[str, str] = {}
    ends = [keep(steps, stops, kept, tones, photos, fitted) for kept in _from_the_core(scope)]
    ends += [pull(steps, stops, new, tones, photos) for new in scope.pulls]
    leave(steps, stops, tones)
    return ends


def _board(steps: TaskList, after: str) -> str:
    """The board that a main switch and its panel go on; where there is none, what comes before it."""
    scope = steps.scope
    if not scope.network.switch:
        return after
    held = screw_hold(scope.job)
    return steps.add("rack", _board_words(scope), steps.closet, needs=[after], poe=True, held=held)


def _boxes(steps: TaskList) -> list[str]:
    """New boxes in the rack. What stands stays where it is; a router that moves has a step of its own."""
    bond = (
        steps.add("bond", say("takeoff_steps.bond"), steps.closet, needs=[steps.board])
        if steps.scope.network.switch
        else ""
    )
    return [
        steps.add(
            "switch",
            say("takeoff_steps.mount_item", item=item.name),
            steps.closet,
            needs=[bond or steps.board],
            because=[item.name, *(["switch"] if item.kind == "switch" else [item.equipment])],
        )
        for item in steps.scope.network.rack
        if item.equipment and item.new
    ]


def _board_words(scope: Scope) -> Saying:
    """What is mounted where cables meet: never in a metal can, and on a shelf where no screw may go."""
    point = scope.meeting_point
    if not may_drill(scope.job):
        return say("takeoff_steps.shelf", place=point.name) if point else say("takeoff_steps.shelf_router")
    if point is not None and scope.network.stands == "beside":
        return say("takeoff_steps.board_beside", place=point.name)
    return say("takeoff_steps.board")


def _from_the_core(scope: Scope) -> list[KeptLink]:
    """Links in an order in which each begins where another has come to already."""
    waiting, done, found = list(scope.kept), set[str](), []
    while waiting:
        ready = [link for link in waiting if link.port is not None or link.start in done] or waiting[:1]
        for link in ready:
            waiting.remove(link)
            found.append(link)
            done.add(link.plate)
    return found


def _photographs(steps: TaskList, gate: str) -> dict[str, str]:
    """A photograph of the closet (under the empty name) and of every box that is opened."""
    found = {
        "": steps.add(
            "photo",
            say("takeoff_steps.photo_closet"),
            steps.closet,
            needs=[gate],
            photo=True,
        )
    }
    opened = opened_boxes(steps.scope)
    for outlet in steps.scope.job.house.outlets:
        if outlet.id in opened:
            found[outlet.id] = steps.add(
                "photo",
                say("takeoff_steps.photo_box", box=steps.called(outlet.id)),
                steps.outlet(outlet.id),
                needs=[gate],
                because=[outlet.id],
                photo=True,
            )
    return found


def _tone(steps: TaskList, run: Run, check: str) -> str:
    """The tone that finds both ends of a cable; its check where they are known, or none may go on it."""
    if ends_known(run) or not may_tone(steps.scope.job, run.id):
        return check
    return steps.add(
        "tone",
        say("takeoff_steps.tone", run=steps.called(run.id)),
        steps.closet,
        needs=[check],
        because=[run.id],
    )


def _check(steps: TaskList, run_id: str, photo: str) -> str:
    holders = open_obligations(steps.scope.job, run_id)
    who = tuple(say("takeoff_steps.holder", kind=o.kind.words, id=o.id) for o in holders)
    coax = any(run.id == run_id and run.kind is CableKind.COAX for run in steps.scope.job.house.runs)
    title = (
        say("takeoff_steps.leave_connected", run=steps.called(run_id), who=who, n=len(who))
        if holders
        else say("takeoff_steps.prove_dead", run=steps.called(run_id))
    )
    return steps.add(
        "live_check",
        title,
        steps.closet,
        needs=[photo],
        because=[run_id, *(o.id for o in holders)],
        telephone=is_telephone(steps.scope.job, run_id),
        alarm=bool(holders) and not coax,
        coax=coax,
    )


def _access_points(steps: TaskList, stops: Stops, needs: list[str]) -> list[str]:
    job = steps.scope.job
    found = []
    for ap in steps.scope.access_points:
        wired = bool(ap.site.run or ap.site.new_pull_m)
        screws = ap.site.fixing == "screws"
        holds = [cabling_hold(job) if wired else "", screw_hold(job) if screws else ""]
        found.append(
            steps.add(
                "access_point",
                _mounting(ap),
                steps.room(ap.site.room) if ap.site.room else StepPlace(ap.name, ap.site.storey),
                needs=[*needs, *(stops.before_screws() if screws else [])],
                high=ap.site.height_m > 1.8,
                screws=screws,
                because=[ap.id, ap.site.id],
                held=joined(*holds),
            )
        )
    return found


def _mounting(ap: AccessPoint) -> Saying:
    screws = ap.site.fixing == "screws"
    if ap.supply:
        code = "takeoff_steps.mount_ap_supplied" if screws else "takeoff_steps.stand_ap_supplied"
    else:
        code = "takeoff_steps.mount_ap" if screws else "takeoff_steps.stand_ap"
    return say(code, box=ap.id, room=ap.name)


def _needed_rooms(scope: Scope) -> list[str]:
    return list(dict.fromkeys(need.room for need in scope.job.needs))
