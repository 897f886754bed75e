"""Pieces of the readers of foreign files: levels, strips, joints, openings, layers, each by hand."""

from __future__ import annotations

import math
from collections import Counter
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
import shapely

from rehaul.errors import BadInput
from rehaul.house import House, Job, OpeningKind, Outlet, Room, Storey, Wall
from rehaul.house.geometry import point_in_bounds, polygon_area, room_at, storey_edge
from rehaul.house.readers import dispatch
from rehaul.house.readers.dispatch import counts_of, house_of_job, read_house, with_house
from rehaul.house.readers.ifc.floors import _is_floor, _joined_under_walls, _lies_beside
from rehaul.house.readers.ifc.levels import Level, Levels, _commonest, _numbered
from rehaul.house.readers.ifc.materials import _framed, _kind, _parts, _translated
from rehaul.house.readers.ifc.openings import (
    OpeningPlace,
    _beside,
    _best,
    _depth_m,
    _gaps,
    _opening,
    _reaches_the_floor,
)
from rehaul.house.readers.ifc.reading import name_of
from rehaul.house.readers.ifc.shapes import Shape, footprint
from rehaul.house.readers.ifc.walls import _covered_strips
from rehaul.house.readers.joints import joined
from rehaul.house.readers.report import Log, ReadReport
from rehaul.house.readers.strips import Strip, strips_of

thing: Any = SimpleNamespace
GROUND, UPPER = Level("1", "Ground", 0.0), Level("2", "Upper", 2.7)
LEVELS = Levels((Level("B1", "Cellar", -2.5), GROUND, Level("2", "Upper", 2.5)), {})


def test_the_storey_on_whose_floor_something_stands() -> None:
    """Up to 0.3 m under the finished floor."""
    heights = (-9.0, -2.8, -0.31, -0.3, 0.0, 2.19, 2.2, 9.0)
    assert [LEVELS.at(height_m).id for height_m in heights] == ["B1", "B1", "B1", "1", "1", "1", "2", "2"]


@pytest.mark.parametrize(
    ("low_m", "storey"),
    [(0.0, "1"), (2.19, "1"), (2.2, "2"), (-0.4, "1"), (-0.41, "B1"), (-9.0, "B1")],
)
def test_a_model_is_believed_unless_heights_say_otherwise(
    monkeypatch: pytest.MonkeyPatch, low_m: float, storey: str
) -> None:
    monkeypatch.setattr("rehaul.house.readers.ifc.levels.storey_element", lambda _: thing(id=lambda: 7))
    told = Levels(LEVELS.levels, {7: GROUND})
    assert told.of(thing(), low_m).id == storey
    assert Levels(LEVELS.levels, {7: LEVELS.levels[0]}).of(thing(), -9.0).id == "B1"
    assert Levels(LEVELS.levels, {7: LEVELS.levels[2]}).of(thing(), 9.0).id == "2"
    assert LEVELS.at(2.2).id == "2"


def storeys(*heights: float) -> tuple[list[str], list[str]]:
    """Ids of the storeys at these heights [m], and what is told of them."""
    told: list[str] = []
    rows = [thing(id=lambda n=n: n, Name=f"L{n}") for n in range(len(heights))]
    reading = thing(log=thing(note=lambda words: told.append(str(words))))
    found = _numbered(reading, rows, dict(enumerate(heights)))
    assert [level.elevation_m for level in found.levels] == sorted(
        level.elevation_m for level in found.levels
    )
    return [level.id for level in found.levels], told


def test_storeys_are_numbered_from_the_one_nearest_to_nought() -> None:
    assert storeys(0.0, 2.7, -2.5, 5.4)[0] == ["B1", "1", "2", "3"]
    assert storeys(-2.0, 1.0)[0] == ["B1", "1"] and storeys(-1.0, 1.0)[0] == ["1", "2"], "the lower of equals"
    ids, told = storeys(0.0, 0.39)
    assert ids == ["1"] and len(told) == 1 and "L0" in told[0] and "0.4" in told[0]
    assert storeys(0.0, 0.4) == (["1", "2"], [])
    assert _commonest([1.001, 0.999, 2.0, 2.0, 1.0]) == 1.0 and _commonest([2.0, 1.0]) == 1.0


def ends(strip: Strip) -> list[float]:
    return [*strip.start, *strip.end, strip.thickness_m]


