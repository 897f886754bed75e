"""Parts, cut lengths and tools, each with the entities that caused it."""

from __future__ import annotations

import math
from collections import defaultdict

from rehaul.design.cords import cord_item
from rehaul.design.oldcables import left_norm
from rehaul.errors import BadInput
from rehaul.facts.equipment import equipment
from rehaul.facts.table import load
from rehaul.facts.work import Tool, allowances, prices
from rehaul.house import RunState
from rehaul.takeoff.results import CutLine, LabourLine, PartLine, ToolLine
from rehaul.takeoff.scope import Scope, cord_length_m, left_pieces, place_name, used_runs
from rehaul.words import say, term

Causes = dict[str, list[str]]


class _Tally:
    """Adds up needs by item, remembering what caused each."""

    def __init__(self) -> None:
        self.need: dict[str, float] = defaultdict(float)
        self.because: Causes = defaultdict(list)

    def add(self, item: str, count: float, *because: str) -> None:
        if count > 0:
            self.need[item] += count
            self.because[item] += [cause for cause in because if cause and cause not in self.because[item]]


def parts(scope: Scope) -> tuple[PartLine, ...]:
    """The takeoff: equipment first, then what is terminated, pulled, fixed and labelled.

    Every line has its count, price and the ids that caused it; spares of what is lost or spoilt are counted
    in.

    **Source**: prices and spares of the fact tables (invented; a firm has its own).
    """
    tally = _Tally()
    for access_point in scope.access_points:
        tally.add(access_point.equipment, 1, access_point.id)
        if access_point.site.fixing == "screws":
            tally.add("screw_anchor", allowances()["anchors_per_access_point"], access_point.id)
        tally.add(cord_item(cord_length_m(scope.job, access_point)), 1, access_point.id)
        if access_point.supply:
            tally.add("mains_supply", 1, access_point.id)
    for item in scope.network.rack:
        if item.new:
            tally.add(item.equipment, 1, item.name, *(["switch"] if item.kind == "switch" else []))
    for port in scope.network.ports:
        cord = port.link if port.link == "uplink" or port.link.startswith("cord-") else ""
        tally.add(cord_item(port.cord_m), 1, port.device, f"cord-P{port.port:02d}", cord)
        if port.injector:
            tally.add("injector", 1, port.device)
    for node in scope.graph.nodes:
        if node.id.startswith("sw-"):
            ports = {link.b for link in scope.graph.links if link.a == node.id}
            own = [outlet.id for outlet in scope.choice.outlets if outlet.id in ports]
            tally.add("switch_small", 1, node.id, *own)  # wired outlets there are its ports
            tally.add("cord_025", 1, node.id)
    _terminations(scope, tally)
    _pulls(scope, tally)
    for extra in scope.extras:
        for part, count in extra.work.parts:
            tally.add(part, count, *extra.about, extra.work.id)
    for device in scope.choice.devices:
        tally.add(device.item, 1, device.id, device.room)
    if scope.cabling:
        _left(scope, tally)
    return tuple(_line(item, tally) for item in tally.need)


def _terminations(scope: Scope, tally: _Tally) -> None:
    for kept in scope.kept:
        name = kept.link.id
        tally.add("jack", 2, name)
        tally.add("plate", 1, kept.plate, name)
        tally.add("label", allowances()["labels_per_run"], name)
        tally.add("hook_loop", allowances()["straps_per_run"], name)
        for box in kept.joins:
            tally.add("joint_box", 1, name, box)
        for run in kept.runs:
            if run.state is RunState.DAMAGED:
                tally.add("joint_box", 1, run.id)


def _left(scope: Scope, tally: _Tally) -> None:
    """Tags for both ends of every old cable that stays."""
    used = used_runs(scope) | set(scope.in_use)
    for run in scope.job.house.runs:
        if run.id not in used and left_norm(scope.job, run):
            tally.add("tag", 2, run.id)
    for name in left_pieces(scope):
        tally.add("tag", 1, name.rsplit(".", 1)[0], name)


