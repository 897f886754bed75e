"""Where cables meet: closets, cans, boxes on a wall, attics, or nowhere that anybody knows."""

from __future__ import annotations

from drawing.sketch import Sketch
from rehaul.house import Body, MeetingPoint, Room

CAN_14_IN_M = (0.362, 0.71, 0.095)  # inside of a flush can that fits between two studs at 16 in
KINDS = {
    "flush metal can": ("panel", "Metal can in the wall"),
    "cupboard": ("closet", "Cupboard"),
    "open wall": ("demarcation point", "Board on the wall"),
    "attic": ("junction box", "Box in the attic"),
    "unknown": ("junction box", "Junction box"),
}


def draw_meeting_points(sketch: Sketch) -> None:
    """None, one, or two."""
    if sketch.wants("no-meeting-point", 0.06):
        return
    _add(sketch, _enclosure(sketch))
    if sketch.wants("two-meeting-points", 0.1):
        _add(sketch, sketch.pick(("cupboard", "open wall", "unknown")), second=True)


def _enclosure(sketch: Sketch) -> str:
    for theme, enclosure in (("closed-can", "flush metal can"), ("attic-box", "attic")):
        if theme in sketch.themes:
            return enclosure
    return sketch.weighed(
        {"cupboard": 4.0, "open wall": 3.0, "flush metal can": 1.2, "unknown": 1.5, "attic": 0.4}
    )


def _add(sketch: Sketch, enclosure: str, *, second: bool = False) -> None:
    room = _room_for(sketch, enclosure, second)
    kind, name = KINDS[enclosure]
    if sketch.maybe(0.2):
        kind = sketch.pick(("closet", "panel", "demarcation point", "junction box"))
    closed = enclosure == "flush metal can"
    mains = {2: 3.0, 1: 2.0, None: 2.0, 0: 1.5, 4: 0.5}
    if closed or sketch.wants("no-mains-where-cables-meet", 0.05):
        mains = {0: 3.0, None: 1.0, 1: 1.0 if closed else 0.0}
    inside = None
    if closed and ("closed-can" in sketch.themes or sketch.maybe(0.5)):
        inside = CAN_14_IN_M
    elif enclosure == "cupboard" and sketch.maybe(0.4):
        inside = (sketch.between(0.4, 0.9), sketch.between(0.5, 1.8), sketch.between(0.25, 0.6))
    sketch.points.append(
        MeetingPoint.model_validate(
            {
                "id": sketch.new_id("M"),
                "name": f"{name}, {room.name.lower()}",
                "storey": room.storey,
                "position": sketch.by_the_wall(room),
                "height_m": sketch.between(0.3, 1.6, 1),
                "kind": kind,
                "enclosure": enclosure,
                "power_sockets": sketch.weighed(mains),
                "inside_m": inside,
                "vented": False if closed else sketch.weighed({None: 3.0, True: 1.0, False: 1.0}),
            }
        )
    )
    if closed and sketch.maybe(0.5):
        _as_body(sketch, sketch.points[-1])


def _as_body(sketch: Sketch, can: MeetingPoint) -> None:
    """The can as somebody draws it who knows that steel stops radio."""
    x, y = can.position
    wide, _, high = CAN_14_IN_M
    sketch.bodies.append(
        Body.model_validate(
            {
                "id": sketch.new_id("body"),
                "storey": can.storey,
                "kind": "other",
                "corner": (round(x - wide / 2, 3), round(y - wide / 2, 3)),
                "width_m": wide,
                "depth_m": wide,
                "height_m": high,
                "base_m": max(0.0, round(can.height_m - high / 2, 2)),
            }
        )
    )


def _room_for(sketch: Sketch, enclosure: str, second: bool) -> Room:
    ground = [room for room in sketch.indoors() if not room.household and not room.bathroom]
    ground = ground or sketch.indoors()
    storey_names = {storey.id: storey.name for storey in sketch.storeys}
    plain = [room for room in ground if not room.lived_in] or ground
    if enclosure == "attic":
        high = [room for room in ground if storey_names[room.storey] == "Attic"]
        return sketch.pick(high or [room for room in ground if room.storey == sketch.storeys[-1].id] or plain)
    halls = [room for room in plain if room.name.startswith(("Hall", "Landing"))]
    if enclosure == "flush metal can" and halls:
        return halls[0]
    low = [room for room in plain if storey_names[room.storey] in ("Basement", "Ground floor")]
    return sketch.pick(ground if second or not low else low)
