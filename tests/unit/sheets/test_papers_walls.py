"""Walls cut by their thickness: closed corners, open doorways, unknown ones hatched."""

from __future__ import annotations

import pytest

from rehaul.house import House, Layer, Opening, OpeningKind, Room, Storey, Wall
from rehaul.sheets import sheet_svg
from rehaul.sheets.walls import storey_walls, wall_thickness_m

STOREY = Storey(id="1", name="One", elevation_m=0)


def wall(name: str, start: tuple[float, float], end: tuple[float, float], thickness_m: float = 0.2) -> Wall:
    return Wall(id=name, storey="1", start=start, end=end, thickness_m=thickness_m, construction="concrete")


def square(*extra: Wall, openings: tuple[Opening, ...] = ()) -> House:
    walls = (
        wall("a", (0, 0), (4, 0)),
        wall("b", (4, 0), (4, 3)),
        wall("c", (4, 3), (0, 3)),
        wall("d", (0, 3), (0, 0)),
    )
    return House(storeys=(STOREY,), walls=(*walls, *extra), openings=openings)


def test_a_ring_of_walls_is_closed_at_its_corners() -> None:
    solid, unknown = storey_walls(square(), "1")
    assert solid.area == pytest.approx(4.2 * 3.2 - 3.8 * 2.8)
    assert unknown.is_empty


def test_a_wall_between_goes_to_the_face_and_no_farther() -> None:
    solid, _ = storey_walls(square(wall("e", (2, 0), (2, 3), 0.1)), "1")
    assert solid.area == pytest.approx(4.2 * 3.2 - 3.8 * 2.8 + 0.1 * 2.8)
    assert solid.bounds == pytest.approx((-0.1, -0.1, 4.1, 3.1))


def test_a_thick_wall_does_not_stand_out_of_a_thin_one() -> None:
    solid, _ = storey_walls(square(wall("e", (2, 0), (2, 3), 0.6)), "1")
    assert solid.bounds == pytest.approx((-0.1, -0.1, 4.1, 3.1))


def test_an_opening_takes_its_width_out() -> None:
    door = Opening(id="o", wall="a", kind=OpeningKind.DOOR, offset_m=1, width_m=0.8)
    whole, _ = storey_walls(square(), "1")
    cut, _ = storey_walls(square(openings=(door,)), "1")
    assert whole.area - cut.area == pytest.approx(0.8 * 0.2)


def test_thickness_from_layers_then_from_the_construction() -> None:
    layers = (Layer(material="brick", thickness_m=0.1), Layer(material="air", thickness_m=0.05))
    assert wall_thickness_m(
        Wall(id="w", storey="1", start=(0, 0), end=(1, 0), layers=layers)
    ) == pytest.approx(0.15)
    assert wall_thickness_m(
        Wall(id="w", storey="1", start=(0, 0), end=(1, 0), construction="concrete")
    ) == pytest.approx(0.15)


def test_a_wall_nobody_knows_is_drawn_apart() -> None:
    known, unknown = storey_walls(square(Wall(id="u", storey="1", start=(0.1, 1), end=(3.9, 1))), "1")
    assert unknown.area == pytest.approx(3.8 * 0.12, rel=0.01)
    assert known.intersection(unknown).area < 1e-9


def test_a_storey_without_walls_and_a_house_without_anything_still_draw() -> None:
    room = Room(id="r", name="Room", storey="1", polygon=((0, 0), (4, 0), (4, 3)))
    assert "Room" in sheet_svg(House(storeys=(STOREY,), rooms=(room,)), "1")
    assert sheet_svg(House(storeys=(STOREY,)), "1").startswith("<svg")


def test_a_storey_that_is_not_there() -> None:
    with pytest.raises(KeyError):
        sheet_svg(square(), "9")
