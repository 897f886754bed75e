"""Several spots at once give what each gives alone, to the last bit, in every drawn house."""

from __future__ import annotations

import numpy as np
import pytest

from drawn_houses import drawn_job
from rehaul.predict import receivers_of, scene_of
from rehaul.predict.doubts import ways_to
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Transmitter, crossing_counts, field, fields

SEEDS = (3, 41, 7073)
BANDS = [spectrum_of("2.4"), spectrum_of("5")]


@pytest.mark.parametrize("seed", SEEDS)
def test_fields_crossings_and_ways_of_several_are_those_of_each(seed: int) -> None:
    job = drawn_job(seed)
    scene, receivers = scene_of(job.house, job.country).scene, receivers_of(job.house)
    random = np.random.default_rng(seed)
    points = receivers.grid.points_m()
    spots = points[random.choice(len(points), 5, replace=False)] + random.uniform(-0.2, 0.2, (5, 3))
    mountings = ("isotropic", "ceiling", "desk", "ceiling", "isotropic")
    senders = [
        Transmitter(tuple(spot), eirp_dbm=20.0 + n, mounting=mounting)
        for n, (spot, mounting) in enumerate(zip(spots.tolist(), mountings, strict=True))
    ]
    for places in (receivers.grid, receivers.in_rooms, points[::97]):
        together = fields(scene, senders, places, BANDS)
        counts = crossing_counts(scene, spots, places)
        ways = ways_to(scene, spots, places)
        assert len(together) == len(senders) == len(counts)
        for n, sender in enumerate(senders):
            alone = field(scene, sender, places, BANDS)
            assert np.array_equal(together[n].gain_db, alone.gain_db)
            assert np.array_equal(together[n].sd_db, alone.sd_db)
            assert np.array_equal(together[n].power_dbm, alone.power_dbm)
            assert np.array_equal(counts[n], crossing_counts(scene, sender.position_m, places))
            own = ways_to(scene, sender.position_m, places)
            for name in ("counts", "felt", "decades"):
                assert np.array_equal(getattr(ways, name)[n], getattr(own, name)), name
            assert np.array_equal(ways.points_m, own.points_m)
            away_m = np.linalg.norm(own.points_m - np.array(sender.position_m), axis=1)
            assert np.allclose(own.decades, np.log10(np.maximum(away_m, 1.0)), atol=1e-6)
    assert fields(scene, [], receivers.grid, BANDS) == ()
