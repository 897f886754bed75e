"""Goodput and collisions against figures worked out or simulated elsewhere."""

import pytest

from link_rates import alone_mbps, contending_mbps
from published import Published
from rehaul.wlan import (
    Generation,
    Mode,
    RadioLink,
    after_hop_mbps,
    backoff,
    ethernet_tcp_mbps,
    goodput_mbps,
)

NS3 = "ns-3 3.44 simulation (earlier runs, not by this suite)"


def he80(mcs: int) -> Mode:
    return Mode(Generation.HE, mcs, 80, 2, 0.8)


@pytest.mark.parametrize(
    ("mcs", "udp", "tcp", "two", "five", "five_protected"),
    [
        (0, 65.1, 56.7, 60.5, 52.0, 64.3),
        (2, 196.8, 171.6, 184.8, 162.9, 194.3),
        (4, 394.2, 343.6, 368.0, 314.9, 389.3),
        (7, 652.2, 559.4, 614.2, 530.5, 642.0),
        (9, 857.0, 731.4, 807.9, 714.8, 841.0),
        (11, 1052.9, 915.6, 997.0, 855.1, 1028.0),
    ],
)
def test_closed_form_against_a_packet_simulator(
    mcs: int, udp: float, tcp: float, two: float, five: float, five_protected: float
) -> None:
    mode = he80(mcs)
    for value, share, place, actual in (
        (udp, 0.015, "UDP, one station", alone_mbps(mode, "udp")),
        (tcp, 0.04, "TCP, one station", alone_mbps(mode, "tcp")),
        (two, 0.04, "UDP up, two stations", contending_mbps(mode, 2)),
        (five, 0.04, "UDP up, five stations", contending_mbps(mode, 5)),
        (five_protected, 0.015, "UDP up, five stations, RTS", contending_mbps(mode, 5, protect=True)),
    ):
        why = "beacons, start-up and the simulator's own random spread are not in the closed form"
        Published(value, "Mb/s", NS3, f"HE80 2×2 MCS {mcs}, {place}", "computed", share * value, why).check(
            actual
        )


def test_other_generations_against_a_packet_simulator() -> None:
    vht = Mode(Generation.VHT, 9, 80, 2, 0.4)
    Published(676.4, "Mb/s", NS3, "VHT80 2×2 MCS 9 UDP", "computed", 6.8, "1 %, one run").check(
        alone_mbps(vht, "udp")
    )
    he20 = Mode(Generation.HE, 11, 20, 2, 0.8)
    Published(227.8, "Mb/s", NS3, "HE20 2×2 MCS 11 TCP", "computed", 9.1, "4 %, as all TCP").check(
        alone_mbps(he20)
    )


@pytest.mark.parametrize(
    ("measured_mbps", "document", "place"),
    [
        (616.0, "repository openwrt/mt76, issue 432", "comment of 2021-02-20, a link of 866.7 Mb/s"),
        (625.0, "repository morrownr/USB-WiFi", "home/Speed_Comparison_Test.md, fastest of two streams"),
    ],
)
def test_ceilings_of_two_streams_at_80_mhz(measured_mbps: float, document: str, place: str) -> None:
    """Radios put two packets in a frame: with one the ceiling would be 572 Mb/s, less than they do."""
    link = RadioLink("5", Generation.VHT, 80, 2, 0.4)
    why = "6 %: the closed form of TCP lies up to 5 % above simulations; a best adapter is no mean"
    Published(measured_mbps, "Mb/s", document, place, "excerpt", 0.06 * measured_mbps, why).check(
        float(goodput_mbps(-30.0, link))
    )


@pytest.mark.parametrize(("stations", "collision"), [(2, 0.1046), (5, 0.2715)])
def test_collisions(stations: int, collision: float) -> None:
    Published(
        collision,
        "",
        "G. Bianchi, IEEE JSAC 18(3), 2000",
        f"equations (7) and (9), W = 16, m = 6, n = {stations}",
        "computed",
        5.1e-5,
        "solved to four places",
    ).check(backoff(stations).collision)


@pytest.mark.parametrize(("line", "tcp"), [(100, 94.15), (1000, 941.48), (2500, 2353.7), (10_000, 9414.8)])
def test_tcp_over_ethernet(line: float, tcp: float) -> None:
    Published(
        tcp, "Mb/s", "IEEE Std 802.3 and RFC 7323", "1448 of 1538 bytes", "computed", 0.06, "printed digits"
    ).check(ethernet_tcp_mbps(line))


@pytest.mark.parametrize(("hops", "carried"), [(2, 112.1), (3, 74.5)])
def test_hops_on_one_channel(hops: int, carried: float) -> None:
    one_hop = 233.8
    left = one_hop
    for _ in range(hops - 1):
        left = float(after_hop_mbps(left, one_hop))
    Published(
        carried, "Mb/s", NS3, f"{hops} hops at MCS 3", "computed", 0.06 * carried, "forwarding costs a little"
    ).check(left)
