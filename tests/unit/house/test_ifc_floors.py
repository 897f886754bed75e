"""Floors of a model in several parts, and layers that are not of one material all over."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
import shapely

from rehaul.house import House, Storey
from rehaul.house.readers import ReadReport, read_house
from rehaul.house.readers.ifc.floors import SMALLEST_FLOOR_M2
from rehaul.predict import scene_of
from rehaul.radio import crossings

HALF = [(0, 0), (4, 0), (4, 5), (0, 5)]
FAR_M = 4.6  # where the second half starts: a thick wall stands between


def two_halves(sketch: Callable, *rooms: float, between: bool = False) -> ReadReport:
    """Two storeys; the upper floor is two slabs side by side, with a room from each of these x.

    `between`: a wall stands upstairs from one slab to the other.
    """
    drawing = sketch()
    ground, upper = drawing.storey("Ground"), drawing.storey("Upper", 2.8)
    for storey in (ground, upper):
        drawing.wall(storey, 8.6, 0.3, 2.5, at=(0, -1, 0))
    if between:
        drawing.wall(upper, 5, FAR_M - 4, 2.5, at=(FAR_M, 0, 0), turned_deg=90)
    for x in (0, FAR_M):
        slab = drawing.thing("IfcSlab", upper, drawing.body(HALF, 0.25), at=(x, 0, -0.25))
        drawing.layers(slab, ("Stahlbeton", 0.25))
    for x in rooms:
        body = drawing.body(HALF, 2.4)
        drawing.thing("IfcSpace", upper, body, at=(x, 0, 0), name="1", LongName=f"Room at {x}")
    return read_house(drawing.save())


def upper_of(house: House) -> Storey:
    return max(house.storeys, key=lambda storey: storey.elevation_m)


def bare_rooms(house: House) -> list[str]:
    """Rooms of which more than half has no part of their storey's slab under it."""
    found = []
    for storey in house.storeys:
        parts = shapely.union_all([shapely.Polygon(ring) for ring in storey.floor.outlines])
        for room in house.rooms:
            shape = shapely.Polygon(room.polygon)
            if room.storey == storey.id and parts.intersection(shape).area < shape.area / 2:
                found.append(room.name)
    return found


def floors_between(house: House, room_id: str) -> int:
    """How many floors the way straight up from the storey below crosses to a room's middle."""
    room = next(room for room in house.rooms if room.id == room_id)
    storey = next(storey for storey in house.storeys if storey.id == room.storey)
    spot = shapely.Polygon(room.polygon).representative_point()
    ends = [(spot.x, spot.y, storey.elevation_m + up_m) for up_m in (-1.0, 1.2)]
    return sum(one.piece == "plate" for one in crossings(scene_of(house).scene, ends[0], ends[1], (5.5e9,)))


def test_all_parts_of_a_floor_are_kept(sketch: Callable) -> None:
    report = two_halves(sketch, 0, FAR_M)
    outlines = upper_of(report.house).floor.outlines
    assert {frozenset(ring) for ring in outlines} == {
        frozenset((x + dx, y) for dx, y in HALF) for x in (0, FAR_M)
    }
    assert bare_rooms(report.house) == []
    assert [floors_between(report.house, room.id) for room in report.house.rooms] == [1, 1]
    assert not any("floor slabs of" in note for note in report.notes)


def test_under_a_wall_between_two_slabs_there_is_no_gap(sketch: Callable) -> None:
    (outline,) = upper_of(two_halves(sketch, 0, FAR_M, between=True).house).floor.outlines
    assert shapely.Polygon(outline).symmetric_difference(shapely.box(0, 0, FAR_M + 4, 5)).area < 1e-3


def test_a_room_beside_every_slab_gets_a_floor_and_a_note(sketch: Callable) -> None:
    report = two_halves(sketch, 0, FAR_M, 2 * FAR_M)
    floor = upper_of(report.house).floor
    assert floor.outlines == ()
    assert floor.thickness_m == pytest.approx(0.25)
    assert [floors_between(report.house, room.id) for room in report.house.rooms] == [1, 1, 1]
    assert [note for note in report.notes if "Room at 9.2" in note and "floor slabs of Upper" in note]


