"""Pieces of a prediction by themselves: heights, neighbourhoods, hops, paths between boxes, sums of needs."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

import sample_house
from rehaul.errors import BadInput
from rehaul.house import Box, Heard, House, Job, Learnt, LearntTerm, Need, Reading, Room, Slab, Storey, Wall
from rehaul.house.job import Service
from rehaul.predict import hops, roaming
from rehaul.predict.calibration import calibrate
from rehaul.predict.censored import stand_ins
from rehaul.predict.correction import _weights, correct, tail
from rehaul.predict.doubts import Basis, Doubts, Sender, Ways, unlike
from rehaul.predict.learnt_words import learnt_notes
from rehaul.predict.needs import need_mbps
from rehaul.predict.neighbours import air_left, left_on
from rehaul.predict.observations import place_of, place_sd_db, power_sd_db, spread_db
from rehaul.predict.radiators import Radiator
from rehaul.predict.receivers import NO_ROOM, OUTSIDE, receivers_of
from rehaul.predict.residual import _kin, left_over, parts, spreads_db
from rehaul.predict.scene import HouseScene
from rehaul.predict.size import Size, receivers_over, remedy_for, size_of
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Scene, kind

thing = SimpleNamespace
ROUTER = "router HE 2x2"
SQUARE = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
UP, DOWN = (Storey(id=name, name=name, elevation_m=z) for name, z in (("u", 3.0), ("d", 0.0)))
HALL = Room(id="r1", name="Hall", storey="d", polygon=SQUARE)
YARD = Room(id="r2", name="Yard", storey="d", polygon=((1, 1), (4, 1), (4, 2), (1, 2)), outside=True)


def test_the_stretch_that_stands_for_a_band() -> None:
    assert [(spectrum_of(band).centre_hz, spectrum_of(band).width_hz) for band in ("2.4", "5", "6")] == [  # type: ignore[arg-type]
        (2.442e9, 80e6),
        (5.5e9, 650e6),
        (6.185e9, 480e6),
    ]


def test_receivers_are_at_the_height_of_a_device_and_know_their_room() -> None:
    """Storeys come lowest first; what is drawn of a yard within the walls is no yard."""
    house = House(storeys=(UP, DOWN), rooms=(HALL, YARD))
    found = receivers_of(house, 1.0)
    assert found.storeys == ("d", "u") and found.grid.z_m == (1.2, 4.2)
    x, y = (round(at) for at in (0.5 - found.grid.x0_m, 0.5 - found.grid.y0_m))
    here = {
        (float(found.grid.x0_m + column), float(found.grid.y0_m + row)): int(found.room[0, row, column])
        for row in range(found.grid.ny)
        for column in range(found.grid.nx)
    }
    assert (x, y) and set(here.values()) == {0, 1, OUTSIDE}
    for (px, py), room in here.items():
        if 0 < px < 2 and 0 < py < 2:
            assert room == 0
        elif 2 < px < 4 and 1 < py < 2:
            assert room == 1
        elif px > 4 or py > 2:
            assert room == OUTSIDE
    assert set(np.unique(found.room[1])) == {OUTSIDE}
    for empty in (House(), House(storeys=(DOWN,))):
        with pytest.raises(BadInput):
            receivers_of(empty)


def test_within_the_walls_but_in_no_room() -> None:
    wide = DOWN.model_copy(update={"floor": Slab(outlines=(((0, 0), (4, 0), (4, 4), (0, 4)),))})
    wall = Wall(id="w", storey="d", start=(0, 0), end=(4, 4))
    room = receivers_of(House(storeys=(wide,), rooms=(HALL,), walls=(wall,)), 1.0).room
    assert {NO_ROOM, 0} <= set(np.unique(room))


def test_what_is_left_over_is_alike_nearby_on_one_storey_and_for_one_box() -> None:
    """Four metres apart: a room's part falls to 0.88 / e, that of the house to 0.9 exp(-4 / 15)."""
    near, far = parts()
    here = np.array([[0.0, 0.0, 1.2], [0.0, 0.0, 2.6], [0.0, 0.0, 2.8]])
    there = np.array([[4.0, 0.0, 1.2], [0.0, 3.0, 1.2]])
    assert near.alike(here, there)[0] == pytest.approx([0.88 / math.e, 0.88 * math.exp(-0.75)])
    assert far.alike(here, there)[1, 0] == pytest.approx(0.9 * math.exp(-4 / 15)), "1.4 m is one storey"
    assert far.alike(here, there)[2].tolist() == [0.0, 0.0], "1.6 m is another"
    room, rest = spreads_db(np.array([5.5**2 + 9.0, 16.0]))
    assert room == pytest.approx([5.5, 4.0]) and rest == pytest.approx([3.0, 0.0])
    sources = [Sender("A", "5"), Sender("A", "2.4"), Sender("B", "5")]
    assert _kin(sources, sources[:1]).ravel() == pytest.approx([1.0, 0.6, 0.0])
    own = np.array([5.5**2 + 9.0], dtype=np.float32)
    both = left_over(here[:1], sources[:1], own, there[:1], sources[1:2], own)
    wanted = 0.6 * (5.5**2 * 0.88 / math.e + 9.0 * 0.9 * math.exp(-4 / 15))
    assert both[0, 0] == pytest.approx(wanted, rel=1e-5)


