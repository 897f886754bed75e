"""Laws of the room list: areas come back, nothing overlaps, a mirrored or turned list is the same house."""

from __future__ import annotations

from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from counts import counted
from rehaul.errors import BadInput
from rehaul.house import House, Wall
from rehaul.house.geometry import room_area_m2, wall_length_m
from rehaul.house.readers import read_room_list

OUTER_M, INNER_M = 0.30, 0.12
HEAD = f"outer {OUTER_M}\ninner {INNER_M}\nstorey Ground, height 2.5\n"
MIRRORED = {"right of": "left of", "left of": "right of", "above": "above", "below": "below"}
FLIPPED = {"start": "end", "end": "start", "centre": "centre"}
TURNED = {"right of": "below", "below": "left of", "left of": "above", "above": "right of"}

Step = tuple[float, float, str, str]  # width, length, side, alignment

sizes = st.integers(15, 60).map(lambda tenths: tenths / 10)
row = st.lists(st.tuples(sizes, sizes, st.sampled_from(["start", "end", "centre"])), min_size=1, max_size=5)


@st.composite
def chains(draw: st.DrawFn) -> list[Step]:
    """Rooms in one row, each beside the one before, to one side."""
    side = draw(st.sampled_from(["right of", "left of", "above", "below"]))
    return [(width, length, side, align) for width, length, align in draw(row)]


@st.composite
def grids(draw: st.DrawFn) -> list[list[tuple[float, float]]]:
    """Sizes of rooms that tile a rectangle."""
    widths = draw(st.lists(sizes, min_size=1, max_size=4))
    lengths = draw(st.lists(sizes, min_size=1, max_size=4))
    return [[(width, length) for width in widths] for length in lengths]


def listed(chain: list[Step]) -> str:
    lines = [f"R0 {chain[0][0]} x {chain[0][1]}"]
    lines += [
        f"R{i} {width} x {length} {side} R{i - 1}, {align}"
        for i, (width, length, side, align) in enumerate(chain[1:], start=1)
    ]
    return HEAD + "\n".join(lines) + "\n"


def grid_list(grid: list[list[tuple[float, float]]]) -> str:
    lines = []
    for y, cells in enumerate(grid):
        for x, (width, length) in enumerate(cells):
            place = f"right of R{y}-{x - 1}" if x else f"below R{y - 1}-0" if y else ""
            lines.append(f"R{y}-{x} {width} x {length} {place}")
    return HEAD + "\n".join(lines) + "\n"


def shapes(house: House) -> dict[str, shapely.Polygon]:
    return {room.name: shapely.Polygon(room.polygon) for room in house.rooms}


def wall_lengths(house: House) -> list[float]:
    """Lengths of the walls, the thin ones first; ends stand on tenths of a millimetre."""
    known = sorted((wall.thickness_m or 0.0, wall_length_m(wall)) for wall in house.walls)
    return [length_m for _, length_m in known]


def thicknesses(house: House) -> list[float]:
    return sorted(wall.thickness_m or 0.0 for wall in house.walls)


def shared_line_m(one: Wall, other: Wall) -> float:
    lines = [shapely.LineString([wall.start, wall.end]) for wall in (one, other)]
    return float(lines[0].intersection(lines[1]).length)


@given(chains())
@settings(max_examples=counted(24, 60), deadline=None)
def test_rooms_keep_their_measured_area_and_do_not_overlap(chain: list[Step]) -> None:
    house = read_room_list(listed(chain)).house
    for index, (width, length, _, _) in enumerate(chain):
        room = next(room for room in house.rooms if room.name == f"R{index}")
        assert abs(room_area_m2(room) - width * length) < 2e-3
    for one, other in combinations(shapes(house).values(), 2):
        assert one.intersection(other).area < 1e-9


@given(chains())
@settings(max_examples=counted(24, 60), deadline=None)
def test_no_two_walls_stand_on_one_line(chain: list[Step]) -> None:
    house = read_room_list(listed(chain)).house
    for one, other in combinations(house.walls, 2):
        assert shared_line_m(one, other) < 1e-6