def test_a_stair_well_is_a_hole_and_not_beside_the_slab(sketch: Callable) -> None:
    """A room that stands in the hole for the stairs does not undo the outline."""
    drawing = sketch()
    drawing.wall(drawing.storey("Ground"), 4, 0.2, 2.4)
    upper = drawing.storey("Upper", 2.7)
    drawing.wall(upper, 4, 0.2, 2.4)
    slab = drawing.thing("IfcSlab", upper, drawing.body(HALF, 0.25), at=(0, 0, -0.25))
    well = [(1, 1), (3, 1), (3, 3), (1, 3)]
    drawing.void(slab, well, 0.5, at=(0, 0, -0.1))
    drawing.thing("IfcSpace", upper, drawing.body(well, 2.4), name="1", LongName="Stair")
    floor = upper_of(read_house(drawing.save()).house).floor
    assert len(floor.outlines) == len(floor.voids) == 1


def test_crumbs_of_slab_are_no_part(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    drawing.wall(ground, 4, 0.2, 2.4)
    side = (SMALLEST_FLOOR_M2 * 0.9) ** 0.5
    crumb = [(0, 0), (side, 0), (side, side), (0, side)]
    drawing.thing("IfcSlab", ground, drawing.body(HALF, 0.2), at=(0, 0, -0.2))
    drawing.thing("IfcSlab", ground, drawing.body(crumb, 0.2), at=(6, 0, -0.2))
    assert len(read_house(drawing.save()).house.storeys[0].floor.outlines) == 1


def floor_of(sketch: Callable, *layers: tuple[str, float]) -> tuple[list[str], tuple[str, ...]]:
    drawing = sketch()
    ground = drawing.storey("Ground")
    drawing.wall(ground, 4, 0.2, 2.4)
    thick = sum(thickness for _, thickness in layers)
    slab = drawing.thing("IfcSlab", ground, drawing.body(HALF, thick), at=(0, 0, -thick))
    drawing.layers(slab, *layers)
    report = read_house(drawing.save())
    return [layer.material for layer in report.house.storeys[0].floor.layers], report.notes


def wall_of(sketch: Callable, *layers: tuple[str, float]) -> tuple[list[str], tuple[str, ...]]:
    drawing = sketch()
    wall = drawing.wall(drawing.storey("Ground"), 4, sum(thickness for _, thickness in layers), 2.4)
    drawing.layers(wall, *layers)
    report = read_house(drawing.save())
    return [layer.material for layer in report.house.walls[0].layers], report.notes


def test_joists_by_name_are_joists(sketch: Callable) -> None:
    materials, notes = floor_of(sketch, ("Plywood", 0.019), ("Joists 2x12", 0.286), ("Gypsum board", 0.013))
    assert materials == ["plywood", "joists", "plasterboard"]
    assert not any("joists" in note for note in notes)


def test_thick_wood_in_a_floor_is_joists_with_a_note(sketch: Callable) -> None:
    materials, notes = floor_of(sketch, ("Plywood", 0.019), ("Wood - Dimensional Lumber", 0.286))
    assert materials == ["plywood", "joists"]
    assert [note for note in notes if "joists" in note] == [
        "'Wood - Dimensional Lumber' of 286 mm in a floor is taken as joists: 12% wood, air between."
    ]


def test_thick_wood_within_a_wall_is_studs_with_a_note(sketch: Callable) -> None:
    materials, notes = wall_of(sketch, ("Siding", 0.02), ("Holz", 0.14), ("Gipskarton", 0.0125))
    assert materials == ["wood", "studs", "plasterboard"]
    assert any("'Holz' of 140 mm in a wall is taken as studs" in note for note in notes)


@pytest.mark.parametrize(
    "layers",
    [
        (("Holz", 0.2),),  # logs
        (("Holz", 0.2), ("Gipskarton", 0.0125)),
        (("Holz", 0.02), ("Holz", 0.1), ("Gipskarton", 0.0125)),
        (("Putz", 0.02), ("Brettsperrholz", 0.14), ("Gipskarton", 0.0125)),
    ],
)
def test_wood_that_walls_are_built_of_stays_solid(
    sketch: Callable, layers: tuple[tuple[str, float], ...]
) -> None:
    materials, notes = wall_of(sketch, *layers)
    assert "studs" not in materials
    assert not any("studs" in note for note in notes)


def test_solid_floors_of_wood_stay_solid(sketch: Callable) -> None:
    assert floor_of(sketch, ("Cross laminated timber", 0.18), ("Estrich", 0.05))[0] == ["wood", "concrete"]
    assert floor_of(
        sketch,
        ("Dielen", 0.03),
    )[0] == ["wood"]


def test_hollow_blocks_are_hollow_where_they_are_thick_enough(sketch: Callable) -> None:
    materials, notes = wall_of(sketch, ("Masonry - Concrete Block", 0.193), ("Plaster", 0.013))
    assert materials == ["hollow block", "plaster"]
    materials, notes = wall_of(sketch, ("Masonry - Concrete Block", 0.1), ("Plaster", 0.013))
    assert materials == ["concrete", "plaster"]
    assert any("too thin for hollow block; taken as concrete" in note for note in notes)


def test_what_is_too_thick_for_its_name_counts_as_unknown(sketch: Callable) -> None:
    materials, notes = wall_of(sketch, ("Metal stud", 0.9))
    assert materials == ["Metal stud"]
    assert any("too thick for metal studs" in note for note in notes)


@pytest.fixture(scope="module")
def duplex() -> ReadReport:
    path = Path(__file__).parents[3].parent / "shared" / "data" / "houses" / "duplex-arch.ifc"
    if not path.exists():
        pytest.skip(f"outside data is absent: {path}")
    return read_house(path)


def test_every_room_of_a_two_family_house_stands_over_a_slab(duplex: ReadReport) -> None:
    upper = next(storey for storey in duplex.house.storeys if storey.name == "Level 2")
    above = [room for room in duplex.house.rooms if room.storey == upper.id]
    assert len(above) == 10
    assert not {room.name for room in above} & set(bare_rooms(duplex.house))


def test_no_way_from_below_to_an_upper_room_of_it_misses_the_floor(duplex: ReadReport) -> None:
    """From the middle of every room below to the middle of every room above, party wall or not.

    Only both stairs lie open to the storey above.
    """
    scene = scene_of(duplex.house).scene
    middles = {
        room.name: (room.storey, shapely.Polygon(room.polygon).representative_point())
        for room in duplex.house.rooms
    }
    upper = next(storey for storey in duplex.house.storeys if storey.name == "Level 2")
    missed = []
    for below, (storey, start) in middles.items():
        for above, (other, end) in middles.items():
            if storey == "1" and other == upper.id:
                ends = (start.x, start.y, 2.2), (end.x, end.y, upper.elevation_m + 1.2)
                met = crossings(scene, *ends, (5.5e9,))
                if sum(one.piece == "plate" for one in met) != 1:
                    missed.append((below, above))
    assert {below for below, _ in missed} == {"Stair", "Room"}
    slab = shapely.union_all([shapely.Polygon(ring) for ring in upper.floor.outlines])
    assert not any(slab.contains(middles[below][1]) for below, _ in missed)


def test_its_joists_and_blocks_are_not_solid(duplex: ReadReport) -> None:
    upper = next(storey for storey in duplex.house.storeys if storey.name == "Level 2")
    assert [layer.material for layer in upper.floor.layers] == ["plywood", "joists"]
    blocks = [
        wall for wall in duplex.house.walls if any(layer.material == "hollow block" for layer in wall.layers)
    ]
    assert len(blocks) == 16
    assert any("joists" in note for note in duplex.notes)
