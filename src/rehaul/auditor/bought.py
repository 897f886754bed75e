"""Rules on parts and tasks: what is used is bought, what is bought is used and put up by somebody."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import GraphView, NodeView, access_points, graph, parts, plates, tasks
from rehaul.facts.auditing import task_kinds
from rehaul.facts.equipment import equipment
from rehaul.facts.link_media import cable_media
from rehaul.facts.work import labour
from rehaul.house import Job
from rehaul.words import say

SMALL = "sw-"  # before the plate that a small switch is at
BOXES = ("access point", "adapter", "splitter", "switch", "outlet", "router")


def every_thing_bought(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every new cable, box, adapter, splitter, switch and plate has a part line that names it.

    Broken by something new whose id, and any other name that it goes by, stands in the reasons of no part
    line.

    **Validity**: that a part names it is enough; whether it is the right part is not asked, except where a
    step uses it (`tasks_have_parts`). **Source**: docs/auditor.md, `new-is-bought`.
    """
    named = {name for part in parts(plan) for name in part.because}
    for thing, also in _new_things(job, plan).items():
        if not {thing, *also} & named:
            yield finding(say("audit_work.not_bought", name=thing), thing)


def every_thing_done(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every new cable, box, adapter, splitter, switch and plate has a step of the work.

    Broken by something new that no step names among its reasons.

    **Validity**: that a step names it is enough; its kind and its place in the order are other rules.
    **Source**: docs/auditor.md, `new-is-put-in`.
    """
    named = {name for task in tasks(plan) for name in task.because}
    for thing, also in _new_things(job, plan).items():
        if not {thing, *also} & named:
            yield finding(say("audit_work.not_put_in", name=thing), thing)


def _new_things(job: Job, plan: RowView) -> dict[str, tuple[str, ...]]:
    """Ids of what is new, with the other names it goes by."""
    before, after = graph(plan, "before"), graph(plan, "after")
    stands = {node.id for node in before.nodes} | {box.id for box in job.boxes}
    stands |= {outlet.id for outlet in job.house.outlets}
    main = plan.text("network", "switch")
    rack = plan.rows("network", "rack")
    racked = tuple(row.text("name") for row in rack if main and row.text("equipment") == main)
    found: dict[str, tuple[str, ...]] = {
        link.id: () for link in after.links if link.age == "new" and link.medium in cable_media()
    }
    for node in after.nodes:
        if node.kind in BOXES and node.id not in stands:
            cables = _cables_at(after, node.id) if node.kind == "outlet" else ()
            found[node.id] = (node.name, *cables, *(racked if _is_main_switch(node) else ()))
    found |= {ap.id: () for ap in access_points(plan) if ap.id not in stands}
    for plate in plates(plan):
        found[plate.id] = tuple(filter(None, (plate.pull, plate.run)))
    return found


def _is_main_switch(node: NodeView) -> bool:
    return node.kind == "switch" and not node.id.startswith(SMALL)


def _cables_at(after: GraphView, node: str) -> tuple[str, ...]:
    return tuple(link.id for link in after.links if link.age == "new" and node in (link.a, link.b))


def cords_bought(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every new cord is on the list of cuts or bought for one of its ends.

    A cord counts as bought where the list of cuts, or a part whose item has `cord` in its name, names it,
    one of its ends, or the port it is plugged in at.

    **Validity**: one such line is enough for all cords at that end: they are not counted. **Source**:
    docs/auditor.md, `cords-bought`.
    """
    after = graph(plan, "after")
    names = after.node_of()
    listed = {cut.text("id") for cut in plan.rows("takeoff", "cuts")}
    listed |= {name for cut in plan.rows("takeoff", "cuts") for name in cut.names("because")}
    listed |= {name for part in parts(plan) if "cord" in part.item for name in part.because}
    listed |= {
        port.text("link")
        for port in plan.rows("network", "ports")
        if f"cord-P{port.number('port'):02.0f}" in listed
    }
    for link in after.links:
        if link.medium == "cord" and link.age == "new":
            ends = [names[end] for end in (link.a, link.b) if end in names]
            if not {link.id, *(node.id for node in ends), *(node.name for node in ends)} & listed:
                yield finding(say("audit_work.cord_not_bought", name=link.id), link.id)


def tasks_have_parts(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every step of a kind that uses parts has them on the list.

    Broken by a step whose kind lists parts and for whose reasons none of them is bought. A step without a
    reason is not asked.

    **Source**: the column of parts of the fact table of kinds of task; `equipment` there stands for any
    class.
    """
    bought = parts(plan)
    for task in tasks(plan):
        kind = task_kinds().get(task.norm)
        if kind is None or not kind.parts or not task.because:
            continue
        wanted = set(kind.parts.split())
        if "equipment" in wanted:
            wanted |= set(equipment())
        if not any(part.item in wanted and set(part.because) & set(task.because) for part in bought):
            yield finding(
                say("audit_work.step_without_part", step=task.id, title=task.title), task.id, *task.because
            )


def tasks_known(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every step is of a kind with minutes on record, and those of ours are counted; what the household does
    itself is not paid.

    **Source**: docs/auditor.md, `tasks-priced`.
    """
    steps = Counter(task.norm for task in tasks(plan) if task.by == "us")
    counted = {row.text("norm"): row.number("count") for row in plan.rows("takeoff", "labour")}
    for norm, count in steps.items():
        if norm not in labour():
            yield finding(say("audit_work.no_minutes_for_step", kind=norm), norm)
        elif counted.get(norm, 0.0) != count:
            yield finding(
                say("audit_work.steps_not_priced", steps=count, kind=norm, priced=counted.get(norm, 0.0)),
                norm,
            )
    for task in tasks(plan):
        if task.by != "us" and task.norm not in labour():
            yield finding(say("audit_work.no_minutes_for_step", kind=task.norm), task.norm)
    for norm in sorted(set(counted) - set(steps) - {"travel"}):
        yield finding(say("audit_work.priced_without_step", kind=norm), norm)


def access_points_counted(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """As many access points are bought of every class as are chosen and do not stand yet.

    Broken by a class of which another number is needed on the list of parts than is chosen, either way.

    **Validity**: counts the need of the part line, not the quantity bought: packs are larger. **Source**:
    docs/auditor.md, `access-points-counted`.
    """
    standing = {box.id for box in job.boxes}
    chosen = Counter(ap.equipment for ap in access_points(plan) if ap.id not in standing)
    bought = {part.item: part.need for part in parts(plan)}
    classes = {name for name, kind in equipment().items() if kind.kind == "access point"} | set(chosen)
    for name in sorted(classes):
        if bought.get(name, 0.0) != chosen.get(name, 0):
            yield finding(
                say(
                    "audit_work.chosen_and_bought",
                    chosen=chosen.get(name, 0),
                    item=name,
                    bought=bought.get(name, 0.0),
                ),
                name,
            )


def rack_bought(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every box of the rack is bought or stands already.

    Broken by a class of which the rack holds more than are bought and stand together; the main switch counts
    where it has ports. **Source**: docs/auditor.md, `rack-bought`.
    """
    standing = Counter(box.equipment for box in job.boxes if box.keep)
    wanted = Counter(row.text("equipment") for row in plan.rows("network", "rack") if row.text("equipment"))
    name = plan.text("network", "switch")
    if name and plan.rows("network", "ports"):
        wanted[name] = max(wanted[name], 1)
    bought = {part.item: part.need for part in parts(plan)}
    for kind, count in sorted(wanted.items()):
        if bought.get(kind, 0.0) + standing[kind] < count:
            yield finding(
                say("audit_work.racked_and_bought", count=count, item=kind, bought=bought.get(kind, 0.0)),
                kind,
            )


def nothing_idle(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Nothing is bought for something that is not there.

    Broken by a part none of whose reasons is a node, link, cable, box, room or piece of work of house and
    plan, and by a quantity below what is needed.

    **Validity**: one known reason is enough, so a part bought twice for the same thing passes. **Source**:
    docs/auditor.md, `nothing-idle`.
    """
    after = graph(plan, "after")
    known = {node.id for node in after.nodes} | {node.name for node in after.nodes}
    known |= {link.id for link in after.links} | {ap.id for ap in access_points(plan)}
    known |= {run.id for run in job.house.runs} | {outlet.id for outlet in job.house.outlets}
    known |= {box.id for box in job.boxes} | {point.id for point in job.house.meeting_points}
    known |= {splitter.id for splitter in job.house.splitters} | {room.id for room in job.house.rooms}
    known |= {row.text("name") for row in plan.rows("network", "rack")}
    known |= {row.text("device") for row in plan.rows("network", "ports")}
    known |= {plate.id for plate in plates(plan)} | {
        row.text("id") for row in plan.rows("choice", "resources")
    }
    for part in parts(plan):
        if part.quantity > 0 and not known & set(part.because):
            yield finding(say("audit_work.bought_for_nothing", item=part.item), part.item, *part.because)
        if part.quantity + 1e-6 < part.need:
            yield finding(
                say(
                    "audit_work.too_little_bought",
                    need=part.need,
                    unit=part.unit,
                    item=part.item,
                    bought=part.quantity,
                ),
                part.item,
            )
