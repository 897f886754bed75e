"""Power of boxes and devices in their strongest direction, added up by hand."""

from __future__ import annotations

import pytest

from rehaul.facts.spectrum import BandGhz
from rehaul.predict.radiators import client_eirp_dbm, eirp_dbm


@pytest.mark.parametrize(
    ("client", "band", "country", "width_mhz", "dfs", "power_dbm"),
    [
        ("phone", "2.4", "DE", 20, False, 13.0),  # 15 and a gain of -2
        ("laptop", "5", "DE", 80, False, 18.0),  # 17 and 1
        ("phone", "5", "DE", 160, True, 14.0),  # 15 and -1
        ("phone", "5", "DE", 160, False, 14.0),  # no such channel without radar there: what it is able to
        ("laptop", "5", "DE", 160, False, 18.0),
    ],
)
def test_a_device_sends_what_its_radio_and_its_antenna_give(
    client: str, band: BandGhz, country: str, width_mhz: int, dfs: bool, power_dbm: float
) -> None:
    assert client_eirp_dbm(client, band, country, width_mhz, dfs=dfs) == power_dbm


@pytest.mark.parametrize(
    ("band", "country", "power_dbm"),
    [
        ("2.4", "DE", 20.0),  # 20 and 3, and no more than 20 is lawful
        ("2.4", "AU", 23.0),  # up to 36 is
        ("5", "AU", 25.0),  # 21 and 4
    ],
)
def test_a_box_sends_no_more_than_the_country_lets_it(band: BandGhz, country: str, power_dbm: float) -> None:
    assert eirp_dbm("router HE 2x2", band, country) == power_dbm


def test_a_box_is_silent_where_no_channel_is_lawful(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rehaul.predict.radiators.lawful_channels", lambda *_, **__: ())
    assert eirp_dbm("router HE 2x2", "5", "DE") == -200.0
