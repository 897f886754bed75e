"""Drawings made on the spot: walls as double and single lines, what fills their gaps, and rooms."""

from __future__ import annotations

import math
from pathlib import Path

import ezdxf
import pytest

from rehaul.errors import BadInput
from rehaul.house import OpeningKind
from rehaul.house.geometry import room_area_m2, wall_length_m
from rehaul.house.readers import read_house

Point = tuple[float, float]


class Pen:
    """Draws in metres on a drawing of any unit."""

    def __init__(self, unit: int = 6, per_metre: float = 1.0, turned_deg: float = 0.0) -> None:
        self.document = ezdxf.new("R2010", units=unit)
        self.space = self.document.modelspace()
        self.per_metre = per_metre
        self.turned = math.radians(turned_deg)

    def at(self, point: Point) -> Point:
        x, y = point
        cos, sin = math.cos(self.turned), math.sin(self.turned)
        return ((x * cos - y * sin) * self.per_metre, (x * sin + y * cos) * self.per_metre)

    def line(self, start: Point, end: Point, layer: str = "WALLS") -> None:
        self.space.add_line(self.at(start), self.at(end), dxfattribs={"layer": layer})

    def box(self, x0: float, y0: float, x1: float, y1: float, layer: str = "WALLS") -> None:
        corners = [self.at(p) for p in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
        self.space.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer})

    def text(self, words: str, point: Point) -> None:
        self.space.add_text(words, dxfattribs={"layer": "NOTES", "insert": self.at(point)})

    def layer(self, *names: str) -> None:
        for name in names:
            self.document.layers.add(name)

    def save(self, folder: Path) -> Path:
        path = folder / "plan.dxf"
        self.document.saveas(path)
        return path


def two_rooms(**options: float) -> Pen:
    """8 x 5 m outside, walls of 0.3 and 0.1 m, a door of 0.9 m between the rooms."""
    pen = Pen(**options)  # type: ignore[arg-type]
    pen.layer("WALLS", "DOORS", "WINDOWS", "NOTES")
    pen.box(0, 0, 8, 5)
    pen.box(0.3, 0.3, 3.9, 4.7)
    pen.line((4.0, 0.3), (7.7, 0.3))
    pen.line((7.7, 0.3), (7.7, 4.7))
    pen.line((7.7, 4.7), (4.0, 4.7))
    pen.line((4.0, 4.7), (4.0, 0.3))
    pen.text("Living", (1, 2))
    pen.text("Store", (6, 2))
    return pen


@pytest.mark.parametrize(("unit", "per_metre"), [(6, 1.0), (4, 1000.0), (2, 1 / 0.3048), (0, 1000.0)])
def test_walls_as_double_lines_in_any_unit(tmp_path: Path, unit: int, per_metre: float) -> None:
    report = read_house(two_rooms(unit=unit, per_metre=per_metre).save(tmp_path))
    walls = report.house.walls
    assert sorted(round(w.thickness_m or 0, 3) for w in walls) == [0.1, 0.3, 0.3, 0.3, 0.3]
    assert sorted(round(wall_length_m(w), 2) for w in walls) == [4.7, 4.7, 4.7, 7.7, 7.7]
    assert ("names no unit" in " ".join(report.notes)) == (unit == 0)


@pytest.mark.parametrize("turned_deg", [0.0, 30.0, 90.0])
def test_rooms_are_what_the_walls_enclose(tmp_path: Path, turned_deg: float) -> None:
    report = read_house(two_rooms(turned_deg=turned_deg).save(tmp_path))
    areas = {room.name: room_area_m2(room) for room in report.house.rooms}
    assert areas == pytest.approx({"Living": 3.6 * 4.4, "Store": 3.7 * 4.4}, abs=0.05)
    assert {room.name: room.lived_in for room in report.house.rooms} == {"Living": True, "Store": False}


def broken_wall(layer: str) -> Pen:
    """One wall with a gap of 0.9 m, 2 m from its start."""
    pen = Pen()
    pen.layer("WALLS", "DOORS", "WINDOWS")
    for y in (0.0, 0.2):
        pen.line((0, y), (2, y))
        pen.line((2.9, y), (6, y))
    if layer:
        pen.line((2, 0.1), (2.9, 0.1), layer)
    return pen


