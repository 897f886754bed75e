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
from rehaul.words import say, term

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
        say("record.left_cables"),
        left,
        (
            (Column("id", say("heads_work.cable"), "id"), lambda r: r.id),
            (Column("ends", say("heads_work.ends"), share=2), lambda r: words.ends_words(house, r)),
            (Column("kind", say("heads_work.kind")), lambda r: term(r.kind.value)),
            (Column("state", say("heads_work.state")), lambda r: term(r.state.value)),
            (Column("held_by", say("heads_work.held_by"), "id"), lambda r: hold_names(plan.job, r.id)),
            (
                Column("known", say("heads_work.known_of_it"), share=2),
                lambda r: verdicts[r.id].sentence if r.id in verdicts else "",
            ),
            (Column("tagged", say("heads_work.tagged"), "blank", share=1), lambda _: ""),
        ),
    )


def reversible(plan: Plan) -> Table:
    """What was done to the house, what it leaves, and how to undo it; room for the owner to agree.

    A row for each access point, each new cable, each old cable that is put to use (`left_cables` has the
    others), and for what stands in the rack.
    """
    rows: list[tuple[str, str, str, str]] = []
    for chosen in plan.choice.access_points:
        what = say("record.mounted", id=chosen.id, room=chosen.name, mounting=term(chosen.site.mounting))
        if chosen.site.fixing == "reversible":
            rows.append((chosen.id, what, say("record.leaves_nothing"), say("record.unplug")))
        else:
            rows.append((chosen.id, what, say("record.screw_holes"), say("record.take_down")))
    made = Counter(hole.cable for hole in plan.takeoff.holes)
    rooms = {step.id: words.place_of(plan, path.room) for path in plan.paths for step in path.links}
    for link in plan.graph_after.links:
        if link.age == "new" and link.medium in cable_media():
            leaves = say("record.holes_left", n=made[link.id]) if made[link.id] else say("record.no_hole")
            place = rooms.get(link.id) or words.place_of(plan, link.b)
            what = say("record.new_cable", cable=link.id, place=place)
            rows.append((link.id, what, leaves, say("record.cut_flush")))
    for run in plan.job.house.runs:
        if style_of(plan, run) != "kept":
            continue
        if run.kind is CableKind.COAX:
            what, undo = say("record.data_over_it"), say("record.adapters_off")
        else:
            what, undo = say("record.put_on_jacks"), say("record.join_again")
        rows.append((run.id, what, say("record.leaves_nothing"), undo))
    for item in plan.network.rack:
        rows.append(
            (term(item.name), say("record.in_the_rack"), say("record.leaves_nothing"), say("record.unplug"))
        )
    return table(
        "reversible_work",
        say("record.reversible"),
        rows,
        (
            (Column("about", say("heads_work.about"), "id"), lambda r: r[0]),
            (Column("done", say("heads_work.what_was_done"), share=2), lambda r: r[1]),
            (Column("leaves", say("heads_work.it_leaves"), share=1), lambda r: r[2]),
            (Column("undo", say("heads_work.undo"), share=2), lambda r: r[3]),
            (Column("agreed", say("heads_work.owner_agreed"), "blank", share=1), lambda _: ""),
        ),
        note=say("record.rented") if plan.job.house.tenure == "rented" else "",
    )