def test_a_straight_wall_is_one_strip() -> None:
    (strip,) = strips_of(shapely.box(0, 0, 5, 0.2))
    assert sorted((strip.start, strip.end)) == [
        (0.0, 0.1),
        (5.0, 0.1),
    ] and strip.thickness_m == pytest.approx(0.2)
    assert strip.length_m == 5.0
    along, across = Strip((1.0, 1.0), (1.0, 5.0), 0.2).measure(np.array([[0.5, 2.0], [1.5, 6.0]]))
    assert along.tolist() == [1.0, 5.0] and across.tolist() == [0.5, -0.5], "positive to the left"
    assert strips_of(shapely.Polygon()) == () and strips_of(shapely.box(0, 0, 0.04, 0.03)) == ()
    for thick, count in ((0.9, 1), (0.91, 0), (0.02, 1), (0.019, 0)):
        assert len(strips_of(shapely.box(0, 0, 5, thick))) == count, thick
    (turned,) = strips_of(shapely.box(0, 0, 0.2, 0.3), np.array([2.0, 0.0]))
    assert sorted((turned.start, turned.end)) == [(0.0, 0.15), (0.2, 0.15)], "it runs where it is said to"


def test_a_bent_wall_is_two_strips_that_meet() -> None:
    corner = shapely.box(0, 0, 5, 0.2).union(shapely.box(0, 0, 0.2, 4))
    found = sorted(strips_of(corner), key=lambda strip: strip.length_m)
    assert [strip.thickness_m for strip in found] == pytest.approx([0.2, 0.2])
    assert [round(strip.length_m, 2) for strip in found] == [3.9, 4.9]
    assert {min(strip.start[1], strip.end[1]) for strip in found} == {0.1}
    block = shapely.box(0, 0, 3, 3)
    assert strips_of(block) == ()


def test_walls_are_brought_to_the_centre_line_of_the_one_they_run_into() -> None:
    """One that ends at the face of a wall of 0.3 m lacks 0.15 m; one that ran through has it too much."""
    long = Strip((0.0, 0.0), (6.0, 0.0), 0.3)
    short, over = Strip((2.0, 0.15), (2.0, 4.0), 0.1), Strip((4.0, -0.15), (4.0, 4.0), 0.1)
    first, second, third = joined([long, short, over])
    assert ends(first) == ends(long) and ends(second) == [2.0, 0.0, 2.0, 4.0, 0.1]
    assert ends(third) == [4.0, 0.0, 4.0, 4.0, 0.1]
    apart = Strip((2.0, 0.19), (2.0, 4.0), 0.1)
    assert ends(joined([long, apart])[1]) == ends(apart), "0.19 m is more than half of it and 3 cm"
    near = Strip((2.0, 0.179), (2.0, 4.0), 0.1)
    assert ends(joined([long, near])[1])[1] == 0.0
    beyond = Strip((6.09, 0.15), (6.09, 4.0), 0.1)
    assert ends(joined([long, beyond])[1])[1] == 0.15, "it passes the end of the other"
    flat = Strip((2.0, 0.1), (6.0, 0.1 + 4 * math.tan(math.radians(10))), 0.1)
    assert ends(joined([long, flat])[1])[:2] == [2.0, 0.1], "they run along each other"
    assert joined([long]) == [long] and joined([]) == []
    stub = Strip((2.0, -0.14), (2.0, 0.03), 0.1)
    assert ends(joined([long, stub])[1]) == ends(stub), "it would be shorter than a wall can be"


def place(start: float, end: float, low: float = 0.0, high: float = 2.0, piece: Any = None) -> OpeningPlace:
    return OpeningPlace(piece or PIECE, start, end, low, high)


PIECE: Any = thing(level=UPPER, wall=thing(id="w1"))


def test_openings_that_cover_or_repeat_each_other() -> None:
    """More than half of the other's width; all four edges within a frame's width of 0.15 m."""
    assert place(0, 2).covers(place(1.4, 2.5)) and not place(0, 2).covers(place(1.5, 2.5))
    assert not place(0, 2).covers(place(0, 2, piece=thing()))
    assert place(0, 1).repeats(place(0.14, 0.9, 0.1, 2.14)) and not place(0, 1).repeats(place(0.15, 1))
    for other in (place(0, 1.2), place(0, 1, 0.2), place(0, 1, 0, 2.2), place(0, 1, piece=thing())):
        assert not place(0, 1).repeats(other)


