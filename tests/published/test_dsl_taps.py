"""Notches of open branches against the table worked out for telephone pairs."""

from __future__ import annotations

import pytest

from published import Published
from rehaul.copper import tap_notch_hz
from rehaul.facts.dsl import dsl_number


@pytest.mark.parametrize(
    ("metres", "mhz"), [(2, 24.7), (5, 9.9), (10, 4.9), (15, 3.3), (20, 2.5), (30, 1.6), (50, 1.0)]
)
def test_first_notch(metres: float, mhz: float) -> None:
    place = f"{metres} m, v = 0.66 c"
    Published(mhz, "MHz", "quarter wave f = v / 4L", place, "computed", 0.06, "rounded to 0.1 MHz").check(
        tap_notch_hz(metres) / 1e6
    )


def test_from_three_metres_on_a_tap_touches_profile_17a() -> None:
    why = "the first notch of 3 m is at 16.5 MHz, of 2.5 m at 19.8"
    edge_m = 0.66 * 299.792458 / (4 * 17.66)
    Published(3.0, "m", "ITU-T G.993.2 profile 17a", "top at 17.66 MHz", "excerpt", 0.25, why).check(edge_m)
    assert tap_notch_hz(3.0) < dsl_number("band top") < tap_notch_hz(2.5)
