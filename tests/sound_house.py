"""A small job without a finding, to be spoiled in one place: for the tests of the audit."""

from __future__ import annotations

from rehaul.house import (
    Box,
    Estimate,
    Gate,
    House,
    Job,
    MeetingPoint,
    Need,
    Opening,
    Outlet,
    Quantity,
    Reading,
    Room,
    Run,
    Service,
    Storey,
    Wall,
    require_whole,
)
from rehaul.house.audit import audit

CORNERS = ((0.0, 0.0), (8.0, 0.0), (8.0, 5.0), (0.0, 5.0))
ROUND = [
    Wall(id=f"w{i + 1}", storey="1", start=CORNERS[i], end=CORNERS[(i + 1) % 4], construction="brick-solid")
    for i in range(4)
]
MIDDLE = Wall(id="w5", storey="1", start=(4, 0), end=(4, 5), construction="stud-plasterboard")


def sound_house(**changes: object) -> House:
    """A house in which everything is known."""
    fields: dict[str, object] = {
        "built_year": 1990,
        "tenure": "owned",
        "storeys": (Storey(id="1", name="Ground", elevation_m=0, height_m=2.4),),
        "walls": (*ROUND, MIDDLE),
        "openings": (
            Opening(id="d1", wall="w5", kind="door", offset_m=1, width_m=0.8),
            Opening(
                id="win1",
                wall="w1",
                kind="window",
                offset_m=1,
                width_m=1,
                height_m=1,
                sill_m=0.9,
                construction="glass-double",
            ),
        ),
        "rooms": (
            Room(
                id="r1", name="Living", storey="1", polygon=((0.1, 0.1), (3.9, 0.1), (3.9, 4.9), (0.1, 4.9))
            ),
            Room(
                id="r2", name="Kitchen", storey="1", polygon=((4.1, 0.1), (7.9, 0.1), (7.9, 4.9), (4.1, 4.9))
            ),
        ),
        "outlets": (Outlet(id="1-01", storey="1", kind="telephone", position=(0.1, 2)),),
        "meeting_points": (MeetingPoint(id="m1", name="Closet", storey="1", position=(7.5, 0.3)),),
        "runs": (
            Run(
                id="C01",
                ends=("m1", "1-01"),
                kind="cat5e",
                pairs=4,
                topology="home run",
                state="dead",
                length_m=Estimate(middle=12, low=11, high=13),
            ),
        ),
    }
    return House(**(fields | changes))  # type: ignore[arg-type]


def sound_job(house: House | None = None, **changes: object) -> Job:
    """A job in which everything was asked."""
    fields: dict[str, object] = {
        "id": "j",
        "title": "Sound",
        "house": house or sound_house(),
        "boxes": (Box(id="b1", name="Modem", equipment="dsl modem", storey="1", position=(7.5, 0.3)),),
        "service": Service(modem="b1", medium="dsl"),
        "needs": tuple(Need(id=f"n{i}", room=f"r{i}", uses=("stream 4K",)) for i in (1, 2)),
        "readings": (Reading(id="m-1", quantity=Quantity.DOWN_MBPS, value=40, room="r1"),),
        "gate": Gate(
            lead_paint=False,
            asbestos=False,
            knob_and_tube=False,
            fire_rated_walls=False,
            licence_checked=True,
            landlord_agrees=None,
            asked_about_alarms=True,
        ),
    }
    return Job(**(fields | changes))  # type: ignore[arg-type]


def found(job: Job) -> dict[str, tuple[str, ...]]:
    require_whole(job)
    return {finding.code: finding.where for finding in audit(job)}
