"""A house as wide as a town is refused, whatever it is read from; one on the grid of a country is not."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from pydantic import ValidationError

from rehaul.errors import BadInput
from rehaul.house import House, Job, dump_job, parse_job
from rehaul.house.base import Estimate
from rehaul.house.model import MeetingPoint, Slab
from rehaul.house.readers import read_apart
from rehaul.jobs import demo_job

FOUND = Path(__file__).parents[2] / "corpus" / "spoiled" / "a-point-astray.ifc"


@pytest.mark.parametrize("far", [1e5, -2147483647.0, 1e300])
@pytest.mark.parametrize("name", ["rooms", "walls"])
def test_one_point_far_away_is_refused(far: float, name: str) -> None:
    house = demo_job().house
    room, wall = house.rooms[0], house.walls[0]
    changed = {
        "rooms": (room.model_copy(update={"polygon": (*room.polygon, (0.0, far))}), *house.rooms[1:]),
        "walls": (wall.model_copy(update={"end": (far, 0.0)}), *house.walls[1:]),
    }[name]
    text = dump_job(Job(id="j", title="j", house=house.model_copy(update={name: changed})))
    with pytest.raises(BadInput, match=f"{name}.*it reaches .* m, and no house is 20 km wide"):
        parse_job(text)


def test_a_house_on_the_grid_of_a_country_is_kept() -> None:
    east_m, north_m = 5e5, 5.6e6
    walls = [
        wall.model_copy(
            update={
                "start": (wall.start[0] + east_m, wall.start[1] + north_m),
                "end": (wall.end[0] + east_m, wall.end[1] + north_m),
            }
        )
        for wall in demo_job().house.walls
    ]
    storeys = [storey.model_copy(update={"floor": Slab()}) for storey in demo_job().house.storeys]
    job = Job(id="j", title="j", house=House(storeys=tuple(storeys), walls=tuple(walls)))
    assert parse_job(dump_job(job)) == job


def test_a_model_with_a_point_astray_is_refused() -> None:
    """Found by the fuzzer: a corner at 2,147,483,647 m came in as part of a room."""
    with pytest.raises(BadInput, match="no house is 20 km wide"):
        read_apart(FOUND)


@pytest.mark.parametrize(
    ("make", "value"),
    [
        (lambda value: Estimate(middle=value, low=0, high=value), 1e300),
        (
            lambda value: MeetingPoint(id="M", name="M", storey="g", position=(0, 0), power_sockets=value),
            10**11,
        ),
    ],
)
def test_numbers_without_end_are_refused(make: Callable[[float], object], value: float) -> None:
    """Found by the fuzzers: a house with 100,000,000,000 sockets came in."""
    assert make(1)
    with pytest.raises(ValidationError):
        make(value)


def test_a_route_off_the_earth_is_refused() -> None:
    """Found by the fuzzers: a cable that rose to 2,147,483,647 m came in with a document."""
    house = demo_job().house
    x_m, y_m = house.walls[0].start
    far = house.runs[0].model_copy(update={"route": ((x_m, y_m, 0.0), (x_m, y_m, -2147483648.0))})
    text = dump_job(Job(id="j", title="j", house=house.model_copy(update={"runs": (far, *house.runs[1:])})))
    with pytest.raises(BadInput, match=r"no house is .* m high"):
        parse_job(text)