def basis(source: Sender, client: str = "phone", box: float = 4.0, device: float = 16.0) -> Basis:
    return Basis(source, np.zeros((1, 3)), np.zeros((2, 1)), np.ones(1), client, box, device)


def test_levels_that_nobody_read_are_shared_by_one_box_and_one_class() -> None:
    a, b = Sender("A", "5"), Sender("B", "5")
    assert basis(a).level_variance == 20.0
    assert basis(a).level_shared(basis(a, box=1.0, device=9.0)) == 10.0
    assert basis(a).level_shared(basis(b)) == 16.0 and basis(a).level_shared(basis(a, "laptop")) == 4.0
    assert basis(a).level_shared(basis(Sender("A", "2.4"), "laptop")) == 0.0
    assert [unlike(n) for n in (0, 1, 2, 4)] == [1.0, 0.0, 0.5, 0.75]


def test_without_readings_nothing_is_said_and_every_place_is_unsure() -> None:
    scene = HouseScene(
        Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), (kind("brick-half"),)), (), ()
    )
    found = calibrate(scene, [])
    ways = Ways(np.zeros((4, 3)), np.zeros((1, 4)), np.zeros((1, 4)), np.zeros(4, dtype=np.float32))
    view = found.view(found.doubts.basis(ways, Sender("A", "5"), "phone"))
    assert view.seen.shape == (0, 4) and view.shift_db.tolist() == [0.0] * 4
    assert not found.says and found.used == () and found.suspects == ()
    assert np.all(view.sd_db > math.sqrt(20.0)), "box and device may each be off"
    doubts = Doubts(
        (kind("brick-half"),), (("D1", "phone"),), (Sender("A", "5"),), (), ("A",), (("D1", "phone"),)
    )
    assert doubts.names[:2] == ("house", "spreading") and doubts.names[3:] == (
        "device D1", "A at 5 GHz", "share of A", "share of D1",
    )  # fmt: skip


