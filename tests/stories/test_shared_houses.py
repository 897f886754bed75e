"""Building models that nobody here drew, read and held against counts made by an independent reader.

Counts and thicknesses: README.md beside the models. Materials of the walls and floor heights: read off the
models' own text with a plain text search. Room areas: the quantities that the models state themselves.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import ifcopenshell
import pytest
from ifcopenshell.util.element import get_psets
from ifcopenshell.util.placement import get_local_placement
from ifcopenshell.util.unit import calculate_unit_scale
from shapely import LineString, Point

from rehaul.errors import BadInput
from rehaul.house import Job, OpeningKind
from rehaul.house.audit import audit
from rehaul.house.geometry import opening_ends, room_area_m2, wall_length_m
from rehaul.house.readers import ElementCounts, ReadReport, read_house, with_house


@dataclass(frozen=True)
class Told:
    """What the independent reader says of one model."""

    counts: tuple[int, int, int, int, int]  # storeys walls doors windows rooms
    thicknesses_m: frozenset[float] | None = None
    materials: frozenset[str] | None = None


HOUSES = {
    "AC20-FZK-Haus.ifc": Told((2, 13, 5, 11, 7), frozenset({0.24, 0.30}), frozenset({"aerated block"})),
    "AC11-FZK-Haus-IFC.ifc": Told((2, 13, 5, 11, 7), frozenset({0.24, 0.30}), frozenset({"aerated block"})),
    "AC90R1-Jasmin-Sun-105-2x3.ifc": Told((3, 19, 8, 12, 10), frozenset({0.115, 0.24, 0.30})),
    "Ifc4_SampleHouse.ifc": Told((2, 5, 3, 4, 4)),
    "IfcOpenHouse_IFC2x3.ifc": Told((1, 4, 1, 5, 0), frozenset({0.36}), frozenset({"brick"})),
    "IfcOpenHouse_IFC4.ifc": Told((1, 4, 1, 5, 0), frozenset({0.36}), frozenset({"brick"})),
    "Jesse.1.ifc": Told((8, 160, 61, 0, 0)),
    "freecad-whole-house.ifc": Told((4, 71, 0, 42, 0)),
}


@cache
def house_at(path: Path) -> ReadReport:
    """Each model is read once for all tests."""
    return read_house(path)


@pytest.mark.parametrize("name", HOUSES)
def test_counts_thicknesses_and_materials(shared_data: Path, name: str) -> None:
    told = HOUSES[name]
    report = house_at(shared_data / "houses" / name)
    storeys, walls, doors, windows, rooms = told.counts
    assert report.counts == ElementCounts(
        storeys=storeys, walls=walls, doors=doors, windows=windows, rooms=rooms
    )
    if told.thicknesses_m:
        assert {round(wall.thickness_m or 0.0, 3) for wall in report.house.walls} == told.thicknesses_m
    if told.materials:
        assert {layer.material for w in report.house.walls for layer in w.layers} == told.materials


@pytest.mark.parametrize("name", HOUSES)
def test_nothing_is_lost_between_model_and_house(shared_data: Path, name: str) -> None:
    report = house_at(shared_data / "houses" / name)
    left = {item.kind: 0 for item in report.not_understood}
    for item in report.not_understood:
        left[item.kind] += item.count
    elements = {wall.id.split(".")[0] for wall in report.house.walls}
    left_walls = sum(count for kind, count in left.items() if kind.startswith("IfcWall"))
    glass = {wall.id.split(".")[0] for wall in report.house.walls if "curtain" in wall.note.casefold()}
    assert len(elements - glass) + left_walls == report.counts.walls
    fillings = sum(opening.kind is not OpeningKind.GAP for opening in report.house.openings)
    left_fillings = left.get("IfcDoor", 0) + left.get("IfcWindow", 0)
    assert fillings + left_fillings == report.counts.doors + report.counts.windows
    assert len(report.house.rooms) + left.get("IfcSpace", 0) == report.counts.rooms


@pytest.mark.parametrize("name", HOUSES)
def test_it_can_be_put_into_a_job_and_audited(shared_data: Path, name: str) -> None:
    job = with_house(Job(id="j", title="A house"), house_at(shared_data / "houses" / name))
    codes = {finding.code for finding in audit(job)}
    assert "modem-not-placed" in codes
    assert ("no-room" in codes) == (not job.house.rooms)
    assert all(wall_length_m(wall) >= 0.05 for wall in job.house.walls)


def test_the_same_house_in_two_schemas_reads_the_same(shared_data: Path) -> None:
    new, old = (
        house_at(shared_data / "houses" / name).house
        for name in ("AC20-FZK-Haus.ifc", "AC11-FZK-Haus-IFC.ifc")
    )
    assert [s.elevation_m for s in new.storeys] == [s.elevation_m for s in old.storeys] == [0.0, 2.7]
    lengths = [sorted(round(wall_length_m(wall), 2) for wall in house.walls) for house in (new, old)]
    assert lengths[0] == pytest.approx(lengths[1], abs=0.02)


@pytest.mark.parametrize("name", ["AC20-FZK-Haus.ifc", "AC11-FZK-Haus-IFC.ifc"])
def test_room_areas_are_those_the_model_states(shared_data: Path, name: str) -> None:
    path = shared_data / "houses" / name
    model = ifcopenshell.open(str(path))
    stated = {
        space.LongName: get_psets(space)["BaseQuantities"]["GrossFloorArea"]
        for space in model.by_type("IfcSpace")
    }
    read = {room.name: room_area_m2(room) for room in house_at(path).house.rooms}
    assert read == pytest.approx(stated, abs=0.002)


@pytest.mark.parametrize(
    "name",
    ["AC20-FZK-Haus.ifc", "AC11-FZK-Haus-IFC.ifc", "AC90R1-Jasmin-Sun-105-2x3.ifc", "Ifc4_SampleHouse.ifc"],
)
def test_doors_and_windows_stand_where_the_model_places_them(shared_data: Path, name: str) -> None:
    path = shared_data / "houses" / name
    model = ifcopenshell.open(str(path))
    scale = calculate_unit_scale(model)
    house = house_at(path).house
    walls = {wall.id: wall for wall in house.walls}
    storeys = {storey.id: storey.elevation_m for storey in house.storeys}
    for kind, ifc_class in (("door", "IfcDoor"), ("window", "IfcWindow")):
        elements = sorted(model.by_type(ifc_class), key=lambda element: element.id())
        openings = [opening for opening in house.openings if opening.kind == kind]
        for element, opening in zip(elements, openings, strict=True):
            x, y, z = get_local_placement(element.ObjectPlacement)[:3, 3] * scale
            wall = walls[opening.wall]
            line = LineString(opening_ends(wall, opening))
            assert line.distance(Point(x, y)) < (wall.thickness_m or 0.0) / 2 + 0.1
            bottom_m = storeys[wall.storey] + opening.sill_m
            assert bottom_m - 0.1 < z < bottom_m + opening.height_m + 0.1
            assert opening.width_m == pytest.approx(element.OverallWidth * scale, abs=0.15)


def test_levels_all_at_zero_are_told_and_derived(shared_data: Path) -> None:
    report = house_at(shared_data / "houses" / "freecad-whole-house.ifc")
    notes = " ".join(report.notes)
    assert "same elevation" in notes
    assert "has no doors" in notes
    assert "no rooms" in notes
    assert [storey.elevation_m for storey in report.house.storeys] == [-2.49, 0.0]


def test_an_old_schema_is_refused_in_one_sentence(shared_data: Path) -> None:
    with pytest.raises(BadInput) as refusal:
        read_house(shared_data / "houses" / "unsupported-schema.ifc")
    assert "IFC2X_FINAL" in str(refusal.value)
    assert "\n" not in str(refusal.value)
