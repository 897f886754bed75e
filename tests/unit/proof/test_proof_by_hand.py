"""Worth of readings against drawing and textbook forms, intervals counted by hand, questions one by one."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy import integrate, stats

from rehaul.facts.acceptance import acceptance_number
from rehaul.house import Gate, House, Job, Outlet, Reading, Run, Storey, Wall
from rehaul.house.job import Service
from rehaul.jobs import demo_job
from rehaul.proof import open_questions
from rehaul.proof.ceilings import ceiling
from rehaul.proof.comparing import _repeats, comparison
from rehaul.proof.medians import median_interval, ratio_interval
from rehaul.proof.reading_worth import Margin, _table, change_chance
from rehaul.proof.weighing import Z_STEPS, weigh
from rehaul.proof.worse import worse_rooms

thing = SimpleNamespace


def room(name: str, median: float, **more: Any) -> Any:
    rates: dict[str, Any] = {
        "low_mbps": median, "high_mbps": median, "need_mbps": 0.0, "up_need_mbps": 0.0, "up_low_mbps": 0.0,
        "up_median_mbps": 0.0, "up_high_mbps": 0.0, "delay": None, "source_name": "Hall", **more,
    }  # fmt: skip
    return thing(room=name, name=name.title(), median_mbps=median, **rates)


def test_a_room_is_worse_from_three_in_a_hundred_on() -> None:
    before = thing(rooms=(room("a", 100.0), room("b", 100.0), room("c", 100.0)))
    after = thing(rooms=(room("a", 97.0), room("b", 96.9), room("c", 300.0), room("new", 1.0)))
    (said,) = worse_rooms(before, after)  # type: ignore[arg-type]
    assert said.startswith("B gets 97 Mb/s where it gets 100 today")


def test_what_a_reading_gains_on_average_is_the_loss_integral() -> None:
    """g(z) is the mean of a standard normal above z, less z, where it is above; by quadrature."""
    table = _table()
    for z in (0.0, 0.5, 1.0, 2.5, 5.0):
        by_hand = integrate.quad(lambda x, z=z: (x - z) * stats.norm.pdf(x), z, np.inf)[0]
        assert table[round(z * Z_STEPS)] == pytest.approx(by_hand, abs=1e-7)
    assert table[-1] == table[-2] == 0.0 and len(table) == 6 * Z_STEPS + 3


@pytest.mark.parametrize("margins", [(1.0, 0.25), (0.371, 0.119)])  # on the steps of the table, and between
def test_moves_and_gains_of_each_place_over_all_margins(margins: tuple[float, float]) -> None:
    together = np.array([[2.0, -1.0], [0.0, 3.0]], dtype=np.float32)
    total_sd = np.array([2.0, 1.5], dtype=np.float32)
    margin = np.array(margins, dtype=np.float32)
    gain = np.zeros(2, dtype=np.float32)
    weigh(together, total_sd, margin, _table(), gain)
    moves = np.array([[1.0, 0.5], [0.0, 2.0]])
    assert np.allclose(together, moves, atol=1e-6)

    def mean_gain(move: float, margin: float) -> float:
        z = margin / max(move, 1e-9)
        return move * float(stats.norm.pdf(z) - z * stats.norm.sf(z)) if move else 0.0

    by_hand = [sum(mean_gain(m, d) for m, d in zip(row, margin, strict=True)) for row in moves]
    assert np.allclose(gain, by_hand, atol=2e-4)


@pytest.mark.parametrize(
    ("mean", "sd", "move", "asked"), [(1.0, 4.0, 2.5, 0.9), (8.0, 4.0, 3.0, 0.9), (-2.0, 3.0, 2.9, 0.5)]
)
def test_how_often_a_reading_turns_a_verdict_is_what_drawing_says(
    mean: float, sd: float, move: float, asked: float
) -> None:
    one = Margin("r", "?", None, mean, sd, asked)  # type: ignore[arg-type]
    assert one.chance == pytest.approx(stats.norm.cdf(mean / sd))
    assert one.yes == (one.chance >= asked)
    draws = mean + move * np.random.default_rng(3).standard_normal(400_000)
    yes = stats.norm.cdf(draws / np.sqrt(sd**2 - move**2)) >= asked
    found = change_chance([one], np.array([[-move]], dtype=np.float32))
    assert found.shape == (1, 1)
    assert float(found[0, 0]) == pytest.approx(float(np.mean(yes != one.yes)), abs=0.003)


def test_a_verdict_on_the_edge_turns_only_where_its_chance_moves_far_enough() -> None:
    edge = Margin("r", "?", None, 1.2816 * 4.0 + 0.001, 4.0, 0.9)  # type: ignore[arg-type]
    moves = np.array([[1.0]], dtype=np.float32)
    strict, wide = (float(change_chance([edge], moves, beyond)[0, 0]) for beyond in (0.0, 0.2))
    assert edge.yes and wide < 0.05 < strict
    just = Margin("r", "?", None, 1.2816 * 4.0 - 0.001, 4.0, 0.9)  # type: ignore[arg-type]
    assert not just.yes and float(change_chance([just], moves, 0.05)[0, 0]) < strict


@pytest.mark.parametrize(
    ("count", "cut", "chance"),
    [
        (1, 0, 0.0),
        (2, 0, 0.5),  # 1 - 2 / 4
        (6, 0, 1 - 2 / 64),
        (9, 1, 1 - 2 * (1 + 9) / 512),  # 0.961; with 36 more 0.820
        (15, 3, 1 - 2 * (1 + 15 + 105 + 455) / 32768),  # 0.965
    ],
)
def test_between_which_readings_the_median_lies(count: int, cut: int, chance: float) -> None:
    assert acceptance_number("chance") == 0.9
    values = [float((7 * n) % count) for n in range(count)] if count % 7 else [float(n) for n in range(count)]
    found = median_interval(values)
    assert (found.low, found.high) == (cut, count - 1 - cut)
    assert found.middle == (count - 1) / 2 and found.chance == pytest.approx(chance)


def test_how_many_times_as_fast_by_hand() -> None:
    """Ratios of 2, 3, 4 over 1 and 2: 1, 1.5, 2, 2, 3, 4. Of ten orders of three and two the ends are 2."""
    found = ratio_interval([1.0, 2.0], [2.0, 3.0, 4.0])
    assert (found.low, found.middle, found.high) == (1.0, 2.0, 4.0)
    assert found.chance == pytest.approx(1 - 2 / 10) and not found.holds
    five = ratio_interval([1.0] * 5, [2.0] * 5)  # 252 orders; 1 + 1 + 2 + 3 + 5 at each end
    assert five.chance == pytest.approx(1 - 2 * 12 / 252) and five.holds
    assert (five.low, five.high) == (2.0, 2.0)


def test_repeats_kept_as_a_mean_have_that_mean_and_spread() -> None:
    plain = {"id": "R", "quantity": "down_mbps", "room": "r"}
    many = Reading.model_validate({**plain, "value": 90.0, "repeats": 5, "spread": 4.0})
    values = _repeats(many)
    assert len(values) == 5 and np.mean(values) == pytest.approx(90.0)
    assert np.std(values, ddof=1) == pytest.approx(4.0)
    assert _repeats(Reading.model_validate({**plain, "value": 90.0})) == [90.0]
    assert _repeats(Reading.model_validate({**plain, "value": 90.0, "repeats": 5})) == [90.0]


def test_what_was_read_on_one_side_only_is_named() -> None:
    job = demo_job()
    first, second = job.house.rooms[:2]
    rows = [
        ("before", first.id, "DV1"),
        ("after", first.id, "DV1"),
        ("before", second.id, "DV1"),
        ("after", first.id, "DV2"),
    ]
    readings = tuple(
        Reading.model_validate(
            {
                "id": f"X{n}",
                "quantity": "down_mbps",
                "value": 50,
                "stage": stage,
                "room": place,
                "device": device,
            }
        )
        for n, (stage, place, device) in enumerate(rows)
    )
    found = comparison(job.model_copy(update={"readings": readings}))
    assert [pair.room for pair in found.pairs] == [first.id]
    names = {device.id: device.name for device in job.devices}
    assert len(found.unpaired) == 2
    assert any(
        s.startswith(f"{second.name}: read before with {names['DV1']}") and s.endswith("not after.")
        for s in found.unpaired
    )
    assert any(
        s.startswith(f"{first.name}: read after with {names['DV2']}") and s.endswith("not before.")
        for s in found.unpaired
    )
    assert found.sentence == "Of 1 comparison: 1 cannot tell."


def verdict(run: str, *, usable: bool = True, mbps: float = 1000, grade: str = "inferred") -> Any:
    from rehaul.house import Grade

    rows = tuple(thing(rate_mbps=rate, grade=Grade(grade)) for rate in (100, 1000) if rate <= mbps)
    return thing(run=run, usable=usable, likely_mbps=mbps, ethernet=rows, sentence="It may.")


def asked_of(job: Job, verdicts: list[Any], *rooms: Any) -> dict[tuple[str, ...], Any]:
    return {row.about: row for row in open_questions(job, verdicts, thing(rooms=rooms))}  # type: ignore[arg-type]


def test_each_thing_that_is_not_known_is_one_question() -> None:
    storey = Storey(id="1", name="Ground", elevation_m=0)
    wall = {"storey": "1", "start": (0, 0), "end": (3, 0)}
    house = House(
        storeys=(storey,),
        runs=tuple(Run(id=name, ends=("a", "b"), state="dead") for name in ("C1", "C2", "C3")),  # type: ignore[arg-type]
        outlets=(Outlet(id="1-01", storey="1"), Outlet(id="1-02", storey="1", position=(1, 1))),
        walls=(
            Wall.model_validate({"id": "w1", **wall}),
            Wall.model_validate({"id": "w2", **wall, "construction": "brick-single"}),
        ),
    )
    job = Job(id="j", title="Invented", house=house)
    verdicts = [verdict("C1"), verdict("C2", usable=False), verdict("C3", grade="measured")]
    found = asked_of(job, verdicts)
    assert "1000 Mb/s" in found["C1",].question and found["C1",].guess == "It may."
    assert ("C2",) not in found and ("C3",) not in found, "of no use, or measured"
    assert ("1-01",) in found and ("1-02",) not in found
    assert "1 wall " in found["w1",].question, "the other one has a name"
    assert ("j",) in found
    known = job.model_copy(update={"gate": Gate(asked_about_alarms=False)})
    assert ("j",) not in asked_of(known, verdicts)


def test_a_rate_is_proven_by_the_grade_of_what_the_plan_counts_on() -> None:
    """Measured at 100 and inferred at 1000: proven only where the plan counts on 100."""
    from rehaul.house import Grade

    rows = (thing(rate_mbps=100, grade=Grade("measured")), thing(rate_mbps=1000, grade=Grade("inferred")))
    house = House(storeys=(Storey(id="1", name="G", elevation_m=0),), runs=(Run(id="C1", ends=("a", "b")),))
    job = Job(id="j", title="Invented", house=house)
    for mbps, asks in ((100, False), (1000, True)):
        one = thing(run="C1", usable=True, likely_mbps=mbps, ethernet=rows, sentence="It may")
        assert (("C1",) in asked_of(job, [one])) is asks


def test_rooms_whose_low_end_falls_short_and_queues_that_decide_a_call() -> None:
    job = Job(id="j", title="Invented")
    near = room("near", 60.0, low_mbps=40.0, need_mbps=50.0)
    enough = room("enough", 60.0, low_mbps=50.0, need_mbps=50.0)
    up = room(
        "up", 60.0, need_mbps=0.0, up_need_mbps=10.0, up_low_mbps=9.0, up_median_mbps=12.0, up_high_mbps=15.0
    )
    well = room("well", 60.0, up_need_mbps=10.0, up_low_mbps=10.0, up_median_mbps=12.0, up_high_mbps=15.0)
    found = asked_of(job, [], near, enough, up, well)
    assert ("well",) not in found
    assert "50 Mb/s?" in found["near",].question and "About 60 Mb/s, from 40 to 60" in found["near",].guess
    assert ("enough",) not in found
    assert "10 Mb/s up" in found["up",].question and "About 12 Mb/s, from 9 to 15" in found["up",].guess
    calls = [
        room(name, 60.0, delay=thing(verdict=word))
        for name, word in (("a", "at risk"), ("b", "met"), ("c", "at risk"))
    ]
    assert ("a", "c") in asked_of(job, [], *calls)
    known = job.model_copy(update={"service": Service(managed_queue=True)})
    assert ("a", "c") not in asked_of(known, [], *calls)
    assert ("a", "c") not in asked_of(job, [], calls[1])


def test_the_ceiling_is_that_of_the_fastest_band_unless_one_was_said() -> None:
    job = demo_job()
    plain = {"id": "R", "quantity": "down_mbps", "value": 9.0, "room": job.house.rooms[0].id}

    def best(**more: Any) -> Any:
        return ceiling(job, Reading.model_validate({**plain, **more}))

    assert best(wired=True) is None
    any_band, slow = best(), best(band="2.4")
    assert any_band.rate_mbps > slow.rate_mbps > 0
    assert "2.4 GHz" in slow.words and "2.4 GHz" not in any_band.words
    assert best(box="nobody") is None
