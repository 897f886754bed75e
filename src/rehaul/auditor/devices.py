"""Rules on radios of the house: old devices that get a new one, boxes that stand and are set afresh."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import parts, tasks
from rehaul.facts.wlan_equipment import client_radios, device_swaps
from rehaul.house import Job
from rehaul.words import say

SWAP = "swap_device"
HOUSEHOLD = "household"
CONFIGURE = "configure"


def swaps_told(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A new radio is for a device that a need names, in a room short without it; it is bought, plugged in by
    the household at no pay, and nobody else's step is.

    **Source**: docs/auditor.md, `device-swap-told`.
    """
    chosen = plan.rows("choice", "devices") if plan.has("choice", "devices") else ()
    devices = {(need.room, need.client) for need in job.needs}
    clients = {name for name, _ in client_radios()}
    met = {row.text("room") for row in plan.rows("before") if row.flag("met")}
    bought = parts(plan)
    steps = tasks(plan)
    ways = set(plan.names("choice", "ways"))
    for row in chosen:
        name, room, was = row.text("id"), row.text("room"), row.text("was")
        if (room, was) not in devices:
            yield finding(say("audit_work.swap_not_asked", name=name, was=was, room=room), name, room)
        swap = device_swaps().get(was)
        if swap is None or (swap.becomes, swap.item) != (row.text("becomes"), row.text("item")):
            yield finding(say("audit_work.swap_without_part", was=was, name=name), name)
        elif swap.becomes not in clients:
            yield finding(say("audit_work.swap_unknown", name=name, becomes=swap.becomes), name)
        if room in met:
            yield finding(say("audit_work.swap_not_needed", room=row.text("name")), name, room)
        if row.text("way") not in ways:
            yield finding(say("audit_work.swap_not_chosen", name=name), name)
        if not job.choices.swap_devices:
            yield finding(say("audit_work.swap_not_wanted", name=name), name)
        if not any(part.item == row.text("item") and name in part.because for part in bought):
            yield finding(say("audit_work.radio_not_bought", name=name), name)
        if not any(task.norm == SWAP and name in task.because and task.by == HOUSEHOLD for task in steps):
            yield finding(say("audit_work.radio_not_plugged", name=name), name)
    if chosen and plan.text("choice", "router", "do") == "move":
        yield finding(say("audit_work.radios_and_router"), "router")
    names = {row.text("id") for row in chosen}
    for task in steps:
        if task.norm == SWAP and not names & set(task.because):
            yield finding(say("audit_work.radio_unknown", step=task.id), task.id)
        if task.by == HOUSEHOLD and task.norm != SWAP:
            yield finding(say("audit_work.left_to_household", step=task.id, title=task.title), task.id)


def set_afresh_told(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A box set afresh stands, stays and is set narrower than in the plan of channels, and a step sets it;
    where neither a box is set afresh nor an access point comes, no step sets channels.

    **Source**: docs/auditor.md, `set-afresh-told`.
    """
    chosen = plan.rows("choice", "set_afresh") if plan.has("choice", "set_afresh") else ()
    boxes = {box.id: box for box in job.boxes}
    widths = {
        (row.text("access_point"), row.text("band")): row.number("width_mhz")
        for row in plan.rows("channels", "channels")
    }
    steps = [task for task in tasks(plan) if task.norm == CONFIGURE]
    for row in chosen:
        name = row.text("box")
        box = boxes.get(name)
        if box is None or not box.keep or not box.radio:
            yield finding(say("audit_work.set_not_there", name=name), name)
            continue
        narrow = [
            each
            for each in box.set_to
            if each.width_mhz is not None and each.width_mhz < widths.get((name, each.band.value), 0)
        ]
        if not narrow:
            yield finding(say("audit_work.set_no_wider", name=name), name)
        if not any(name in task.because for task in steps):
            yield finding(say("audit_work.set_without_step", name=name), name)
    if steps and not chosen and not plan.rows("choice", "access_points"):
        yield finding(say("audit_work.sets_nothing", step=steps[0].id), steps[0].id)
