"""A floor in two parts: both are crossed, on the maps and on paper; what lies between is not."""

from __future__ import annotations

import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely

sys.path.insert(0, str(Path(__file__).parents[2]))
import sample_plan
from rehaul.house import House, Job, Room, Slab
from rehaul.house.geometry import floor_parts, storey_outlines, storey_shape
from rehaul.predict import coverage, receivers_of, scene_of, standing_radiators
from rehaul.predict.moving import Moving
from rehaul.predict.receivers import NO_ROOM, OUTSIDE
from rehaul.radio import crossings
from rehaul.sheets import coverage_svgs, page_html
from rehaul.sheets.layout import lay
from sample_house import DEPTH_M, WIDTH_M
from sample_house import job as sample_job

GAP_M = (4.0, 5.2)  # left without a floor upstairs; no room lies in it
Ring = tuple[tuple[float, float], ...]


def ring(x0: float, y0: float, x1: float, y1: float) -> Ring:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


LEFT, RIGHT = ring(0, 0, GAP_M[0], DEPTH_M), ring(GAP_M[1], 0, WIDTH_M, DEPTH_M)


def clear_of_the_gap(room: Room) -> Room:
    """The room, ending where the gap begins if it lies left of it."""
    if max(x for x, _ in room.polygon) > GAP_M[1]:
        return room
    return room.model_copy(update={"polygon": tuple((min(x, GAP_M[0]), y) for x, y in room.polygon)})


def with_floor(job: Job, *outlines: Ring, voids: tuple[Ring, ...] = ()) -> Job:
    """The sample job with an upper floor in parts; rooms of that storey end where the gap begins."""
    storeys = tuple(
        storey.model_copy(update={"floor": Slab(construction="timber-floor", outlines=outlines, voids=voids)})
        if storey.id == "U"
        else storey
        for storey in job.house.storeys
    )
    rooms = tuple(clear_of_the_gap(room) if room.storey == "U" else room for room in job.house.rooms)
    house = job.house.model_copy(update={"storeys": storeys, "rooms": rooms})
    return job.model_copy(update={"house": house, "readings": ()})


@cache
def parted() -> Job:
    return with_floor(sample_job(), LEFT, RIGHT)


def upper(house: House):  # type: ignore[no-untyped-def]
    return next(storey for storey in house.storeys if storey.id == "U")


def floors_crossed(job: Job, x: float, y: float) -> list[str]:
    storey = upper(job.house)
    ends = [(x, y, storey.elevation_m + up_m) for up_m in (-1.0, 1.2)]
    found = crossings(scene_of(job.house, job.country).scene, ends[0], ends[1], (5.5e9,))
    return [one.kind for one in found if one.piece == "plate"]


def test_each_part_is_crossed_once_and_the_gap_is_not() -> None:
    assert floors_crossed(parted(), 2.0, 3.0) == ["timber-floor"]
    assert floors_crossed(parted(), 7.0, 3.0) == ["timber-floor"]
    assert floors_crossed(parted(), sum(GAP_M) / 2, 3.0) == []
    assert scene_of(parted().house).plate_owner.count("U") == 2


def test_parts_that_overlap_are_crossed_once() -> None:
    job = with_floor(sample_job(), ring(0, 0, 6, DEPTH_M), ring(4, 0, WIDTH_M, DEPTH_M))
    assert floors_crossed(job, 5.0, 3.0) == ["timber-floor"]
    assert len(floor_parts(job.house, upper(job.house))) == 1


@pytest.mark.parametrize("void", [ring(1, 1, 2, 2), ring(3, 1, 6, 2), ring(4.2, 1, 5, 2)])
def test_a_hole_is_a_hole_in_whatever_parts_it_lies(void: Ring) -> None:
    """Within one part, across both, or between them, where it must not become floor."""
    job = with_floor(sample_job(), LEFT, RIGHT, voids=(void,))
    hole, floor = shapely.Polygon(void), shapely.union_all([shapely.Polygon(LEFT), shapely.Polygon(RIGHT)])
    for x in np.arange(0.11, WIDTH_M, 0.37):
        for y in (0.53, 1.53):
            spot = shapely.Point(x, y)
            assert len(floors_crossed(job, x, y)) == int(floor.contains(spot) and not hole.contains(spot))