def holes(plan: Plan) -> Table:
    """A log to fill in of every hole and how it was closed against fire, with spare rows.

    The holes are those of the order of work, in its order.
    """
    keys = (
        ("size", say("record.size"), 0.7),
        ("sealed", say("record.closed_with"), 1.2),
        ("photo", say("record.photo"), 0.7),
        ("by", say("record.by_date"), 1.0),
    )
    spare = [HoleLine(id="", cable="", place="", through="", seal="")] * BLANK_ROWS
    columns: list[tuple[Column, Callable[[HoleLine], Cell]]] = [
        (Column("id", say("heads_work.hole"), "id"), lambda h: h.id),
        (Column("cable", say("heads_work.cable"), "id"), lambda h: h.cable),
        (Column("where", say("heads_work.where"), share=1.2), lambda h: h.place),
        (Column("through", say("heads_work.through"), share=1.5), lambda h: h.through),
        (Column("seal", say("heads_work.to_close_with"), share=1.2), lambda h: h.seal),
    ]
    columns += [(Column(key, head, "blank", share=share), lambda _: "") for key, head, share in keys]
    return table("holes", say("record.holes"), [*plan.takeoff.holes, *spare], columns)


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
    keys = (
        ("before", say("record.photo_before"), 1.0),
        ("after", say("record.photo_after"), 1.0),
        ("note", say("record.seen"), 2.0),
    )
    filled = (("id", say("record.box")), ("where", say("record.where")))
    return _log("photos", say("record.photographs"), start, filled, keys, spare=0)


def taken(plan: Plan, shown: Sequence[tuple[str, str]]) -> Table:
    """Photos of steps of the work; `shown` is of each its step's key and its file.

    A step that the plan no longer has is "a step of an earlier plan".
    """
    titles = {task.key or task.id: task.title for task in plan.order}
    return table(
        "photos_taken",
        say("record.photos_taken"),
        shown,
        (
            (Column("file", say("heads_work.file")), lambda one: one[1]),
            (
                Column("step", say("heads_work.step"), share=1),
                lambda one: titles.get(one[0], say("record.earlier_step")),
            ),
        ),
    )


def serials(plan: Plan) -> Table:
    """A log of serial numbers and warranties to fill in.

    A row for each access point and each thing in the rack, and two spare.
    """
    start = [(chosen.id, term(chosen.equipment)) for chosen in plan.choice.access_points]
    start += [(term(item.name), term(item.equipment)) for item in plan.network.rack]
    keys = (
        ("serial", say("record.serial"), 1.5),
        ("bought", say("record.bought"), 1.5),
        ("until", say("record.warranty"), 1.0),
    )
    filled = (("id", say("record.what")), ("kind", say("record.kind")))
    return _log("serials", say("record.serials"), start, filled, keys, spare=2)


def change_log(plan: Plan) -> Table:
    """A log of later changes to fill in.

    Its first row, dated as the job is, says that the record was made.
    """
    start: list[tuple[str, str]] = [(plan.job.date, say("record.made_for", job=plan.job.id))]
    keys = (
        ("by", say("record.by"), 1.0),
        ("sheets", say("record.sheets_changed"), 1.5),
        ("tested", say("record.tested"), 1.0),
    )
    return _log(
        "change_log",
        say("record.change_log"),
        start,
        (("date", say("record.date")), ("what", say("record.what_changed"))),
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
            return say("record.used_misfit")
        return say("record.used") if name in used else left_out.get(name, say("record.not_used"))

    return table(
        "readings",
        say("record.readings"),
        plan.job.readings,
        (
            (Column("id", say("heads_work.number"), "id"), lambda r: r.id),
            (Column("stage", say("heads_work.stage")), lambda r: term(r.stage)),
            (
                Column("room", say("heads_work.room"), share=1),
                lambda r: names.get(r.room or "", r.storey or ""),
            ),
            (Column("quantity", say("heads_work.quantity"), "id"), lambda r: r.quantity.value),
            (Column("value", say("heads_work.value"), "number", 1), lambda r: r.value),
            (Column("spread", say("heads_work.spread"), "number", 1), lambda r: r.spread),
            (Column("repeats", say("heads_work.repeats"), "whole"), lambda r: r.repeats),
            (Column("device", say("heads_work.device"), share=1), lambda r: devices.get(r.device or "", "")),
            (Column("doors", say("heads_work.doors")), lambda r: term(r.doors)),
            (Column("time", say("heads_work.time"), share=1), lambda r: r.time),
            (Column("in_the_maps", say("heads_work.in_the_maps"), share=1.3), lambda r: in_the_maps(r.id)),
            (Column("note", say("heads_work.note"), share=1), lambda r: r.note),
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
