"""Outside areas: on the map and asked of, without a floor, a roof, or a place for a box."""

import sys
from functools import cache
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))
from rehaul.house import Job, Need, Room
from rehaul.house.audit import audit
from rehaul.house.geometry import room_at, storey_outlines
from rehaul.predict import Radiator, air_of, coverage, receivers_of, scene_of, standing_radiators
from rehaul.predict.receivers import NO_ROOM, OUTSIDE
from rehaul.sheets import coverage_svgs
from sample_house import DEPTH_M, WIDTH_M
from sample_house import job as sample_job

GARDEN_M = 4.0


@cache
def job(*, ring: bool = False, asked: bool = True) -> Job:
    """The sample house with a garden behind it, or one drawn round it."""
    plain = sample_job()
    x0, x1 = (-GARDEN_M, WIDTH_M + GARDEN_M) if ring else (0.0, WIDTH_M)
    y0 = -GARDEN_M if ring else DEPTH_M
    corners = ((x0, y0), (x1, y0), (x1, DEPTH_M + GARDEN_M), (x0, DEPTH_M + GARDEN_M))
    garden = Room(id="OUT", name="Garden", storey="G", polygon=corners, outside=True)
    house = plain.house.model_copy(update={"rooms": (*plain.house.rooms, garden)})
    needs = (Need(id="D9", room="OUT", down_mbps=5, up_mbps=2),) if asked else ()
    return plain.model_copy(update={"house": house, "needs": needs, "readings": ()})


@pytest.mark.parametrize("ring", [False, True])
def test_floors_and_walls_stay_as_they_were(ring: bool) -> None:
    for storey in sample_job().house.storeys:
        assert storey_outlines(job(ring=ring).house, storey) == storey_outlines(sample_job().house, storey)
    before, after = (scene_of(house).scene for house in (sample_job().house, job(ring=ring).house))
    assert np.array_equal(before.panels_m, after.panels_m)
    floors = [[plate.outer_m.tolist() for plate in scene.plates] for scene in (before, after)]
    assert floors[0] == floors[1]


@pytest.mark.parametrize("ring", [False, True])
def test_the_garden_is_what_lies_beyond_the_walls(ring: bool) -> None:
    """Even where it is drawn round the house, no place within the walls becomes garden."""
    house = job(ring=ring).house
    found = receivers_of(house)
    level = found.storeys.index("G")
    garden = len(house.rooms) - 1
    x = found.grid.x0_m + found.grid.step_m * np.arange(found.grid.nx)
    y = found.grid.y0_m + found.grid.step_m * np.arange(found.grid.ny)
    inside = (y[:, None] > 0) & (y[:, None] < DEPTH_M) & (x[None, :] > 0) & (x[None, :] < WIDTH_M)
    assert np.any(found.room[level] == garden)
    assert not np.any((found.room[level] == garden) & inside)
    for other in set(range(len(found.storeys))) - {level}:
        assert not np.any(found.room[other] == garden)
        beyond = y > DEPTH_M + 0.5
        assert np.all(found.room[other][beyond] == OUTSIDE)
    assert NO_ROOM not in found.room[level][~inside & (y[:, None] > DEPTH_M + 0.5)]


def test_within_the_walls_a_place_is_in_its_room_not_in_the_garden_round_it() -> None:
    house = job(ring=True).house
    here = room_at(house, "G", (2.0, 2.0))
    there = room_at(house, "G", (2.0, DEPTH_M + 2.0))
    assert here is not None and here.name == "Living room"
    assert there is not None and there.id == "OUT"


def test_it_is_on_the_map_and_rated_only_where_it_asks() -> None:
    for asked in (True, False):
        found = coverage(job(asked=asked), standing_radiators(job(asked=asked)))
        rooms = {row.room: row for row in found.rooms}
        assert ("OUT" in rooms) == asked
        grid = next(row for row in found.maps if row.storey.id == "G")
        y = grid.y0_m + grid.step_m * np.arange(len(grid.rate_mbps))
        x = grid.x0_m + grid.step_m * np.arange(grid.rate_mbps.shape[1])
        here = np.ix_(y > DEPTH_M + 0.3, (x > 0) & (x < WIDTH_M))
        assert np.all(np.isfinite(grid.rate_mbps[here]) & np.isfinite(grid.rate_up_mbps[here]))
        upper = next(row for row in found.maps if row.storey.id == "U")
        assert np.all(np.isnan(upper.rate_mbps[y > DEPTH_M + 0.5]))
        if asked:
            assert rooms["OUT"].need_mbps == 5 and rooms["OUT"].up_need_mbps == 2


def test_the_field_gets_there_through_the_outer_wall() -> None:
    """Less arrives in the garden than if no wall stood there, and less the farther off."""
    house = job().house
    bare = house.model_copy(update={"walls": (), "openings": ()})
    inside = Radiator("AP1", "Living room", "access point HE 2x2", (2.6, 5.0, 2.4), "ceiling")
    garden = [(2.6, DEPTH_M + far_m, 1.2) for far_m in (1.0, 2.0, 4.0, 8.0)]
    walled, free = (air_of(scene_of(one), inside, garden, "US") for one in (house, bare))
    for through, open_air in zip(walled, free, strict=True):
        assert np.all(through.power_dbm < open_air.power_dbm - 1.0)
        assert np.all(np.diff(open_air.power_dbm) < 0)
        assert np.all(np.diff(through.power_dbm[1:]) < 0)


def test_the_audit_asks_for_neither_walls_nor_a_door_nor_a_need() -> None:
    about = [finding for finding in audit(job(ring=True, asked=False)) if "OUT" in finding.where]
    assert not about
    needy = [finding for finding in audit(job(ring=True)) if "OUT" in finding.where]
    assert not needy


def test_papers_show_it_by_a_dashed_edge_with_its_rates() -> None:
    plain = coverage_svgs(sample_job().model_copy(update={"readings": ()}), _of(sample_job()))
    shown = coverage_svgs(job(), _of(job()))
    dashed = 'stroke-dasharray="1.6 0.9"'
    assert dashed in shown["map-G.svg"] and "Garden" in shown["map-G.svg"]
    assert not any(dashed in drawing for drawing in plain.values())
    assert not any(dashed in shown[f"map-{storey}.svg"] for storey in "BU")


@cache
def _of(job: Job):  # type: ignore[no-untyped-def]
    bare = job.model_copy(update={"readings": ()})
    return coverage(bare, standing_radiators(bare))
