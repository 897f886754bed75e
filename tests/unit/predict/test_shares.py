"""Readings of Mb/s: they narrow what is delivered here, move its middle, and hardly move a strong power."""

from __future__ import annotations

import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))
from rehaul.house import Heard, Job, Quantity, Reading
from rehaul.house.geometry import storey_of
from rehaul.predict import (
    Air,
    Asked,
    Calibration,
    HouseScene,
    Listener,
    Radiator,
    calibrate,
    calibration_of,
    corrected_air,
    coverage,
    scene_of,
    standing_radiators,
)
from rehaul.predict.doubts import ways_to
from rehaul.predict.observations import Observation, ReadingOfBox
from rehaul.predict.shares import rate_observation
from rehaul.predict.together import Hanging, together_mbps
from rehaul.radio import Scene, kind
from rehaul.wlan import WHOLE, air_of_others, link_between, usual_share
from sample_house import job as sample_job

BESIDE_M = ((1.0, 0.5), (-1.0, 0.5), (0.5, 1.0), (0.5, -1.0), (1.5, 0.0))  # from the router
HEIGHT_M = 1.2


@cache
def house() -> tuple[Job, HouseScene]:
    found = sample_job()
    found = found.model_copy(
        update={
            "readings": (),
            "service": found.service.model_copy(update={"down_mbps": 5000.0, "up_mbps": 5000.0}),
        }
    )
    return found, scene_of(found.house, found.country)


def router_storey() -> str:
    job, _ = house()
    return next(box.storey for box in job.boxes if box.id == standing_radiators(job)[0].id)


def beside(number: int) -> tuple[float, float]:
    x_m, y_m, _ = standing_radiators(house()[0])[0].position_m
    return x_m + BESIDE_M[number][0], y_m + BESIDE_M[number][1]


def airs_at(
    job: Job, position: tuple[float, float], known: Calibration | None, client: str = "phone"
) -> list[Air]:
    box = standing_radiators(job)[0]
    storey = storey_of(job.house, router_storey())
    place = [(*position, storey.elevation_m + HEIGHT_M)]
    return list(corrected_air(job, house()[1], box, place, Listener(client), known))


def fastest(job: Job, position: tuple[float, float], known: Calibration | None = None) -> Air:
    return max(airs_at(job, position, known), key=lambda air: float(air.range_mbps()[1][0]))


def with_rates(factor: float, count: int, *, noise: tuple[float, ...] = (0.0,)) -> Job:
    """Readings at `factor` of what the radio allows, one a place."""
    job, _ = house()
    readings = []
    for number in range(count):
        position = beside(number)
        air = fastest(job, position)
        whole = float(replace(air, delivered=WHOLE).range_mbps()[1][0])
        readings.append(
            Reading(
                id=f"N{number}",
                quantity=Quantity.DOWN_MBPS,
                value=whole * factor * float(np.exp(noise[number % len(noise)])),
                storey=router_storey(),
                height_m=HEIGHT_M,
                position=position,
                box=air.radiator.id,
                band=air.band,
            )
        )
    return job.model_copy(update={"readings": tuple(readings)})


def known_of(job: Job) -> Calibration:
    return calibration_of(job, house()[1], standing_radiators(job))


def test_without_readings_the_usual_share_holds() -> None:
    job, _ = house()
    air = fastest(job, beside(0), known_of(job))
    assert air.delivered == usual_share(air.band)


@pytest.mark.parametrize("factor", [0.2, 0.4, 0.9])
def test_readings_move_the_middle_towards_what_they_say(factor: float) -> None:
    job = with_rates(factor, 3)
    usual, found = fastest(job, beside(3)), fastest(job, beside(3), known_of(job))
    was, now = np.log(usual.delivered.median / factor), np.log(found.delivered.median / factor)
    assert abs(now) < abs(was)
    assert np.sign(now) == np.sign(was)  # not beyond it: the usual still counts
    middles = [float(air.range_mbps()[1][0]) for air in (usual, found)]
    assert (middles[1] > middles[0]) == (factor > usual.delivered.median)


def test_every_reading_narrows_the_range() -> None:
    wide = []
    for count in (0, 1, 3, 5):
        job = with_rates(0.5, count)
        low, _, high = (float(part[0]) for part in fastest(job, beside(4), known_of(job)).range_mbps())
        wide.append(np.log(high / low))
    assert wide == sorted(wide, reverse=True)
    # beside the router all of it is the share: 0.64 of ln, of which 0.5 is of each place and hour and stays;
    # its top is what the table allows of the fastest mode
    assert 0.75 < wide[3] / wide[0] < 0.92


def test_readings_that_differ_much_narrow_less() -> None:
    alike, apart = (with_rates(0.5, 4, noise=noise) for noise in ((0.0,), (0.9, -0.9)))
    spreads = [fastest(job, beside(4), known_of(job)).delivered.sd for job in (alike, apart)]
    assert spreads[0] < spreads[1]


