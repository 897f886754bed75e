"""What operating systems print of a link, on invented outputs."""

from __future__ import annotations

import json

import pytest

from rehaul.house import Band
from rehaul.proof.own_link import (
    OwnLink,
    from_linux_iw,
    from_linux_proc,
    from_linux_sys,
    from_mac_airport,
    from_mac_ifconfig,
    from_windows_adapters,
    from_windows_wlan,
)

IW = """Connected to 02:00:00:aa:bb:cc (on wlan0)
\tSSID: invented
\tfreq: 5180.0
\tRX: 1234 bytes (12 packets)
\tsignal: -57 dBm
\trx bitrate: 780.0 MBit/s VHT-MCS 8 80MHz VHT-NSS 2
\ttx bitrate: 866.7 MBit/s VHT-MCS 9 80MHz short GI VHT-NSS 2
"""
PROC = """Inter-| sta-|   Quality        |   Discarded packets               | Missed | WE
 face | tus | link level noise |  nwid  crypt   frag  retry   misc | beacon | 22
 wlan0: 0000   53.  -57.  -256        0      0      0      0      0        0
"""
IFCONFIG = """lo0: flags=8049<UP,LOOPBACK> mtu 16384
\tinet 127.0.0.1 netmask 0xff000000
en4: flags=8863<UP,BROADCAST> mtu 1500
\tmedia: autoselect (1000baseT <full-duplex,flow-control>)
\tstatus: active
en5: flags=8863<UP,BROADCAST> mtu 1500
\tmedia: autoselect (100baseTX <half-duplex>)
\tstatus: active
en6: flags=8863<UP,BROADCAST> mtu 1500
\tmedia: autoselect (none)
\tstatus: inactive
en7: flags=8863<UP,BROADCAST> mtu 1500
\tmedia: autoselect (2.5GbaseT <full-duplex>)
\tstatus: active
"""
AIRPORT = """Wi-Fi:

      Interfaces:
        en0:
          Card Type: Wi-Fi
          Status: Connected
          Current Network Information:
            invented:
              PHY Mode: 802.11ax
              Channel: 36 (5GHz, 80MHz)
              Signal / Noise: -52 dBm / -90 dBm
              Transmit Rate: 1080
          Other Local Wi-Fi Networks:
            other:
              Channel: 1 (2GHz, 20MHz)
"""
ADAPTERS = """[
  {"Name": "Ethernet", "Status": "Up", "LinkSpeed": "1 Gbps", "MediaType": "802.3", "FullDuplex": true},
  {"Name": "Wi-Fi", "Status": "Up", "LinkSpeed": "780 Mbps", "MediaType": "802.11", "FullDuplex": null},
  {"Name": "Ethernet 2", "Status": "Disconnected", "LinkSpeed": "0 bps", "MediaType": "802.3"}
]"""
WLAN = """
There is 1 interface on the system:

    Name                   : Wi-Fi
    State                  : connected
    SSID                   : invented
    Band                   : 5 GHz
    Channel                : 44
    Receive rate (Mbps)    : 780
    Transmit rate (Mbps)   : 866.7
    Signal                 : 86%
"""
WLAN_GERMAN = """
    Name                   : WLAN
    Status                 : Verbunden
    Kanal                  : 6
    Empfangsrate (MBit/s)  : 130
    Signal                 : 40%
"""


def test_linux_wireless() -> None:
    assert from_linux_iw("wlan0", IW) == OwnLink(
        name="wlan0",
        kind="wireless",
        rate_mbps=866.7,
        power_dbm=-57,
        channel=36,
        band=Band.GHZ_5,
        width_mhz=80,
    )
    assert from_linux_iw("wlan0", "Not connected.") is None
    assert [link.power_dbm for link in from_linux_proc(PROC)] == [-57]
    assert list(from_linux_proc("")) == []


def test_linux_wired() -> None:
    assert from_linux_sys("eth0", "100\n", "half\n").duplex == "half"
    assert from_linux_sys("eth0", "1000", "full").rate_mbps == 1000
    for nothing in ("-1", "", "unknown"):
        assert from_linux_sys("eth0", nothing, "unknown").rate_mbps is None


def test_mac() -> None:
    found = {link.name: (link.rate_mbps, link.duplex) for link in from_mac_ifconfig(IFCONFIG)}
    assert found == {"en4": (1000, "full"), "en5": (100, "half"), "en7": (2500, "full")}
    air = from_mac_airport(AIRPORT)
    assert air is not None
    assert (air.name, air.rate_mbps, air.power_dbm, air.channel, air.band, air.width_mhz) == (
        "en0", 1080, -52, 36, Band.GHZ_5, 80,
    )  # fmt: skip
    assert from_mac_airport("Wi-Fi:\n  Status: Off\n") is None


def test_windows() -> None:
    assert list(from_windows_adapters(ADAPTERS)) == [
        OwnLink(name="Ethernet", kind="wired", rate_mbps=1000, duplex="full")
    ]
    assert list(from_windows_adapters("")) == []
    air = from_windows_wlan(WLAN)
    assert air is not None
    assert (air.rate_mbps, air.power_dbm, air.channel, air.band) == (866.7, -57, 44, Band.GHZ_5)
    german = from_windows_wlan(WLAN_GERMAN)
    assert german is not None and (german.power_dbm, german.channel) == (-80, 6)
    assert from_windows_wlan("There is no wireless interface on the system.") is None


