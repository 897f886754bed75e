"""Rules on marks in the house: screws, holes, hazards, licences, and who has to agree."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.places import wall_behind
from rehaul.auditor.reading import RowView
from rehaul.auditor.touch import touch_of
from rehaul.auditor.views import AccessPointView, TaskView, access_points, before_each, graph, tasks
from rehaul.facts.promises import licences
from rehaul.house import Hazard, Job
from rehaul.words import Saying, say

SCREWED = ("rack",)  # kinds of task that screw something to a wall, whatever it is for
LOOSE = ("stand", "shelf", "desk", "without screws")


def screws_allowed(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No screw where nobody may drill: by the wall, by choice, or by the owner's word.

    Broken by an access point fixed with screws where the job asks for no marks, where the landlord of a
    rented house said no, and on a wall that nobody may drill or that holds back fire.

    **Validity**: the wall is the nearest one (`places.wall_behind`); in a corner the other wall is not
    asked. **Source**: docs/auditor.md, `screws-allowed`.
    """
    for ap in access_points(plan):
        why = _no_screw(job, ap) if ap.site.fixing == "screws" else None
        if why:
            yield finding(say("audit_work.screwed_on", name=ap.id, why=why), ap.id)


def _no_screw(job: Job, ap: AccessPointView) -> Saying | None:
    if _no_marks(job):
        return _no_marks(job)
    wall = wall_behind(job.house, ap.site.storey, ap.site.position)
    if ap.site.mounting != "wall" or wall is None:
        return None
    if wall.drilling == "forbidden":
        return say("audit_work.may_not_drill", wall=wall.id)
    return say("audit_work.holds_back_fire", wall=wall.id) if wall.fire_rated else None


def _no_marks(job: Job) -> Saying | None:
    if job.choices.fixing == "reversible":
        return say("audit_work.no_marks")
    if job.house.tenure == "rented" and job.gate.landlord_agrees is False:
        return say("audit_work.owner_says_no")
    return None


def no_marks_left(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No step makes a hole or screws something on where nothing may leave a mark.

    Broken, where the job asks for no marks or the landlord said no, by a step that makes a hole and by one
    that mounts a rack, unless its title says that it stands loose. **Source**: docs/auditor.md,
    `no-marks-left`.
    """
    why = _no_marks(job)
    for task in tasks(plan) if why else ():
        if task.hole or _screws(task):
            yield finding(say("audit_work.leaves_mark", step=task.id, title=task.title, why=why), task.id)


def _screws(task: TaskView) -> bool:
    return task.norm in SCREWED and not any(word in task.title.lower() for word in LOOSE)


def landlord_first(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """In a rented house whose owner was not asked, every hole and every screw waits.

    Broken by a step that makes a hole, mounts a screwed access point or puts up a rack, and is not held.
    Nothing is asked once the landlord said yes or no. **Source**: docs/auditor.md, `landlord-first`.
    """
    if job.house.tenure != "rented" or job.gate.landlord_agrees is not None:
        return
    screwed = {ap.id for ap in access_points(plan) if ap.site.fixing == "screws"}
    for task in tasks(plan):
        mounts = task.norm == "access_point" and screwed & set(task.because)
        if (task.hole or mounts or _screws(task)) and not task.held:
            yield finding(say("audit_work.rented_not_held", step=task.id), task.id)


def hazards_first(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No hole where a hazard is still to be tested or made safe, unless the step waits for it.

    A hazard is open until it is signed as made safe or tested clear. Broken by a hole in its room, on its
    storey, or (where it is all over a storey) for a new cable that passes that storey, if the step is not
    held and no stop point for the hazard comes before it.

    **Validity**: by names of rooms and by storeys; what way a cable takes within a storey is not known here.
    **Source**: docs/auditor.md, `hazards-first`.
    """
    rooms = {room.id: room.name for room in job.house.rooms}
    steps = tasks(plan)
    earlier = before_each(steps)
    passes = _passes(job, plan)
    for hazard in job.house.hazards:
        if hazard.state in ("made safe", "tested clear") and hazard.sign_off is not None:
            continue
        stops = {task.id for task in steps if task.stop and hazard.id in task.because}
        for task in steps:
            there = _at(hazard, task, rooms) or _on_the_way(hazard, task, passes)
            if task.hole and there and not task.held and not stops & earlier[task.id]:
                yield finding(
                    say(
                        "audit_work.hole_at_hazard",
                        step=task.id,
                        kind=hazard.kind.value,
                        hazard=hazard.id,
                        state=hazard.state,
                    ),
                    task.id,
                    hazard.id,
                )


def _at(hazard: Hazard, task: TaskView, rooms: dict[str, str]) -> bool:
    if hazard.room is not None:
        return rooms.get(hazard.room) == task.place
    return hazard.storey is None or hazard.storey == task.storey


def _passes(job: Job, plan: RowView) -> dict[str, set[str]]:
    """The storeys that each new cable goes through, from one end to the other."""
    levels = [storey.id for storey in sorted(job.house.storeys, key=lambda storey: storey.elevation_m)]
    after = graph(plan, "after")
    nodes = after.node_of()
    found = {}
    for link in after.links:
        storeys = [nodes[end].storey for end in (link.a, link.b) if end in nodes]
        ends = [levels.index(storey) for storey in storeys if storey in levels]
        if link.age == "new" and len(set(ends)) == 2:
            found[link.id] = set(levels[min(ends) : max(ends) + 1])
    return found


def _on_the_way(hazard: Hazard, task: TaskView, passes: dict[str, set[str]]) -> bool:
    """Whether a hazard is all over a storey that the new cable of a step goes through."""
    if hazard.room is not None:
        return False
    return any(hazard.storey in passes.get(name, ()) for name in task.because)


def licence_first(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Where the country asks for a licence and none is on record, work on fixed cables waits.

    Work on fixed cables is every step that makes a hole or whose kind works on a cable (`touch_of`). Broken
    by one that is not held while `gate.licence_checked` is not true.

    **Source**: fact table of licences, by country.
    """
    if job.country not in licences() or job.gate.licence_checked is True:
        return
    for task in tasks(plan):
        if (touch_of(task.norm) == "work" or task.hole) and not task.held:
            yield finding(say("audit_work.no_licence", step=task.id), task.id)


def no_copper_outdoors(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No new copper between two buildings.

    Broken by a new twisted pair or coax with one end in an outbuilding and the other not in one.

    **Validity**: by the room of each end; a link with an end that the graph does not have is passed over.
    **Source**: docs/auditor.md, `no-copper-outdoors`.
    """
    after = graph(plan, "after")
    apart = {room.id for room in job.house.rooms if room.outbuilding}
    nodes = after.node_of()
    for link in after.links:
        if link.age == "new" and link.medium in ("twisted pair", "coax"):
            ends = [nodes[end].room in apart for end in (link.a, link.b) if end in nodes]
            if len(ends) == 2 and ends[0] != ends[1]:
                yield finding(say("audit_work.copper_outdoors", name=link.id), link.id)