def test_one_reading_by_hand() -> None:
    """One doubt of variance 4, one reading of 3 dB with noise 2: the mean is 3 * 4 / 6, its variance 4 / 3.

    It lies within two deviations, so it counts in full. The scale: 24 and the misfit 9 / 6, over 24 and 1.
    """
    found = correct(("a",), np.array([4.0]), np.array([[1.0]]), np.array([3.0]), np.array([2.0]))
    scale = 25.5 / 25 * tail(1) ** 2
    assert found.mean_db == pytest.approx([2.0]) and found.residual_db == pytest.approx([1.0])
    assert found.scale == pytest.approx(scale) and found.covariance == pytest.approx(scale * 4 / 3)
    assert found.weight.tolist() == [1.0] and not found.suspect.any()
    wild = correct(("a",), np.array([4.0]), np.array([[1.0]]), np.array([60.0]), np.array([2.0]))
    assert wild.weight[0] < 0.35 and wild.suspect.all()
    none = correct(("a",), np.array([4.0]), np.empty((0, 1)), np.empty(0), np.empty(0))
    assert none.mean_db.tolist() == [0.0] and none.covariance == pytest.approx(4.0 * tail(0) ** 2)


def test_how_far_a_reading_is_trusted_by_hand() -> None:
    """Spread 1 of noise 4: a quarter is the others'. Off by 6: 8 of what is its own, 64 over 4 + 4 / 3 is 12.

    Beyond two deviations the weight is 4 / 12.
    """
    args = np.array([[1.0]]), np.array([[1.0]]), np.array([6.0]), np.array([4.0]), np.ones(1)
    assert _weights(*args, 1.0) == pytest.approx([1 / 3])
    assert _weights(*args, 4.0).tolist() == [1.0]


def test_a_bound_that_says_what_is_known_anyway_says_nothing() -> None:
    prior, noise = np.eye(2) * 9.0, np.array([1.0, 1.0])
    value, variance = stand_ins(prior, np.array([2.0, -60.0]), noise, np.array([False, True]))
    assert (value[0], variance[0]) == (2.0, 1.0) and variance[1] > 1e6
    plain = stand_ins(prior, np.array([2.0, 3.0]), noise, np.array([False, False]))
    assert plain[0].tolist() == [2.0, 3.0] and plain[1].tolist() == [1.0, 1.0]
    # At the bound itself: the half normal of variance 10 has a mean of sqrt(20 / pi), so 9 / 10 of it.
    value, variance = stand_ins(np.eye(1) * 9.0, np.zeros(1), np.ones(1), np.array([True]))
    mean = 9.0 * value[0] / (9.0 + variance[0])
    left = 9.0 * variance[0] / (9.0 + variance[0])
    assert mean == pytest.approx(0.9 * math.sqrt(20 / math.pi), rel=1e-3)
    assert left == pytest.approx(9.0 - 8.1 * 2 / math.pi, rel=1e-3)


def test_two_like_bounds_end_at_like_values() -> None:
    """Each is taken in after the other, again and again, until neither moves."""
    prior = np.array([[9.0, 6.0], [6.0, 9.0]])
    value, variance = stand_ins(prior, np.array([1.0, 1.0]), np.ones(2), np.array([True, True]))
    assert value[0] == pytest.approx(value[1], rel=1e-3) and variance[0] == pytest.approx(
        variance[1], rel=1e-3
    )
    alone, _ = stand_ins(prior[:1, :1], np.array([1.0]), np.ones(1), np.array([True]))
    assert value[0] != pytest.approx(alone[0], rel=1e-3), "what the other says of it counts"


