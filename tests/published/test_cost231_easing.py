"""Sums of many crossings against the law COST 231 gives for floors."""

from __future__ import annotations

import numpy as np
import pytest

from published import Published
from rehaul.radio.easing import from_eased, to_eased

# k floors of 18.3 dB: 18.3 k^((k + 2)/(k + 1) - 0.46)
FLOORS = {
    k: Published(
        value,
        "dB",
        "COST 231 final report",
        f"multi-wall model, {k} floors of 18.3 dB",
        "excerpt",
        tolerance,
        "k^(3/4) stands for the printed exponent, which changes with k: 9 % at most",
    )
    for k, value, tolerance in ((1, 18.3, 0.01), (2, 33.524, 3.1), (3, 43.589, 2.0), (4, 51.048, 1.0))
}


@pytest.mark.parametrize("floors", FLOORS)
def test_law_for_floors(floors: int) -> None:
    sums = np.zeros((1, 3, 1), dtype=np.float32)
    sums[0, 0] = floors * to_eased(np.array([18.3], dtype=np.float32))
    from_eased(sums)
    FLOORS[floors].check(float(sums[0, 0, 0]))