def _pulls(scope: Scope, tally: _Tally) -> None:
    for pull in scope.pulls:
        tally.add(pull.way.cable, _cut_length_m(pull.length_m), pull.id)
        if pull.way.parts_per_m:
            tally.add(pull.way.parts_per_m, pull.length_m, pull.id)
        ends = (f"conv-{pull.outlet}", f"cord-conv-{pull.outlet}") if pull.way.way == "fibre" else ()
        for item in pull.way.parts.split():
            tally.add(item, 1, pull.id, *ends)
        tally.add("label", allowances()["labels_per_run"], pull.id)
        tally.add("hook_loop", allowances()["straps_per_run"], pull.id)
    holes = sum(pull.floors_crossed for pull in scope.pulls)
    if holes:
        tally.add(
            "fire_seal",
            math.ceil(holes / allowances()["holes_per_cartridge"]),
            *(pull.id for pull in scope.pulls if pull.floors_crossed),
        )


def _cut_length_m(route_m: float) -> float:
    """Cable to cut for a route: with slack at the closet and behind the plate [m].

    **Source**: `closet_slack` and `outlet_slack` of the allowances (trade judgement).
    """
    return route_m + allowances()["closet_slack"] + allowances()["outlet_slack"]


def _line(item: str, tally: _Tally) -> PartLine:
    name, unit, unit_price, sold_in, spare_pct = _priced(item)
    need = round(tally.need[item], 2)
    spare = 0.0 if spare_pct == 0 else need * spare_pct / 100
    quantity = math.ceil((need + spare) / sold_in - 1e-9) * sold_in
    return PartLine(
        item=item,
        name=term(name),
        unit=term(unit),
        need=need,
        spare=round(quantity - need, 2),
        quantity=float(quantity),
        unit_price=unit_price,
        price=round(quantity * unit_price, 2),
        because=tuple(tally.because[item]),
    )


def _priced(item: str) -> tuple[str, str, float, int, float]:
    if item in prices():
        row = prices()[item]
        return row.name, row.unit, row.unit_price, row.sold_in, row.spare_pct
    if item in equipment():
        box = equipment()[item]
        return box.name, "each", box.price, 1, 0.0
    raise BadInput(
        say("refused_common.no_class", item=item),
        where="takeoff",
        remedy=say("refused_takeoff.name_class"),
    )


def cuts(scope: Scope) -> tuple[CutLine, ...]:
    """Cables to cut and cords to buy, by where things really stand.

    New cables first, then the cord of each access point, then that of each port. Lengths [m] are those to
    cut or buy, with slack, not those of the route.
    """
    closet = scope.meeting_point.name if scope.meeting_point else term("closet")
    lines = [
        CutLine(
            id=pull.id,
            kind=term("cable"),
            from_place=closet,
            to_place=pull.room,
            length_m=round(_cut_length_m(pull.length_m), 1),
            because=(pull.outlet,),
        )
        for pull in scope.pulls
    ]
    for access_point in scope.access_points:
        lines.append(
            CutLine(
                id=f"cord-{access_point.id}",
                kind=term("patch cord"),
                from_place=say("takeoff_lists.plate", plate=access_point.site.id)
                if not access_point.supply
                else access_point.site.id,
                to_place=access_point.name,
                length_m=round(cord_length_m(scope.job, access_point), 2),
                because=(access_point.id,),
            )
        )
    for port in scope.network.ports:
        target = say("takeoff_labels.panel", port=port.panel_port) if port.panel_port else port.device
        start = "takeoff_lists.switch_port" if scope.network.switch else "takeoff_lists.router_port"
        room = place_name(scope.job, port.outlet)
        lines.append(
            CutLine(
                id=f"cord-P{port.port:02d}",
                kind=term("patch cord"),
                from_place=say(start, port=port.port),
                to_place=say("takeoff_lists.to_room", target=target, room=room) if port.outlet else target,
                length_m=port.cord_m,
                because=tuple(part for part in (port.device, port.run, port.outlet) if part),
            )
        )
    return tuple(lines)


def tools(labour: tuple[LabourLine, ...]) -> tuple[ToolLine, ...]:
    """The tools that the tasks ask for, in the order of the fact table, one line for each tool and task.

    **Source**: fact table `tools`.
    """
    tasks = {line.norm for line in labour}
    return tuple(
        ToolLine(name=term(row.name), for_what=term(row.purpose), because=(row.task,))
        for row in load(Tool)
        if row.task in tasks
    )