def test_only_boxes_that_hang_by_radio_get_what_their_hop_carries(monkeypatch: pytest.MonkeyPatch) -> None:
    def box(name: str, fed_by: str, equipment: str = "access point HE 2x2") -> Box:
        return Box.model_validate(
            {
                "id": name,
                "name": name,
                "equipment": equipment,
                "storey": "d",
                "position": (0, 0),
                "fed_by": fed_by,
            }
        )

    job = Job(
        id="j", title="Invented", service=Service(modem="R"),
        boxes=(box("R", "cord", ROUTER), box("A", "wireless"), box("B", "run"), box("C", "wireless")),
    )  # fmt: skip
    boxes = tuple(Radiator(name, name, "access point HE 2x2", (0.0, 0.0, 1.0)) for name in "RABC")
    asked: list[list[str]] = []

    def rates(_job: Job, _scene: Any, parent: Radiator, hanging: Any) -> list[float]:
        asked.append([parent.id, *(one.id for one in hanging)])
        return [55.0, 0.0]

    monkeypatch.setattr(hops, "hop_rates_mbps", rates)
    found = hops.hop_fed(job, thing(), boxes)  # type: ignore[arg-type]
    assert asked == [["R", "A", "C"]]
    assert [(one.id, one.hop_mbps) for one in found] == [("R", 0.0), ("A", 55.0), ("B", 0.0), ("C", 0.1)]
    assert hops.hop_fed(job, thing(), boxes[1:]) == boxes[1:], "no router radiates"  # type: ignore[arg-type]
    wireless = job.model_copy(update={"boxes": (box("R", "wireless", ROUTER), *job.boxes[1:])})
    hops.hop_fed(wireless, thing(), boxes)  # type: ignore[arg-type]
    assert asked[-1] == ["R", "A", "C"], "the router hangs on no hop of its own"


def test_the_hop_counts_on_the_band_that_carries_most(monkeypatch: pytest.MonkeyPatch) -> None:
    def air(band: Any, low: list[float]) -> Any:
        return thing(band=band, low=low)

    got = [air("2.4", [20.04, 30.0]), air("5", [90.06, 10.0])]
    monkeypatch.setattr(hops, "air_of", lambda *_, **__: got)
    monkeypatch.setattr(
        hops, "replace", lambda one, delivered: thing(range_mbps=lambda: (np.array(one.low), 0, 0))
    )
    parent = Radiator("R", "R", "router HE 2x2", (0.0, 0.0, 1.0))
    assert hops.hop_rates_mbps(sample_house.job(), thing(), parent, [parent, parent]) == [90.1, 30.0]  # type: ignore[arg-type]
    assert hops.hop_rates_mbps(sample_house.job(), thing(), parent, []) == []  # type: ignore[arg-type]
    got.clear()
    assert hops.hop_rates_mbps(sample_house.job(), thing(), parent, [parent, parent]) == [0.0, 0.0]  # type: ignore[arg-type]


def over(grid: Any, room: Any = None) -> Any:
    return thing(receivers=thing(grid=grid, room=room))


def at(name: str, x: float, y: float, z: float) -> Any:
    return thing(radiator=thing(id=name, name=name, position_m=(x, y, z)))


def test_a_straight_way_between_two_boxes_of_one_storey() -> None:
    """A grid of 2 storeys, 3 rows and 5 columns half a metre apart, from (1, 2)."""
    grid = thing(z_m=(1.2, 4.2), step_m=0.5, x0_m=1.0, y0_m=2.0, nx=5, ny=3, shape=(2, 3, 5))
    found = roaming._path(over(grid), at("a", 1.0, 2.0, 2.4), at("b", 3.0, 2.0, 2.4))
    assert found is not None and found[0].tolist() == [0, 1, 2, 3, 4] and found[1] == 0.5
    up = roaming._path(over(grid), at("a", 2.0, 3.0, 5.4), at("b", 2.0, 2.0, 5.4))
    assert up is not None and up[0].tolist() == [27, 22, 17], (
        "the upper storey, from the last row to the first"
    )
    beyond = roaming._path(over(grid), at("a", -9.0, -9.0, 2.4), at("b", 1.0, 2.0, 2.4))
    assert beyond is not None and set(beyond[0].tolist()) == {0}, "held within the grid"
    same = roaming._path(over(grid), at("a", 2.0, 3.0, 2.4), at("b", 2.0, 3.0, 2.4))
    assert same is not None and same[0].tolist() == [12, 12]
    assert roaming._path(over(grid), at("a", 1, 2, 2.4), at("b", 1, 2, 5.4)) is None
    job = sample_house.job()
    rooms = over(grid, np.array([[-1, 0]]))
    assert roaming._room_at(job, rooms, 1) == job.house.rooms[0].name
    assert roaming._room_at(job, rooms, 0) not in {room.name for room in job.house.rooms}


