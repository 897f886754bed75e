"""What a map of several boxes says at a place: the strongest power, and which box and band serve."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from types import SimpleNamespace
from typing import Any

import numpy as np

from rehaul.house import Band, Learnt, LearntTerm
from rehaul.predict import Radiator, coverage, receivers_of, scene_of, standing_radiators
from rehaul.predict.best import best_of, chain_at, narrowest_name, up_of
from rehaul.predict.moving import Moving
from rehaul.predict.results import Coverage, LinkRate
from sample_house import job as sample_job

JOB = sample_job().model_copy(update={"readings": ()})
UPPER = JOB.house.storeys[-1]


@cache
def boxes() -> tuple[Radiator, ...]:
    own = standing_radiators(JOB)[0]
    x, y, _ = own.position_m
    return own, replace(own, id="AP9", name="Other", position_m=(x + 2.5, y + 1.0, UPPER.elevation_m + 2.0))


@cache
def covered(*ids: str) -> Coverage:
    return coverage(JOB, [box for box in boxes() if box.id in ids], receivers=receivers_of(JOB.house))


def both() -> Coverage:
    return covered(*(box.id for box in boxes()))


def test_the_box_and_band_that_are_named_give_that_rate() -> None:
    """At every place, the rate is that of the named box alone, and no other box alone gives more."""
    found, named = both(), set()
    for number, box in enumerate(boxes()):
        for whole, alone in zip(found.maps, covered(box.id).maps, strict=True):
            here = whole.source_index == number
            inside = ~np.isnan(whole.rate_mbps)
            assert np.allclose(whole.rate_mbps[here & inside], alone.rate_mbps[here & inside])
            assert np.array_equal(whole.band_index[here], alone.band_index[here])
            assert np.all(whole.rate_mbps[inside] >= alone.rate_mbps[inside] - 1e-3)
            named |= set(np.unique(whole.source_index).tolist())
    assert {0, 1} <= named <= {-1, 0, 1}, "each box serves somewhere"
    bands = {int(band) for grid in found.maps for band in np.unique(grid.band_index)} - {-1}
    assert bands <= set(range(len(Band))) and bands


def test_power_in_a_band_is_the_strongest_box_s_with_its_own_spread() -> None:
    alone = [covered(box.id).maps for box in boxes()]
    for level, whole in enumerate(both().maps):
        powers = np.stack([maps[level].power_dbm for maps in alone])  # (box, band, y, x)
        spreads = np.stack([maps[level].power_sd_db for maps in alone])
        assert np.allclose(whole.power_dbm, powers.max(axis=0))
        strongest = powers.argmax(axis=0)[None]
        assert np.allclose(whole.power_sd_db, np.take_along_axis(spreads, strongest, axis=0)[0])


def test_the_live_map_shows_the_power_of_the_asked_band_or_of_the_strongest() -> None:
    moving = Moving()
    for grid in both().maps:
        frame = moving.frame(JOB, boxes(), grid.storey.id, grid.step_m)
        inside = ~np.isnan(frame.power_dbm())
        for number, band in enumerate(Band):
            assert np.allclose(frame.power_dbm(band)[inside], grid.power_dbm[number][inside], atol=1e-3)
            assert np.allclose(frame.power_sd_db(band)[inside], grid.power_sd_db[number][inside], atol=1e-3)
        assert np.allclose(frame.power_dbm()[inside], grid.power_dbm.max(axis=0)[inside], atol=1e-3)
        first = grid.power_dbm.argmax(axis=0)[None]
        spread = np.take_along_axis(grid.power_sd_db, first, axis=0)[0]
        assert np.allclose(frame.power_sd_db()[inside], spread[inside], atol=1e-3)


def test_a_kept_map_follows_what_earlier_houses_say() -> None:
    term = LearntTerm(term="decade", shift_db=9.0, sd_db=0.5, houses=5, readings=60)
    read = JOB
    kinds = {kind.name for kind in scene_of(read.house, read.country).scene.kinds}
    terms = tuple(term.model_copy(update={"term": name}) for name in sorted(kinds))
    taught = read.model_copy(update={"learnt": Learnt(houses=5, readings=60, terms=terms)})
    kept, storey, own = Moving(), read.house.storeys[0].id, standing_radiators(read)
    kept.frame(read, own, storey, 1.0)
    after = kept.frame(taught, own, storey, 1.0).rate_mbps()
    fresh = Moving().frame(taught, own, storey, 1.0).rate_mbps()
    assert np.array_equal(after, fresh, equal_nan=True)
    assert not np.array_equal(fresh, Moving().frame(read, own, storey, 1.0).rate_mbps(), equal_nan=True)


thing: Any = SimpleNamespace


def ladder(box: Radiator, *down: float, up: float = 10.0) -> Any:
    """An air over four places with these medians; low and high are half and twice of them."""
    middle = np.array(down, dtype=np.float32).reshape(1, 2, 2)

    def spread(values: Any) -> Any:
        return values / 2, values, values * 2

    return thing(
        radiator=box,
        band="5",
        range_mbps=lambda: spread(middle),
        up_range_mbps=lambda: spread(np.full(4, up, dtype=np.float32)),
        at=lambda places: thing(
            radiator=box,
            band="5",
            range_mbps=lambda: spread(middle.ravel()[places]),
            up_range_mbps=lambda: spread(np.full(len(places), up, dtype=np.float32)),
        ),
    )


def test_the_best_air_at_each_place_by_its_median_both_ways() -> None:
    """The second carries more at the last two places; nothing is heard at the first; ties go to the first."""
    wire = (LinkRate(name="plan", rate_mbps=100.0, up_mbps=7.0),)
    one = Radiator("A", "Hall", "access point HE 2x2", (0.0, 0.0, 1.0), wire=wire)
    two = Radiator("B", "Den", "access point HE 2x2", (0.0, 0.0, 1.0))
    airs = [ladder(one, 0, 50, 20, 10, up=10.0), ladder(two, 0, 50, 30, 300, up=20.0)]
    best = best_of(airs, thing(grid=thing(shape=(1, 2, 2))))
    assert best.air.ravel().tolist() == [-1, 0, 1, 1]
    assert best.median_mbps.ravel().tolist() == [0.0, 50.0, 30.0, 300.0]
    assert best.low_mbps.ravel().tolist() == [0.0, 25.0, 15.0, 150.0]
    assert best.high_mbps.ravel().tolist() == [0.0, 100.0, 60.0, 600.0], "the wire holds back the first alone"
    up = up_of(airs, best)
    assert up.median_mbps.ravel().tolist() == [0.0, 7.0, 20.0, 20.0]
    assert up.low_mbps.ravel().tolist() == [0.0, 5.0, 10.0, 10.0]
    assert up.high_mbps.ravel().tolist() == [0.0, 7.0, 40.0, 40.0]
    chain = chain_at(airs, best, (0, 0, 1))
    assert [(link.rate_mbps, link.rate_up_mbps) for link in chain] == [(100.0, 7.0), (50.0, 10.0)]
    assert "Hall" in chain[1].name and chain_at(airs, best, (0, 0, 0)) == ()
    assert narrowest_name(chain) == chain[1].name and narrowest_name(chain, up=True) == "plan"
    assert narrowest_name(()) == "nothing is heard"


def test_a_map_of_no_box_names_none_and_gives_nothing() -> None:
    """-1 stands for no box and for no band, as the maps' readers are told."""
    for grid in covered().maps:
        assert set(np.unique(grid.source_index).tolist()) == set(np.unique(grid.band_index).tolist()) == {-1}
        for rates in (grid.rate_mbps, grid.low_mbps, grid.high_mbps, grid.rate_up_mbps):
            inside = rates[~np.isnan(rates)]
            assert inside.size and not inside.any()
