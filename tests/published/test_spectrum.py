"""Lawful channels and limits against the regulatory database as read by other means."""

import pytest

from published import Published
from rehaul.wlan import lawful_channels, mesh_centre_mhz, power_limit_dbm, radar_listen_s

DOCUMENT = "wireless-regdb 2026.05.30"

EIGHTY = {
    "US": "42 58D 106D 122D 138D 155",
    "CA": "42 58D 106D 122D 138D 155 171",
    "DE": "42 58D 106D 122D 155",
    "GB": "42 58D 106D 122D 138D 155",
    "AU": "42 58D 106D 138D 155",
}
ONE_SIXTY = {
    "US": "50D 114D",
    "CA": "50D 114D 163",
    "DE": "50D 114D",
    "GB": "50D 114D",
    "AU": "50D",
}


@pytest.mark.parametrize("width", [80, 160])
@pytest.mark.parametrize("country", EIGHTY)
def test_wide_channels(country: str, width: int) -> None:
    names = (EIGHTY if width == 80 else ONE_SIXTY)[country].split()
    found = [f"{c.number}{'D' if c.dfs else ''}" for c in lawful_channels(country, "5", width)]
    Published(len(names), "channels", DOCUMENT, f"{country}, {width} MHz", "data", 0, "a count").check(
        len(found)
    )
    assert found == names


@pytest.mark.parametrize(("country", "last"), [("US", 11), ("CA", 13), ("DE", 13), ("GB", 13), ("AU", 13)])
def test_last_channel_at_2_4_ghz(country: str, last: int) -> None:
    Published(last, "", DOCUMENT, f"{country}, 2.4 GHz", "data", 0, "a number").check(
        lawful_channels(country, "2.4")[-1].number
    )


@pytest.mark.parametrize(
    ("country", "low", "high"),
    [("US", 5925, 7125), ("CA", 5925, 7125), ("DE", 5945, 6425), ("GB", 5925, 6425), ("AU", 5925, 6585)],
)
def test_6_ghz_stays_inside_its_range(country: str, low: float, high: float) -> None:
    channels = lawful_channels(country, "6", 20)
    for edge, bound in ((channels[0].low_mhz, low), (channels[-1].high_mhz, high)):
        why = "channels lie on a 20 MHz grid from 5945 MHz, so the last may end up to 20 MHz short"
        Published(bound, "MHz", DOCUMENT, f"{country}, 6 GHz", "data", 20, why).check(edge)
    assert low <= channels[0].low_mhz and channels[-1].high_mhz <= high


@pytest.mark.parametrize(
    ("country", "band", "number", "limit_dbm"),
    [
        ("US", "2.4", 6, 30),
        ("CA", "2.4", 6, 36),
        ("DE", "2.4", 6, 20),
        ("GB", "2.4", 6, 20),
        ("DE", "5", 36, 23),
        ("GB", "5", 36, 23),
        ("US", "5", 52, 24),
        ("DE", "5", 100, 27),
        ("DE", "5", 149, 14),
        ("GB", "5", 149, 23),
        ("CA", "5", 149, 36),
        ("DE", "6", 1, 23),
        ("GB", "6", 1, 24),
    ],
)
def test_power_limits(country: str, band: str, number: int, limit_dbm: float) -> None:
    (channel,) = [c for c in lawful_channels(country, band, 20) if c.number == number]  # type: ignore[arg-type]
    Published(
        limit_dbm, "dBm", DOCUMENT, f"{country}, channel {number}", "data", 0.05, "rounded to a dB"
    ).check(power_limit_dbm(country, channel))


@pytest.mark.parametrize(
    ("width", "role", "limit_dbm"),
    [
        (20, "access point", 18.0),
        (80, "access point", 24.0),
        (320, "access point", 30.0),
        (160, "client", 21.0),
    ],
)
def test_6_ghz_indoor_limit_is_by_density(width: int, role: str, limit_dbm: float) -> None:
    channel = lawful_channels("US", "6", width)[0]
    Published(
        limit_dbm,
        "dBm",
        "47 CFR 15.407",
        "5 dBm/MHz, at most 30 dBm; client -1 dBm/MHz, at most 24 dBm",
        "excerpt",
        0.06,
        "rounded to 0.1 dB",
    ).check(power_limit_dbm("US", channel, role))  # type: ignore[arg-type]


@pytest.mark.parametrize(("number", "centre"), [(11, 2405), (15, 2425), (26, 2480)])
def test_mesh_centres(number: int, centre: float) -> None:
    Published(centre, "MHz", "IEEE Std 802.15.4", "channel page 0, 2450 MHz", "excerpt", 1e-9, "exact").check(
        mesh_centre_mhz(number)
    )


@pytest.mark.parametrize(
    ("country", "number", "wait"),
    [("DE", 36, 0), ("DE", 52, 60), ("DE", 124, 600), ("GB", 120, 600), ("DE", 132, 60), ("US", 124, 60)],
)
def test_listening_for_radar(country: str, number: int, wait: float) -> None:
    (channel,) = [c for c in lawful_channels(country, "5", 20) if c.number == number]
    Published(
        wait,
        "s",
        "ETSI EN 301 893 and 47 CFR 15.407",
        f"channel availability check, {country}, channel {number}",
        "excerpt",
        0,
        "a limit",
    ).check(radar_listen_s(country, channel))