def clung(share_of_four: int, gets: float, need: float = 60.0) -> list[str]:
    """A room of four places, at so many of which a device stays with A although B is 20 dB stronger."""
    job = sample_house.job()
    room = job.house.rooms[0]
    power = np.array([[-60.0] * 4, [-40.0] * share_of_four + [-90.0] * (4 - share_of_four)]).reshape(
        2, 1, 1, 4
    )

    def air(number: int) -> Any:
        radiator = Radiator("AB"[number], "AB"[number], "access point HE 2x2", (0.0, 0.0, 1.0))
        rates = (None, np.full(4, gets, dtype=np.float32), None)
        return thing(
            radiator=radiator, power_dbm=power[number], at=lambda places: thing(range_mbps=lambda: rates)
        )

    row: Any = thing(room=room.id, name=room.name, need_mbps=need, source_name="B")
    field = over(None, np.zeros((1, 1, 4), dtype=np.int32))
    return [str(note) for note in roaming._clinging(job, field, [air(0), air(1)], [row])]


def test_a_room_is_named_where_half_of_it_clings_to_too_little() -> None:
    (note,) = clung(2, 59.0)
    assert "A" in note and "59" in note and sample_house.job().house.rooms[0].name in note
    assert clung(4, 59.0) and not clung(1, 59.0), "a quarter of it is not said"
    assert not clung(2, 60.0), "what it gets is enough"
    assert not clung(2, 0.0, need=0.0), "it asks for nothing"
    assert not clung(0, 1.0)


def test_a_box_has_the_air_of_its_own_channel_and_of_no_other_box_s() -> None:
    def box(name: str, channel: int) -> Box:
        return Box.model_validate({
            "id": name, "name": name, "equipment": "access point HE 2x2", "storey": "0", "position": (0, 0),
            "set_to": [{"band": "5", "channel": channel, "width_mhz": 20}],
        })  # fmt: skip

    heard = Heard.model_validate(
        {"id": "H", "band": "5", "channel": 36, "width_mhz": 20, "power_dbm": -60.0, "busy_pct": 50.0}
    )
    job = Job(id="j", title="Invented", heard=(heard,), boxes=(box("A", 44), box("B", 36)))
    boxes = [Radiator(name, name, "access point HE 2x2", (0.0, 0.0, 1.0)) for name in "AB"]
    assert air_left(job, boxes[0], "5") == 1.0
    assert air_left(job, boxes[1], "5") == left_on([heard], "5", (5170.0, 5190.0)) < 1.0


def test_where_a_reading_was_taken_and_how_sure_it_is() -> None:
    """Power wanders by 3.5 dB, half of the variance lasts; without a point 3 dB more for its room."""
    job = sample_house.job()
    room = next(room for room in job.house.rooms if room.storey == "U")

    def reading(**more: Any) -> Reading:
        return Reading.model_validate({"id": "q", "quantity": "power_dbm", "value": -50, **more})

    x, y, z = place_of(job, reading(room=room.id, height_m=1.0)) or (0, 0, 0)
    corners = np.array(room.polygon)
    assert corners[:, 0].min() < x < corners[:, 0].max() and corners[:, 1].min() < y < corners[:, 1].max()
    assert z == pytest.approx(3.9)
    assert place_of(job, reading(storey="B", position=(1.0, 2.0), height_m=0.5)) == (1.0, 2.0, -2.0)
    assert place_of(job, reading(storey="B")) is None and place_of(job, reading(position=(1.0, 2.0))) is None
    assert power_sd_db(1) == pytest.approx(3.5) and power_sd_db(4) == pytest.approx(3.5 * math.sqrt(0.625))
    pointed, roomed = reading(storey="B", position=(1.0, 2.0)), reading(room=room.id)
    assert (place_sd_db(pointed), place_sd_db(roomed)) == (0.0, 3.0)
    assert spread_db(roomed) == pytest.approx(math.hypot(3.5, 3.0))


