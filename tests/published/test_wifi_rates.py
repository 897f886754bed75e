"""Rates of the standard's tables, and their noise and receiver limits."""

import pytest

from published import Published
from rehaul.wlan import Generation, noise_dbm, phy_rate_mbps, thresholds_dbm
from rehaul.wlan.rates import is_defined

TABLE = "IEEE Std 802.11 rate tables"
WHY = "tables are printed to a tenth of a Mb/s"


def rate(value: float, place: str) -> Published:
    return Published(value, "Mb/s", TABLE, place, "excerpt", 0.051, WHY)


@pytest.mark.parametrize(
    ("mode", "published"),
    [
        (("HT", 7, 20, 1, 0.4), rate(72.2, "HT 20 MHz MCS 7, short guard")),
        (("HT", 7, 40, 2, 0.4), rate(300.0, "HT 40 MHz MCS 15, short guard")),
        (("HT", 0, 20, 1, 0.8), rate(6.5, "HT 20 MHz MCS 0, long guard")),
        (("VHT", 9, 80, 1, 0.4), rate(433.3, "VHT 80 MHz MCS 9")),
        (("VHT", 9, 80, 2, 0.4), rate(866.7, "VHT 80 MHz MCS 9, two streams")),
        (("VHT", 9, 160, 2, 0.4), rate(1733.3, "VHT 160 MHz MCS 9, two streams")),
        (("HE", 11, 20, 1, 0.8), rate(143.4, "HE 20 MHz MCS 11")),
        (("HE", 11, 80, 1, 0.8), rate(600.5, "HE 80 MHz MCS 11")),
        (("HE", 11, 80, 2, 0.8), rate(1201.0, "HE 80 MHz MCS 11, two streams")),
        (("HE", 11, 160, 2, 0.8), rate(2402.0, "HE 160 MHz MCS 11, two streams")),
        (("EHT", 13, 160, 2, 0.8), rate(2882.4, "EHT 160 MHz MCS 13, two streams")),
        (("EHT", 13, 320, 2, 0.8), rate(5764.7, "EHT 320 MHz MCS 13, two streams")),
    ],
)
def test_rates(mode: tuple[str, int, int, int, float], published: Published) -> None:
    published.check(phy_rate_mbps(*mode))


def test_modes_that_the_standard_leaves_out() -> None:
    """VHT has no step 6 at 80 MHz with 3 or 7 streams, nor some of step 9."""
    left = {
        (mcs, width, streams)
        for mcs in range(10)
        for width in (20, 40, 80, 160)
        for streams in range(1, 9)
        if not is_defined(Generation.VHT, mcs, width, streams)
    }
    narrow = {(9, 20, streams) for streams in (1, 2, 4, 5, 7, 8)}
    assert left == {*narrow, (6, 80, 3), (6, 80, 7), (9, 80, 6), (9, 160, 3)}
    Published(
        10,
        "modes",
        "IEEE Std 802.11",
        "VHT-MCS tables as coded in a public packet analyser",
        "excerpt",
        0,
        "a count",
    ).check(len(left))


def test_noise() -> None:
    Published(
        -100.96, "dBm", "ITU-R P.372", "kTB at 290 K, 20 MHz", "computed", 0.01, "printed to 0.01 dB"
    ).check(noise_dbm(20, 0))


RUSSIAN_RULES = "Rules for radio access equipment of the Russian Federation, docs.cntd.ru 902238635"


@pytest.mark.parametrize(
    ("width", "levels"),
    [
        (20, (-82, -79, -77, -74, -70, -66, -65, -64, -59, -57, -54, -52)),
        (40, (-79, -76, -74, -71, -67, -63, -62, -61, -56, -54, -51, -49)),
        (80, (-76, -73, -71, -68, -64, -60, -59, -58, -53, -51, -48, -46)),
        (160, (-73, -70, -68, -65, -61, -57, -56, -55, -50, -48, -45, -43)),
    ],
)
def test_guaranteed_ladder_at_every_width(width: int, levels: tuple[int, ...]) -> None:
    for mcs, (level, ours) in enumerate(zip(levels, thresholds_dbm(width, "guaranteed"), strict=False)):
        place = f"receiver sensitivity, {width} MHz, MCS {mcs}"
        why = "printed in whole dB; doublings are 3.01 dB"
        Published(level, "dBm", RUSSIAN_RULES, place, "printed", 0.04, why).check(ours)


@pytest.mark.parametrize(("mcs", "level"), [(0, -82.0), (7, -64.0), (9, -57.0), (11, -52.0)])
def test_guaranteed_ladder_is_the_minimum_sensitivity(mcs: int, level: float) -> None:
    limit = Published(
        level, "dBm", "IEEE Std 802.11ax-2021", "minimum sensitivity, 20 MHz", "excerpt", 1e-9, "a limit"
    )
    limit.check(thresholds_dbm(20, "guaranteed")[mcs])


@pytest.mark.parametrize("mcs", range(12))
def test_sensitivity_less_noise_less_ideal_need_is_nearly_constant(mcs: int) -> None:
    margin = Published(
        19.75,
        "dB",
        "minimum sensitivity, kTB and ns-3 3.44 white-noise limits",
        "all steps of HE",
        "computed",
        0.8,
        "the three tables agree to 19.0 to 20.5 dB over all steps",
    )
    ideal_snr_db = thresholds_dbm(20, "best")[mcs] - noise_dbm(20, 7)
    margin.check(thresholds_dbm(20, "guaranteed")[mcs] - noise_dbm(20, 0) - ideal_snr_db)