@pytest.mark.parametrize(
    ("frequency_mhz", "channel", "band"),
    [  # channel starting frequencies of IEEE Std 802.11: 2407, 5000 and 5950 MHz, 5 MHz a number
        (2412, 1, "2.4"),
        (2472, 13, "2.4"),
        (2484, 14, "2.4"),
        (5180, 36, "5"),
        (5885, 177, "5"),
        (5955, 1, "6"),
        (7115, 233, "6"),
        (3000, None, None),
    ],
)
def test_a_frequency_is_a_channel_of_a_band(
    frequency_mhz: int, channel: int | None, band: str | None
) -> None:
    link = from_linux_iw("w", f"Connected to x\n\tfreq: {frequency_mhz}\n")
    assert link is not None and link.band == band
    assert channel is None or link.channel == channel
    assert (link.rate_mbps, link.power_dbm, link.width_mhz) == (None, None, None)


def test_what_a_line_lacks_is_not_made_up() -> None:
    plain = from_linux_iw("w", "Connected to x\n")
    assert plain == OwnLink(name="w", kind="wireless")
    assert from_linux_sys("e", " 2500\n", "unknown") == OwnLink(name="e", kind="wired", rate_mbps=2500)
    assert from_linux_sys("e", "100", "Full\n").duplex == "full"
    assert from_linux_sys("e", "0100", "full").rate_mbps is None
    assert from_linux_sys("e", "100 full", "full").rate_mbps is None
    unsaid = "en1: up\n\tmedia: autoselect (10baseT)\n\tstatus: active\n"
    assert list(from_mac_ifconfig(unsaid)) == [OwnLink(name="en1", kind="wired", rate_mbps=10)]


def test_only_levels_below_nought_are_decibels() -> None:
    head = "Inter-| sta-|\n face |\n"
    for line, power in (
        ("wl1: 0000 70. 40. -95.", []),
        ("wl1: 0000 70. -40 -95", [-40.0]),
        ("wl1: 0000", []),
    ):
        assert [link.power_dbm for link in from_linux_proc(f"{head}{line}\n")] == power
    assert [link.name for link in from_linux_proc(PROC)] == ["wlan0"]
    assert [link.power_dbm for link in from_linux_proc(f"{head}w: 0 1 -2")] == [-2.0], "four cells are enough"


def test_a_mac_whose_channel_says_no_band() -> None:
    bare = AIRPORT.replace(" (5GHz, 80MHz)", "").replace("Card Type", "Kind of card")
    air = from_mac_airport(bare)
    assert air is not None and (air.name, air.channel, air.band, air.width_mhz) == ("Wi-Fi", 36, None, None)
    slow = from_mac_airport(AIRPORT.replace("36 (5GHz, 80MHz)", "6 (2GHz, 20MHz)"))
    assert slow is not None and (slow.band, slow.width_mhz) == (Band.GHZ_2_4, 20)
    assert from_mac_airport(AIRPORT.replace("Channel: 36", "Chanel: 36").split("Other")[0]) is None


def test_adapters_of_windows_one_or_several_in_any_scale() -> None:
    def one(**more: object) -> list[OwnLink]:
        row = {"Name": "E", "Status": "Up", "LinkSpeed": "100 Mbps", "MediaType": "802.3", **more}
        return list(from_windows_adapters(json.dumps(row)))

    assert one() == [OwnLink(name="E", kind="wired", rate_mbps=100)]
    assert one(FullDuplex=False) == [OwnLink(name="E", kind="wired", rate_mbps=100, duplex="half")]
    assert [one(LinkSpeed=speed)[0].rate_mbps for speed in ("2.5 Gbps", "10Mbps", "640 Kbps")] == [
        2500,
        10,
        0.64,
    ]
    for nothing in ({"Status": "Down"}, {"MediaType": "Native 802.11"}, {"LinkSpeed": "fast"}):
        assert one(**nothing) == []
    assert list(from_windows_adapters("  \n")) == []


def test_wireless_of_windows_by_its_numbers() -> None:
    assert [
        link.power_dbm
        for text in ("Signal : 0%", "Signal : 100 %", "Signal : 140%")
        for link in [from_windows_wlan(text)]
        if link
    ] == [-100, -50, -50]
    bare = from_windows_wlan("Signal : 50%")
    assert bare == OwnLink(name="Wi-Fi", kind="wireless", power_dbm=-75)
    old = from_windows_wlan("    Name : Drahtlos \n    Kanal : 11\n    Band : 2,4 GHz\n    Signal : 50%\n")
    assert old is not None and (old.name, old.channel, old.band) == ("Drahtlos", 11, Band.GHZ_2_4)


def test_names_of_networks_are_not_taken_in() -> None:
    for link in (from_linux_iw("wlan0", IW), from_mac_airport(AIRPORT), from_windows_wlan(WLAN)):
        assert link is not None and "invented" not in link.model_dump_json()


def test_what_is_no_json_tells_of_no_link() -> None:
    assert list(from_windows_adapters("Get-NetAdapter : not recognised")) == []