def test_an_opening_on_its_storey() -> None:
    """Upstairs at 2.7 m: from 3.6 to 4.8 m the sill is 0.9, the height 1.2."""
    window = _opening(place(1.0, 2.5, 3.6, 4.8), OpeningKind.WINDOW, 3)
    assert (window.id, window.wall, window.offset_m, window.width_m) == ("win3", "w1", 1.0, 1.5)
    assert (window.sill_m, window.height_m) == pytest.approx((0.9, 1.2))
    door = _opening(place(0, 0.8, 2.65, 4.7), OpeningKind.DOOR, 1)
    assert (door.id, door.sill_m, door.height_m) == ("d1", 0.0, 2.0), (
        "what lies below the floor is not counted"
    )
    assert _opening(place(0, 1, 2.7, 4.7), OpeningKind.GAP, 2).id == "g2"
    assert _reaches_the_floor(place(0, 1, 2.85, 4.75)) and not _reaches_the_floor(place(0, 1, 2.86, 4.9))
    assert not _reaches_the_floor(place(0, 1, 2.7, 4.59))


def reading(told: list[str] | None = None) -> Any:
    notes = [] if told is None else told
    return thing(unit_m=0.001, log=thing(note=lambda words: notes.append(str(words))), guesses=Counter())


def material(kind: str, **more: Any) -> Any:
    return thing(is_a=lambda name: name == kind, **more)


def test_layers_of_a_wall_in_metres() -> None:
    brick, none = thing(Name="Brick"), thing(Name="  ")
    layers = (thing(Material=brick, LayerThickness=115.0), thing(Material=None, LayerThickness=40.0))
    assert _parts(reading(), material("IfcMaterialLayerSet", MaterialLayers=layers), 0.3) == [
        ("Brick", pytest.approx(0.115)), ("air", pytest.approx(0.04)),
    ]  # fmt: skip
    assert _parts(reading(), material("IfcMaterial", Name="Brick"), 0.3) == [("Brick", 0.3)]
    assert _parts(reading(), None, 0.3) == []
    told: list[str] = []
    assert _parts(reading(told), material("IfcMaterialList", Materials=(brick,)), 0.3) == [("Brick", 0.3)]
    assert not told and _parts(reading(told), material("IfcMaterialList", Materials=(brick, none)), 0.3) == []
    assert len(told) == 1 and "Brick" in told[0]
    parts = (thing(Material=brick),)
    assert _parts(reading(), material("IfcMaterialConstituentSet", MaterialConstituents=parts), 0.2) == [
        ("Brick", 0.2)
    ]
    assert _parts(reading(), material("IfcMaterialConstituentSet", MaterialConstituents=None), 0.2) == []


def test_wood_stands_for_studs_or_joists_where_it_is_thick() -> None:
    told: list[str] = []
    assert _framed(reading(told), "Timber", 0.02, "floor") == "wood" and not told
    assert _framed(reading(told), "Timber", 0.2, "floor") == "joists"
    assert _framed(reading(told), "Timber", 0.101, "wall") == "studs" and len(told) == 2
    assert _framed(reading(told), "Timber", 0.1, "wall") == "wood"
    assert _framed(reading(told), "Timber", 5.0, "floor") == "wood", "no joist is so high"
    assert _translated(reading(told), "Unobtainium", 0.1) == "Unobtainium" and "Unobtainium" in told[-1]
    names = ("Wall:Brick:123", "Wall:Brick", "ID7 Brick", "IDx Brick", "Brick 7")
    assert [_kind(name) for name in names] == [
        "Wall:Brick", "Wall:Brick", "Brick", "IDx Brick", "Brick 7",
    ]  # fmt: skip
    assert name_of(thing(Name=f" {'n' * 90}")) == "n" * 80 and name_of(thing(Name=None), "x") == "x"
    assert name_of(thing(Name="   "), "x") == "x"


def body(width: float, depth: float, low: float, high: float) -> Shape:
    corners = [(x, y, z) for z in (low, high) for x, y in ((0, 0), (width, 0), (width, depth), (0, depth))]
    flat = [(0, 1, 2), (0, 2, 3), (4, 5, 6), (4, 6, 7), (0, 1, 5)]  # the last stands upright
    return Shape(np.array(corners, dtype=float), np.array(flat))


