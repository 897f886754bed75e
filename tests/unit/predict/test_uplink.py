"""The way up: what a device's own power, the country and the wires make of it, in rooms and on maps."""

import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))
from one_way import best_chance
from rehaul.errors import BadInput
from rehaul.facts.calibration import measured_level_db
from rehaul.facts.wlan_equipment import access_point_radios, client_radios, room_needs
from rehaul.house import Job, Need
from rehaul.predict import (
    Air,
    Asked,
    LinkRate,
    Listener,
    Radiator,
    air_of,
    asked,
    chance_met,
    coverage,
    receivers_of,
    scene_of,
    serves,
    standing_radiators,
    wire_mbps,
)
from rehaul.predict.moving import Moving
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Transmitter, field, holding_loss_db
from rehaul.wlan import WHOLE, Asks, power_for
from sample_house import job as sample_job

PLACES = [(1.0, 1.0, 1.2), (4.0, 6.0, 1.2), (7.0, 5.0, 4.1), (2.0, 5.0, -1.3)]
STATION = Radiator("AP1", "Hall", "access point HE 2x2", (6.0, 2.0, 2.5), "ceiling")


@cache
def airs(client: str = "phone", country: str = "US", station: Radiator = STATION) -> dict[str, Air]:
    scene = scene_of(sample_job().house, sample_job().country)
    return {air.band: air for air in air_of(scene, station, PLACES, country, Listener(client))}


@pytest.mark.parametrize("band", ["2.4", "5"])
def test_up_is_the_same_path_with_the_devices_own_power(band: str) -> None:
    """Against the field's gain and the formula of the way up, which share no line with the prediction."""
    scene = scene_of(sample_job().house, sample_job().country).scene
    unit = Transmitter(STATION.position_m, eirp_dbm=(0.0,), mounting="ceiling")
    found = field(scene, unit, PLACES, [spectrum_of(band)])
    ours, theirs = access_point_radios()[STATION.equipment, band], client_radios()["phone", band]
    eirp_dbm = theirs.conducted_dbm + theirs.antenna_dbi
    power_dbm = found.power_dbm[0] + measured_level_db(band)
    expected = power_dbm + eirp_dbm + ours.antenna_dbi - holding_loss_db("hand")  # Friis, the path reversed
    assert airs()[band].up_power_dbm == pytest.approx(expected, abs=1e-3)
    assert holding_loss_db("hand") > 0


def test_a_louder_device_is_heard_better() -> None:
    phone, laptop = airs("phone")["5"], airs("laptop")["5"]
    louder = client_radios()["laptop", "5"]
    softer = client_radios()["phone", "5"]
    gain_db = louder.conducted_dbm + louder.antenna_dbi - softer.conducted_dbm - softer.antenna_dbi
    assert laptop.up_power_dbm - phone.up_power_dbm == pytest.approx(gain_db, abs=1e-3)


def test_a_phone_gets_less_up_than_down() -> None:
    air = airs()["5"]
    assert air.link.up_lag_db > 0
    down, up = air.range_mbps()[1], air.up_range_mbps()[1]
    assert np.all(up <= down) and np.any(up < 0.9 * down)


def test_a_country_holds_the_device_too() -> None:
    """In the US a device at 6 GHz may send -1 dBm/MHz: 12 dBm on 20 MHz, where it could 13."""
    station = replace(STATION, equipment="access point EHT 2x2 tri-band", widths_mhz=(("6", 20),))
    free, held = airs("new phone", "DE", station)["6"], airs("new phone", "US", station)["6"]
    wide = replace(station, widths_mhz=(("6", 80),))
    unheld = airs("new phone", "US", wide)["6"]
    assert held.up_power_dbm - unheld.up_power_dbm == pytest.approx(-0.99, abs=0.01)
    assert free.link.up_lag_db < held.link.up_lag_db


def test_needs_up_are_stated_or_summed() -> None:
    uses = ("video call 1080p", "camera 4 MP")
    job = sample_job().model_copy(
        update={
            "needs": (
                Need(id="D1", room=sample_job().house.rooms[0].id, uses=uses),
                Need(id="D2", room=sample_job().house.rooms[1].id, uses=uses, up_mbps=40, delay_ms=80),
            )
        }
    )
    summed, stated = asked(job)
    assert summed.up_mbps == pytest.approx(sum(room_needs()[use].up_mbps for use in uses))
    assert (stated.up_mbps, stated.delay_ms) == (40, 80)
    assert stated.down_mbps == summed.down_mbps
    odd = job.model_copy(update={"needs": (Need(id="D1", room="R1", down_mbps=5, uses=("telex",)),)})
    with pytest.raises(BadInput, match="telex"):
        asked(odd)


