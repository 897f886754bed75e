"""The whole job on a house that somebody else drew: a cellar and two storeys, wired by us."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.house import (
    Box,
    CableKind,
    Job,
    MeetingPoint,
    Need,
    Outlet,
    OutletKind,
    Run,
    RunState,
    Service,
    Topology,
    require_whole,
)
from rehaul.house.geometry import room_area_m2, room_centre
from rehaul.house.readers import read_house, with_house
from rehaul.planning import Plan, plan
from rehaul.sheets import write_papers


def wired(model: Path) -> Job:
    """The model's house with invented cables: router in the lowest storey, plates in three rooms above."""
    report = read_house(model)
    empty = Job(id="real", title="A house somebody else drew", country="DE", currency="EUR")
    job = with_house(empty, report)
    storeys = sorted(job.house.storeys, key=lambda storey: storey.elevation_m)
    low = max((r for r in job.house.rooms if r.storey == storeys[0].id), key=room_area_m2)
    above = sorted((r for r in job.house.rooms if r.storey != storeys[0].id), key=room_area_m2)[-3:]
    closet = MeetingPoint(id="MP1", name="Closet", storey=low.storey, position=room_centre(low))
    outlets = tuple(
        Outlet(id=f"X-{i}", storey=r.storey, kind=OutletKind.DATA, position=room_centre(r), room=r.id)
        for i, r in enumerate(above, 1)
    )
    runs = tuple(
        Run(id=f"C{i}", ends=("MP1", outlet.id), kind=CableKind.CAT5E, pairs=4, gauge_awg=24,
            topology=Topology.HOME_RUN, state=RunState.DEAD)
        for i, outlet in enumerate(outlets, 1)
    )  # fmt: skip
    house = job.house.model_copy(update={"meeting_points": (closet,), "outlets": outlets, "runs": runs})
    box = Box(
        id="RT1", name="Router", equipment="router HE 2x2", storey=low.storey, position=room_centre(low)
    )
    needs = tuple(Need(id=f"N{i}", room=room.id, down_mbps=60) for i, room in enumerate(above, 1))
    return job.model_copy(
        update={
            "house": house,
            "boxes": (box,),
            "needs": needs,
            "service": Service(down_mbps=380, modem="RT1"),
            # a hop by radio would do in one of them, and this is about cables
            "choices": job.choices.model_copy(update={"wireless_hops": False}),
        }
    )


@pytest.fixture(scope="module", params=["AC90R1-Jasmin-Sun-105-2x3.ifc", "AC20-FZK-Haus.ifc"])
def planned(request: pytest.FixtureRequest) -> Plan:
    model = Path(__file__).parents[3] / "shared" / "data" / "houses" / request.param
    if not model.is_file():
        pytest.skip(f"outside data is absent: {model}")
    job = wired(model)
    require_whole(job)
    return plan(job)


def test_rooms_above_get_less_than_the_lowest_before_and_what_they_need_after(planned: Plan) -> None:
    after = {room.room: room for room in planned.after.rooms}
    assert planned.choice.proven
    assert not planned.choice.shortfalls
    for need in planned.job.needs:
        assert after[need.room].median_mbps >= 60


def test_every_path_and_line_is_there(planned: Plan) -> None:
    assert planned.order and planned.takeoff.parts and planned.network.ports
    for room in planned.after.rooms:
        if room.links:
            assert room.narrowest in {link.name for link in room.links}
            assert min(link.rate_mbps for link in room.links) == pytest.approx(room.median_mbps, abs=0.2)


def test_it_prints(planned: Plan, tmp_path: Path) -> None:
    files = {path.name for path in write_papers(planned, tmp_path)}
    assert {"plan.pdf", "index.html", "tables.xlsx", "labels.pdf"} <= files
