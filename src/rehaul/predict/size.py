"""How much memory a prediction will take, said before it begins.

Fitted to what processes took on Linux, libraries and all (`python benchmarks/memory_given.py`).
"""

from __future__ import annotations

import math
import statistics
from dataclasses import dataclass

from rehaul.apart import require_memory
from rehaul.house import House, Job
from rehaul.house.geometry import house_bounds, room_area_m2
from rehaul.predict.needs import asked
from rehaul.predict.residual import MOST_READINGS
from rehaul.words import say

STEP_M = 0.25  # of the grid that maps and plans are worked out on
MAP_BYTES = 0.60e9  # libraries, machine code and the house
PLAN_BYTES = 0.78e9  # those of the search besides
PAPERS_BYTES = 0.20e9  # those of the typesetting, and the papers
PER_RECEIVER_BYTES = 160  # maps, the best box, and what it is worked out from
PER_RECEIVER_AND_BOX_BYTES = 50  # power and spread in three bands
PER_RECEIVER_AND_READING_BYTES = 25  # how like a place is to each reading, and to each construction
PER_PLACE_AND_SITE_BYTES = 110  # of a room with a need, for each box that might stand somewhere


@dataclass(frozen=True)
class Size:
    """What a job's predictions are made of."""

    receivers: int  # over the whole grid, storeys and all
    boxes: int
    readings: int  # that are carried to the places around them, with the constructions they tell of
    places: int  # in rooms with a need
    sites: int  # where a box might stand

    @property
    def map_bytes(self) -> float:
        """For Mb/s over the whole house."""
        each = PER_RECEIVER_BYTES + PER_RECEIVER_AND_BOX_BYTES * self.boxes
        return MAP_BYTES + self.receivers * (each + PER_RECEIVER_AND_READING_BYTES * self.readings)

    @property
    def plan_bytes(self) -> float:
        """For the plan without its papers."""
        chosen_from = PER_PLACE_AND_SITE_BYTES * self.places * self.sites
        return self.map_bytes - MAP_BYTES + PLAN_BYTES + chosen_from


def size_of(job: Job, *, boxes: int | None = None, step_m: float = STEP_M) -> Size:
    """The size of a job's predictions; nothing is worked out or held.

    `boxes` are those that radiate, by default all of the job; `step_m` the grid's step [m]. Raises BadInput
    for a need with an unknown use. **Validity**: fitted on Linux, `python benchmarks/memory_given.py`.
    """
    house, needs = job.house, {need.room for need in asked(job)}
    before = [reading for reading in job.readings if reading.stage == "before"]
    made_of = {wall.construction for wall in house.walls} | {body.construction for body in house.bodies}
    told = len(made_of) + len(house.storeys) + min(len(before), MOST_READINGS)
    area_m2 = sum(room_area_m2(room) for room in house.rooms if room.id in needs)
    inside = [room for room in house.rooms if not room.outside]
    return Size(
        receivers=receivers_over(house, step_m),
        boxes=len(job.boxes) if boxes is None else boxes,
        readings=told if before or job.learnt else 0,
        places=math.ceil(area_m2 / step_m**2),
        sites=len(inside) + len(house.outlets) + len(job.boxes),
    )


def receivers_over(house: House, step_m: float = STEP_M) -> int:
    """Receivers of a grid over the whole house, all storeys, as `receivers_of` lays it; 0 for an empty house.

    `step_m` is the grid's step [m], above 0.
    """
    bounds = house_bounds(house)
    if bounds is None:
        return 0
    x0, y0, x1, y1 = bounds
    return len(house.storeys) * math.ceil((x1 - x0) / step_m + 1) * math.ceil((y1 - y0) / step_m + 1)


def require_map_memory(job: Job, boxes: int) -> None:
    """Refuse a map of so many boxes that would not end in the memory that this process was given.

    Raises TooMuchMemory, which names what lies farthest out. **Validity**: as `size_of`.
    """
    require_memory(size_of(job, boxes=boxes).map_bytes, where="house", remedy=remedy_for(job.house))


def require_plan_memory(job: Job) -> None:
    """Refuse a plan that would not end in the memory that this process was given.

    Raises TooMuchMemory, which names what lies farthest out. **Validity**: as `size_of`.
    """
    require_memory(size_of(job).plan_bytes, where="house", remedy=remedy_for(job.house))


def require_papers_memory(job: Job) -> None:
    """Refuse a plan that would not end, with its papers, in the memory that this process was given.

    Raises TooMuchMemory, which names what lies farthest out. **Validity**: as `size_of`.
    """
    size_bytes = size_of(job).plan_bytes + PAPERS_BYTES
    require_memory(size_bytes, where="house", remedy=remedy_for(job.house))


def require_grid_memory(house: House, step_m: float) -> None:
    """Refuse a grid over a house that alone would not fit, before it is laid.

    `step_m` is its step [m]. Raises TooMuchMemory. **Validity**: as `size_of`, with libraries left out.
    """
    size = PER_RECEIVER_BYTES * receivers_over(house, step_m)
    require_memory(size, where="house", remedy=remedy_for(house))


def remedy_for(house: House) -> str:
    """What to do about a house too large, naming the wall or room that lies farthest from the middle of all.

    The middle is the median of all corners, which one stray point does not move.
    """
    rows = [
        ("refused_predict.far_wall", wall.id, point)
        for wall in house.walls
        for point in (wall.start, wall.end)
    ]
    rows += [("refused_predict.far_room", room.id, point) for room in house.rooms for point in room.polygon]
    if not rows:
        return say("refused_predict.more_memory")
    middle = tuple(statistics.median(point[axis] for _, _, point in rows) for axis in (0, 1))
    code, name, point = max(rows, key=lambda row: math.dist(row[2], middle))
    return say(code, name=name, far_m=math.dist(point, middle))
