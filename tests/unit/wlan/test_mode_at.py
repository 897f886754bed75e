"""The mode in which a link carries most, beside a search through all of its modes."""

from __future__ import annotations

import math

import pytest

from rehaul.facts.modulation import Generation
from rehaul.wlan.airtime import Mode, air_per_bit_us
from rehaul.wlan.goodput import mode_at, packets_of, thresholds_dbm
from rehaul.wlan.link import RadioLink

LINKS = (RadioLink("5", Generation.HE, 80, 2), RadioLink("2.4", Generation.HT, 20, 2, up_lag_db=4.0))


def searched(power_dbm: float, link: RadioLink) -> Mode | None:
    """One after the other: spread over more chains, fewer streams need less power."""
    found, least_us = None, math.inf
    for mode, chains in link.modes():
        needed = thresholds_dbm(mode.width_mhz, link.ladder, link.noise_figure_down_db)[mode.mcs]
        air_us = air_per_bit_us(mode, "udp", packets_of(mode))[0]
        if power_dbm + 10 * math.log10(chains / mode.streams) >= needed and air_us < least_us:
            found, least_us = mode, air_us
    return found


@pytest.mark.parametrize("link", LINKS)
def test_it_is_the_one_that_a_search_finds(link: RadioLink) -> None:
    modes = set()
    for step in range(-200, -60):
        power_dbm = step / 2 + 0.13  # beside every threshold
        assert mode_at(power_dbm, link) == searched(power_dbm, link), power_dbm
        modes.add(mode_at(power_dbm, link))
    assert None in modes and len(modes) > 8