def test_what_a_body_covers_seen_from_above() -> None:
    shape = body(2.0, 3.0, 0.5, 0.75)
    assert footprint(shape).area == pytest.approx(6.0) and (shape.low_m, shape.high_m) == (0.5, 0.75)
    upright = Shape(shape.points_m, shape.triangles[-1:])
    assert footprint(upright).is_empty
    moved = shape.moved(np.array([1.0, 0.0, 2.0]))
    assert moved.low_m == 2.5 and footprint(moved).bounds == (1.0, 0.0, 3.0, 3.0)


def test_which_slabs_are_floors(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its top from 0.35 m under the finished floor to 0.1 over it, no thicker than a metre."""
    monkeypatch.setattr("rehaul.house.readers.ifc.floors.get_predefined_type", lambda one: one.kind)

    def is_floor(low: float, high: float, kind: str = "FLOOR") -> bool:
        shapes = {1: body(1, 1, low, high)}
        return _is_floor(thing(shapes=shapes), thing(id=lambda: 1, kind=kind), UPPER)

    tops = {2.34: False, 2.36: True, 2.7: True, 2.79: True, 2.81: False}
    assert {top: is_floor(top - 0.2, top) for top in tops} == tops
    assert is_floor(1.705, 2.7) and not is_floor(1.69, 2.7) and not is_floor(2.7, 2.7)
    assert not is_floor(2.5, 2.7, "ROOF") and not is_floor(2.5, 2.7, "LANDING")
    assert not _is_floor(thing(shapes={}), thing(id=lambda: 1, kind="FLOOR"), UPPER)


def test_slabs_are_joined_under_the_wall_between_them() -> None:
    two = shapely.union_all([shapely.box(0, 0, 2, 3), shapely.box(2.1, 0, 4, 3)])
    wall = Wall(id="w", storey="1", start=(2.05, 0.0), end=(2.05, 3.0), thickness_m=0.1)
    whole = _joined_under_walls(two, [wall])
    assert whole.geom_type == "Polygon" and whole.area == pytest.approx(12.0, abs=0.01)
    assert _joined_under_walls(two, []).geom_type == "MultiPolygon"
    away = wall.model_copy(update={"start": (9.0, 0.0), "end": (9.0, 3.0)})
    assert _joined_under_walls(two, [away]).area == pytest.approx(two.area, abs=0.01)
    hairline = shapely.union_all([shapely.box(0, 0, 2, 3), shapely.box(2.03, 0, 4, 3)])
    assert _joined_under_walls(hairline, []).geom_type == "Polygon"
    room = Room(id="r", name="R", storey="1", polygon=((0, 0), (2, 0), (2, 2), (0, 2)))
    assert not _lies_beside(room, [shapely.box(0, 0, 1, 2)]) and _lies_beside(
        room, [shapely.box(0, 0, 0.99, 2)]
    )
    ring = shapely.box(-1, -1, 3, 3).difference(shapely.box(0, 0, 2, 2))
    assert not _lies_beside(room, [ring]), "a stair's hole is floor"


def test_what_a_reader_tells_is_told_once_and_counted() -> None:
    log = Log()
    for kind, why in (("B", "it is bent"), ("A", "it is flat"), ("B", "it is bent")):
        log.leave(kind, why)
    log.note("one")
    log.note("two")
    log.note("one")
    assert [(row.kind, row.count, row.why) for row in log.not_understood()] == [
        ("A", 1, "it is flat"),
        ("B", 2, "it is bent"),
    ]
    assert log.notes == ["one", "two"]
    log.leave("half \ud800", "x")
    assert [row.kind for row in log.not_understood()][-1] == "half ?"


def test_a_house_that_is_read_leaves_what_was_surveyed() -> None:
    storey, plate = Storey(id="1", name="G", elevation_m=0), Outlet(id="o", storey="1")
    old = House(storeys=(storey,), outlets=(plate,), tenure="rented", built_year=1950, entry_filter=True)
    job = Job(id="j", title="J", house=old)
    found = with_house(job, ReadReport(House(name="New", storeys=(storey,)), counts_of(old))).house
    assert (found.name, found.outlets, found.tenure, found.built_year, found.entry_filter) == (
        "New", (plate,), "rented", 1950, True,
    )  # fmt: skip
    told = House(storeys=(storey,), tenure="owned", built_year=2001, entry_filter=False)
    found = with_house(job, ReadReport(told, counts_of(told))).house
    assert (found.tenure, found.built_year, found.entry_filter) == ("owned", 2001, False)
    with pytest.raises(BadInput):
        with_house(job, ReadReport(House(), counts_of(House())))
    report = house_of_job(job)
    assert report.house is old and report.counts.storeys == 1 and report.notes == ()


def test_a_room_list_may_hold_a_megabyte(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert dispatch.LARGEST_LIST_BYTES == 1_048_576
    path = tmp_path / "rooms.txt"
    path.write_text("Hall 4 x 5\n")  # eleven letters
    monkeypatch.setattr(dispatch, "LARGEST_LIST_BYTES", 11)
    assert read_house(path).counts.rooms == 1
    monkeypatch.setattr(dispatch, "LARGEST_LIST_BYTES", 10)
    with pytest.raises(BadInput, match="MB"):
        read_house(path)
    monkeypatch.undo()
    path.write_bytes("Küche 4 x 5\n".encode("cp1252"))
    assert read_house(path).house.rooms[0].name == "Küche"
    for data, words in ((b"Hall\0", "kind"), (b"PK\x03\x04", "packed"), (b"", "empty")):
        path.write_bytes(data)
        with pytest.raises(BadInput, match=words):
            read_house(path)
    with pytest.raises(BadInput, match="folder"):
        read_house(tmp_path)


def test_points_in_rooms_and_bounds() -> None:
    room = Room(id="r", name="R", storey="1", polygon=((0, 0), (2, 0), (2, 2), (0, 2)))
    yard = room.model_copy(
        update={"id": "y", "outside": True, "polygon": ((-5, -5), (9, -5), (9, 9), (-5, 9))}
    )
    house = House(storeys=(Storey(id="1", name="G", elevation_m=0),), rooms=(yard, room))
    points = ((1, 1), (2.5, 1), (9.5, 1), (9.51, 1))
    assert [getattr(room_at(house, "1", point), "id", None) for point in points] == [
        "r", "y", "y", None,
    ]  # fmt: skip
    alone = house.model_copy(update={"rooms": (room,)})
    assert room_at(alone, "1", (2.5, 1.0)) is room and room_at(alone, "1", (2.51, 1.0)) is None
    assert room_at(alone, "2", (1.0, 1.0)) is None
    assert polygon_area(room.polygon) == 4.0 and polygon_area(room.polygon[::-1]) == -4.0
    box = (0.0, 0.0, 2.0, 2.0)
    assert point_in_bounds((2.0, 0.0), box) and not point_in_bounds((2.01, 0.0), box)
    assert point_in_bounds((-0.5, 2.5), box, 0.5) and not point_in_bounds((1.0, 2.51), box, 0.5)
    xs, ys = zip(*storey_edge(alone, house.storeys[0]), strict=True)
    assert (min(xs), max(ys)) == pytest.approx((-0.15, 2.15)), "half of a wall of 0.3 m about its rooms"
    walls = tuple(
        Wall(id=f"w{n}", storey="1", start=a, end=b)
        for n, (a, b) in enumerate((((0, 0), (4, 0)), ((4, 0), (4, 3))))
    )
    bare = House(storeys=house.storeys, walls=walls)
    assert shapely.Polygon(storey_edge(bare, house.storeys[0])).area == 6.0, "the hull of its walls"
    assert storey_edge(House(storeys=house.storeys, walls=walls[:1]), house.storeys[0]) == ()


def test_a_wall_runs_along_its_axis_and_a_pane_along_its_hull() -> None:
    """A stub of 0.2 m by 0.3 m whose axis is the short way; without an axis it runs the long way."""
    corners = np.array([[0, 0, 0], [0.2, 0, 0], [0.2, 0.3, 0], [0, 0.3, 0]], dtype=float)
    body = Shape(corners, np.array([[0, 1, 2], [0, 2, 3]]))
    wall = thing(is_a=lambda name: name == "IfcWall")
    curtain = thing(is_a=lambda name: name == "IfcCurtainWall")
    across = np.array([[0, 0.15, 0], [0.2, 0.15, 0]])
    for element, axis, thick in ((wall, across, 0.3), (wall, None, 0.2), (curtain, across, 0.2)):
        (strip,) = _covered_strips(element, body, axis)
        assert strip.thickness_m == pytest.approx(thick)


def boxed(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float] = (0.0, 2.0)) -> Shape:
    return Shape(np.array([[a, b, c] for a in x for b in y for c in z], dtype=float), np.array([[0, 1, 2]]))


def piece(name: str = "w1", y: float = 0.0, high_m: float = 2.5) -> Any:
    """A wall of 8 m by 0.2 m along x."""
    strip = Strip((0.0, y), (8.0, y), 0.2)
    return thing(strip=strip, wall=thing(id=name), low_m=0.0, high_m=high_m, element=7, level=GROUND)


def test_a_door_without_a_stated_wall_stands_beside_one() -> None:
    """Its middle within 0.35 m of a face, 0.45 m of the centre line; half its height beside it."""
    door = ((1.0, 2.0), (0.25, 0.625))
    assert _beside(piece(), boxed(*door)), "0.4375 m"
    assert not _beside(piece(), boxed((1.0, 2.0), (0.25, 0.75))), "0.5 m"
    assert _beside(piece(), boxed((-1.0, 1.0), (0.0, 0.1))) and _beside(
        piece(), boxed((7.0, 9.0), (0.0, 0.1))
    )
    assert not _beside(piece(), boxed((-1.5, 1.0), (0.0, 0.1)))
    assert not _beside(piece(), boxed((7.5, 9.0), (0.0, 0.1)))
    assert not _beside(piece(high_m=1.0), boxed(*door)) and _beside(piece(high_m=1.25), boxed(*door))


def test_the_piece_of_wall_that_takes_most_of_an_opening() -> None:
    near, far = piece("w1"), piece("w2", y=1.0)
    found = _best([far, near], boxed((1.0, 2.0), (-0.1, 0.1)))
    assert found == OpeningPlace(near, 1.0, 2.0, 0.0, 2.0)
    assert _best([near], None) is None and _best([], boxed((1.0, 2.0), (0.0, 0.1))) is None
    over = _best([near], boxed((7.5, 9.0), (0.0, 0.1), (-1.0, 3.0)))
    assert over == OpeningPlace(near, 7.5, 8.0, 0.0, 2.5), "no further than the wall"
    before = _best([near], boxed((-1.0, 0.5), (0.0, 0.1)))
    assert before is not None and (before.start_m, before.end_m) == (0.0, 0.5)
    assert _best([near], boxed((1.0, 1.125), (0.0, 0.1))) and not _best(
        [near], boxed((1.0, 1.09), (0.0, 0.1))
    )
    assert not _best([near], boxed((1.0, 2.0), (0.0, 0.1), (2.41, 3.0)))
    twins = _best([piece("w2"), piece("w1")], boxed((1.0, 2.0), (-0.1, 0.1)))
    assert twins is not None and twins.piece.wall.id == "w1", "of two as good, the first by its id"


def test_an_opening_that_cuts_eight_tenths_of_a_wall_is_a_gap() -> None:
    wall = piece()

    def gaps(
        depth: float, filled: list[OpeningPlace] | None = None, **more: Any
    ) -> tuple[list[Any], list[str]]:
        left: list[str] = []
        host = thing(id=lambda: 7, is_a=lambda name: name == more.get("host", "IfcWall"))
        void = thing(
            id=lambda: 1,
            VoidsElements=[thing(RelatingBuildingElement=host)],
            HasFillings=more.get("fillings", ()),
        )
        model = thing(
            of=lambda name: [void],
            shapes={1: boxed((1.0, 2.0), (-0.1, depth - 0.1))},
            used=more.get("used", set()),
            leave=lambda element, words: left.append(str(words)),
        )
        return list(_gaps(model, more.get("pieces", [wall]), filled or [])), left

    whole = OpeningPlace(wall, 1.0, 2.0, 0.0, 2.0)
    assert _depth_m(whole, boxed((1.0, 2.0), (-0.5, 0.05))) == pytest.approx(0.15)
    assert _depth_m(whole, boxed((1.0, 2.0), (-0.05, 0.5))) == pytest.approx(0.15)
    for depth, count, told in ((0.2, 1, 0), (0.161, 1, 0), (0.159, 0, 1)):
        found, left = gaps(depth)
        assert (len(found), len(left)) == (count, told), depth
    assert gaps(0.2)[0] == [whole]
    assert gaps(0.2, [whole]) == ([], []), "a door stands there"
    assert len(gaps(0.2, [OpeningPlace(wall, 3.0, 4.0, 0.0, 2.0)])[0]) == 1
    assert gaps(0.2, used={1}) == gaps(0.2, fillings=(1,)) == ([], [])
    assert gaps(0.2, host="IfcSlab") == ([], []), "read with the floor"
    assert len(gaps(0.2, pieces=[])[1]) == 1