@given(chains())
@settings(max_examples=counted(24, 60), deadline=None)
def test_no_wall_stands_in_a_room(chain: list[Step]) -> None:
    house = read_room_list(listed(chain)).house
    for wall in house.walls:
        line = shapely.LineString([wall.start, wall.end])
        for room in shapes(house).values():
            assert line.intersection(room.buffer(-0.01)).length < 1e-9


@given(chains())
@settings(max_examples=counted(20, 40), deadline=None)
def test_mirrored_left_to_right_it_is_the_same_house(chain: list[Step]) -> None:
    mirror = []
    for width, length, side, align in chain:
        beside = side in ("right of", "left of")
        mirror.append((width, length, MIRRORED[side], align if beside else FLIPPED[align]))
    house, other = (read_room_list(listed(steps)).house for steps in (chain, mirror))
    assert thicknesses(house) == thicknesses(other)
    assert wall_lengths(house) == pytest.approx(wall_lengths(other), abs=2e-4)


@given(chains())
@settings(max_examples=counted(20, 40), deadline=None)
def test_turned_by_a_quarter_it_is_the_same_house(chain: list[Step]) -> None:
    turned = []
    for width, length, side, align in chain:
        beside = side in ("right of", "left of")
        # clockwise: the top of a room becomes its right side, its left becomes its top
        turned.append((length, width, TURNED[side], FLIPPED[align] if beside else align))
    house, other = (read_room_list(listed(steps)).house for steps in (chain, turned))
    assert thicknesses(house) == thicknesses(other)
    assert wall_lengths(house) == pytest.approx(wall_lengths(other), abs=2e-4)


@given(grids())
@settings(max_examples=counted(20, 40), deadline=None)
def test_a_grid_of_rooms_has_each_wall_once(grid: list[list[tuple[float, float]]]) -> None:
    house = read_room_list(grid_list(grid)).house
    columns, rows = len(grid[0]), len(grid)
    width = sum(cell[0] for cell in grid[0]) + INNER_M * (columns - 1) + OUTER_M
    length = sum(cells[0][1] for cells in grid) + INNER_M * (rows - 1) + OUTER_M
    outer = [wall_length_m(wall) for wall in house.walls if wall.thickness_m == OUTER_M]
    inner = [wall_length_m(wall) for wall in house.walls if wall.thickness_m == INNER_M]
    assert len(outer) == 4
    assert abs(sum(outer) - 2 * (width + length)) < 2e-3
    assert len(inner) == (columns - 1) + (rows - 1)  # one straight wall for each line of the grid
    assert abs(sum(inner) - (columns - 1) * length - (rows - 1) * width) < 5e-3


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("Hall,3x,4", "line 2"),
        ('"Hall' + "x" * 200_000 + '",3,4', "line 2"),
        ('Hall,"3,125 mm",4', "may be"),
        ("Hall,1e5,4", "not a length"),
        ("Hall,-3,4", "cannot be"),
        ("Hall,101,4", "cannot be"),
        ("Hall," + "9" * 290 + ",4", "cannot be"),
        ("Ha\0ll,3,4", "no text"),
    ],
)
def test_a_table_that_says_nonsense_is_refused_by_its_line(line: str, words: str) -> None:
    with pytest.raises(BadInput, match=words) as caught:
        read_room_list(f"room,width,length\n{line}\n", where="rooms.csv")
    assert caught.value.where.startswith("rooms.csv") and len(str(caught.value)) < 600


def test_millimetres_after_a_comma_are_metres_in_a_house() -> None:
    house = read_room_list('room,width,length\nHall,"3,125","4,250"\n').house
    xs = [x for x, _ in house.rooms[0].polygon]
    assert max(xs) - min(xs) == pytest.approx(3.125)


@pytest.mark.parametrize(
    "line", ["inner brick 1e308 cm", "inner 3.5", "floor 0.0001 mm", "storey Ground, height 40", "outer 1e2"]
)
def test_no_house_has_such_walls(line: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_room_list(f"{line}\nHall 2 x 4\nKitchen 3 x 4 right of Hall\ndoor Hall - Kitchen 0.80\n")
    assert "line 1" in caught.value.where
