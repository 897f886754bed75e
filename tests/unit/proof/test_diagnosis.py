"""Textbook signatures, and rooms of a job as cases."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from planted_faults import drawn_case, houses, link
from rehaul.errors import BadInput
from rehaul.facts.causes import causes, diagnosis_number
from rehaul.house import Job, Quantity, Reading
from rehaul.house.geometry import room_at
from rehaul.jobs import demo_job
from rehaul.proof import Case, Diagnosis, diagnose, diagnosis, room_case, room_named
from rehaul.proof.causes import Test, states_of
from rehaul.proof.diagnosis import INSTRUCTIONS, SOFT_MBPS, _hypotheses, density, log_repeats

CASE = Case(
    plan_down_mbps=360,
    plan_up_mbps=90,
    link_mbps=1000,
    near_dbm=-42,
    room_dbm=-55,
    room_sd_db=5,
    near_link=link("laptop"),
    test_link=link("laptop"),
    device_link=link("phone"),
    old_links=(link("old laptop"), link("television")),
    slow_band_link=link("phone", "2.4"),
)


@pytest.mark.parametrize(
    ("reads", "cause"),
    [
        ({"modem down": 349, "run link": 100, "run down": 94, "near down": 92}, "pair open"),
        ({"modem down": 353, "run link": 100, "run down": 11, "run up": 86}, "half duplex"),
        ({"modem down": 84, "near down": 82, "room down": 85}, "modem"),
        ({"modem down": 357, "near down": 346, "room down": 338}, "plan"),
        ({"modem down": 352, "near down": 112, "run down": 168, "channel busy": 5}, "wireless hop"),
        ({"near down": 341, "room down": 66, "other device down": 322, "right radio": 1}, "old device"),
        ({"near down": 124, "room down": 109, "channel busy": 75, "run down": 345}, "neighbour"),
        ({"near down": 338, "room down": 52, "room power": -76, "right radio": 0}, "wrong access point"),
        ({"near down": 343, "room down": 96, "room power": -75, "right radio": 1}, "walls"),
        ({"modem down": 352, "near down": 190, "run down": 349, "fed by cable": 0}, "wireless hop"),
        ({"near down": 341, "room down": 66, "device near down": 68, "room link": 72}, "old device"),
        (
            {"near down": 341, "room down": 84, "device near down": 330, "room link": 150, "right radio": 1},
            "walls",
        ),
    ],
)
def test_signatures(reads: dict[Test, float], cause: str) -> None:
    found = diagnose(CASE, reads)
    assert found.causes[0].cause == cause
    assert found.evidence and found.causes[0].remedy


def test_with_nothing_read_the_habit_of_the_trade_comes_back() -> None:
    found = diagnose(CASE, {})
    assert not found.sure and not found.evidence
    rows = causes()
    chance = {one.cause: one.probability for one in found.causes}
    sound = chance["plan"] + chance.get("as predicted", 0.0)
    assert sound > max(p for cause, p in chance.items() if cause not in ("plan", "as predicted"))
    felt = {states.cause: states.share for states in states_of(CASE)}
    assert 0.9 < felt["pair open"] < 1.0  # a device that delivers little does not feel 100 Mb/s
    assert chance["pair open"] / sound == pytest.approx(
        rows["pair open"].prior * felt["pair open"] / rows["pair open"].felt / rows["plan"].prior, rel=0.01
    )


def test_how_often_a_cause_is_felt_is_what_drawn_houses_say() -> None:
    """The prior counts houses where a cause was felt, so each is weighed against its usual share."""
    rng = np.random.default_rng(7)
    cases = [drawn_case(rng) for _ in range(60)]
    felt = [{states.cause: states.share for states in states_of(case)} for case in cases]
    for cause, row in causes().items():
        shares = [one.get(cause, 0.0) for one in felt]
        assert abs(np.mean(shares) - row.felt) < 3 * np.std(shares) / np.sqrt(len(shares)) + 0.01, cause


def test_what_could_not_be_felt_is_no_cause() -> None:
    """Behind a plan of 50 Mb/s a link at 100 Mb/s takes nothing from anybody."""
    slow = replace(CASE, plan_down_mbps=50, plan_up_mbps=10)
    assert "pair open" not in {one.cause for one in diagnose(slow, {"run link": 100}).causes}


def test_a_speed_that_slipped_low_is_likelier_than_one_that_slipped_high() -> None:
    low, high = (float(np.log(density("room down", value, np.array(200.0)))) for value in (40.0, 1000.0))
    assert low > high


def test_a_reading_ten_spreads_off_never_decides_alone() -> None:
    """The spread of readings is itself a guess, so its tails are heavy."""
    near, far = (float(np.log(density("channel busy", value, np.array(0.0)))) for value in (10.0, 100.0))
    assert near - far < 6.0


def test_a_speed_read_again_takes_a_slip_back() -> None:
    """91 Mb/s at the modem blames the provider; 352 there the next time does not."""
    once = {"near down": 91.0, "room down": 88.0, "run down": 93.0}
    blamed, cleared = (diagnose(CASE, once | {"modem down": read}) for read in ((91.0,), (91.0, 352.0)))
    assert blamed.causes[0].cause == "modem"
    assert cleared.causes[0].cause == "pair open"


def test_once_is_as_ever_and_often_counts_as_twice() -> None:
    for test, value in (("room down", 80.0), ("run link", 100.0), ("run delay", 4.0)):
        expected = np.array([100.0, 40.0])
        once = log_repeats(test, (value,), expected)
        assert np.allclose(once, np.log(density(test, value, expected)))
        twice, often = (log_repeats(test, (value,) * times, expected) for times in (2, 20))
        assert np.all(np.abs(often - twice) < 0.05 * np.abs(20 * once - twice))


def test_a_slip_may_stay_when_read_again() -> None:
    """The wrong cable read twice gives the same odd speed; ten would not make it true."""
    odd = log_repeats("modem down", (84.0,) * 10, np.array([360.0]))[0]
    apart = 10 * np.log(density("modem down", 84.0, np.array([360.0])))[0]
    assert odd > apart + 20


def test_an_odd_reading_is_asked_for_once_more() -> None:
    """Everything else as with the wrong access point, and yet the look said it was the right one."""
    states = next(one for one in states_of(CASE) if one.cause == "wrong access point")
    unread = ("modem up", "run up", "room up", "room link", "device near link", "fed by cable", "run delay")
    reads = {t: float(np.median(states.reads[t])) for t in INSTRUCTIONS if t not in (*unread, "near power")}
    asked = diagnose(CASE, reads | {"right radio": 1.0}).next_test
    assert asked is not None and asked.test == "right radio"
    assert asked.instruction.startswith("Once more: ")


def test_a_delay_shows_a_hop_that_a_look_does_not() -> None:
    reads: dict[Test, float] = {"modem down": 354, "near down": 180, "room down": 150, "fed by cable": 1}
    chance = {
        delay: {one.cause: one.probability for one in diagnose(CASE, reads | {"run delay": delay}).causes}
        for delay in (0.4, 5.0)
    }
    assert chance[0.4]["wireless hop"] < 0.05 and chance[5.0]["wireless hop"] > 0.5


def test_nothing_is_asked_once_it_is_certain() -> None:
    reads = {"modem down": (84.0, 85.0), "near down": 82.0, "room down": 85.0, "run up": 22.0}
    assert diagnose(CASE, {"modem down": 84.0}).next_test is not None
    assert diagnose(CASE, reads).next_test is None


def test_a_far_room_in_a_sound_house_is_not_blamed_on_the_plan() -> None:
    far = replace(CASE, room_dbm=-76)
    found = diagnose(far, {"modem down": 354, "near down": 344, "room down": 178, "room power": -76})
    assert found.causes[0].cause == "as predicted"
    assert "nearer" in found.causes[0].remedy


def test_the_next_test_is_the_one_that_weighing_all_of_them_in_full_would_ask_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """After three readings of houses with a fault: also which it is worth, to the last bit that is said."""
    first: tuple[Test, ...] = ("modem down", "near down", "room down")
    cases = [(one.case, {test: one.reads[test] for test in first}) for one in houses(12, seed=41)]
    screened = [diagnose(case, reads).next_test for case, reads in cases]
    monkeypatch.setattr(diagnosis, "WEIGHED_FULLY", 99)
    assert screened == [diagnose(case, reads).next_test for case, reads in cases]
    assert len({found.test for found in screened if found}) > 2


def test_the_next_test_tells_the_top_two_apart() -> None:
    """94 Mb/s beside the access point with a plan of 360: one look at the link rate decides."""
    found = diagnose(CASE, {"modem down": 354, "near down": 92, "run down": 94})
    assert found.next_test is not None
    test = found.next_test
    assert set(test.between) == {one.cause for one in found.causes[:2]}
    assert 0 < test.bits <= 1


def test_the_same_readings_give_the_same_answer() -> None:
    house = next(iter(houses(1, 3)))
    assert diagnose(house.case, house.reads) == diagnose(replace(house.case), house.reads)


def reading(name: str, value: float, **more: object) -> Reading:
    return Reading(id=name, quantity=Quantity.DOWN_MBPS, value=value, **more)  # type: ignore[arg-type]


@pytest.fixture
def job() -> Job:
    return demo_job().model_copy(update={"readings": (), "heard": ()})


def diagnosed(job: Job, room: str) -> tuple[Diagnosis, dict[Test, tuple[float, ...]]]:
    case, reads = room_case(job, room_named(job, room))
    return diagnose(case, reads), reads


def test_a_room_of_a_job(job: Job) -> None:
    box = next(b for b in job.boxes if b.id == "RT1")
    beside = next(room for room in job.house.rooms if room.storey == box.storey)
    readings = (
        reading("A", 90, wired=True, room=None, box=job.service.modem),
        reading("B", 88, room="R01", device="DV1", band="5", box="RT1"),
        reading("C", 89, room="R01", device="DV2"),
        Reading(id="D", quantity=Quantity.POWER_DBM, value=-58, room="R01", device="DV1"),
        Reading(id="E", quantity=Quantity.LINK_MBPS, value=100, wired=True, room="R01"),
        reading("F", 40, room="R01", device="DV1", stage="after"),
    )
    _, reads = diagnosed(job.model_copy(update={"readings": readings}), "Parlour")
    assert beside
    assert reads["modem down"] == (90,) and reads["run link"] == (100,)
    assert reads["room power"] == (-58,)
    assert {reads["room down"], reads["other device down"]} == {(88,), (89,)}


def test_looks_of_a_job_are_evidence(job: Job) -> None:
    """How the box is fed, the link rate shown, and the slow device carried to the box."""
    boxes = tuple(
        b.model_copy(update={"fed_by": "wireless"}) if b.id == "RT1" else b
        for b in job.boxes
        if b.id in ("RT1", job.service.modem)
    )
    box = next(b for b in boxes if b.id == "RT1")
    beside = room_at(job.house, box.storey, box.position)
    other = next(room for room in job.house.rooms if beside is not None and room.id != beside.id)
    assert beside is not None
    readings = (
        reading("A", 30, room=other.id, device="DV1"),
        reading("B", 210, room=beside.id, device="DV1"),
        reading("C", 260, room=beside.id, device="DV2"),
        Reading(id="D", quantity=Quantity.LINK_MBPS, value=86, room=other.id, device="DV1"),
        Reading(id="E", quantity=Quantity.LINK_MBPS, value=390, room=beside.id, device="DV1"),
        Reading(id="F", quantity=Quantity.LINK_MBPS, value=480, room=other.id, device="DV2"),
        Reading(id="G", quantity=Quantity.LINK_MBPS, value=510, room=other.id, device="DV2"),
        Reading(id="H", quantity=Quantity.DELAY_MS, value=12, wired=True, box=job.service.modem),
        Reading(id="I", quantity=Quantity.DELAY_MS, value=16, wired=True, room=other.id),
    )
    _, reads = diagnosed(job.model_copy(update={"readings": readings, "boxes": boxes}), other.name)
    assert reads["room link"] == (86,) and reads["room down"] == (30,)
    assert reads["device near down"] == (210,) and reads["near down"] == (260,)
    assert reads["fed by cable"] == (0,)
    assert reads["other device link"] == (480, 510)
    assert reads["device near link"] == (390,)
    assert reads["run delay"] == (pytest.approx(4),)


def test_a_room_that_is_not_there(job: Job) -> None:
    with pytest.raises(BadInput, match="no room 'Ballroom'"):
        room_named(job, "Ballroom")


def test_a_house_without_a_box(job: Job) -> None:
    with pytest.raises(BadInput, match="no box stands"):
        room_case(job.model_copy(update={"boxes": ()}), room_named(job, "Parlour"))


def test_a_sound_house_is_parted_where_the_air_takes_a_tenth_of_what_arrives() -> None:
    """Near: the room gets at least 0.9 of what the modem gets. Every other cause stays whole."""
    far_case = replace(CASE, room_dbm=-72)
    found = list(_hypotheses(far_case, 0))
    plan = {far: states for states, far in found if states.cause == "plan"}
    assert sorted(plan) == [False, True]
    for far, states in plan.items():
        share = states.reads["room down"] / states.reads["modem down"]
        assert np.all((share < 0.9) == far)
    whole = next(one for one in states_of(far_case) if one.cause == "plan")
    assert sum(len(states) for states in plan.values()) == len(whole)
    assert sum(states.share for states in plan.values()) == pytest.approx(whole.share)
    others = [(states.cause, len(states), far) for states, far in found if states.cause != "plan"]
    felt = [one for one in states_of(far_case) if one.cause != "plan" and len(one)]
    assert others == [(one.cause, len(one), False) for one in felt]


@pytest.mark.parametrize(
    ("fed_by", "read"), [("cord", (1.0,)), ("run", (1.0,)), ("wireless", (0.0,)), (None, None)]
)
def test_what_feeds_the_box_is_a_look(job: Job, fed_by: str | None, read: tuple[float] | None) -> None:
    """A box that nobody looked at says nothing."""
    boxes = tuple(b.model_copy(update={"fed_by": fed_by}) for b in job.boxes if b.id == "RT1")
    _, reads = diagnosed(job.model_copy(update={"boxes": boxes}), "Parlour")
    assert reads.get("fed by cable") == read


@pytest.mark.parametrize(
    ("told", "read"),
    [
        ((("RT1", "5"), ("RT1", "5"), ("XX", "5")), 1.0),
        ((("RT1", "5"), ("XX", "5")), 0.0),  # half of them are not most
        ((("RT1", "2.4"), ("RT1", "2.4"), ("RT1", "5")), 0.0),
    ],
)
def test_the_right_radio_is_the_best_box_on_its_best_band_most_of_the_time(
    job: Job, told: tuple[tuple[str, str], ...], read: float
) -> None:
    readings = tuple(
        reading(f"A{number}", 88, room="R01", device="DV1", band=band, box=box)
        for number, (box, band) in enumerate(told)
    )
    boxes = tuple(b for b in job.boxes if b.id == "RT1")
    _, reads = diagnosed(job.model_copy(update={"readings": readings, "boxes": boxes}), "Parlour")
    assert reads["right radio"] == (read,)


def test_densities_are_students_t_and_slips_that_mostly_read_low() -> None:
    """Written plainly with SciPy's distributions, of one reading and of one read again."""
    sd, drop, low, slip, stays = (
        diagnosis_number(name) for name in ("air_rate_sd", "slip_rate_drop", "slip_low", "slip", "slip_stays")
    )
    reads, expected = np.array([[4.0], [80.0], [300.0], [420.0]]), np.array([90.0, 310.0, 350.0])

    def usual(value: float, about: float) -> float:
        off = np.log(value + SOFT_MBPS) - np.log(about + SOFT_MBPS)
        return float(stats.t.pdf(off, diagnosis_number("spread_freedom"), scale=sd))

    def slipped(value: float, about: float) -> float:
        off = np.log(value + SOFT_MBPS) - np.log(about + SOFT_MBPS)
        return (1 - low) * 0.1 + low * float(stats.expon.pdf(-off, scale=drop))

    def again(first: float, value: float, about: float) -> float:
        passing = slip * (1 - stays) / (1 - slip * stays)
        fresh = [(1 - passing) * usual(v, about) + passing * slipped(v, about) for v in (first, value)]
        same = slipped(first, about) * usual(value, first)
        return (1 - slip * stays) * fresh[0] * fresh[1] + slip * stays * same

    once = [[(1 - slip) * usual(v, e) + slip * slipped(v, e) for e in expected] for v in reads[:, 0]]
    twice = [[again(84.0, v, e) for e in expected] for v in reads[:, 0]]
    np.testing.assert_allclose(density("room down", reads, expected), once, rtol=1e-12)
    np.testing.assert_allclose(np.exp(log_repeats("room down", (84.0, reads), expected)), twice, rtol=1e-12)
