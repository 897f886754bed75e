"""Pieces of the reader of drawings: marks, openings, rooms and notes, each figure worked out beside it."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.apart import Limits
from rehaul.errors import BadInput
from rehaul.house import House, Opening, OpeningKind, Storey, Wall
from rehaul.house.readers import apart
from rehaul.house.readers.dxf.drawing import DxfDrawing, _in_metres, _scale
from rehaul.house.readers.dxf.faces import WallRun, _without, runs_of
from rehaul.house.readers.dxf.read import _met, _nearest, _openings, _rooms, _say, _wall
from rehaul.house.readers.report import ElementCounts, Log, ReadReport
from rehaul.house.readers.strips import Strip

thing: Any = SimpleNamespace


def wall(
    start: tuple[float, float], end: tuple[float, float], *gaps: tuple[float, float], paired: bool = True
) -> WallRun:
    return WallRun(Strip(start, end, 0.2), paired, gaps)


LOW, HIGH = wall((0.0, 0.0), (8.0, 0.0), (1.0, 2.0), (5.0, 6.0)), wall((0.0, 2.0), (8.0, 2.0))


def test_a_mark_belongs_to_the_nearest_wall_within_reach() -> None:
    """It reaches 0.6 m; of two walls as near, the first."""
    assert _nearest([(1.0, 0.6), (2.5, 0.6)], [LOW]) == (0, 1.0, 2.5)
    assert _nearest([(1.0, 0.61), (2.0, 0.7)], [LOW]) is None
    assert _nearest([(1.0, 1.5), (2.0, 1.5)], [LOW, HIGH]) == (1, 1.0, 2.0)
    assert _nearest([(1.0, 0.5), (2.0, 1.5)], [LOW, HIGH]) == (0, 1.0, 2.0)
    assert _nearest([(1.0, 0.5), (2.0, 1.6)], [LOW, HIGH]) == (1, 1.0, 2.0), "0.95 m away in the mean"
    backward = wall((8.0, 0.0), (0.0, 0.0))
    assert _nearest([(1.0, 0.1), (2.0, 0.1)], [backward]) == (0, 6.0, 7.0), "from its start"


def openings(*marks: tuple[str, list[tuple[float, float]]], runs: Any = (LOW, HIGH)) -> tuple[list[Any], Log]:
    log = Log()
    walls = tuple(_wall(run, f"w{number}") for number, run in enumerate(runs, start=1))
    found = _openings(thing(marks=marks), list(runs), walls, log)
    return [(one.id, one.wall, one.offset_m, one.width_m, one.height_m, one.sill_m) for one in found], log


def test_gaps_take_the_kind_of_the_mark_in_them() -> None:
    first, second = ("g1", "w1", 1.0, 1.0, 2.0, 0.0), ("g2", "w1", 5.0, 1.0, 2.0, 0.0)
    assert openings()[0] == [first, second]
    found, _ = openings(("door", [(1.0, 0.1), (2.0, 0.1)]), ("window", [(5.0, 0.0), (6.0, 0.0)]))
    assert found == [("d1", "w1", 1.0, 1.0, 2.0, 0.0), ("win1", "w1", 5.0, 1.0, 1.2, 0.9)]
    under = openings(("door", [(0.5, 0.0), (1.25, 0.0)]))[0]
    assert under[0][0] == "d1" and under[0][2:4] == (0.5, 0.75), "three tenths of a gap: beside it"
    over = openings(("door", [(0.5, 0.0), (1.375, 0.0)]))[0]
    assert over == [("d1", "w1", 1.0, 1.0, 2.0, 0.0), ("g1", "w1", 5.0, 1.0, 2.0, 0.0)]
    both = openings(("door", [(1.0, 0.0), (6.0, 0.0)]))[0]
    assert [row[0] for row in both] == ["d1", "d2"]


def test_a_mark_on_a_whole_wall_makes_an_opening() -> None:
    """From 0.4 m, once, and no further than the wall."""
    door = ("door", [(3.0, 2.0), (3.5, 2.0)])
    only = (HIGH,)
    assert openings(door, runs=only)[0] == [("d1", "w1", 3.0, 0.5, 2.0, 0.0)]
    assert openings(door, ("window", [(3.25, 2.0), (4.0, 2.0)]), runs=only)[0][0][0] == "d1"
    assert len(openings(door, ("window", [(3.25, 2.0), (4.0, 2.0)]), runs=only)[0]) == 1, "seen already"
    beside = openings(door, ("window", [(3.5, 2.0), (4.0, 2.0)]), runs=only)[0]
    assert [row[0] for row in beside] == ["d1", "win1"]
    assert openings(("door", [(3.0, 2.0), (3.375, 2.0)]), runs=only)[0] == []
    assert openings(("door", [(-0.5, 2.0), (0.5, 2.0)]), runs=only)[0][0][2:4] == (0.0, 0.5)
    assert openings(("door", [(7.5, 2.0), (8.5, 2.0)]), runs=only)[0][0][2:4] == (7.5, 0.5)
    assert openings(("door", [(7.875, 2.0), (8.5, 2.0)]), runs=only)[0] == [], (
        "too little of it is on the wall"
    )
    assert openings(runs=(wall((0.0, 0.0), (8.0, 0.0), (1.0, 1.1875)),))[0] == []
    assert openings(runs=(wall((0.0, 0.0), (8.0, 0.0), (1.0, 1.25)),))[0][0][3] == 0.25
    none, log = openings(("door", [(3.0, 9.0)]), runs=only)
    assert none == [] and len(log.not_understood()) == 1 and "0.6" in str(log.not_understood())


def test_thickness_is_known_where_both_faces_are_drawn() -> None:
    made = _wall(HIGH, "w7")
    assert (made.id, made.storey, made.start, made.end) == ("w7", "1", (0.0, 2.0), (8.0, 2.0))
    assert made.thickness_m == 0.2
    assert _wall(wall((0.0, 0.0), (1.0, 0.0), paired=False), "w1").thickness_m is None


def test_gaps_stay_where_they_are_when_a_wall_is_drawn_out_to_the_next() -> None:
    """A wall that begins at the face of one of 0.2 m is drawn 0.1 m longer at its start."""
    crossing = wall((0.0, -2.0), (0.0, 2.0))
    (_, met) = _met([crossing, wall((0.1, 0.0), (4.0, 0.0), (1.0, 2.0))])
    assert met.strip.start == pytest.approx((0.0, 0.0)) and met.gaps == ((1.1, 2.1),)


def test_rooms_are_named_by_the_first_words_in_them() -> None:
    """Two of 3.8 m by 2.8 m side by side, and one behind, which has a figure for a name."""
    walls = [
        wall((0.0, 0.0), (8.0, 0.0)), wall((0.0, 3.0), (8.0, 3.0)), wall((0.0, 6.0), (8.0, 6.0)),
        wall((0.0, 0.0), (0.0, 6.0)), wall((8.0, 0.0), (8.0, 6.0)), wall((4.0, 0.0), (4.0, 3.0)),
    ]  # fmt: skip
    words = [("12.5", (1.0, 1.0)), ("Study", (2.0, 1.0)), ("big", (2.0, 2.0)), ("Study", (6.0, 1.0)),
             ("22", (4.0, 4.0))]  # fmt: skip
    rooms = _rooms(thing(words=words), walls)
    assert [(room.id, room.name) for room in rooms] == [
        ("r1", "Room 1"),
        ("r2", "Study"),
        ("r3", "Study (2)"),
    ]
    assert all(room.lived_in and room.storey == "1" for room in rooms)
    assert {(min(x), max(x)) for room in rooms[1:] for x in [[p[0] for p in room.polygon]]} == {
        (0.1, 3.9), (4.1, 7.9),
    }  # fmt: skip
    assert {(min(y), max(y)) for room in rooms[1:] for y in [[p[1] for p in room.polygon]]} == {(0.1, 2.9)}
    garage = _rooms(thing(words=[("Garage", (2.0, 1.0))]), walls)[1]
    assert garage.name == "Garage" and not garage.lived_in
    tight = [wall((0.0, 0.0), (1.0, 0.0)), wall((0.0, 1.0), (1.0, 1.0)), wall((0.0, 0.0), (0.0, 1.0)),
             wall((1.0, 0.0), (1.0, 1.0))]  # fmt: skip
    assert _rooms(thing(words=[]), tight) == (), "0.64 m2"


def test_what_a_drawing_does_not_say_is_noted() -> None:
    def notes(width_m: float, runs: list[WallRun], rooms: tuple[int, ...] = (1,)) -> list[str]:
        log = Log()
        row = Opening(
            id="g1", wall="w1", kind=OpeningKind.GAP, offset_m=0, width_m=width_m, height_m=2, sill_m=0
        )
        _say(log, thing(walls=runs, rooms=rooms, openings=(row,)), runs)
        return [str(note) for note in log.notes]

    plain = notes(3.0, [LOW])
    assert len(plain) == 2 and "2.4" in plain[0]
    assert len(notes(3.1, [LOW])) == 3 and "3.1" in notes(3.1, [LOW])[2]
    lone = notes(3.0, [LOW, HIGH, wall((0.0, 0.0), (0.0, 2.0), paired=False)])
    assert len(lone) == 3 and "1" in lone[2] and "3" in lone[2]
    assert len(notes(3.0, [LOW], ())) == 3


def runs(*lines: tuple[tuple[float, float], tuple[float, float]]) -> list[tuple[Any, ...]]:
    found = runs_of(list(lines))
    assert found == runs_of([(b, a) for a, b in reversed(lines)]), "the order of lines does not matter"
    return [(one.strip.start, one.strip.end, one.strip.thickness_m, one.paired, one.gaps) for one in found]


def test_lines_side_by_side_are_the_faces_of_one_wall() -> None:
    """From 0.05 to 0.6 m aside, where they run beside each other for 0.2 m and more."""
    low = ((0.0, 0.0), (4.0, 0.0))
    for wide in (0.0625, 0.25, 0.5625):
        found = runs(low, ((0.0, wide), (4.0, wide)))
        assert found == [((0.0, round(wide / 2, 4)), (4.0, round(wide / 2, 4)), wide, True, ())]
    for wide in (0.04, 0.61):
        assert [row[3] for row in runs(low, ((0.0, wide), (4.0, wide)))] == [False, False], wide
    beside = runs(low, ((3.75, 0.25), (8.0, 0.25)))
    assert beside == [
        ((3.75, 0.125), (4.0, 0.125), 0.25, True, ()),
        ((0.0, 0.0), (3.75, 0.0), 0.1, False, ()),
        ((4.0, 0.25), (8.0, 0.25), 0.1, False, ()),
    ]
    assert not any(row[3] for row in runs(low, ((3.8125, 0.25), (8.0, 0.25)))), "0.19 m"
    assert not any(row[3] for row in runs(low, ((0.0, 0.25), (4.0, 0.5)))), "they run apart"


def test_a_face_belongs_to_one_wall_the_thinner_first() -> None:
    found = runs(((0.0, 0.0), (4.0, 0.0)), ((0.0, 0.125), (4.0, 0.125)), ((0.0, 0.375), (4.0, 0.375)))
    assert found == [
        ((0.0, 0.0625), (4.0, 0.0625), 0.125, True, ()),
        ((0.0, 0.375), (4.0, 0.375), 0.1, False, ()),
    ]


def test_a_lone_line_is_a_centre_line_from_half_a_metre() -> None:
    assert runs(((0.0, 0.0), (0.5, 0.0))) == [((0.0, 0.0), (0.5, 0.0), 0.1, False, ())]
    assert runs(((0.0, 0.0), (0.49, 0.0))) == []


def test_a_wall_runs_on_past_a_gap_of_four_metres() -> None:
    one = ((0.0, 0.0), (1.0, 0.0))
    assert runs(one, ((5.0, 0.0), (6.0, 0.0))) == [((0.0, 0.0), (6.0, 0.0), 0.1, False, ((1.0, 5.0),))]
    assert len(runs(one, ((5.1, 0.0), (6.0, 0.0)))) == 2
    assert runs(one, ((1.25, 0.0), (2.0, 0.0))) == [((0.0, 0.0), (2.0, 0.0), 0.1, False, ())], "a crack"
    assert runs(one, ((2.0, 0.0), (3.0, 0.0)), ((4.0, 0.0), (5.0, 0.0)))[0][4] == ((1.0, 2.0), (3.0, 4.0))
    assert len(runs(one, ((2.0, 0.04), (3.0, 0.04)))) == 2, "4 cm aside"
    thin, thick = 0.125, 0.1875
    faces = [
        ((x, y), (x + 1.0, y)) for x, apart in ((0.0, thin), (2.0, thick)) for y in (-apart / 2, apart / 2)
    ]
    assert [row[2] for row in runs(*faces)] == [thin, thick], "of another thickness"


def test_what_is_free_of_a_line() -> None:
    assert _without([(0.0, 4.0)], (1.0, 2.0)) == [(0.0, 1.0), (2.0, 4.0)]
    assert _without([(0.0, 1.0), (3.0, 4.0)], (0.5, 3.5)) == [(0.0, 0.5), (3.5, 4.0)]
    assert _without([(0.0, 1.0)], (0.0005, 1.0)) == [] and _without([(0.0, 1.0)], (2.0, 3.0)) == [(0.0, 1.0)]


def test_a_drawing_in_metres_from_its_lowest_corner() -> None:
    raw = DxfDrawing(
        [((1000.0, 2000.0), (9000.0, 2000.0)), ((1000.0, 2000.0), (1000.5, 2000.0))],
        [("door", [(2000.0, 2500.0)])],
        [("Hall", (3000.0, 4000.0))],
    )
    log = Log()
    found = _in_metres(raw, 4, log, Path("plan.dxf"))
    assert found.walls == [((0.0, 0.0), (8.0, 0.0))], "half a millimetre is no line"
    assert found.marks == [("door", [(1.0, 0.5)])] and found.words == [("Hall", (2.0, 2.0))] and not log.notes

    def spread(wide: float) -> float:
        moved = _in_metres(DxfDrawing([((0.0, 0.0), (0.0, wide))]), 6, log, Path("plan.dxf"))
        return moved.walls[0][1][1]

    assert (spread(1.5), spread(150.0)) == (1.5, 150.0)
    for wide in (1.49, 150.1):
        with pytest.raises(BadInput):
            spread(wide)
    with pytest.raises(BadInput, match="no lines"):
        _in_metres(DxfDrawing(), 6, log, Path("plan.dxf"))


def test_a_drawing_without_a_unit_is_taken_by_its_size() -> None:
    log = Log()
    assert (_scale(0, 1000.0, log), _scale(0, 1000.5, log)) == (1.0, 0.001)
    assert len(log.notes) == 2 and (_scale(4, 5.0, log), _scale(5, 5.0, log)) == (0.001, 0.01)
    assert len(log.notes) == 2, "the drawing says it"


def test_what_comes_back_from_the_other_process_is_looked_at_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A house must be whole; a file has 30 s and 10 s more for each megabyte."""
    path = tmp_path / "plan.dxf"
    path.write_bytes(b"0" * 500_000)
    storey = Storey(id="1", name="Ground", elevation_m=0)
    lost = Wall(id="w1", storey="9", start=(0, 0), end=(1, 0))
    given: list[float] = []

    def read(house: House) -> ReadReport:
        report = ReadReport(house, ElementCounts(storeys=1, walls=0, doors=0, windows=0, rooms=0), (), ())
        monkeypatch.setattr(apart, "read_house", lambda file: report)

        def run(name: str, file: Path, *, limits: Limits, stop: Any, where: str) -> Any:
            given.append(limits.seconds)
            return thing(text=apart.inside(file, {})[0])

        monkeypatch.setattr(apart, "run_apart", run)
        return apart.read_apart(path)

    whole = House(name="H", storeys=(storey,))
    assert read(whole).house == whole and given == [35.0]
    with pytest.raises(BadInput):
        read(House(name="H", storeys=(storey,), walls=(lost,)))
