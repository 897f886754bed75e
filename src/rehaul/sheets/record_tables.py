"""Tables that only the handover record has: what was left, what can be undone, logs to fill in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence

from rehaul.facts.link_media import cable_media
from rehaul.house import CableKind
from rehaul.planning import Plan
from rehaul.sheets import words
from rehaul.sheets.routes import style_of
from rehaul.sheets.table import Cell, Column, Table, table
from rehaul.takeoff.labels import hold_names
from rehaul.takeoff.results import HoleLine

BLANK_ROWS = 8


def left_cables(plan: Plan) -> Table:
    """Old cable that stays in the walls unused or held, to be tagged at each end that was found.

    In the order of the house. Each with what holds it, what is known of it, and room to sign.
    """
    house = plan.job.house
    verdicts = {verdict.run: verdict for verdict in plan.cabling}
    left = [run for run in house.runs if style_of(plan, run) != "kept"]
    return table(
        "left_cables",
        "Cable left in the walls, tagged",
        left,
        (
            (Column("id", "Cable", "id"), lambda r: r.id),
            (Column("ends", "Ends", share=2), lambda r: words.ends_words(house, r)),
            (Column("kind", "Kind"), lambda r: r.kind.value),
            (Column("state", "State"), lambda r: r.state.value),
            (Column("held_by", "Held by", "id"), lambda r: hold_names(plan.job, r.id)),
            (
                Column("known", "What is known of it", share=2),
                lambda r: verdicts[r.id].sentence if r.id in verdicts else "",
            ),
            (Column("tagged", "Tagged, by, date", "blank", share=1), lambda _: ""),
        ),
    )


def reversible(plan: Plan) -> Table:
    """What was done to the house, what it leaves, and how to undo it; room for the owner to agree.

    A row for each access point, each new cable, each old cable that is put to use (`left_cables` has the
    others), and for what stands in the rack.
    """
    rows: list[tuple[str, str, str, str]] = []
    for chosen in plan.choice.access_points:
        what = f"{chosen.id} mounted in {chosen.name} ({chosen.site.mounting})"
        if chosen.site.fixing == "reversible":
            rows.append((chosen.id, what, "nothing", "Unplug it and take it away"))
        else:
            rows.append((chosen.id, what, "screw holes", "Take it down, fill and paint the holes"))
    made = Counter(hole.cable for hole in plan.takeoff.holes)
    rooms = {step.id: words.place_of(plan, path.room) for path in plan.paths for step in path.links}
    for link in plan.graph_after.links:
        if link.age == "new" and link.medium in cable_media():
            leaves = words.count(made[link.id], "hole") if made[link.id] else "no hole of its own"
            what = f"New cable {link.id} laid to {rooms.get(link.id) or words.place_of(plan, link.b)}"
            rows.append((link.id, what, leaves, "Cut flush and tag, or draw it out; close the holes"))
    for run in plan.job.house.runs:
        if style_of(plan, run) != "kept":
            continue
        if run.kind is CableKind.COAX:
            what = "Data go over it, by an adapter at each end"
            undo = "Take the adapters off, and join it as before"
        else:
            what, undo = "Ends taken off the old joint and put on jacks", "Join again as on the photographs"
        rows.append((run.id, what, "nothing", undo))
    for item in plan.network.rack:
        rows.append((item.name, "Put in the rack", "nothing", "Unplug it and take it away"))
    return table(
        "reversible_work",
        "What was done, and how to undo it",
        rows,
        (
            (Column("about", "About", "id"), lambda r: r[0]),
            (Column("done", "What was done", share=2), lambda r: r[1]),
            (Column("leaves", "It leaves", share=1), lambda r: r[2]),
            (Column("undo", "How to undo it", share=2), lambda r: r[3]),
            (Column("agreed", "Owner agreed, date", "blank", share=1), lambda _: ""),
        ),
        note="The house is rented: nothing is done before its owner has agreed to it here."
        if plan.job.house.tenure == "rented"
        else "",
    )


def holes(plan: Plan) -> Table:
    """A log to fill in of every hole and how it was closed against fire, with spare rows.

    The holes are those of the order of work, in its order.
    """
    keys = (
        ("size", "Size", 0.7),
        ("sealed", "Closed with", 1.2),
        ("photo", "Photo", 0.7),
        ("by", "By, date", 1.0),
    )
    spare = [HoleLine(id="", cable="", place="", through="", seal="")] * BLANK_ROWS
    columns: list[tuple[Column, Callable[[HoleLine], Cell]]] = [
        (Column("id", "Hole", "id"), lambda h: h.id),
        (Column("cable", "Cable", "id"), lambda h: h.cable),
        (Column("where", "Where", share=1.2), lambda h: h.place),
        (Column("through", "Through", share=1.5), lambda h: h.through),
        (Column("seal", "To be closed with", share=1.2), lambda h: h.seal),
    ]
    columns += [(Column(key, head, "blank", share=share), lambda _: "") for key, head, share in keys]
    return table("holes", "Hole and fire-block log", [*plan.takeoff.holes, *spare], columns)


def photos(plan: Plan) -> Table:
    """A slot for a photo of each box: before anything is disconnected, and after.

    Of each meeting point and each plate whose place is known.
    """
    house = plan.job.house
    start = [(point.id, point.name) for point in house.meeting_points]
    start += [
        (outlet.id, words.place_of(plan, outlet.id))
        for outlet in house.outlets
        if outlet.position is not None
    ]
    keys = (("before", "Photo before", 1.0), ("after", "Photo after", 1.0), ("note", "Seen", 2.0))
    return _log("photos", "Photographs", start, (("id", "Box"), ("where", "Where")), keys, spare=0)


def taken(plan: Plan, shown: Sequence[tuple[str, str]]) -> Table:
    """Photos of steps of the work; `shown` is of each its step's key and its file.

    A step that the plan no longer has is "a step of an earlier plan".
    """
    titles = {task.key or task.id: task.title for task in plan.order}
    return table(
        "photos_taken",
        "Photographs taken of the work",
        shown,
        (
            (Column("file", "File"), lambda one: one[1]),
            (Column("step", "Step", share=1), lambda one: titles.get(one[0], "a step of an earlier plan")),
        ),
    )


def serials(plan: Plan) -> Table:
    """A log of serial numbers and warranties to fill in.

    A row for each access point and each thing in the rack, and two spare.
    """
    start = [(chosen.id, chosen.equipment) for chosen in plan.choice.access_points]
    start += [(item.name, item.equipment) for item in plan.network.rack]
    keys = (
        ("serial", "Serial number", 1.5),
        ("bought", "Bought, from", 1.5),
        ("until", "Warranty until", 1.0),
    )
    return _log("serials", "Serial numbers", start, (("id", "What"), ("kind", "Kind")), keys, spare=2)


def change_log(plan: Plan) -> Table:
    """A log of later changes to fill in.

    Its first row, dated as the job is, says that the record was made.
    """
    start = [(plan.job.date, f"Record made for job {plan.job.id}")]
    keys = (("by", "By", 1.0), ("sheets", "Sheets and labels changed", 1.5), ("tested", "Tested", 1.0))
    return _log(
        "change_log",
        "Change log",
        start,
        (("date", "Date"), ("what", "What was changed, and why")),
        keys,
        spare=14,
    )


def readings(plan: Plan) -> Table:
    """What was read before, during and after, as it was read, in the order of the job.

    Each says whether the maps use it, and why not where they do not (docs/calibration.md).
    """
    names = {room.id: room.name for room in plan.job.house.rooms}
    devices = {device.id: device.name for device in plan.job.devices}
    left_out = dict(plan.calibration.left_out) if plan.calibration else {}
    used = set(plan.calibration.used) if plan.calibration else set()
    suspects = set(plan.calibration.suspects) if plan.calibration else set()

    def in_the_maps(name: str) -> str:
        if name in suspects:
            return "used, but does not fit the others: read again"
        return "used" if name in used else left_out.get(name, "not used")

    return table(
        "readings",
        "Readings",
        plan.job.readings,
        (
            (Column("id", "No.", "id"), lambda r: r.id),
            (Column("stage", "Stage"), lambda r: r.stage),
            (Column("room", "Room", share=1), lambda r: names.get(r.room or "", r.storey or "")),
            (Column("quantity", "Quantity", "id"), lambda r: r.quantity.value),
            (Column("value", "Value", "number", 1), lambda r: r.value),
            (Column("spread", "Spread", "number", 1), lambda r: r.spread),
            (Column("repeats", "Repeats", "whole"), lambda r: r.repeats),
            (Column("device", "Device", share=1), lambda r: devices.get(r.device or "", "")),
            (Column("doors", "Doors"), lambda r: r.doors),
            (Column("time", "Time", share=1), lambda r: r.time),
            (Column("in_the_maps", "In the maps", share=1.3), lambda r: in_the_maps(r.id)),
            (Column("note", "Note", share=1), lambda r: r.note),
        ),
    )


def _log(
    name: str,
    title: str,
    start: list[tuple[str, str]],
    filled: tuple[tuple[str, str], tuple[str, str]],
    blank: tuple[tuple[str, str, float], ...],
    *,
    spare: int = BLANK_ROWS,
) -> Table:
    """Two columns that are filled in, the others empty, and spare rows below."""
    rows = [*start, *[("", "")] * spare]
    columns: list[tuple[Column, Callable[[tuple[str, str]], Cell]]] = [
        (Column(filled[0][0], filled[0][1], "id"), lambda r: r[0]),
        (Column(filled[1][0], filled[1][1], share=1.6), lambda r: r[1]),
    ]
    columns += [(Column(key, head, "blank", share=share), lambda _: "") for key, head, share in blank]
    return table(name, title, rows, columns)
