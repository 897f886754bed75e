"""Rules on places: no box where it cannot live, hang or be heard."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import PlacePoint, access_points, graph, plates, tasks
from rehaul.facts.auditing import audit_number
from rehaul.facts.equipment import equipment
from rehaul.facts.wlan_equipment import access_point_radios
from rehaul.house import House, Job, MeetingPoint, OpeningKind, Room, Wall
from rehaul.house.geometry import room_at, wall_length_m
from rehaul.words import Saying, say

CAN = "flush metal can"
TO_SOLID_CEILING = ("surface", "pull cord")


def room_fit(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No access point or new outlet in a bathroom, outside, or in another household's room.

    Judges the room that the site names and the one that it is drawn in, the room of a new outlet, and where
    a router moves to. An outlet that is there already may stay where it is. **Source**: docs/auditor.md,
    `room-fit-for-a-box`.
    """
    rooms = {room.id: room for room in job.house.rooms}
    outlets = {outlet.id for outlet in job.house.outlets}
    for ap in access_points(plan):
        here = room_at(job.house, ap.site.storey, ap.site.position)
        for room in dict.fromkeys((rooms.get(ap.site.room), here)):
            if room is not None and _unfit(room):
                yield finding(
                    say("audit_network.stands_unfit", name=ap.id, room=room.name, what=_unfit(room)),
                    ap.id,
                    room.id,
                )
    for plate in plates(plan):
        own = rooms.get(plate.room)
        if own is not None and plate.id not in outlets and _unfit(own):
            yield finding(
                say("audit_network.goes_unfit", name=plate.id, room=own.name, what=_unfit(own)),
                plate.id,
                own.id,
            )
    router = plan.row("choice", "router")
    if router.text("do") == "move":
        room = room_at(job.house, router.text("storey"), router.point("position"))
        if room is not None and _unfit(room):
            yield finding(
                say("audit_network.router_unfit", room=room.name, what=_unfit(room)),
                router.text("box"),
                room.id,
            )


def _unfit(room: Room) -> Saying | None:
    if room.bathroom:
        return say("audit_network.a_bathroom")
    if room.outside:
        return say("audit_network.outside")
    return say("audit_network.of_others") if room.household else None


def in_its_room(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """An access point stands in the room and on the storey it is said to be in.

    Broken by another storey, or by a place farther outside the room's outline than the fact number `in_room`
    [m].

    **Validity**: a site without a known room is passed over. **Source**: docs/auditor.md, `in-its-room`.
    """
    rooms = {room.id: room for room in job.house.rooms}
    for ap in access_points(plan):
        said = rooms.get(ap.site.room)
        if said is None:
            continue
        if said.storey != ap.site.storey or _outside_m(ap.site.position, said) > audit_number("in_room"):
            yield finding(say("audit_network.in_another_room", name=ap.id, room=said.name), ap.id, said.id)


def _outside_m(point: PlacePoint, room: Room) -> float:
    """How far a point is outside a room, metres; 0 inside (even-odd rule on the outline)."""
    edges = list(zip(room.polygon, (*room.polygon[1:], room.polygon[0]), strict=True))
    x, y = point
    crossings = sum(
        (a[1] > y) != (b[1] > y) and x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) for a, b in edges
    )
    return 0.0 if crossings % 2 else min(_to_line_m(point, a, b) for a, b in edges)


def _to_line_m(point: PlacePoint, a: PlacePoint, b: PlacePoint) -> float:
    length = math.dist(a, b) ** 2 or 1.0
    share = ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / length
    share = min(max(share, 0.0), 1.0)
    return math.dist(point, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))


def wall_behind(house: House, storey: str, position: PlacePoint) -> Wall | None:
    """The wall that something there hangs on; None where none is near enough.

    Parameters: `storey`, id; `position`, on the sheet [m]. The nearest wall of that storey within the fact
    number `on_the_wall` [m]; of equally near ones the first by id.

    **Validity**: measured to the wall's centre line. **Source**: fact table of the auditor's numbers.
    """
    near = [
        (_to_line_m(position, wall.start, wall.end), wall.id, wall)
        for wall in house.walls
        if wall.storey == storey
    ]
    away_m, _, wall = min(near, default=(math.inf, "", None), key=lambda row: row[:2])
    return wall if away_m <= audit_number("on_the_wall") else None


