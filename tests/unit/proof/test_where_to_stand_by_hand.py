"""Which place decides a room, what a decibel does there, and what is said of where to stand; by hand."""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy.special import ndtr

from rehaul.facts.calibration import calibration_number
from rehaul.house import House, Job, Reading, Room, Run, Storey
from rehaul.house.job import Box, Device, Need
from rehaul.predict.doubts import Sender
from rehaul.proof import decisions, open_questions, reading_worth, where_next
from rehaul.proof.decisions import LEAST_CHANCE, _margin_db, _score
from rehaul.proof.reading_worth import Margin, _by_source

thing = SimpleNamespace
ROOMS = tuple(
    Room(id=f"r{n}", name=name, storey="1", polygon=((4 * n, 0), (4 * n + 4, 0), (4 * n + 4, 3), (4 * n, 3)))
    for n, name in enumerate(("Hall", "Study"))
)
HOUSE = House(storeys=(Storey(id="1", name="Ground", elevation_m=0),), rooms=ROOMS)


@dataclass(frozen=True)
class Air:
    """A stand-in for the air at some places: power, and by how much what it carries may lie off [dB]."""

    power_dbm: Any
    sd_db: float = 4.0
    radiator: Any = None
    band: str = "5"
    client: str = "phone"

    def at(self, places: Any) -> Air:
        return replace(self, power_dbm=self.power_dbm[places])


def chance(air: Any, need: Any) -> Any:
    """As sure as a normal is above the power asked for."""
    return ndtr((air.power_dbm - need.power_dbm) / air.sd_db)


