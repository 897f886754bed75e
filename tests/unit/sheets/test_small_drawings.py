"""Symbols, charts and words on paper, each small enough to be checked with a ruler."""

from __future__ import annotations

import re
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import pytest
import shapely

from rehaul.house import House, OutletKind, Quantity, Room, Storey
from rehaul.sheets import svg, symbols
from rehaul.sheets.comparison import _axis, _row, comparison_svg
from rehaul.sheets.layout import HEIGHT_MM, draw_foot, lay
from rehaul.sheets.placing import Placer
from rehaul.sheets.plansheet import _area, _bodies, _longest_middle, _write
from rehaul.sheets.roomchart import _Axis, _grid, _key, roomchart_svg
from rehaul.sheets.roomwords import PITCH, RoomLine, _block, write_in_room

thing: Any = SimpleNamespace
STOREY = Storey(id="1", name="One", elevation_m=0)


def numbers(text: str) -> list[float]:
    return [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", text)]


def extent(drawn: str) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of what paths (M, L, H, V), circles and rectangles cover, rims left out."""
    xs: list[float] = []
    ys: list[float] = []
    for x, y, width, height in re.findall(
        r'<rect x="([-\d.]+)" y="([-\d.]+)" width="([\d.]+)" height="([\d.]+)"', drawn
    ):
        xs += [float(x), float(x) + float(width)]
        ys += [float(y), float(y) + float(height)]
    for x, y, r in re.findall(r'cx="([-\d.]+)" cy="([-\d.]+)" r="([\d.]+)"', drawn):
        xs += [float(x) - float(r), float(x) + float(r)]
        ys += [float(y) - float(r), float(y) + float(r)]
    for data in re.findall(r' d="([^"]+)"', drawn):
        for letter, rest in re.findall(r"([MLHV])([-\d. ]+)", data):
            found = numbers(rest)
            xs += found[:1] if letter in "MLH" else []
            ys += found[1:2] if letter in "ML" else found[:1] if letter == "V" else []
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize(
    ("drawn", "box"),
    [
        (lambda: symbols.outlet((10, 20), OutletKind.TELEPHONE), (8.75, 18.75, 11.25, 21.25)),
        (lambda: symbols.outlet((10, 20), OutletKind.COAX), (8.75, 18.75, 11.25, 21.25)),
        (lambda: symbols.access_point((10, 20)), (6.3, 17.4, 13.7, 22.6)),
        (lambda: symbols.meeting_point((10, 20)), (8.1, 17.9, 11.9, 22.1)),
        (lambda: symbols.splitter((10, 20)), (8.4, 18.5, 11.2, 21.5)),
        (lambda: symbols.box((10, 20)), (8.2, 18.9, 11.8, 21.3)),
        (lambda: symbols.riser((10, 20), up=True, down=True), (9.0, 17.5, 11.0, 22.5)),
        (lambda: symbols.riser((10, 20), up=True, down=False), (9.0, 17.5, 11.0, 21.0)),
        (lambda: symbols.riser((10, 20), up=False, down=True), (9.0, 19.0, 11.0, 22.5)),
        (lambda: symbols.body(10, 20, 4, 6), (10.0, 20.0, 14.0, 26.0)),
        (lambda: symbols.named("body", (10, 20)), (8.4, 18.6, 11.6, 21.4)),
    ],
)
def test_symbols_are_as_large_as_they_are_to_be(drawn: Callable[[], str], box: tuple[float, ...]) -> None:
    assert extent(drawn()) == pytest.approx(box)


def test_symbols_are_told_apart_by_shape_alone() -> None:
    drawn = {name: symbols.named(name, (0, 0)) for name in symbols.LEGEND}
    assert len(set(drawn.values())) == len(drawn)
    assert drawn["unknown"].endswith(">?</text>") and drawn["data"].count("<circle") == 2
    assert drawn["blank plate"].count("<") == 1 and drawn["telephone"].count("<circle") == 2
    cross = re.search(r'd="([^"]+)"', drawn["coax"])
    assert cross and {abs(one) for one in numbers(cross[1])} == {0.78}
    assert drawn["riser"].count("M") == 4 and symbols.named("riser", (0, 0)) == symbols.riser(
        (0, 0), up=True, down=True
    )


def test_an_axis_of_decades_and_its_grid() -> None:
    axis = _Axis(40.0, 140.0, 100.0)
    assert [axis.at(mbps) for mbps in (0.2, 1.0, 10.0, 100.0, 900.0)] == [40.0, 40.0, 90.0, 140.0, 140.0]
    drawn = _grid(axis, 60.0)
    lines = re.findall(r'd="M([\d.]+) 10L[\d.]+ 60" stroke="(#\w+)"', drawn)
    assert [ink for _, ink in lines] == [svg.GREY, svg.PALE, svg.PALE] * 2 + [svg.GREY]
    assert float(lines[3][0]) == pytest.approx(90.0)
    said = re.findall(r'<text x="([\d.]+)" y="9"[^>]*>([^<]+)<', drawn)
    assert [words for _, words in said][1:7] == ["2", "5", "10", "20", "50", "100"] and said[0][1] != "1"
    assert said[-1][0] == "145", "what sets the rate stands 5 mm beside the axis"
    assert "2\u202f000" in _grid(_Axis(0.0, 100.0, 2000.0), 60.0)


def test_the_key_of_a_chart_has_a_mark_before_each_word() -> None:
    drawn = _key(_Axis(36.0, 144.0, 100.0))
    circles = [(float(x), float(r)) for x, r in re.findall(r'cx="([\d.]+)" cy="2.6" r="([\d.]+)"', drawn)]
    assert circles == [(36.0, 1.0), (78.0, 1.1)]
    assert [float(x) for x in re.findall(r'<text x="([\d.]+)" y="3.4"', drawn)] == [41.0, 83.0, 120.0]
    assert re.findall(r'd="M([\d.]+) 2.6L([\d.]+) 2.6"', drawn) == [("33", "39"), ("75", "81")]
    assert extent(drawn)[2] == pytest.approx(118.35) and extent(drawn)[:2] == pytest.approx((33.0, 0.3))


def rated(low: float, median: float, high: float, **more: Any) -> Any:
    given = {"name": "Hall", "need_mbps": 0.0, "asks": False, "met": True, "too_late": False, "delay": None}
    return thing(low_mbps=low, median_mbps=median, high_mbps=high, narrowest="air", **{**given, **more})


def test_a_room_s_row_today_and_after() -> None:
    """The scale ends at 100 where nobody has more: 108 mm for two decades, from 36 mm."""
    drawn = roomchart_svg([(rated(1, 10, 100), rated(10, 100, 100, need_mbps=50.0, asks=True, met=False))])
    assert svg.drawing_size(drawn) == pytest.approx((241.0, 11.0 + 6.6 + 1))
    marks = [(float(x), float(y)) for x, y in re.findall(r'cx="([\d.]+)" cy="([\d.]+)"', drawn)][2:]
    assert marks == [(pytest.approx(90.0), 13.1), (pytest.approx(144.0), 15.5)]
    assert re.findall(r'<text x="149" y="([\d.]+)"[^>]*?(font-weight="700")?', drawn)
    below = [float(y) for y in re.findall(r'<text x="149" y="([\d.]+)"', drawn)]
    assert below[-2:] == [13.8, 16.6], "today above, after below"
    needs = re.findall(r'<rect x="([\d.]+)" y="([\d.]+)" width="0.7" height="4.6"', drawn)
    assert len(needs) == 2 and float(needs[1][1]) == pytest.approx(12.0)
    alone = roomchart_svg([(None, rated(10, 100, 100))])
    assert alone.count("<circle") == drawn.count("<circle") - 1
    assert alone.count('height="4.6"') == 1, "without a need there is none but in the key"


def test_lines_in_a_room_stand_below_each_other() -> None:
    """Two lines of 3 and 2 mm: 5.6 mm high at a pitch of 1.12, about their middle."""
    lines = [(RoomLine("Hall", 3.0), True), (RoomLine("12 m²", 2.0, bold=True), False)]
    drawn = _block((50.0, 40.0), 5 * PITCH, lines, 1.0)
    baselines = list(dict.fromkeys(float(y) for y in re.findall(r'<text[^>]* y="([\d.]+)"', drawn)))
    top = 40.0 - 2.8
    assert baselines == pytest.approx([top + 3.36 - 0.9, top + 5.6 - 0.6], abs=0.006)
    small = _block((50.0, 40.0), 2.5 * PITCH, lines, 0.5)
    assert 'font-size="1.5"' in small and 'font-size="1"' in small
    assert drawn.count('font-style="italic"') == 2 and drawn.count('font-weight="700"') == 2, (
        "each over a halo"
    )


def test_words_in_a_room_that_is_full_are_left_out() -> None:
    room = Room(id="r", name="Hall", storey="1", polygon=((0, 0), (4, 0), (4, 4), (0, 4)))
    layout = lay(House(storeys=(STOREY,), rooms=(room,)), STOREY, "metric")
    assert "Hall" in write_in_room(layout, room, [RoomLine("16 m²", 2.2), RoomLine("", 2.2)])
    layout.placer.take((0.0, 0.0, 243.0, 168.0))
    assert write_in_room(layout, room, []) == ""


def test_an_area_in_the_reader_s_units() -> None:
    room = Room(id="r", name="Hall", storey="1", polygon=((0, 0), (3.048, 0), (3.048, 3.048), (0, 3.048)))
    layouts = [
        lay(House(storeys=(STOREY,), rooms=(room,)), STOREY, system) for system in ("metric", "imperial")
    ]  # type: ignore[arg-type]
    metric, imperial = (_area(room, layout) for layout in layouts)
    assert metric.startswith("9.3") and imperial.startswith("100"), "ten feet by ten"


def test_ids_stand_beside_their_symbol_and_a_leader_leads_to_those_that_moved_away() -> None:
    """Four mono letters of 2.2 mm are 5.3 mm wide, 0.8 more are kept free; 2.7 mm high."""
    layout: Any = thing(placer=Placer((0.0, 0.0, 200.0, 100.0), shapely.Polygon()))
    width = 4 * 2.2 * 0.603 + 0.8
    near = _write(layout, [((50.0, 40.0), 2.0, "C001", False)])
    assert "<path" not in near and near.count(">C001</text>") == 2
    (x, y) = re.findall(r'<text[^>]* x="([\d.]+)" y="([\d.]+)"', near)[0]
    assert float(x) == pytest.approx(50 + 2 + 0.5 + width / 2, abs=0.01) and float(y) == pytest.approx(40.8)
    again = _write(layout, [((50.0, 40.0), 2.0, "C002", True)])
    left = re.findall(r'<text[^>]* x="([\d.]+)"', again)[0]
    assert float(left) == pytest.approx(50 - 2.5 - width / 2, abs=0.01) and 'font-weight="700"' in again
    above = _write(layout, [((50.0, 40.0), 2.0, "C003", False)])
    height = float(re.findall(r'<text[^>]* y="([\d.]+)"', above)[0])
    assert height == pytest.approx(40 - 2.5 - 1.35 + 0.8, abs=0.01), "a box of 2.7 mm, not one of its width"
    crowded: Any = thing(placer=Placer((0.0, 0.0, 200.0, 100.0), shapely.Polygon()))
    crowded.placer.take((45.0, 35.0, 55.0, 45.0))
    far = _write(crowded, [((50.0, 40.0), 2.0, "C004", False)])
    assert far.startswith('<path d="M50 40L')
    layout.placer.take((0.0, 0.0, 200.0, 100.0))
    last = _write(layout, [((50.0, 40.0), 2.0, "C005", False)])
    (x, y) = re.findall(r'<text[^>]* x="([\d.]+)" y="([\d.]+)"', last)[0]
    assert (float(x), float(y)) == pytest.approx((52 + width / 2, 38.8), abs=0.01)


def test_a_name_stands_at_the_middle_of_the_longest_stretch() -> None:
    assert _longest_middle([(0, 0), (3, 0), (3, 10), (5, 10)]) == (3.0, 5.0)
    assert _longest_middle([(0, 0), (8, 2), (8, 9)]) == (4.0, 1.0), "along both axes"


def test_big_things_are_drawn_where_they_stand() -> None:
    """Corner (1, 1), one metre wide and two deep, at 1:20 on a metre square: 50 by 100 mm."""
    from rehaul.house import Body

    body = Body(id="b", storey="1", kind="bath", corner=(0.0, 0.0), width_m=0.5, depth_m=1.0, height_m=0.6)  # type: ignore[arg-type]
    layout = lay(
        House(storeys=(STOREY,), bodies=(body, body.model_copy(update={"storey": "2"}))), STOREY, "metric"
    )
    seen: list[str] = []
    x, y = layout.view.at((0.0, 1.0))
    assert extent(_bodies(layout, seen)) == pytest.approx((x, y, x + 25, y + 50), abs=0.01)
    assert seen == ["body"] and layout.placer.place(2, 2, [((x + 5, y + 5), 0.0)]) is None


def test_captions_of_a_legend_stand_beside_their_pictures() -> None:
    layout = lay(House(storeys=(STOREY,)), STOREY, "metric")
    drawn = draw_foot(layout, [("<g/>", 10.0, "a wall")])
    top = HEIGHT_MM - 15
    places = {
        words: (float(x), float(y))
        for x, y, words in re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>([^<]+)<', drawn)
    }
    assert places["a wall"] == pytest.approx((76 + 10 + 1.6, top + 4.2 + 0.8))
    assert (3.0, pytest.approx(top + 12.2)) in places.values() and (
        57.0,
        pytest.approx(top + 13.2),
    ) in places.values()
    assert extent(drawn)[:2] == pytest.approx((0.0, top + 0.5), abs=0.01)


def test_axes_of_at_most_six_steps() -> None:
    for most, step, top in (
        (0.0, 1, 1),
        (6.0, 1, 6),
        (6.1, 2, 8),
        (12.0, 2, 12),
        (12.1, 5, 15),
        (30.0, 5, 30),
        (31.0, 10, 40),
        (601.0, 200, 800),
    ):
        assert _axis(most) == (step, top), most


def pair(quantity: Quantity = Quantity.DOWN_MBPS, **more: Any) -> Any:
    sides = (thing(low=lo, median=mid, high=hi) for lo, mid, hi in ((10, 20, 30), (40, 50, 60)))
    given = {"wired": False, "room_name": "Hall", "device_name": "Telephone", "outcome": "better", **more}
    return thing(quantity=quantity, before=next(sides), after=next(sides), **given)


def test_before_and_after_with_a_ruler() -> None:
    """84 mm for 60 Mb/s: 1.4 mm for each, from 52 mm."""
    drawn = _row(pair(), 0, 60.0, "Mb/s")
    rings = [
        tuple(map(float, ring)) for ring in re.findall(r'cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"', drawn)
    ]
    assert rings == [(80.0, 16.9, 1.2), (122.0, 20.1, 1.2)]
    lines = [numbers(data) for data in re.findall(r' d="([^"]+)"', drawn)]
    assert lines == [[80.0, 18.5, 122.0, 18.5], [66.0, 16.9, 94.0, 16.9], [108.0, 20.1, 136.0, 20.1]]
    assert "20 → 50 Mb/s" in drawn and 'font-size="3"' in drawn and 'font-size="2.6"' in drawn
    texts = re.findall(r'<text x="([\d.]+)" y="([\d.]+)"', drawn)
    assert [tuple(map(float, text)) for text in texts] == [
        (2.0, 18.3),
        (2.0, 21.7),
        (140.0, 18.3),
        (140.0, 21.9),
    ]
    long = _row(pair(room_name="R" * 27, device_name="D" * 33), 0, 60.0, "Mb/s")
    assert f">{'R' * 25}…<" in long and f">{'D' * 31}…<" in long
    fits = _row(pair(room_name="R" * 26, device_name="D" * 32), 0, 60.0, "Mb/s")
    assert "…" not in fits


def test_delays_are_compared_in_milliseconds_and_nothing_without_a_pair() -> None:
    late = comparison_svg([pair(), pair(Quantity.DELAY_MS)], Quantity.DELAY_MS)
    fast = comparison_svg([pair(), pair(Quantity.DELAY_MS)])
    assert "50 ms" in late and "Mb/s" not in late and "50 Mb/s" in fast and " ms" not in fast
    assert svg.drawing_size(fast) == (170.0, 36.0), "a row, a head and a foot"
    assert svg.drawing_size(comparison_svg([])) == (170.0, 36.0) and "<circle" not in comparison_svg([])
    scale = re.findall(r'<text x="([\d.]+)" y="28"[^>]*>([^<]+)<', fast)
    assert scale == [(str(52 + 14 * n), str(10 * n)) for n in range(7)] + [("140", "Mb/s")]
