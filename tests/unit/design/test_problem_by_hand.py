"""The problem that a house is put to: what must be, what shares a link, what cannot be predicted."""

from __future__ import annotations

import pytest

from rehaul.design.placing import Placing, placing_of
from rehaul.design.sampled import places_of
from rehaul.errors import BadInput
from rehaul.house import Job, Room
from rehaul.jobs import demo_job
from rehaul.predict import receivers_of, scene_of
from sample_house import job as sample_job


@pytest.fixture(scope="module")
def demo() -> Job:
    return demo_job()


@pytest.fixture(scope="module")
def placing(demo: Job) -> Placing:
    return placing_of(demo, scene_of(demo.house, demo.country), receivers_of(demo.house))


def test_wires_that_carry_too_little_up_serve_nobody_who_asks_for_it(demo: Job, placing: Placing) -> None:
    service = demo.service.model_copy(update={"up_mbps": 4.0})
    room = placing.needs[0].room
    serves = []
    for up_mbps in (3.0, 5.0):
        needs = tuple(
            need.model_copy(update={"up_mbps": up_mbps, "down_mbps": 10.0}) if need.room == room else need
            for need in demo.needs
        )
        job = demo.model_copy(update={"service": service, "needs": needs})
        found = placing_of(job, scene_of(job.house, job.country), receivers_of(job.house))
        serves.append(bool(found.problem.serves[:, : found.served.starts[1]].any()))
    assert serves == [True, False]


def test_a_link_is_shared_where_it_carries_less_than_is_paid_for(demo: Job, placing: Placing) -> None:
    """A narrow link is loaded with what the room asks of it; one that carries the whole line never fills."""
    paid_for = demo.service.down_mbps
    by_id = {option.id: option for option in placing.offering.options}
    needs = {need.room: need.down_mbps for need in demo.needs}
    narrow = {medium for option in by_id.values() if option.feed for medium, _ in option.feed.shared}
    assert {"C03", "C07", "air of RT1"} <= narrow
    loaded = 0
    for way in placing.problem.ways:
        feed = by_id[way.id].feed
        for medium, share in way.loads:
            capacity = dict(feed.shared)[medium] if feed else 0.0
            assert 0 < capacity < paid_for, way.id
            assert any(share == pytest.approx(min(need / capacity, 1.0), abs=1e-6) for need in needs.values())
            loaded += 1
        if feed and all(capacity >= paid_for for _, capacity in feed.shared):
            assert way.loads == (), way.id
    assert loaded


def test_boxes_that_stay_must_be_and_others_need_not(demo: Job, placing: Placing) -> None:
    kept = {f"box {box.id}" for box in demo.boxes if box.keep}
    named = {name for name in placing.problem.must if name.startswith("box ")}
    assert kept and named <= kept
    assert set(placing.problem.must) == {"router", *named}
    assert any(name not in named for name in {way.group for way in placing.problem.ways})
    router = next(option.box for option in placing.offering.options if option.what == "router" and option.box)
    gone = tuple(b.model_copy(update={"keep": b.keep and b.id != router.id}) for b in demo.boxes)
    without = demo.model_copy(update={"boxes": gone})
    found = placing_of(without, scene_of(demo.house, demo.country), receivers_of(demo.house))
    assert "router" not in found.problem.must


def test_a_room_without_a_place_to_stand_is_refused() -> None:
    job = sample_job()
    room = Room(
        id="sliver",
        name="Sliver",
        storey=job.house.storeys[0].id,
        polygon=((50, 50), (50.01, 50), (50.01, 50.01)),
    )
    house = job.house.model_copy(update={"rooms": (*job.house.rooms, room)})
    told = receivers_of(house)
    with pytest.raises(BadInput, match="too small to predict") as refused:
        places_of(job.model_copy(update={"house": house}), told, "sliver")
    assert refused.value.where == "room sliver" and refused.value.remedy == "Draw it larger"
