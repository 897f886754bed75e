"""Before and after: intervals against plain counting and a general library; words that do not flatter."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from scipy.stats import mannwhitneyu

from rehaul.house import Job, Quantity, Reading
from rehaul.jobs import demo_job
from rehaul.proof import comparison
from rehaul.proof.medians import _wins, median_interval, ratio_interval
from rehaul.sheets.comparison import comparison_svg


def test_six_readings_hold_the_median_between_least_and_most() -> None:
    found = median_interval([5, 1, 9, 4, 7, 3])
    assert (found.low, found.middle, found.high) == (1, 4.5, 9)
    assert found.chance == 0.96875


def test_more_readings_narrow_it() -> None:
    found = median_interval(range(1, 16))
    assert (found.low, found.high) == (4, 12)
    assert found.chance == pytest.approx(1 - 2 * sum([1, 15, 105, 455]) / 2**15)


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_too_few_do_not_claim_anything(count: int) -> None:
    assert not median_interval(np.arange(count) + 1.0).holds


@pytest.mark.parametrize(("n", "m"), [(1, 1), (2, 3), (3, 3), (4, 2)])
def test_wins_against_counting_every_order(n: int, m: int) -> None:
    plain = np.zeros(n * m + 1)
    for order in permutations(range(n + m)):
        first, second = order[:n], order[n:]
        plain[sum(b > a for a in first for b in second)] += 1
    np.testing.assert_allclose(_wins(n, m) / _wins(n, m).sum(), plain / plain.sum())


def test_the_interval_leaves_out_one_where_the_library_s_test_says_so() -> None:
    """The interval excludes no change exactly where the exact two-sided test is below one less its chance."""
    rng = np.random.default_rng(4)
    for _ in range(40):
        n, m = rng.integers(3, 8, 2)
        before, after = rng.lognormal(4, 0.4, n), rng.lognormal(4.3, 0.4, m)
        found = ratio_interval(before.tolist(), after.tolist())
        p = mannwhitneyu(before, after, method="exact").pvalue
        assert (not found.low <= 1 <= found.high) == (p <= 1 - found.chance + 1e-9)


def test_the_interval_holds_as_often_as_it_claims() -> None:
    rng = np.random.default_rng(8)
    held = []
    for _ in range(2000):
        before, after = rng.gumbel(0, 0.3, 4), rng.gumbel(np.log(2.0), 0.3, 4)
        found = ratio_interval(np.exp(before).tolist(), np.exp(after).tolist())
        held.append(found.low <= 2.0 <= found.high)
    assert np.mean(held) >= found.chance - 0.02


def readings(stage: str, values: list[float], room: str | None = "R11", **more: object) -> list[Reading]:
    return [
        Reading(
            id=f"{stage[0]}{room}{i}{more.get('device', '')}",
            quantity=Quantity.DOWN_MBPS,
            value=value,
            stage=stage,  # type: ignore[arg-type]
            room=room,
            **{"device": "DV1", "doors": "shut", **more},  # type: ignore[arg-type]
        )
        for i, value in enumerate(values)
    ]


def job_with(*groups: list[Reading]) -> Job:
    every = tuple(reading for group in groups for reading in group)
    return demo_job().model_copy(update={"readings": every})


@pytest.mark.parametrize(
    ("before", "after", "outcome", "words"),
    [
        ([50, 55, 60], [400, 420, 380], "better", "It got better"),
        ([50, 55, 60], [52, 58, 49], "no different", "It got no better"),
        ([400, 420, 380], [50, 55, 60], "worse", "should not be left so"),
        ([50, 55], [400, 420], "cannot tell", "Too few readings"),
    ],
)
def test_words_say_what_the_readings_say(
    before: list[float], after: list[float], outcome: str, words: str
) -> None:
    found = comparison(job_with(readings("before", before), readings("after", after)))
    (pair,) = found.pairs
    assert pair.outcome == outcome and words in pair.sentence
    assert outcome in found.sentence


def test_another_device_is_not_compared() -> None:
    found = comparison(
        job_with(readings("before", [50, 55, 60]), readings("after", [400, 410, 420], device="DV2"))
    )
    assert not found.pairs
    assert len(found.unpaired) == 2 and "but not after" in " ".join(found.unpaired)


def of(quantity: str, values: list[float], stage: str, **more: object) -> list[Reading]:
    rows = readings(stage, values, **more)  # type: ignore[arg-type]
    return [r.model_copy(update={"id": f"{quantity}{r.id}", "quantity": Quantity(quantity)}) for r in rows]


def test_a_pair_is_named_by_its_room_and_device_or_as_of_none() -> None:
    sides = ("before", [50.0] * 3), ("after", [100.0] * 3)
    found = comparison(
        job_with(
            *(readings(stage, values, device="DV2") for stage, values in sides),
            *(readings(stage, values, device=None) for stage, values in sides),
            *(readings(stage, values, device="gone") for stage, values in sides),
        )
    )
    names = {device.id: device.name for device in demo_job().devices}
    room = next(room.name for room in demo_job().house.rooms if room.id == "R11")
    unnamed = "a device not named"
    assert [(pair.device, pair.device_name) for pair in found.pairs] == [
        ("", unnamed), ("DV2", names["DV2"]), ("gone", unnamed),
    ]  # fmt: skip
    assert all(pair.room_name == room and pair.sentence.startswith(room) for pair in found.pairs)
    assert all((pair.times, pair.times_low, pair.times_high) == (2.0, 2.0, 2.0) for pair in found.pairs)
    assert names["DV2"] in found.pairs[1].sentence and unnamed in found.pairs[0].sentence


def test_a_delay_gets_better_by_getting_less() -> None:
    for quantity in ("delay_ms", "loaded_delay_ms"):
        long, short = [40.0, 41.0, 42.0], [10.0, 11.0, 12.0]
        better = comparison(job_with(of(quantity, long, "before"), of(quantity, short, "after"))).pairs[0]
        worse = comparison(job_with(of(quantity, short, "before"), of(quantity, long, "after"))).pairs[0]
        assert (better.outcome, worse.outcome) == ("better", "worse")
        assert "41 ms" in better.sentence and "11 ms" in better.sentence and "Mb/s" not in better.sentence
        assert (better.before.low, better.before.median, better.before.high) == (40, 41, 42)
    up = comparison(job_with(of("up_mbps", [10, 11, 12], "before"), of("up_mbps", [40, 41, 42], "after")))
    assert up.pairs[0].outcome == "better" and "41 Mb/s" in up.pairs[0].sentence


def test_what_is_not_compared() -> None:
    """By cable on one side and by air on the other; power and links; the visit itself; no room."""
    assert comparison(job_with(readings("before", [50], wired=True), readings("after", [90]))).pairs == ()
    for rows in (
        (of("power_dbm", [-50], "before"), of("power_dbm", [-60], "after")),
        (readings("before", [50]), readings("during", [90])),
        (readings("before", [50], room=None), readings("after", [90], room=None)),
    ):
        assert comparison(job_with(*rows)).pairs == ()
    assert comparison(job_with()).unpaired == ()


def test_by_cable_on_one_side_and_by_air_on_the_other_is_told() -> None:
    cable, air = readings("before", [50], wired=True), readings("after", [90])
    for rows, words in (
        ((cable, air), "by cable before and through the air after, which cannot be compared."),
        (
            (readings("before", [50]), readings("after", [90], wired=True)),
            "through the air before and by cable after, which cannot be compared.",
        ),
    ):
        found = comparison(job_with(*rows))
        assert len(found.unpaired) == 1 and found.unpaired[0].endswith(words) and found.pairs == ()
    more = [one.model_copy(update={"id": f"{one.id}-air"}) for one in readings("before", [70])]
    assert comparison(job_with(cable, more, air)).unpaired == ()  # what was read through the air is compared


def test_pairs_come_by_room_then_device_then_air_before_cable_then_quantity() -> None:
    def both(quantity: str, **more: object) -> list[Reading]:
        sides = [of(quantity, [5.0], stage, **more) for stage in ("before", "after")]
        return [
            one.model_copy(update={"id": f"{one.id}{more}{one.quantity}"}) for side in sides for one in side
        ]

    found = comparison(
        job_with(
            both("delay_ms", room="R12"),
            both("up_mbps", room="R12", device="DV2"),
            both("up_mbps", room="R12", wired=True),
            both("down_mbps", room="R12"),
            both("down_mbps", room="R11", device="DV2"),
        )
    )
    assert [(p.room, p.device, p.wired, p.quantity.value) for p in found.pairs] == [
        ("R11", "DV2", False, "down_mbps"),
        ("R12", "DV1", False, "down_mbps"),
        ("R12", "DV1", False, "delay_ms"),
        ("R12", "DV1", True, "up_mbps"),
        ("R12", "DV2", False, "up_mbps"),
    ]


def test_a_rate_of_nothing_is_as_good_as_a_thousandth() -> None:
    (pair,) = comparison(job_with(readings("before", [0.0]), readings("after", [2.0]))).pairs
    assert pair.times == 2000.0 and pair.before.median == 0.001


def test_doors_that_nobody_noted_or_that_were_alike_are_no_matter() -> None:
    for before, after in (("open", "open"), ("shut", "unknown"), ("shut", "shut")):
        (pair,) = comparison(
            job_with(readings("before", [50.0], doors=before), readings("after", [90.0], doors=after))
        ).pairs
        assert "Doors" not in pair.sentence


def test_open_doors_are_told() -> None:
    found = comparison(
        job_with(readings("before", [50, 55, 60]), readings("after", [400, 410, 420], doors="open"))
    )
    assert "Doors were not the same" in found.pairs[0].sentence


def test_a_mean_of_repeats_stands_for_them() -> None:
    kept = {"repeats": 3, "spread": 5.0}
    found = comparison(job_with(readings("before", [55], **kept), readings("after", [400], **kept)))
    (pair,) = found.pairs
    assert pair.outcome == "better" and pair.before.readings == 3
    assert pair.before.median == pytest.approx(55)


def test_the_picture_shows_every_room_and_its_outcome() -> None:
    found = comparison(
        job_with(
            readings("before", [50, 55, 60]),
            readings("after", [400, 410, 420]),
            readings("before", [90, 80, 85], room="R12"),
            readings("after", [88, 82, 91], room="R12"),
        )
    )
    picture = comparison_svg(found.pairs)
    for pair in found.pairs:
        assert pair.room_name in picture
    assert "better" in picture and "no better" in picture
    assert picture == comparison_svg(found.pairs)
    assert "Nothing was read" in comparison_svg(())


def test_without_readings_on_one_side_nothing_is_said_of_how_they_differ() -> None:
    for before, after in (([], [50.0]), ([50.0], []), ([], [])):
        found = ratio_interval(before, after)
        assert np.isnan([found.low, found.middle, found.high]).all() and found.chance == 0.0
        assert not found.holds


def test_one_reading_on_each_side_is_a_ratio_that_holds_nothing() -> None:
    """Of the two orders of two readings each leaves the truth out as often as not."""
    found = ratio_interval([50.0], [100.0])
    assert (found.low, found.middle, found.high, found.chance) == (2.0, 2.0, 2.0, 0.0)
