"""Where a storey lies on its sheet, its overall dimensions, scale bar and legend, worked out by hand."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from rehaul.house import House, Room, Storey, Wall
from rehaul.sheets.layout import HEIGHT_MM, WIDTH_MM, Layout, draw_foot, draw_shell, lay
from rehaul.sheets.scale import StoreyView, scale_bar
from rehaul.units import UnitSystem

STOREY = Storey(id="1", name="One", elevation_m=0)
PAPER_MM = 234.0, 144.0  # 243 by 168 less 9 at the top and left for dimensions and 15 at the foot


def box(width_m: float, depth_m: float, *rooms: Room) -> House:
    corners = [(0.0, 0.0), (width_m, 0.0), (width_m, depth_m), (0.0, depth_m)]
    walls = tuple(
        Wall(id=f"w{n}", storey="1", start=corners[n], end=corners[(n + 1) % 4], thickness_m=0.2)
        for n in range(4)
    )
    return House(storeys=(STOREY,), walls=walls, rooms=rooms)


def laid(house: House, system: UnitSystem = "metric") -> Layout:
    return lay(house, STOREY, system)


@pytest.mark.parametrize(
    ("width_m", "depth_m", "ratio"),
    [
        (3.0, 1.97, 20),  # 2.87 m deep with its overhang: 143.5 of 144 mm at 1:20
        (3.0, 1.99, 25),
        (3.77, 1.0, 20),  # 4.67 m wide: 233.5 of 234 mm
        (3.79, 1.0, 25),
        (16.64, 2.0, 75),
        (16.66, 2.0, 100),
    ],
)
def test_a_house_gets_the_paper_that_dimensions_and_foot_leave(
    width_m: float, depth_m: float, ratio: float
) -> None:
    """Walls stand half outside their lines: 0.45 m are kept free at each side."""
    assert laid(box(width_m, depth_m)).view.ratio == ratio


def test_a_house_lies_in_the_middle_of_its_paper() -> None:
    layout = laid(box(9.6, 4.0))  # 10.5 by 4.9 m at 1:50: 210 by 98 mm
    assert layout.view.ratio == 50
    x0, y0, x1, y1 = layout.solid.union(layout.unknown).bounds
    assert (x0 + x1) / 2 == pytest.approx(9 + PAPER_MM[0] / 2)
    assert (y0 + y1) / 2 == pytest.approx(9 + PAPER_MM[1] / 2)
    assert (x1 - x0, y1 - y0) == pytest.approx((9.8 * 20, 4.2 * 20))
    assert layout.view.at((0.0, 4.0)) == pytest.approx((9 + 12 + 9, 9 + 23 + 9)), "up on the sheet is less"


def test_a_house_without_walls_gets_a_metre_square() -> None:
    view = laid(House(storeys=(STOREY,))).view
    assert view.ratio == 20
    assert view.at((0.5, 0.5)) == pytest.approx((9 + 117, 9 + 72))


def test_a_garden_is_drawn_beyond_the_walls_alone_and_only_on_its_storey() -> None:
    inside = Room(id="r", name="R", storey="1", polygon=((0, 0), (4, 0), (4, 3), (0, 3)))
    garden = Room(id="g", name="G", storey="1", outside=True, polygon=((2, 0), (6, 0), (6, 3), (2, 3)))
    layout = laid(box(4.0, 3.0, inside, garden))
    per_m = 1000 / layout.view.ratio
    left, _, right, _ = layout.open_air.bounds
    assert left == pytest.approx(layout.within.bounds[2]) and left >= layout.view.at((4.0, 0.0))[0] - 1e-9
    assert right == pytest.approx(layout.view.at((6.0, 0.0))[0])
    assert layout.open_air.area == pytest.approx((right - left) * 3 * per_m)
    assert "stroke-dasharray" in draw_shell(layout)
    assert laid(box(4.0, 3.0, inside)).open_air.is_empty
    above = garden.model_copy(update={"storey": "2"})
    house = box(4.0, 3.0, inside, above)
    two = House(
        storeys=(STOREY, Storey(id="2", name="Two", elevation_m=3)), walls=house.walls, rooms=house.rooms
    )
    assert laid(two).open_air.is_empty


@pytest.mark.parametrize(("system", "across", "deep"), [("metric", "9.8", "4.2"), ("imperial", "32", "13")])
def test_overall_dimensions_are_over_the_outer_faces(system: UnitSystem, across: str, deep: str) -> None:
    """9.8 m are 32 ft 2 in, and 4.2 m 13 ft 9 in."""
    drawn = draw_shell(laid(box(9.6, 4.0), system))
    said = re.findall(r"<text([^>]*)>([^<]*)<", drawn)  # each over a halo of itself
    width, depth = dict.fromkeys(words for _, words in said)
    assert width.startswith(across) and depth.startswith(deep)
    turned = {words for how, words in said if "rotate(-90" in how}
    assert turned == {depth}, "depth is read from the side"


def test_dimension_lines_end_at_the_outer_faces() -> None:
    layout = laid(box(9.6, 4.0))
    x0, y0, x1, y1 = layout.solid.union(layout.unknown).bounds
    paths = re.findall(r'<path d="([^"]*)"', draw_shell(layout))
    lines = next(path for path in paths if re.match(r"M[\d.]+ [\d.]+H[\d.]+M[\d.]+ [\d.]+V", path))
    (start, above, end), (left, top, bottom) = (
        [float(each) for each in re.findall(r"[\d.]+", part)] for part in lines.split("M")[1:3]
    )
    assert (start, end) == pytest.approx((x0 - 1, x1 + 1), abs=0.01)
    assert (top, bottom) == pytest.approx((y0 - 1, y1 + 1), abs=0.01)
    assert above == pytest.approx(y0 - 4.5, abs=0.01) and left == pytest.approx(x0 - 4.5, abs=0.01)
    ticks = paths[paths.index(lines) + 1]
    middles = [
        ((float(a) + float(c)) / 2, (float(b) + float(d)) / 2)
        for a, b, c, d in re.findall(r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)", ticks)
    ]
    wanted = [(x0, above), (x1, above), (left, y0), (left, y1)]
    assert [part for one in middles for part in one] == pytest.approx(
        [part for one in wanted for part in one], abs=0.01
    )


def test_no_walls_no_dimensions() -> None:
    assert "<text" not in draw_shell(laid(House(storeys=(STOREY,))))


def test_a_scale_bar_measures_the_house() -> None:
    """At 1:50 a metre is 20 mm: two steps of a metre in 44 mm, ink and paper by turns."""
    drawn = scale_bar((3.0, 10.0), StoreyView(0.0, 0.0, 50.0, 0.0, 0.0), "metric", 44)
    rects = re.findall(r'<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)"', drawn)
    assert [tuple(map(float, rect)) for rect in rects] == [(3, 10, 20), (23, 10, 20)]
    assert len(set(re.findall(r'<rect[^>]*fill="([^"]+)"', drawn))) == 2
    figures = re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>([^<]+)<', drawn)
    assert [(float(x), float(y), words) for x, y, words in figures] == [
        (3, 9.2, "0"), (23, 9.2, "1"), (43, 9.2, "2 m")
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("ratio", "room_mm", "last", "steps"),
    [
        (20.0, 44.0, "1 m", 1),  # 50 mm for a metre: longer than the room, and still one
        (100.0, 44.0, "4 m", 4),
        (111.0, 44.0, "4 m", 4),  # a metre is 9.009 mm
        (112.0, 44.0, "4 m", 2),  # and 8.93 here: two metres a step
        (100.0, 400.0, "4 m", 4),
        (20_000.0, 44.0, "400 m", 4),  # a hundred metres are 5 mm: the longest step there is
    ],
)
def test_steps_of_a_scale_bar(ratio: float, room_mm: float, last: str, steps: int) -> None:
    drawn = scale_bar((0, 0), StoreyView(0.0, 0.0, ratio, 0.0, 0.0), "metric", room_mm)
    assert re.findall(r">([^<]+)</text>", drawn)[-1] == last
    assert drawn.count("<rect") == steps


def test_a_legend_goes_on_in_a_second_line_where_the_first_is_full() -> None:
    entries = [("<g/>", 10.0, "a wall of an unknown kind")] * 8
    drawn = draw_foot(laid(box(4.0, 3.0)), entries)
    places = [(float(x), float(y)) for x, y in re.findall(r"translate\(([\d.]+) ([\d.]+)\)", drawn)]
    top = HEIGHT_MM - 15
    assert len(places) == 8 and places[0] == pytest.approx((81.0, top + 4.2))
    rows = sorted({y for _, y in places})
    assert rows == pytest.approx([top + 4.2 + 4.7 * n for n in range(len(rows))]) and len(rows) > 1
    assert next(x for x, y in places if y == rows[1]) == pytest.approx(81.0)
    step = places[1][0] - places[0][0]
    in_first = sum(y == rows[0] for _, y in places)
    assert 76 + in_first * step <= WIDTH_MM + 4 < 76 + (in_first + 1) * step
    gaps = [x1 - x0 for (x0, y0), (x1, y1) in pairwise(places) if y0 == y1]
    assert gaps == pytest.approx([step] * len(gaps), abs=0.02), "each takes what it needs"


def test_a_single_entry_too_long_for_the_line_stays_in_the_first() -> None:
    drawn = draw_foot(laid(box(4.0, 3.0)), [("<g/>", 10.0, "x" * 300)])
    (place,) = re.findall(r"translate\(([\d.]+) ([\d.]+)\)", drawn)
    assert float(place[1]) == pytest.approx(HEIGHT_MM - 15 + 4.2)