def test_wires_are_as_fast_both_ways_but_for_the_line() -> None:
    wire = (LinkRate(name="plan", rate_mbps=300, up_mbps=20), LinkRate(name="run", rate_mbps=94))
    station = replace(STATION, wire=wire)
    assert wire_mbps(station) == 94 and wire_mbps(station, up=True) == 20
    near = list(airs(station=station).values())
    assert not best_chance(near, 21, up=True).any()
    assert best_chance(near, 19, up=True).max() > 0.99


def test_both_ways_have_to_hold_on_one_link() -> None:
    near = list(airs().values())
    need = Asked("R", 50.0, 0.9, "phone", 50.0)
    down, up = (best_chance(near, 50.0, up=way) >= 0.9 for way in (False, True))
    both = serves(near, need)
    assert not np.any(both & ~(down & up))
    alone = [serves([air], need) for air in near]
    assert np.array_equal(both, np.logical_or.reduce(alone))


def test_where_the_radio_delivers_all_one_threshold_says_the_same_as_both_chances() -> None:
    """Power at the threshold serves just as surely as not: the chance there is a half."""
    for air in (replace(air, delivered=WHOLE) for air in airs().values()):
        for down, up in ((5.0, 100.0), (100.0, 1.0), (0.0, 20.0)):
            need = Asked("R", down, 0.5, "phone", up)
            at = power_for(Asks(down, up), air.link)
            assert np.array_equal(serves([air], need), air.power_dbm >= at - 1e-4)


def test_one_box_and_band_serves_as_surely_as_the_chance_of_both_ways() -> None:
    for air in airs().values():
        need = Asked("R", 60.0, 0.7, "phone", 20.0)
        chance = chance_met(air, need)
        assert np.array_equal(serves([air], need), chance >= 0.7)
        assert np.all(chance <= np.minimum(air.chance_of(60.0), air.chance_of(20.0, up=True)) + 1e-6)


def test_a_hop_on_the_same_channel_takes_its_time_of_the_air() -> None:
    straight, hopped = airs()["5"], airs(station=replace(STATION, hop_mbps=100.0))["5"]
    assert not best_chance([hopped], 100.0).any()
    for rate in (10.0, 50.0, 90.0):
        air_rate = 1 / (1 / rate - 1 / 100)
        assert best_chance([hopped], rate) == pytest.approx(straight.chance_of(air_rate))
        assert best_chance([hopped], rate, up=True) == pytest.approx(straight.chance_of(air_rate, up=True))


def with_needs(*needs: Need, up_mbps: float = 40.0) -> Job:
    job = sample_job()
    return job.model_copy(
        update={
            "needs": needs,
            "readings": (),
            "service": job.service.model_copy(update={"up_mbps": up_mbps}),
        }
    )


def test_a_room_is_met_when_both_ways_are() -> None:
    room = sample_job().house.rooms[2]
    for asked_up, met in ((10.0, True), (41.0, False)):
        job = with_needs(Need(id="D1", room=room.id, down_mbps=10, up_mbps=asked_up))
        found = {row.room: row for row in coverage(job, standing_radiators(job)).rooms}[room.id]
        assert (found.up_met, found.met) == (met, met)
        assert found.served_pct == 100 and found.up_need_mbps == asked_up
        assert found.up_low_mbps <= found.up_median_mbps <= found.up_high_mbps <= 40
        assert found.narrowest_up == "plan" and found.links[0].up_mbps == 40


def test_a_need_of_up_alone_counts() -> None:
    room = sample_job().house.rooms[2]
    job = with_needs(Need(id="D1", room=room.id, up_mbps=41))
    found = {row.room: row for row in coverage(job, standing_radiators(job)).rooms}[room.id]
    assert found.asks and not found.met and found.need_mbps == 0


def test_maps_of_up_and_the_moving_map_agree_with_the_rooms() -> None:
    job = with_needs()
    boxes, receivers = standing_radiators(job), receivers_of(job.house)
    found = coverage(job, boxes, receivers=receivers)
    moving = Moving()
    for grid in found.maps:
        frame = moving.frame(job, boxes, grid.storey.id, grid.step_m)
        assert np.array_equal(np.isnan(grid.rate_up_mbps), np.isnan(grid.rate_mbps))
        for which, values in (("low", grid.low_up_mbps), ("median", grid.rate_up_mbps)):
            assert np.allclose(frame.rate_mbps(which, up=True), values, equal_nan=True)
    for row in found.rooms:
        assert row.up_median_mbps <= 40
    spot = moving.spot(job, boxes, found.rooms[0].storey, (2.0, 2.0))
    assert spot.up_low_mbps <= spot.up_median_mbps <= spot.up_high_mbps <= 40
    assert spot.narrowest_up in {link.name for link in spot.links}