def test_a_need_is_what_is_stated_or_the_sum_of_its_uses() -> None:
    one, other = (need_mbps(Need(id="n", room="r", uses=(use,))) for use in ("stream 4K", "video call group"))
    both = Need(id="n", room="r", uses=("stream 4K", "video call group"))
    assert one > 0 < other and need_mbps(both) == one + other
    assert need_mbps(both, up=True) > need_mbps(Need(id="n", room="r", uses=("stream 4K",)), up=True)
    assert need_mbps(Need(id="n", room="r")) == 0 and need_mbps(replace_need(both, down_mbps=7.0)) == 7.0


def replace_need(need: Need, **more: Any) -> Need:
    return need.model_copy(update=more)


def test_what_earlier_houses_taught_is_told_from_a_decibel_on_and_three_at_most() -> None:
    def note(*shifts: float, houses: int = 2, date: str = "") -> str:
        terms = tuple(
            LearntTerm(term=f"wall {n}", shift_db=shift, sd_db=1.0, houses=houses, readings=9)
            for n, shift in enumerate(shifts)
        )
        learnt = Learnt(date=date, houses=houses, readings=40, terms=terms)
        return "".join(map(str, learnt_notes(Job(id="j", title="J", learnt=learnt))))

    assert learnt_notes(Job(id="j", title="J")) == () and note() == ""
    said = note(1.0, -5.0, 0.9, 3.0, 2.0)
    assert [said.find(f"wall {n}") for n in (1, 3, 4)] == sorted(said.find(f"wall {n}") for n in (1, 3, 4))
    assert "wall 1" in said and "wall 0" not in said and "wall 2" not in said and "40" in said
    edge = note(1.0, 0.9, date="2026-05-01")
    assert "wall 0" in edge and "wall 1" not in edge and "2026-05-01" in edge
    assert note(0.5) != note(0.5, houses=1) and "wall" not in note(0.5)


def test_memory_is_counted_by_hand() -> None:
    """1000 receivers, 2 boxes, 4 readings; 10 places and 5 sites."""
    size = Size(1000, 2, 4, 10, 5)
    assert size.map_bytes == 0.6e9 + 1000 * (160 + 100 + 100)
    assert size.plan_bytes == 0.78e9 + 360_000 + 110 * 50
    house = House(storeys=(UP, DOWN), rooms=(HALL, YARD))
    assert receivers_over(house, 0.5) == 2 * 9 * 5 and receivers_over(House(), 0.5) == 0
    job = Job(id="j", title="J", house=house, needs=(Need(id="n", room="r1", down_mbps=1.0),))
    found = size_of(job, step_m=0.5)
    assert (found.boxes, found.readings, found.places, found.sites) == (0, 0, 16, 1)
    taught = job.model_copy(update={"learnt": Learnt(date="", houses=1, readings=3, terms=())})
    assert size_of(taught).readings == 2 and size_of(job, boxes=7).boxes == 7
    told = {"quantity": "power_dbm", "value": -50, "room": "r1"}
    readings = tuple(
        Reading.model_validate({"id": f"q{n}", "stage": stage, **told})
        for n, stage in enumerate(("before", "after", "before"))
    )
    read = job.model_copy(update={"readings": readings})
    assert size_of(read).readings == 4, "two storeys and the two of before the work"


def test_what_lies_farthest_out_is_named() -> None:
    far = HALL.model_copy(update={"id": "far", "polygon": ((0, 0), (1, 0), (1, 1), (0, 900))})
    assert "far" in remedy_for(House(storeys=(DOWN,), rooms=(HALL, far)))
    wall = Wall(id="w9", storey="d", start=(0, 0), end=(5000, 0))
    assert "w9" in remedy_for(House(storeys=(DOWN,), rooms=(HALL, far), walls=(wall,)))
    assert remedy_for(House()) and "Wall" not in remedy_for(House())
