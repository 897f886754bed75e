"""What the rate tables refuse."""

import pytest

from rehaul.errors import OutOfRange
from rehaul.wlan import Generation, phy_rate_mbps, top_mcs, widths_mhz


@pytest.mark.parametrize(
    ("mode", "said"),
    [
        (("HT", 0, 80, 1, 0.8), "no channel of 80 MHz"),
        (("HE", 12, 80, 1, 0.8), "no MCS 12"),
        (("HE", -1, 80, 1, 0.8), "no MCS -1"),
        (("HE", 5, 80, 9, 0.8), "9 streams"),
        (("HE", 5, 80, 1, 0.4), "guard interval of 0.4"),
        (("VHT", 9, 20, 1, 0.4), "leaves out MCS 9"),
        (("VHT", 6, 80, 3, 0.4), "leaves out MCS 6 at 80 MHz with 3 streams"),
    ],
)
def test_unknown_modes_are_refused(mode: tuple[str, int, int, int, float], said: str) -> None:
    with pytest.raises(OutOfRange, match=said):
        phy_rate_mbps(*mode)


@pytest.mark.parametrize(("name", "most"), [("HT", 4), ("VHT", 8), ("HE", 8), ("EHT", 8)])
def test_a_generation_has_so_many_streams_and_each_carries_as_much(name: str, most: int) -> None:
    one = phy_rate_mbps(name, 0, 20, 1, 0.8)
    assert [phy_rate_mbps(name, 0, 20, n, 0.8) for n in range(1, most + 1)] == pytest.approx(
        [one * n for n in range(1, most + 1)]
    )
    for streams in (0, most + 1):
        with pytest.raises(OutOfRange, match=f"no mode of {streams} streams"):
            phy_rate_mbps(name, 0, 20, streams, 0.8)


def test_vht_holds_mcs_9_at_20_mhz_with_three_streams() -> None:
    assert phy_rate_mbps("VHT", 9, 20, 3, 0.4) == pytest.approx(288.9, abs=0.05)


def test_widths_and_steps() -> None:
    assert widths_mhz("HT") == (20, 40)
    assert widths_mhz(Generation.EHT)[-1] == 320
    assert [top_mcs(name, 20) for name in ("HT", "VHT", "HE", "EHT")] == [7, 9, 11, 13]