@pytest.mark.parametrize(("layer", "kind"), [("", "gap"), ("DOORS", "door"), ("WINDOWS", "window")])
def test_a_gap_takes_the_kind_of_the_mark_in_it(tmp_path: Path, layer: str, kind: str) -> None:
    report = read_house(broken_wall(layer).save(tmp_path))
    (wall,) = report.house.walls
    (opening,) = report.house.openings
    assert (wall_length_m(wall), wall.thickness_m) == pytest.approx((6, 0.2))
    assert opening.kind is OpeningKind(kind)
    assert sorted((opening.offset_m, 6 - opening.offset_m - 0.9)) == pytest.approx([2.0, 3.1])
    assert opening.width_m == pytest.approx(0.9)


def test_a_door_block_on_an_unbroken_wall(tmp_path: Path) -> None:
    pen = Pen()
    pen.layer("WALLS")
    for y in (0.0, 0.1):
        pen.line((0, y), (5, y))
    leaf = pen.document.blocks.new("Tür 80")
    leaf.add_line((0, 0), (0.8, 0))
    leaf.add_arc((0, 0), 0.8, 0, 90)
    pen.space.add_blockref("Tür 80", (2, 0.05), dxfattribs={"layer": "0"})
    report = read_house(pen.save(tmp_path))
    (door,) = report.house.openings
    assert (report.counts.doors, door.offset_m, door.width_m) == (1, pytest.approx(2.0), pytest.approx(0.8))


def test_single_lines_are_centre_lines_of_unknown_thickness(tmp_path: Path) -> None:
    pen = Pen()
    pen.layer("Wände")
    pen.box(0, 0, 5, 4, "Wände")
    report = read_house(pen.save(tmp_path))
    assert [wall.thickness_m for wall in report.house.walls] == [None] * 4
    assert [room.name for room in report.house.rooms] == ["Room 1"]
    assert any("one line" in note for note in report.notes)


def test_what_is_on_other_layers_is_listed(tmp_path: Path) -> None:
    pen = two_rooms()
    pen.layer("FURNITURE")
    for _ in range(3):
        pen.line((1, 1), (2, 2), "FURNITURE")
    (item,) = read_house(pen.save(tmp_path)).not_understood
    assert (item.kind, item.count) == ("LINE", 3)
    assert "FURNITURE" in item.why


def test_a_drawing_without_named_layers_is_read_with_a_note(tmp_path: Path) -> None:
    pen = Pen()
    pen.box(0, 0, 5, 4, "0")
    report = read_house(pen.save(tmp_path))
    assert len(report.house.walls) == 4
    assert any("No layer is named" in note for note in report.notes)


def test_reading_twice_gives_the_same(tmp_path: Path) -> None:
    path = two_rooms().save(tmp_path)
    assert read_house(path) == read_house(path)


@pytest.mark.parametrize(
    ("content", "problem"),
    [
        (b"0\nSECTION\n2\nENT", "not a DXF drawing|no lines of walls"),
        (b"\x89PNG\r\n" + bytes(500), "not a DXF drawing"),
    ],
)
def test_what_is_no_drawing_is_refused(tmp_path: Path, content: bytes, problem: str) -> None:
    path = tmp_path / "plan.dxf"
    path.write_bytes(content)
    with pytest.raises(BadInput, match=problem):
        read_house(path)


def test_a_drawing_cut_anywhere_is_refused(tmp_path: Path) -> None:
    whole = two_rooms().save(tmp_path).read_bytes()
    cut = tmp_path / "cut.dxf"
    for share in (0.01, 0.2, 0.5, 0.8, 0.95):
        cut.write_bytes(whole[: int(len(whole) * share)])
        with pytest.raises(BadInput, match="end mark"):
            read_house(cut)


def test_a_drawing_of_no_house_size_is_refused(tmp_path: Path) -> None:
    pen = Pen()
    pen.layer("WALLS")
    pen.box(0, 0, 5000, 4000)
    with pytest.raises(BadInput, match="no house"):
        read_house(pen.save(tmp_path))