@pytest.fixture
def by_power(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(decisions, "chance_met", chance)
    monkeypatch.setattr(decisions, "air_asked_mbps", lambda air, need: need.asks.get(air.band))


@pytest.mark.usefixtures("by_power")
def test_a_margin_is_how_many_decibels_lie_above_what_is_asked() -> None:
    """Asked -60 dBm, there -56, spread 4 dB: one standard deviation, so 4 dB of margin and of spread."""
    need: Any = thing(power_dbm=-60.0)
    for sd_db, power in ((4.0, -56.0), (4.0, -66.0), (8.0, -52.0)):
        margin, sd = _margin_db(Air(np.array([power], np.float32), sd_db), need)  # type: ignore[arg-type]
        assert sd == pytest.approx(sd_db, rel=1e-3) and margin == pytest.approx(power + 60.0, rel=1e-3)


def test_where_power_does_nothing_the_spread_is_as_wide_as_it_gets(monkeypatch: pytest.MonkeyPatch) -> None:
    """A chance of 0.8413 whatever the power: one standard deviation of 100 dB, the widest there is."""
    monkeypatch.setattr(decisions, "chance_met", lambda air, need: np.array([ndtr(1.0)]))
    margin, sd = _margin_db(Air(np.array([-60.0], np.float32)), thing())  # type: ignore[arg-type]
    assert (margin, sd) == (pytest.approx(100.0), pytest.approx(100.0))
    monkeypatch.setattr(decisions, "chance_met", lambda air, need: np.array([0.0, 0.5, 1.0]))
    ends = _score(thing(), thing())  # type: ignore[arg-type]
    assert ndtr(ends) == pytest.approx([LEAST_CHANCE, 0.5, 1 - LEAST_CHANCE])


def surveyed(places: int, airs: dict[str, tuple[Air, ...]]) -> Any:
    return thing(
        job=Job(id="j", title="Invented", house=HOUSE),
        scene=thing(scene=None),
        places=lambda room: np.array([[float(n), 1.0, 1.0] for n in range(places)]),
        airs=lambda box, room, client: airs[box.id],
        calibration=thing(doubts=thing(basis=lambda ways, sender, client: (ways, sender, client))),
    )


@pytest.mark.usefixtures("by_power")
def test_the_place_that_decides_is_the_worst_but_for_one_in_ten(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 25 places the third worst: nine tenths are served at least as surely, each by its best box."""
    monkeypatch.setattr(decisions, "ways_to", lambda scene, at, places: (at, places.tolist()))
    far = np.linspace(-50.0, -74.0, 25).astype(np.float32)  # place n at -50 - n
    near = np.full(25, -90.0, np.float32)
    near[24] = -40.0  # the farthest place has a box of its own
    boxes = [thing(id=name, position_m=(x, 0.0, 2.0)) for x, name in enumerate(("B1", "B2"))]
    airs = {
        "B1": (Air(far, radiator=boxes[0]), Air(far + 30, radiator=boxes[0], band="6")),
        "B2": (Air(near, radiator=boxes[1]),),
    }
    need: Any = thing(power_dbm=-60.0, client="phone", room="r0", probability=0.8, asks={"5": 9.0})
    found = decisions._decision(surveyed(25, airs), need, ROOMS[0], boxes, "?")  # type: ignore[arg-type]
    # place 24 is well served; worst first come 23, 22, 21 at -73, -72, -71 dBm
    assert found is not None and found.margin_db == pytest.approx(-11.0, rel=1e-3)
    (at, places), sender, client = found.basis  # type: ignore[misc]
    assert at == (0, 0.0, 2.0) and places == [[21.0, 1.0, 1.0]]
    assert sender == Sender("B1", "5") and client == "phone"  # type: ignore[has-type]
    assert (found.about, found.question, found.asked) == ("r0", "?", 0.8)
    none: Any = thing(**{**need.__dict__, "asks": {}})
    assert decisions._decision(surveyed(25, airs), none, ROOMS[0], boxes, "?") is None  # type: ignore[arg-type]
    assert decisions._decision(surveyed(0, airs), need, ROOMS[0], boxes, "?") is None  # type: ignore[arg-type]


def test_what_is_asked_of_boxes_that_stand_and_of_planned_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    """Today; with the plan; and without each new box of it, not without one that stands already."""
    needs = (Need(id="n1", room="r0", down_mbps=50), Need(id="n2", room="r1", wired_outlets=1))
    job = Job(id="j", title="Invented", house=HOUSE, needs=needs)
    stands, new = thing(id="B1", name="router"), thing(id="AP1", name="AP1")
    monkeypatch.setattr(
        decisions, "_decision", lambda s, need, room, boxes, said: (room.id, boxes, str(said))
    )
    given: Any = thing(job=job)
    found: list[Any] = list(decisions.decisions_of(given, [stands], [stands, new]))  # type: ignore[list-item]
    assert [(room, [box.id for box in boxes]) for room, boxes, _ in found] == [
        ("r0", ["B1"]), ("r0", ["B1", "AP1"]), ("r0", ["B1"]),
    ]  # fmt: skip
    assert "AP1" in found[2][2] and all("Hall" in said for *_, said in found)
    assert len(list(decisions.decisions_of(given, [stands]))) == 1  # type: ignore[list-item]


def test_places_of_one_box_and_one_device_are_weighed_together(monkeypatch: pytest.MonkeyPatch) -> None:
    def joined(first: Any, **arrays: Any) -> Any:
        return thing(**{**first.__dict__, **arrays})

    monkeypatch.setattr(reading_worth, "replace", joined)
    rows = [("B1", "phone"), ("B1", "phone"), ("B1", "laptop"), ("B2", "laptop"), ("B1", "phone")]
    given: list[Any] = [
        thing(
            basis=thing(
                source=source,
                client=client,
                points_m=np.array([[n, 0, 0]]),
                design=np.array([[n], [10 * n]]),
                own_variance=np.array([0.5 * n]),
            )
        )
        for n, (source, client) in enumerate(rows)
    ]
    found: list[Any] = _by_source(given)
    assert [(one.source, one.client, one.points_m[:, 0].tolist()) for one in found] == [
        ("B1", "phone", [0, 1]), ("B1", "laptop", [2]), ("B2", "laptop", [3]), ("B1", "phone", [4]),
    ]  # fmt: skip
    assert found[0].design.tolist() == [[0, 1], [0, 10]] and found[0].own_variance.tolist() == [0, 0.5]


def reading(number: int, device: str, *, wired: bool = False) -> Reading:
    return Reading(
        id=f"R{number}", quantity="power_dbm", value=-50, room="r0", device=device, wired=wired  # type: ignore[arg-type]
    )  # fmt: skip


def test_it_is_read_with_the_device_read_with_most_over_the_air() -> None:
    names = ["DV2", "DV1", "DV2", "DV3", "DV1"]
    rows = [reading(n, name) for n, name in enumerate(names)]
    rows += [reading(9 + n, "DV3", wired=True) for n in range(5)]
    job = Job(id="j", title="Invented", house=HOUSE, readings=tuple(rows))
    own_db = calibration_number("power_reading_sd")
    assert where_next._device(job) == ("DV1", own_db), "of two read with alike often the first by name"
    more = job.model_copy(update={"readings": (*rows, reading(30, "DV2"))})
    assert where_next._device(more) == ("DV2", own_db)
    assert where_next._device(job.model_copy(update={"readings": ()})) == ("", own_db)


def test_verdicts_come_likeliest_to_turn_first_and_six_at_most() -> None:
    rows = [Margin(f"r{n}", f"q{n}", None, 1.0 - n, 2.0, 0.6) for n in range(8)]  # type: ignore[arg-type]
    turn = np.array([0.1, 0.3, 0.3, 0.9, 0.0, 0.05, 0.2, 0.01])
    found = where_next._verdicts(rows, turn)
    assert [row.room for row in found] == ["r3", "r1", "r2", "r6", "r0", "r5"]
    assert [row.may_turn for row in found] == [0.9, 0.3, 0.3, 0.2, 0.1, 0.05]
    # margins of 1, 0 and -1 at a spread of 2: 0.691, 0.5 and 0.309; asked 0.6
    by_room = {row.room: (row.chance, row.yes) for row in found}
    assert (by_room["r0"], by_room["r1"], by_room["r2"]) == ((0.691, True), (0.5, False), (0.309, False))


def test_why_no_reading_is_asked_for() -> None:
    one: Any = Margin("r0", "q", None, 1.0, 2.0)  # type: ignore[arg-type]
    nothing, no_box, enough = (
        where_next._stop_words(*given) for given in (([], []), ([one], []), ([one], [thing()]))  # type: ignore[list-item]
    )  # fmt: skip
    assert "No room asks" in nothing and len({nothing, no_box, enough}) == 3
    assert f"{100 * calibration_number('stop_chance'):g}%" in enough


@pytest.mark.parametrize("lent", [False, True])
def test_the_place_is_named_by_its_room_box_and_device(lent: bool) -> None:
    """A grid of half metres from (-1, -1), two heights: the place at (5, 1) on the upper is the Study's."""
    numbers = np.full((2, 9, 17), -1)
    numbers[1, 4, 12] = 1  # row (1 + 1) / 0.5, column (5 + 1) / 0.5
    grid = thing(z_m=(0.7, 3.7), x0_m=-1.0, y0_m=-1.0, step_m=0.5)
    job = Job(
        id="j", title="Invented", house=HOUSE, devices=(Device(id="DV1", name="blue phone", client="phone"),)
    )  # fmt: skip
    given: Any = thing(job=job, receivers=thing(grid=grid, room=numbers))
    box: Any = thing(id="B1", name="the router")
    stand: Any = thing(box=box, band="5")
    place = np.array([5.004, 0.996, 3.69])
    found = where_next._spot(given, stand, place, "DV1", "Is it?", (), box if lent else None)
    assert (found.room, found.storey, found.position) == ("r1", "1", (5.0, 1.0))
    assert (found.box, found.band, found.device, found.stop) == ("B1", "5", "DV1", False)
    assert all(word in found.sentence for word in ("Study", "the router", "blue phone", "5 GHz"))
    other = where_next._spot(given, stand, place, "", "Is it?", (), None if lent else box)
    assert other.sentence != found.sentence and "blue phone" not in other.sentence


def test_what_no_table_holds_is_asked_about_by_name() -> None:
    """A box, a device and a need of a class that no table has; the others are not asked about."""
    job = Job(
        id="j",
        title="Invented",
        house=HOUSE.model_copy(update={"runs": (Run(id="C1", ends=("a", "b")),)}),
        boxes=(
            Box(id="B1", name="old box", equipment="box from nowhere", storey="1", position=(1, 1)),
            Box(id="B2", name="router", equipment="router HE 2x2", storey="1", position=(1, 1)),
        ),
        devices=(
            Device(id="DV1", name="odd one", client="thing of its own"),
            Device(id="DV2", name="phone", client="phone"),
        ),
        needs=(
            Need(id="N1", room="r0", client="watch unheard of"),
            Need(id="N2", room="r1", client="phone"),
            Need(id="N3", room="r1"),
        ),
    )
    verdict: Any = thing(run="C1", usable=False)
    rows = {row.about: row for row in open_questions(job, [verdict], thing(rooms=()))}  # type: ignore[arg-type]
    asked = {name for (name, *_) in rows} & {"B1", "B2", "DV1", "DV2", "N1", "N2", "N3"}
    assert asked == {"B1", "DV1", "N1"}
    for name, words, kind in (
        ("B1", "old box", "box from nowhere"), ("DV1", "odd one", "thing of its own"),
        ("N1", "N1", "watch unheard of"),
    ):  # fmt: skip
        assert words in rows[name,].question and kind in rows[name,].question


def test_what_a_reading_moves_is_what_it_shares_with_the_margin() -> None:
    """Places known to 3 dB, read to 4: together 5. A covariance of 10 moves 2 dB, one of -5 moves 1."""
    rows = [thing(basis=None, margin_db=margin) for margin in (0.0, -50.0)]
    calibration: Any = thing(
        view=lambda basis: basis, covariance=lambda stands, view: np.array([[10.0, -5.0]], dtype=np.float32)
    )
    stands: Any = thing(sd_db=np.array([3.0], dtype=np.float32))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(reading_worth, "_by_source", lambda decisions: [decisions[0].basis])
        found = reading_worth.worth(calibration, stands, 4.0, rows)  # type: ignore[arg-type]
    assert found.moves_db.tolist() == [pytest.approx([2.0, 1.0])]
    # a verdict on the edge gains the mean of what lies above, 0.3989 of 2 dB; the far one gains nothing
    assert found.gain_db.tolist() == [pytest.approx(2 * 0.39894, rel=1e-4)]
    none = reading_worth.worth(calibration, stands, 4.0, ())
    assert none.gain_db.tolist() == [0.0] and none.moves_db.shape == (1, 0)
