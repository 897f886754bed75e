"""Lawful channels, emitted power, and the mesh beside Wi-Fi."""

import pytest

from rehaul.errors import BadInput, OutOfRange
from rehaul.facts.wlan_equipment import access_point_radios, client_radios
from rehaul.wlan import (
    BANDS,
    BandChannel,
    countries,
    emitted_dbm,
    lawful_channels,
    mesh_centre_mhz,
    power_limit_dbm,
    rank_mesh_channels,
)


def test_the_countries_of_the_trade_are_there() -> None:
    assert {"US", "CA", "GB", "DE", "AU", "NZ"} <= set(countries())


@pytest.mark.parametrize("country", countries())
def test_every_country_has_every_band(country: str) -> None:
    for band in BANDS:
        assert lawful_channels(country, band)


def test_radar_channels_can_be_left_out() -> None:
    quiet = lawful_channels("DE", "5", dfs=False)
    assert quiet and not any(channel.dfs for channel in quiet)
    assert {channel.number for channel in quiet if channel.width_mhz == 80} == {42, 155}


def test_an_access_point_may_not_start_where_it_may_only_follow() -> None:
    assert 171 not in {channel.number for channel in lawful_channels("US", "5")}


def test_unknown_country_or_channel() -> None:
    with pytest.raises(BadInput, match="no spectrum rules for 'XX'"):
        lawful_channels("XX", "5")
    with pytest.raises(BadInput, match="no channel 144"):
        power_limit_dbm("DE", BandChannel("5", 20, 144, 5720))


def test_overlap() -> None:
    one, six = (next(c for c in lawful_channels("US", "2.4") if c.number == n) for n in (1, 6))
    three = next(c for c in lawful_channels("US", "2.4") if c.number == 3)
    assert one.overlap_mhz(six) == 0 and one.overlap_mhz(three) == 10
    assert one.overlap_mhz(lawful_channels("US", "5")[0]) == 0


def test_a_radio_keeps_to_the_lesser_of_what_it_can_and_may() -> None:
    loud = access_point_radios()["access point HE 2x2", "2.4"]
    six = next(c for c in lawful_channels("DE", "2.4") if c.number == 6)
    assert emitted_dbm(loud, "DE", six) == 20
    assert emitted_dbm(loud, "US", six) == loud.conducted_dbm + loud.antenna_dbi
    phone = client_radios()["phone", "2.4"]
    assert emitted_dbm(phone, "DE", six) == phone.conducted_dbm + phone.antenna_dbi


def test_mesh_keeps_clear_of_the_usual_three() -> None:
    usual = [channel for channel in lawful_channels("US", "2.4") if channel.number in (1, 6, 11)]
    ranked = rank_mesh_channels(usual)
    assert [mesh.number for mesh in ranked[:4]] == [26, 25, 20, 15]
    assert ranked[2].leak_db == pytest.approx(ranked[3].leak_db)
    assert {mesh.number: mesh.overlaps for mesh in ranked if mesh.overlaps} == {
        **dict.fromkeys(range(11, 15), (1,)),
        **dict.fromkeys(range(16, 20), (6,)),
        **dict.fromkeys(range(21, 25), (11,)),
    }


def test_mesh_without_wifi_and_outside_its_numbers() -> None:
    assert rank_mesh_channels(lawful_channels("US", "5"))[0].number == 26
    with pytest.raises(OutOfRange, match="11 to 26"):
        mesh_centre_mhz(10)


def test_what_the_mask_lets_into_a_mesh_channel_by_hand() -> None:
    """Of the area under the mask: 18 MHz flat and its slopes, 0.860, 0.082 and 0.011 MHz, 18.953 in all."""
    (six,) = [c for c in lawful_channels("US", "2.4") if c.number == 6 and c.width_mhz == 20]
    leaks = {mesh.number: mesh.leak_db for mesh in rank_mesh_channels([six])}
    assert leaks[17] == leaks[18] == pytest.approx(-9.77, abs=0.02)  # 2 MHz of the flat part
    assert leaks[21] == pytest.approx(-35.96, abs=0.02)  # 17 to 19 MHz off: 0.00481 MHz
    assert leaks[26] == pytest.approx(-49.77, abs=0.02)  # 42 to 44 MHz off: the last level goes on
    assert mesh_centre_mhz(26) == 2480 and mesh_centre_mhz(11) == 2405