def clear_of_openings(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No access point on a wall over a door or before a window.

    Judges access points on a wall. Broken within half a box (`box_half` [m]) of a door at any height, and of
    a window at its height.

    **Validity**: asks the openings of the nearest wall only; in a corner those of the other are not seen.
    **Source**: docs/auditor.md, `clear-of-openings`.
    """
    half_m = audit_number("box_half")
    for ap in access_points(plan):
        wall = wall_behind(job.house, ap.site.storey, ap.site.position)
        if ap.site.mounting != "wall" or wall is None:
            continue
        along_m = _along_m(wall, ap.site.position)
        for opening in job.house.openings:
            if opening.wall != wall.id:
                continue
            beside = not opening.offset_m - half_m < along_m < opening.offset_m + opening.width_m + half_m
            top_m = opening.sill_m + opening.height_m + half_m
            level = opening.sill_m - half_m < ap.site.height_m < top_m
            if not beside and (level or opening.kind is OpeningKind.DOOR):
                yield finding(
                    say(
                        "audit_network.at_an_opening",
                        name=ap.id,
                        kind=opening.kind.value,
                        opening=opening.id,
                        wall=wall.id,
                    ),
                    ap.id,
                    opening.id,
                )


def _along_m(wall: Wall, position: PlacePoint) -> float:
    """Where on a wall's centre line a point is, metres from its start."""
    (x0, y0), (x1, y1) = wall.start, wall.end
    return ((position[0] - x0) * (x1 - x0) + (position[1] - y0) * (y1 - y0)) / wall_length_m(wall)


def solid_ceilings(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No access point on a solid ceiling that no cable gets to.

    Broken by a ceiling mount on a storey noted as solid, unless its cable comes along the surface or by a
    pull cord.

    **Validity**: a ceiling noted as unknown passes, whatever the floor above is made of. **Source**:
    docs/auditor.md, `solid-ceilings`.
    """
    solid = {storey.id: storey.name for storey in job.house.storeys if storey.ceiling == "solid"}
    for ap in access_points(plan):
        if ap.site.mounting == "ceiling" and ap.site.storey in solid and ap.site.way not in TO_SOLID_CEILING:
            yield finding(say("audit_network.solid_ceiling", name=ap.id, storey=solid[ap.site.storey]), ap.id)


def metal_cans(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A flush metal can holds no radio, no lead-acid battery, and nothing made for a 19-inch rack.

    Broken by a box of the rack with a radio, of kind `battery`, or with rack units that do not go in, where
    the boxes stand in the can; and by an access point at a can or within 0.05 m of one.

    **Validity**: nothing made for a rack fits a can whose inside is not known. **Source**: docs/auditor.md,
    `metal-cans`.
    """
    hub = hub_of(job, plan)
    radios = {name for name, _ in access_point_radios()}
    if hub is not None and hub.enclosure == CAN and not _stands_beside(plan):
        for row in plan.rows("network", "rack"):
            kind = equipment().get(row.text("equipment"))
            name = row.text("name")
            if row.text("equipment") in radios:
                yield finding(say("audit_network.radio_in_can", name=name, can=hub.id), hub.id, name)
            if kind is not None and kind.kind == "battery":
                yield finding(say("audit_network.battery_in_can", name=name, can=hub.id), hub.id, name)
            elif row.number("height_u") > 0 and not _fits_rack(hub, plan):
                yield finding(say("audit_network.rack_in_can", name=name, can=hub.id), hub.id, name)
    cans = [point for point in job.house.meeting_points if point.enclosure == CAN]
    for can in cans:
        for ap in access_points(plan):
            at_can = ap.site.id == can.id or (
                ap.site.storey == can.storey and math.dist(ap.site.position, can.position) < 0.05
            )
            if at_can:
                yield finding(say("audit_network.access_point_in_can", name=ap.id, can=can.id), ap.id, can.id)


def racks_fit(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A rack fits the place whose inside is known.

    Broken where the width or the units of the rack are more than the inside of the place where the main
    switch stands. Depth is not compared; a can, a place of unknown size and boxes beside it are passed over.

    **Source**: `rack_width` and `rack_unit` [m] of the fact table of the auditor's numbers.
    """
    hub = hub_of(job, plan)
    racked = [row.text("name") for row in plan.rows("network", "rack") if row.number("height_u") > 0]
    if hub is None or hub.enclosure == CAN or hub.inside_m is None or not racked or _stands_beside(plan):
        return
    if not _fits_rack(hub, plan):
        yield finding(say("audit_network.rack_too_large", place=hub.name), hub.id, *racked)


def _stands_beside(plan: RowView) -> bool:
    """Whether the boxes stand on a board beside the place where cables meet."""
    return plan.text("network", "stands") == "beside"


def _fits_rack(hub: MeetingPoint, plan: RowView) -> bool:
    if hub.inside_m is None:
        return False
    units = sum(row.number("height_u") for row in plan.rows("network", "rack"))
    width_m, height_m, _ = hub.inside_m
    return width_m >= audit_number("rack_width") and height_m >= units * audit_number("rack_unit")


def hub_of(job: Job, plan: RowView) -> MeetingPoint | None:
    """The meeting point where the main switch stands: beside it in the graph, else where a step mounts what
    stands with it, else the first of the house."""
    after = graph(plan, "after")
    points = {point.id: point for point in job.house.meeting_points}
    switches = [node for node in after.nodes if node.kind == "switch"]
    for switch in switches:
        for link in after.links:
            if switch.id in (link.a, link.b) and link.other(switch.id) in points:
                return points[link.other(switch.id)]
        for point in points.values():
            if point.storey == switch.storey and point.position == switch.position:
                return point
    mounted = [task.place for task in tasks(plan) if task.norm == "switch"]
    named = [point for point in points.values() if any(place.startswith(point.name) for place in mounted)]
    return next(iter([*named, *points.values()]), None)


def found_outlets(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Nothing is planned at an outlet that was never located.

    Broken by an access point at, or a wired outlet that is, an outlet without a position. **Source**:
    docs/auditor.md, `outlets-found`.
    """
    lost = {outlet.id for outlet in job.house.outlets if outlet.position is None}
    used = [(ap.id, ap.site.id) for ap in access_points(plan)] + [(p.id, p.id) for p in plates(plan)]
    for who, place in used:
        if place in lost:
            yield finding(say("audit_network.outlet_not_found", name=who, place=place), who, place)