def test_one_outline_is_the_plate_as_it_was() -> None:
    """A single outline keeps its corners and its holes to the digit."""
    void = ring(1, 1, 2, 2)
    job = with_floor(sample_job(), LEFT, voids=(void,))
    assert floor_parts(job.house, upper(job.house)) == ((LEFT, (void,)),)


def test_without_outlines_the_floor_reaches_as_far_as_the_rooms() -> None:
    house = sample_job().house
    (edge,) = storey_outlines(house, upper(house))
    assert storey_shape(house, upper(house)).bounds == pytest.approx(
        (-0.15, -0.15, WIDTH_M + 0.15, DEPTH_M + 0.15)
    )
    assert floor_parts(house, upper(house)) == ((edge, upper(house).floor.voids),)


def test_both_parts_are_on_the_map_and_the_gap_is_not() -> None:
    found = receivers_of(parted().house)
    level = found.storeys.index("U")
    x = found.grid.x0_m + found.grid.step_m * np.arange(found.grid.nx)
    y = found.grid.y0_m + found.grid.step_m * np.arange(found.grid.ny)
    inside = (y > 0.01) & (y < DEPTH_M - 0.01)
    gap = (x > GAP_M[0] + 0.01) & (x < GAP_M[1] - 0.01)
    assert gap.any() and np.all(found.room[level][np.ix_(inside, gap)] == OUTSIDE)
    for part in ((x > 0.01) & (x < GAP_M[0] - 0.01), (x > GAP_M[1] + 0.01) & (x < WIDTH_M - 0.01)):
        assert part.any() and np.all(found.room[level][np.ix_(inside, part)] >= NO_ROOM)


def test_the_live_map_knows_a_floor_whose_parts_change() -> None:
    whole = with_floor(sample_job(), ring(0, 0, WIDTH_M, DEPTH_M))
    moving, boxes = Moving(), standing_radiators(parted())
    first, second = (moving.frame(job, boxes, "U", 0.5).rate_mbps() for job in (parted(), whole))
    only = np.isfinite(second) & ~np.isfinite(first)
    gap_m2 = (GAP_M[1] - GAP_M[0]) * DEPTH_M
    assert only.sum() * 0.25 == pytest.approx(gap_m2, abs=0.5 * DEPTH_M)


def test_the_paper_map_shows_both_parts() -> None:
    job = parted()
    layout = lay(job.house, upper(job.house), job.units)
    assert len(shapely.get_parts(layout.within)) == 2
    per_m2 = (1000 / layout.view.ratio) ** 2
    area_m2 = sum(abs(shapely.Polygon(part).area) for part in (LEFT, RIGHT))
    assert layout.within.area == pytest.approx(area_m2 * per_m2)
    drawn = coverage_svgs(job, coverage(job, standing_radiators(job)))["map-U.svg"]
    clip = drawn.split("<clipPath")[1].split("</clipPath>")[0]
    assert clip.count("M") == 2, "one ring for each part"


def test_the_papers_page_shows_both_parts() -> None:
    job = parted()
    found = coverage(job, standing_radiators(job))
    page = page_html(replace(sample_plan.plan(), job=job, before=found, after=found))
    clips = [piece.split("</clipPath>")[0] for piece in page.split("<clipPath")[1:]]
    rings = {clip.split('id="')[1].split('"')[0]: clip.count("M") for clip in clips}
    assert {count for name, count in rings.items() if name.endswith("U") or "-U-" in name} == {2}, rings
    assert {count for name, count in rings.items() if name.endswith("G") or "-G-" in name} == {1}, rings
