"""A room list, line by line: what each word does, and what each mistake is answered."""

from __future__ import annotations

import pytest

from rehaul.errors import BadInput
from rehaul.house import House, OpeningKind, Wall
from rehaul.house.geometry import point_along, room_area_m2, wall_length_m
from rehaul.house.readers import ReadReport, read_room_list
from rehaul.house.readers.room_list.text import parse_lines

HEAD = "outer brick-cavity 0.30\ninner stud-plasterboard 0.12\nstorey Ground, height 2.50\n"
TWO = HEAD + "Living 4.20 x 5.10\nKitchen 3.10 x 5.10 right of Living\n"


def room(report: ReadReport, name: str) -> tuple[float, float, float, float]:
    polygon = next(room.polygon for room in report.house.rooms if room.name == name)
    xs, ys = zip(*polygon, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def inner(house: House) -> list[Wall]:
    return [wall for wall in house.walls if wall.construction == "stud-plasterboard"]


def test_two_rooms_share_one_wall() -> None:
    report = read_room_list(TWO)
    assert report.counts.walls == 5  # four round the house, one between
    (shared,) = inner(report.house)
    assert shared.thickness_m == 0.12
    assert {wall.thickness_m for wall in report.house.walls if wall is not shared} == {0.30}
    living, kitchen = room(report, "Living"), room(report, "Kitchen")
    assert kitchen[0] - living[2] == pytest.approx(0.12)
    assert shared.start[0] == pytest.approx((living[2] + kitchen[0]) / 2)


def test_areas_are_those_measured() -> None:
    report = read_room_list(TWO)
    assert [round(room_area_m2(r), 4) for r in report.house.rooms] == [21.42, 15.81]


def test_the_outer_faces_start_at_the_corner_of_the_sheet() -> None:
    report = read_room_list(TWO)
    outer = [wall for wall in report.house.walls if wall.thickness_m == 0.30]
    assert min(wall.start[0] for wall in outer) == pytest.approx(0.15)
    assert min(wall.start[1] for wall in outer) == pytest.approx(0.15)
    assert room(report, "Living")[:2] == pytest.approx((0.30, 0.30))


@pytest.mark.parametrize(
    ("words", "left", "bottom"),
    [
        ("right of Living", 4.32, 2.1),
        ("right of Living, end", 4.32, 0.0),
        ("right of Living, centre", 4.32, 1.05),
        ("right of Living, 0.50 along", 4.32, 1.6),
        ("right of Living, through 0.40", 4.60, 2.1),
        ("left of Living", -2.12, 2.1),
        ("above Living", 0.0, 5.22),
        ("below Living", 0.0, -3.12),
        ("below Living, end", 2.2, -3.12),
        ("at 7.5 / -1.5", 7.5, -1.5),
    ],
)
def test_places(words: str, left: float, bottom: float) -> None:
    report = read_room_list(HEAD + f"Living 4.20 x 5.10 at 0 / 0\nBath 2.0 x 3.0 {words}\n")
    living, bath = room(report, "Living"), room(report, "Bath")
    assert (bath[0] - living[0], bath[1] - living[1]) == pytest.approx((left, bottom))


def test_feet_and_inches() -> None:
    text = "units feet\nstorey Main, height 8' 2\"\nDen 12' 6\" x 10' 3 1/2\"\nBath 6 x 8.5 right of Den\n"
    report = read_room_list(text)
    x0, y0, x1, y1 = room(report, "Den")
    assert (x1 - x0, y1 - y0) == pytest.approx((3.81, 3.1369), abs=1e-4)
    x0, y0, x1, y1 = room(report, "Bath")
    assert (x1 - x0, y1 - y0) == pytest.approx((1.8288, 2.5908), abs=1e-4)
    assert report.house.storeys[0].height_m == pytest.approx(2.4892, abs=1e-4)


def test_decimal_commas_centimetres_and_numbered_names() -> None:
    report = read_room_list("Bedroom 2 4,20 x 310 cm\nBedroom 3: 3,0 × 3,1, right of Bedroom 2, end\n")
    assert [room_area_m2(r) for r in report.house.rooms] == pytest.approx([13.02, 9.3])
    assert [r.name for r in report.house.rooms] == ["Bedroom 2", "Bedroom 3"]


def test_a_thick_wall_between_two_rooms_is_one_thick_wall() -> None:
    report = read_room_list(HEAD + "A 4 x 4\nB 4 x 4 right of A, through 0.42\n")
    (shared,) = inner(report.house)
    assert shared.thickness_m == pytest.approx(0.42)
    assert room(report, "B")[0] - room(report, "A")[2] == pytest.approx(0.42)


def test_a_loop_that_does_not_close_is_evened_out_and_told() -> None:
    rooms = "A 4 x 4\nB 3 x 4 right of A\nC 4 x 3 below A\nD 3.06 x 3.03 right of C\n"
    report = read_room_list(HEAD + rooms)
    assert any("closing" in note for note in report.notes)
    assert len(inner(report.house)) == 2  # one cross: no slivers
    assert report.counts.walls == 6
    assert [round(room_area_m2(r), 3) for r in report.house.rooms] == [16, 12, 12, round(3.06 * 3.03, 3)]


def test_storeys_stand_on_each_other() -> None:
    text = HEAD + "Living 4 x 5\nstorey Upper, height 2.30\nfloor timber-floor 0.25\nBed 4 x 3 over Living\n"
    report = read_room_list(text)
    lower, upper = report.house.storeys
    assert (lower.elevation_m, upper.elevation_m) == (0, 2.75)
    assert upper.floor.construction == "timber-floor"
    living, bed = room(report, "Living"), room(report, "Bed")
    assert (bed[0], bed[3]) == pytest.approx((living[0], living[3]))  # left and top corners agree


def test_a_basement_lies_below_zero() -> None:
    text = "storey Basement, height 2.10\nStore 4 x 5\nstorey Ground, height 2.5\nLiving 4 x 5 over Store\n"
    report = read_room_list(text)
    assert [(s.id, s.elevation_m) for s in report.house.storeys] == [("B1", -2.4), ("1", 0.0)]
    assert [r.lived_in for r in report.house.rooms] == [False, True]


def test_a_void_is_a_hole_in_the_floor() -> None:
    text = (
        HEAD
        + "Hall 4 x 5\nstorey Upper, height 2.4\nLanding 2 x 5 over Hall\nWell 1 x 2 right of Landing, void\n"
    )
    report = read_room_list(text)
    well = next(r for r in report.house.rooms if r.name == "Well")
    assert report.house.storeys[1].floor.voids == (well.polygon,)
    assert not well.lived_in


def test_openings_sit_where_they_were_measured() -> None:
    report = read_room_list(
        TWO
        + "door Living - Kitchen 0.80 x 2.05, 1.20 along\n"
        + "window Living left 1.40 x 1.10, sill 0.95, 1.00 along\n"
        + "window Kitchen top 1.00\n"
        + "gap Kitchen - Living 1.50 x 2.20, 2.50 along\n"
    )
    door, left, top, gap = report.house.openings
    walls = {wall.id: wall for wall in report.house.walls}
    living, kitchen = room(report, "Living"), room(report, "Kitchen")
    near = point_along(walls[door.wall], door.offset_m + door.width_m)
    assert living[3] - near[1] == pytest.approx(1.20)  # from the top corner of the room
    assert (door.kind, door.width_m, door.height_m) == (OpeningKind.DOOR, 0.80, 2.05)
    assert (left.sill_m, left.height_m) == (0.95, 1.10)
    assert living[3] - point_along(walls[left.wall], left.offset_m + 1.4)[1] == pytest.approx(1.0)
    middle = point_along(walls[top.wall], top.offset_m + top.width_m / 2)
    assert middle[0] == pytest.approx((kitchen[0] + kitchen[2]) / 2)
    assert gap.kind is OpeningKind.GAP
    assert (report.counts.doors, report.counts.windows) == (1, 2)


def test_an_outside_door_without_a_side_goes_to_the_longest_outer_wall() -> None:
    report = read_room_list(TWO + "door Kitchen outside\n")
    (door,) = report.house.openings
    wall = next(wall for wall in report.house.walls if wall.id == door.wall)
    assert wall.thickness_m == 0.30
    assert wall.start[0] == wall.end[0] > room(report, "Kitchen")[2]  # 5.10 m is longer than 3.10 m
    assert any("size is not given" in note for note in report.notes)


def test_rooms_that_are_open_to_each_other_have_no_wall_between() -> None:
    report = read_room_list(TWO + "open Kitchen - Living\n")
    assert inner(report.house) == []
    assert report.counts.walls == 4


def test_an_enclosed_space_is_told() -> None:
    ring = "A 5 x 1\nB 1 x 3 below A\nC 1 x 3 below A, end\nD 5 x 1 below B\n"
    report = read_room_list(HEAD + ring)
    assert any("nobody measured" in note for note in report.notes)
    assert sum(wall.thickness_m == 0.30 for wall in report.house.walls) == 4


def test_constructions_by_words_in_other_languages() -> None:
    report = read_room_list("outer Mauerwerk 36 cm\ninner cloison 7 cm\nA 4 x 4\nB 4 x 4 right of A\n")
    assert {(wall.construction, wall.thickness_m) for wall in report.house.walls} == {
        ("brick-solid", 0.36),
        ("stud-plasterboard", 0.07),
    }


def test_walls_meet_at_their_centre_lines() -> None:
    report = read_room_list(HEAD + "A 4 x 4\nB 3 x 4 right of A\nC 2 x 2 right of B, end\n")
    ends = [end for wall in report.house.walls for end in (wall.start, wall.end)]
    for end in ends:
        touching = [
            wall
            for wall in report.house.walls
            if min(wall.start[0], wall.end[0]) - 1e-6 <= end[0] <= max(wall.start[0], wall.end[0]) + 1e-6
            and min(wall.start[1], wall.end[1]) - 1e-6 <= end[1] <= max(wall.start[1], wall.end[1]) + 1e-6
        ]
        assert len(touching) >= 2, end
    assert all(wall_length_m(wall) > 0.05 for wall in report.house.walls)


TABLE = """storey,height,room,width,length,place,inner
Ground,2.5,Living,4.20,5.10,,stud-plasterboard 0.12
Ground,,Kitchen,3.10,5.10,right of Living,
,,door Living - Kitchen,,,"0.80, 1.20 along",
Upper,2.4,Bed,4.20,4.00,over Living,
"""


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_a_table_says_the_same(delimiter: str) -> None:
    text = TABLE.replace('"0.80, 1.20 along"', "\0").replace(",", delimiter)
    text = text.replace("\0", '"0.80, 1.20 along"')
    report = read_room_list(text)
    assert (report.counts.storeys, report.counts.rooms, report.counts.doors) == (2, 3, 1)
    lines = (
        "storey Ground, height 2.5\ninner stud-plasterboard 0.12\nLiving 4.20 x 5.10\n"
        "Kitchen 3.10 x 5.10 right of Living\ndoor Living - Kitchen 0.80, 1.20 along\n"
        "storey Upper, height 2.4\nBed 4.20 x 4.00 over Living\n"
    )
    assert report.house == read_room_list(lines).house


@pytest.mark.parametrize(
    ("text", "line", "problem"),
    [
        ("Living 4 x 5\nKitchen 3 by\n", 2, "not understood"),
        ("Living 4 x 5\nKitchen 3 x 4\n", 2, "nothing says where Kitchen lies"),
        ("Living 4 x 5\nKitchen 3 x 4 right of Lounge\n", 2, "names no other room"),
        ("Living 4 x 5\nliving 3 x 4 right of Living\n", 2, "already a room"),
        ("Living 0 x 5\n", 1, "cannot be a length"),
        ("Living 4 x 500\n", 1, "cannot be a length"),
        ("4 x 5\n", 1, "no name"),
        ("A 4 x 5\nB 4 x 5 right of C\nC 4 x 5 right of B\n", 2, "wait for each other"),
        ("A 4 x 5\nB 4 x 5 right of A\nC 4 x 5 at 1 / -2\n", 3, "overlaps A by"),
        ("A 4 x 5\ndoor A - B 0.8\n", 2, "does not say to which room"),
        ("A 4 x 5\nB 3 x 5 right of A\ndoor A - B 6.0\n", 3, "does not fit"),
        ("A 4 x 5\nB 3 x 5 right of A\nC 3 x 3 right of B\ndoor A - C\n", 4, "no wall in common"),
        ("A 4 x 5\nB 3 x 5 right of A\nwindow A right 1.0\n", 3, "no outer wall on that side"),
        ("A 4 x 5\nwindow A left 1.0, tinted\n", 2, "'tinted' is not understood"),
        ("outer papier-mache 0.3\nA 4 x 5\n", 1, "no construction"),
        ("storey Ground, tall 3\nA 4 x 5\n", 1, "not understood"),
        ("storey Ground\nA 4 x 5\nstorey Ground\n", 3, "already a storey"),
        ("A" + " " * 400 + "x\n", 1, "over 300 letters"),
        ("units furlongs\nA 4 x 5\n", 1, "not known"),
        ("room,width,length\nLiving,4,5\nKitchen,,5\n", 3, "no width"),
        ("A 4 x 5, hovering\n", 1, "'hovering' is not understood"),
    ],
)
def test_mistakes_name_their_line(text: str, line: int, problem: str) -> None:
    with pytest.raises(BadInput) as refusal:
        read_room_list(text, where="rooms.txt")
    assert refusal.value.where == f"rooms.txt, line {line}"
    assert problem in refusal.value.problem
    assert refusal.value.remedy


def test_a_list_without_rooms_is_refused() -> None:
    with pytest.raises(BadInput, match="no room is listed"):
        read_room_list("storey Ground, height 2.5\n# nothing yet\n")


def test_what_is_taken_where_a_list_says_nothing() -> None:
    """Walls of 12 and 30 cm, floors of 30, rooms 2.4 m high; a door of 0.80 x 2.00, a window on 0.90."""
    rooms = "Living 4 x 5\nHall 2 x 5 right of Living\n"
    openings = "door Living - Hall\nwindow Living left\ngap Hall - Living\n"
    report = read_room_list(f"{rooms}{openings}storey Upper\nBed 4 x 5 over Living\n")
    assert report.house.name == "House" and report.house.storeys[0].name == "Ground floor"
    below, above = report.house.storeys
    assert (below.height_m, below.elevation_m, below.floor.thickness_m) == (2.4, 0.0, 0.3)
    assert above.elevation_m == pytest.approx(2.7)
    assert {wall.thickness_m for wall in report.house.walls if wall.storey == below.id} == {0.12, 0.30}
    sizes = [(row.width_m, row.height_m, row.sill_m) for row in report.house.openings]
    assert sizes == [(0.8, 2.0, 0.0), (1.2, 1.2, 0.9), (0.9, 2.0, 0.0)]
    assert sum("size is not given" in note for note in report.notes) == 3
    assert sum("2.4" in note for note in report.notes) == 2, "both storeys, each by its name"
    assert read_room_list("house\nA 4 x 5\n").house.name == "House"
    assert read_room_list(f"house {'x' * 90}\nA 4 x 5\n").house.name == "x" * 80


def test_names_and_lines_and_rooms_up_to_their_most() -> None:
    longest = "R" * 80
    assert read_room_list(f"{longest} 4 x 5\n").house.rooms[0].name == longest
    assert read_room_list(f"A 100 x 5{' ' * 291}\n# {'y' * 400}\n").counts.rooms == 1
    for text, problem in (
        (f"{longest}R 4 x 5\n", "too long"),
        (f"A 4 x 5, {'x' * 292}\n", "over 300 letters"),
        ("A 100.1 x 5\n", "cannot be a length"),
    ):
        with pytest.raises(BadInput, match=problem):
            read_room_list(text)
    row = "R0 1 x 1\n" + "".join(f"R{n} 1 x 1 right of R{n - 1}\n" for n in range(1, 500))
    listing = parse_lines(row, "rooms.txt")
    assert len(listing.storeys[0].rooms) == 500
    with pytest.raises(BadInput, match="500"):
        parse_lines(f"{row}more 1 x 1 right of R1\n", "rooms.txt")


def test_sides_are_evened_out_up_to_fifteen_centimetres() -> None:
    """Beside each other with 12 cm of wall between them, and what a tape missed."""

    def gap(miss_m: float) -> tuple[int, bool]:
        text = f"A 4 x 4 at 0 / 0\nB 4 x 4 at {4.12 + miss_m} / 0\n"
        report = read_room_list(HEAD + text)
        return len(inner(report.house)), any("closing" in note for note in report.notes)

    assert gap(0.0) == (1, False) and gap(0.02) == (1, False), "a centimetre each is not told"
    assert gap(0.04) == (1, True) and gap(0.14) == (1, True)
    assert gap(0.16)[0] != 1, "a misfit larger than a wall cannot be evened out"
    for apart_m, words in ((-0.14, ""), (-0.16, "overlaps A by")):
        text = f"A 4 x 4 at 0 / 0\nB 4 x 4 at {4.0 + apart_m} / 0\n"
        if words:
            with pytest.raises(BadInput, match=words):
                read_room_list(HEAD + text)
        else:
            assert read_room_list(HEAD + text).counts.rooms == 2


def test_storeys_below_ground_are_numbered_downwards() -> None:
    rooms = "".join(
        f"storey {name}, height 2.0\n{room} 4 x 4{place}\n"
        for name, room, place in (
            ("Deep", "A", ""),
            ("Keller", "B", " over A"),
            ("Ground", "C", " over B"),
            ("Upper", "D", " over C"),
        )
    )
    plain = read_room_list(rooms.replace("Deep, height 2.0", "Deep, height 2.0, at -4.6")).house.storeys
    assert [(row.id, row.elevation_m) for row in plain] == [
        ("B2", -4.6),
        ("B1", pytest.approx(-2.3)),
        ("1", pytest.approx(0.0)),
        ("2", pytest.approx(2.3)),
    ]
    half = read_room_list("storey Souterrain, height 2.2, at -0.5\nA 4 x 4\n").house.storeys
    assert (half[0].id, half[0].elevation_m) == ("1", -0.5), "half a metre down is no cellar"
    deep = read_room_list(
        "storey Lower, height 2.2, at -0.6\nA 4 x 4\nstorey G\nB 4 x 4 over A\n"
    ).house.storeys
    assert [row.id for row in deep] == ["B1", "1"] and deep[1].elevation_m == pytest.approx(1.9)
    level = read_room_list("storey G, at 0\nA 4 x 4\nstorey U, at 3,1\nB 4 x 4 over A\n").house.storeys
    assert [row.elevation_m for row in level] == [0.0, 3.1]


def test_an_opening_may_touch_both_ends_of_its_wall_and_no_more() -> None:
    wide = "A 4 x 5\nB 3 x 5 right of A\ndoor A - B {}\n"
    assert read_room_list(wide.format("5.02 x 2")).counts.doors == 1
    assert read_room_list(wide.format("1.0 x 2, 4.02 along")).counts.doors == 1
    for words in ("5.03 x 2", "1.0 x 2, 4.03 along"):
        with pytest.raises(BadInput, match="does not fit"):
            read_room_list(wide.format(words))


def test_words_for_sides_and_rooms_not_lived_in() -> None:
    report = read_room_list(
        TWO + "window Living bottom 1.0\nwindow Kitchen right 1.0\nPantry 2 x 2 above Living, not lived in\n"
    )
    living, kitchen = room(report, "Living"), room(report, "Kitchen")
    walls = {wall.id: wall for wall in report.house.walls}
    bottom, right = (walls[row.wall] for row in report.house.openings)
    assert bottom.start[1] == bottom.end[1] < living[1]
    assert right.start[0] == right.end[0] > kitchen[2]
    assert [row.lived_in for row in report.house.rooms] == [True, True, False]
