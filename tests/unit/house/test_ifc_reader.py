"""Small models drawn on the spot: what each feature of a building model becomes in the house."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from rehaul.errors import BadInput
from rehaul.house import House, OpeningKind
from rehaul.house.geometry import wall_length_m
from rehaul.house.readers import ReadReport, read_house

SQUARE = [(0, 0), (4, 0), (4, 3), (0, 3)]


def listed(report: ReadReport) -> dict[tuple[str, str], int]:
    return {(item.kind, item.why): item.count for item in report.not_understood}


def the_wall(house: House):
    assert len(house.walls) == 1
    return house.walls[0]


@pytest.mark.parametrize(("unit", "scale"), [("METRE", 1.0), ("MILLIMETRE", 1000.0), ("FOOT", 1 / 0.3048)])
def test_lengths_are_metres_whatever_the_model_uses(sketch: Callable, unit: str, scale: float) -> None:
    drawing = sketch(unit=unit)
    ground = drawing.storey("Ground", 0.3 * scale)
    drawing.wall(ground, 5 * scale, 0.24 * scale, 2.5 * scale)
    report = read_house(drawing.save())
    wall = the_wall(report.house)
    assert wall.start == pytest.approx((0, 0.12), abs=1e-4)
    assert wall.end == pytest.approx((5, 0.12), abs=1e-4)
    assert wall.thickness_m == pytest.approx(0.24, abs=1e-4)
    assert wall.height_m == pytest.approx(2.5, abs=1e-3)
    assert report.house.storeys[0].elevation_m == pytest.approx(0.3, abs=1e-4)


def test_a_model_without_a_unit_is_taken_as_metres_and_says_so(sketch: Callable) -> None:
    drawing = sketch(unit="")
    drawing.wall(drawing.storey("Ground"), 5, 0.24, 2.5)
    report = read_house(drawing.save())
    assert wall_length_m(the_wall(report.house)) == pytest.approx(5, abs=1e-3)
    assert any("no unit of length" in note for note in report.notes)


def test_placements_are_followed_through_storey_and_wall(sketch: Callable) -> None:
    drawing = sketch()
    upper = drawing.storey("Upper", 2.8, turned_deg=90)
    drawing.wall(upper, 4, 0.2, 2.4, at=(1, 0, 0), turned_deg=-30)
    wall = the_wall(read_house(drawing.save()).house)
    # turned by 60 degrees in all; the storey turns (1, 0) into (0, 1)
    along = (math.cos(math.radians(60)), math.sin(math.radians(60)))
    aside = (-along[1] * 0.1, along[0] * 0.1)
    assert wall.start == pytest.approx((aside[0], 1 + aside[1]), abs=2e-4)
    assert wall.end == pytest.approx((4 * along[0] + aside[0], 1 + 4 * along[1] + aside[1]), abs=2e-4)
    assert wall.base_m == 0


def test_a_bent_wall_is_one_element_and_two_pieces(sketch: Callable) -> None:
    drawing = sketch()
    corner = [(0, 0), (5, 0), (5, 0.3), (0.3, 0.3), (0.3, 4), (0, 4)]
    drawing.thing("IfcWall", drawing.storey("Ground"), drawing.body(corner, 2.5))
    report = read_house(drawing.save())
    assert report.counts.walls == 1
    assert [wall.id for wall in report.house.walls] == ["w1.1", "w1.2"]
    assert {wall.thickness_m for wall in report.house.walls} == {0.3}
    lengths = sorted(wall_length_m(wall) for wall in report.house.walls)
    assert lengths == pytest.approx([3.85, 4.85], abs=1e-3)  # both meet where their centre lines cross


def test_a_curved_wall_keeps_its_length_and_thickness(sketch: Callable) -> None:
    drawing = sketch()
    angles = [math.radians(10 * step) for step in range(10)]
    outer = [(5.1 * math.cos(a), 5.1 * math.sin(a)) for a in angles]
    inner = [(4.9 * math.cos(a), 4.9 * math.sin(a)) for a in reversed(angles)]
    drawing.thing("IfcWall", drawing.storey("Ground"), drawing.body(outer + inner, 2.5))
    report = read_house(drawing.save())
    assert report.counts.walls == 1
    assert len(report.house.walls) == 9
    assert all(wall.thickness_m == pytest.approx(0.2, abs=0.005) for wall in report.house.walls)
    for wall in report.house.walls:
        for end in (wall.start, wall.end):
            assert math.hypot(*end) == pytest.approx(5, abs=0.03)


def test_a_wall_with_an_axis_only_stands_along_it(sketch: Callable) -> None:
    drawing = sketch(unit="MILLIMETRE")
    ground = drawing.storey("Ground")
    drawing.wall(ground, 3000, 100, 2500)
    wall = drawing.thing(
        "IfcWall", ground, drawing.axis([(0, 0), (2000, 0), (2000, 1500)]), at=(1000, 500, 0)
    )
    drawing.layers(wall, ("Ziegel", 115.0))
    report = read_house(drawing.save())
    pieces = [wall for wall in report.house.walls if wall.id.startswith("w2.")]
    assert [wall.thickness_m for wall in pieces] == [0.115, 0.115]
    assert pieces[0].start == (1.0, 0.5)
    assert pieces[1].end == (3.0, 2.0)
    assert any("no body" in note for note in report.notes)


def test_a_wall_with_nothing_is_listed(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    drawing.wall(ground, 3, 0.1, 2.5)
    drawing.thing("IfcWall", ground)
    report = read_house(drawing.save())
    assert report.counts.walls == 2
    assert listed(report)["IfcWall", "it has neither a body nor an axis"] == 1


def test_ends_meet_on_the_centre_line_of_the_next_wall(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    drawing.wall(ground, 5, 0.3, 2.5)  # centre line at y = 0.15
    drawing.wall(ground, 3, 0.1, 2.5, at=(2, 0.3, 0), turned_deg=90)  # butts against its face
    walls = read_house(drawing.save()).house.walls
    assert walls[1].start == pytest.approx((1.95, 0.15), abs=1e-3)


def test_a_house_far_from_the_origin_is_moved_to_the_sheet(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    drawing.wall(ground, 5, 0.2, 2.5, at=(500_000, 5_400_000, 0))
    report = read_house(drawing.save())
    assert the_wall(report.house).start == pytest.approx((0, 0.1), abs=1e-2)
    assert any("moved" in note for note in report.notes)


def test_door_window_gap_and_recess(sketch: Callable) -> None:
    drawing = sketch()
    wall = drawing.wall(drawing.storey("Ground", 1.0), 8, 0.3, 2.5)
    hole = [(0, -0.1), (0.9, -0.1), (0.9, 0.4), (0, 0.4)]
    drawing.fill(drawing.void(wall, hole, 2.1, at=(1, 0, 0)), "IfcDoor")
    drawing.fill(drawing.void(wall, hole, 1.2, at=(3, 0, 0.9)), "IfcWindow")
    drawing.void(wall, hole, 2.0, at=(5, 0, 0))
    drawing.void(wall, [(0, 0), (0.9, 0), (0.9, 0.1), (0, 0.1)], 2.0, at=(6.5, 0, 0))
    report = read_house(drawing.save())
    door, window, gap = report.house.openings
    assert (door.kind, window.kind, gap.kind) == (OpeningKind.DOOR, OpeningKind.WINDOW, OpeningKind.GAP)
    assert (door.offset_m, door.width_m, door.height_m, door.sill_m) == pytest.approx(
        (1, 0.9, 2.1, 0), abs=1e-3
    )
    assert (window.offset_m, window.height_m, window.sill_m) == pytest.approx((3, 1.2, 0.9), abs=1e-3)
    assert gap.offset_m == pytest.approx(5, abs=1e-3)
    assert listed(report)["IfcOpeningElement", "a recess that does not go through the wall"] == 1
    assert (report.counts.doors, report.counts.windows) == (1, 1)


def test_a_door_that_names_no_wall_goes_to_the_nearest(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    drawing.wall(ground, 5, 0.2, 2.5)
    drawing.wall(ground, 5, 0.2, 2.5, at=(0, 3, 0))
    leaf = [(0, 0), (0.8, 0), (0.8, 0.05), (0, 0.05)]
    drawing.thing("IfcDoor", ground, drawing.body(leaf, 2.0), at=(2, 3.05, 0))
    drawing.thing("IfcDoor", ground, drawing.body(leaf, 2.0), at=(2, 1.5, 0))
    report = read_house(drawing.save())
    assert [(o.wall, o.offset_m) for o in report.house.openings] == [("w2", pytest.approx(2, abs=1e-3))]
    assert report.counts.doors == 2
    assert listed(report)["IfcDoor", "no wall within 0.35 m of it"] == 1
    assert any("nearest" in note for note in report.notes)


def test_a_roof_window_is_listed(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    drawing.wall(ground, 5, 0.2, 2.5)
    roof = drawing.thing("IfcSlab", ground, drawing.body(SQUARE, 0.2), at=(0, 0, 2.5), PredefinedType="ROOF")
    drawing.fill(drawing.void(roof, [(1, 1), (2, 1), (2, 2), (1, 2)], 0.4, at=(0, 0, -0.1)), "IfcWindow")
    report = read_house(drawing.save())
    assert report.house.openings == ()
    assert listed(report)["IfcWindow", "it sits in a slab, which is not a wall of the house"] == 1


def test_two_doors_in_one_place_are_one_opening_and_two_in_the_counts(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    drawing.wall(ground, 5, 0.2, 2.5)
    leaf = [(0, 0), (0.8, 0), (0.8, 0.05), (0, 0.05)]
    for _ in range(2):
        drawing.thing("IfcDoor", ground, drawing.body(leaf, 2.0), at=(2, 0, 0))
    report = read_house(drawing.save())
    assert len(report.house.openings) == 1
    assert report.counts.doors == 2


def test_floor_with_a_stair_well(sketch: Callable) -> None:
    drawing = sketch()
    drawing.wall(drawing.storey("Ground"), 4, 0.2, 2.4)
    upper = drawing.storey("Upper", 2.7)
    drawing.wall(upper, 4, 0.2, 2.4)
    slab = drawing.thing("IfcSlab", upper, drawing.body(SQUARE, 0.25), at=(0, 0, -0.25))
    drawing.layers(slab, ("Stahlbeton", 0.25))
    drawing.void(slab, [(1, 1), (2, 1), (2, 2), (1, 2)], 0.5, at=(0, 0, -0.1))
    floor = read_house(drawing.save()).house.storeys[1].floor
    assert floor.thickness_m == pytest.approx(0.25)
    assert [layer.material for layer in floor.layers] == ["concrete"]
    assert len(floor.voids) == 1
    assert set(floor.voids[0]) == {(1, 1), (2, 1), (2, 2), (1, 2)}


def test_rooms_have_names_once_and_an_outline(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    for x, name in ((0, "Hall"), (5, "Hall"), (10, "Abstellraum")):
        drawing.thing("IfcSpace", ground, drawing.body(SQUARE, 2.4), at=(x, 0, 0), name="1", LongName=name)
    report = read_house(drawing.save())
    assert [room.name for room in report.house.rooms] == ["Hall", "Hall 2", "Abstellraum"]
    assert [room.lived_in for room in report.house.rooms] == [True, True, False]
    assert set(report.house.rooms[1].polygon) == {(5, 0), (9, 0), (9, 3), (5, 3)}
    assert report.house.storeys[0].height_m == pytest.approx(2.4)


def test_materials_are_translated_and_foreign_ones_keep_their_name(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    wall = drawing.wall(ground, 5, 0.3, 2.5)
    drawing.layers(
        wall, ("Kalkputz", 0.015), ("Brique pleine", 0.2), ("Air layer", 0.03), ("Mycelium", 0.055)
    )
    alone = drawing.wall(ground, 5, 0.2, 2.5, at=(0, 4, 0))
    drawing.material(alone, drawing.make("IfcMaterial", Name="Leichtbeton 102890359"))
    report = read_house(drawing.save())
    assert [layer.material for layer in report.house.walls[0].layers] == [
        "plaster",
        "brick",
        "air",
        "Mycelium",
    ]
    assert [(layer.material, layer.thickness_m) for layer in report.house.walls[1].layers] == [
        ("aerated block", pytest.approx(0.2))
    ]
    assert any("Mycelium" in note for note in report.notes)


def test_a_material_list_gives_no_layers_but_a_guess_with_a_note(sketch: Callable) -> None:
    drawing = sketch()
    wall = drawing.wall(drawing.storey("Ground"), 5, 0.3, 2.5)
    names = ("Brick, Common", "Fiberglass Batt", "Concrete Masonry Units")
    materials = [drawing.make("IfcMaterial", Name=name) for name in names]
    drawing.material(wall, drawing.make("IfcMaterialList", Materials=materials))
    report = read_house(drawing.save())
    assert the_wall(report.house).layers == ()
    assert the_wall(report.house).construction == "brick-block-cavity"
    assert any("by the name only" in note for note in report.notes)


def test_equal_elevations_are_replaced_by_where_the_walls_start(sketch: Callable) -> None:
    drawing = sketch()
    lower, upper = drawing.storey("Lower"), drawing.storey("Upper")
    drawing.wall(lower, 4, 0.2, 2.4, at=(0, 0, -2.6))
    drawing.wall(upper, 4, 0.2, 2.4)
    report = read_house(drawing.save())
    assert [(s.id, s.elevation_m) for s in report.house.storeys] == [("B1", -2.6), ("1", 0.0)]
    assert any("same elevation" in note for note in report.notes)


def test_structural_levels_and_empty_levels_are_no_storeys_but_are_counted(sketch: Callable) -> None:
    drawing = sketch()
    structure, finish = drawing.storey("Structure", -0.3), drawing.storey("Finish", 0.0)
    drawing.storey("Ridge", 6.0)
    drawing.wall(structure, 4, 0.2, 2.6)
    drawing.wall(finish, 4, 0.2, 2.4, at=(0, 3, 0))
    report = read_house(drawing.save())
    assert report.counts.storeys == 3
    assert [storey.name for storey in report.house.storeys] == ["Finish"]
    low = report.house.walls[0]
    assert (low.base_m, low.height_m) == (0, pytest.approx(2.3))  # what stands above the finished floor


def test_a_wall_put_on_the_wrong_level_stands_where_it_stands(sketch: Callable) -> None:
    drawing = sketch()
    lower, upper = drawing.storey("Lower", 0.0), drawing.storey("Upper", 3.0)
    drawing.wall(lower, 4, 0.2, 2.6)
    drawing.wall(lower, 4, 0.2, 2.6, at=(0, 3, 3.0))
    drawing.wall(upper, 4, 0.2, 2.6, at=(0, 6, -3.0))
    drawing.wall(upper, 4, 0.2, 2.6, at=(0, 9, 0.0))
    walls = {wall.id: wall.storey for wall in read_house(drawing.save()).house.walls}
    assert walls == {"w1": "1", "w2": "2", "w3": "1", "w4": "2"}


def test_a_model_without_levels_gets_one_storey(sketch: Callable) -> None:
    drawing = sketch()
    drawing.wall(None, 4, 0.2, 2.6, at=(0, 0, 1.5))
    report = read_house(drawing.save())
    assert [storey.elevation_m for storey in report.house.storeys] == [1.5]
    assert report.counts.storeys == 0


def test_windows_that_reach_the_floor_are_doors_where_a_model_has_none(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    drawing.wall(ground, 5, 0.2, 2.5)
    leaf = [(0, 0), (0.8, 0), (0.8, 0.05), (0, 0.05)]
    drawing.thing("IfcWindow", ground, drawing.body(leaf, 2.05), at=(1, 0.05, 0))
    drawing.thing("IfcWindow", ground, drawing.body(leaf, 1.0), at=(3, 0.05, 0.9))
    report = read_house(drawing.save())
    assert [opening.kind.value for opening in report.house.openings] == ["door", "window"]
    assert (report.counts.doors, report.counts.windows) == (0, 2)
    assert any("has no doors" in note for note in report.notes)


def test_everything_else_is_listed(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    drawing.wall(ground, 5, 0.2, 2.5)
    for _ in range(3):
        drawing.thing("IfcFurniture", ground)
    drawing.thing("IfcBuildingElementProxy", ground)
    assert listed(read_house(drawing.save())) == {
        ("IfcFurniture", "furniture"): 3,
        ("IfcBuildingElementProxy", "the model does not say what it is"): 1,
    }


def test_every_product_is_in_the_house_or_listed(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    wall = drawing.wall(ground, 5, 0.2, 2.5)
    drawing.fill(drawing.void(wall, [(0, 0), (1, 0), (1, 0.2), (0, 0.2)], 2, at=(1, 0, 0)), "IfcDoor")
    drawing.thing("IfcColumn", ground, drawing.body(SQUARE, 2))
    report = read_house(drawing.save())
    products = [p for p in drawing.model.by_type("IfcProduct") if not p.is_a("IfcSpatialElement")]
    in_house = len(report.house.walls) + 2 * len(report.house.openings)  # a door and its opening
    assert in_house + sum(item.count for item in report.not_understood) == len(products)


def test_reading_twice_gives_the_same(sketch: Callable) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    for y in range(12):
        drawing.wall(ground, 5, 0.2, 2.5, at=(0, y, 0))
    path = drawing.save()
    assert read_house(path) == read_house(path)


def test_a_model_without_walls_and_rooms_is_refused(sketch: Callable) -> None:
    drawing = sketch()
    drawing.storey("Ground")
    with pytest.raises(BadInput, match="no walls and no rooms"):
        read_house(drawing.save())


def test_what_no_house_has_is_refused(sketch: Callable) -> None:
    drawing = sketch()
    drawing.wall(drawing.storey("Moon", 384_400_000), 5, 0.2, 2.5)
    with pytest.raises(BadInput, match="no house has"):
        read_house(drawing.save())


def test_more_storeys_than_a_house_has_are_refused(sketch: Callable) -> None:
    drawing = sketch()
    for floor in range(60):
        drawing.wall(drawing.storey(f"Floor {floor}", 3.0 * floor), 5, 0.2, 2.5)
    with pytest.raises(BadInput, match="no house has"):
        read_house(drawing.save())


def test_a_model_cut_anywhere_is_refused(sketch: Callable, tmp_path: Path) -> None:
    drawing = sketch()
    drawing.wall(drawing.storey("Ground"), 5, 0.2, 2.5)
    whole = drawing.save().read_bytes()
    cut = tmp_path / "cut.ifc"
    for share in (0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99):
        cut.write_bytes(whole[: int(len(whole) * share)])
        with pytest.raises(BadInput, match=r"cut short|names no schema|not an IFC"):
            read_house(cut)


def test_a_model_that_cannot_be_parsed_is_refused(sketch: Callable, tmp_path: Path) -> None:
    drawing = sketch()
    drawing.wall(drawing.storey("Ground"), 5, 0.2, 2.5)
    text = drawing.save().read_text()
    bad = tmp_path / "bad.ifc"
    bad.write_text(text.replace("(0.,0.,1.)", "(0.,0$x.,1.)", 1))
    with pytest.raises(BadInput, match="cannot be parsed"):
        read_house(bad)


def test_a_damaged_model_says_so_or_is_refused(sketch: Callable, tmp_path: Path) -> None:
    drawing = sketch()
    ground = drawing.storey("Ground")
    for y in range(4):
        wall = drawing.wall(ground, 5, 0.2, 2.5, at=(0, y, 0))
        drawing.layers(wall, ("Ziegel", 0.2))
    whole = drawing.save().read_bytes()
    header = whole.index(b"DATA;") + 5
    random = Random(7)
    bad = tmp_path / "bad.ifc"
    outcomes = set()
    for _ in range(60):
        data = bytearray(whole)
        data[random.randrange(header, len(data) - 40)] = random.choice(b"(),'#;x9$")
        bad.write_bytes(data)
        try:
            report = read_house(bad)
        except BadInput:
            outcomes.add("refused")
        else:
            damaged = any("damaged" in note for note in report.notes)
            outcomes.add("told" if damaged else "read")
    assert {"refused", "told"} <= outcomes  # and nothing but a refusal was ever raised


def test_another_file_with_the_ending_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "photo.ifc"
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(1000))
    with pytest.raises(BadInput, match="not an IFC model"):
        read_house(path)


def test_an_old_schema_is_refused_by_name(tmp_path: Path) -> None:
    path = tmp_path / "old.ifc"
    path.write_text("ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('IFC2X_FINAL'));\nENDSEC;\nEND-ISO-10303-21;\n")
    with pytest.raises(BadInput, match="IFC2X_FINAL"):
        read_house(path)