def test_another_class_of_device_learns_of_the_box_alone() -> None:
    job = with_rates(0.2, 4)
    known = known_of(job)
    phone, laptop = (airs_at(job, beside(4), known, client)[0].delivered for client in ("phone", "laptop"))
    usual = usual_share(airs_at(job, beside(4), known)[0].band)
    assert phone.ln_mean < laptop.ln_mean < usual.ln_mean
    assert phone.shared_sd < laptop.shared_sd < usual.shared_sd


def rate_of(power_dbm: float, factor: float) -> tuple[Observation, HouseScene]:
    """A reading at `factor` of what the radio allows, 3 m from a box in the open, so strong there."""
    panels = np.array([(50.0, -20.0, 50.0, 20.0, -0.1, 3.0)])
    scene = HouseScene(Scene(panels, np.zeros(1, dtype=np.int32), (), (kind("brick-half"),)), ("W1",), ())
    box = Radiator("AP1", "Hall", "access point HE 2x2", (0.0, 0.0, 2.0))
    link = link_between("access point HE 2x2", "phone", "5")
    assert link is not None
    power = np.array([power_dbm], dtype=np.float32)
    air = Air(box, "5", link, power, np.full_like(power, 6.0), "phone", usual_share("5"))
    whole = float(replace(air, delivered=WHOLE).range_mbps()[1][0])
    reading = Reading(id="N0", quantity=Quantity.DOWN_MBPS, value=whole * factor, position=(3.0, 0.0))
    ways = ways_to(scene.scene, box.position_m, [(3.0, 0.0, 1.2)])
    found = rate_observation(ReadingOfBox(reading, "any phone", air, ways), air)
    assert isinstance(found, Observation)
    return found, scene


def test_a_strong_power_is_hardly_moved_by_a_slow_rate() -> None:
    """Where more power would give next to no more, a slow device says nothing of the walls, but of itself."""
    strong, scene = rate_of(-40.0, 0.2)
    weak, _ = rate_of(-75.0, 0.2)
    assert strong.ln_per_db < 0.3 * weak.ln_per_db and strong.sd_db > 3 * weak.sd_db
    moved, shares = [], []
    for seen in (strong, weak):
        known = calibrate(scene, [seen])
        basis = known.doubts.basis(seen.ways, seen.source, "phone")
        moved.append(abs(float(known.view(basis).shift_db[0])))
        row = known.doubts.share_row("AP1", "phone")
        shares.append(float(row @ known.correction.mean_db))
    assert moved[0] < 1.5 < moved[1]
    assert shares[0] < shares[1] < 0


def test_a_rate_at_the_wire_says_at_least_so_much() -> None:
    """The wire holds it back, so the share is no less than that: the middle rises and never falls."""
    job = with_rates(1.0, 1)
    (reading,) = job.readings
    wire_mbps = reading.value * 0.8
    slow = job.model_copy(
        update={
            "service": job.service.model_copy(update={"down_mbps": wire_mbps}),
            "readings": (reading.model_copy(update={"value": wire_mbps}),),
        }
    )
    known = known_of(slow)
    assert known.held == (reading.id,) and known.used == (reading.id,) and not known.readings
    found, usual = fastest(slow, beside(1), known).delivered, usual_share("5")
    assert found.ln_mean > usual.ln_mean and found.shared_sd < usual.shared_sd
    little = slow.model_copy(
        update={
            "service": job.service.model_copy(update={"down_mbps": 0.01 * reading.value}),
            "readings": (reading.model_copy(update={"value": 0.01 * reading.value}),),
        }
    )
    barely = fastest(little, beside(1), known_of(little)).delivered
    assert barely.ln_mean == pytest.approx(usual.ln_mean, abs=0.02)
    assert barely.shared_sd == pytest.approx(usual.shared_sd, abs=0.02)


def test_the_page_says_why_ranges_are_wide_and_what_narrows_them() -> None:
    job, scene = house()
    boxes = standing_radiators(job)
    (wide,) = (note for note in coverage(job, boxes, scene=scene).notes if "Mb/s reading" in note)
    assert "Three readings narrow it" in wide
    read = with_rates(0.5, 3)
    notes = coverage(read, boxes, scene=scene, calibration=known_of(read)).notes
    assert any("% from" in note for note in notes) and wide not in notes


def test_the_air_of_others_is_not_taken_off_twice() -> None:
    """A scan that finds the neighbours silent gives back what the share takes off for them, and no more."""
    job, _ = house()
    air = fastest(job, beside(0))
    need = Asked("R", 1e4, 0.9, "phone")
    quiet = Heard(id="H1", band=air.band, channel=36, width_mhz=20, power_dbm=-70, busy_pct=0)
    shares = [
        together_mbps(tried, [Hanging("R", need, air, ())])["R"]
        for tried in (job, job.model_copy(update={"heard": (quiet,)}))
    ]
    assert shares[1] / shares[0] == pytest.approx(1 / air_of_others(air.band), rel=1e-3)
