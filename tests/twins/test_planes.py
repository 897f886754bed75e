"""Weights counted in bits against plain sums, and the cuts made of them against every choice."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from rehaul.exact.cuts import rounded
from rehaul.exact.planes import count_for, gains_at, planes_of, served_at, whole_with


@pytest.mark.parametrize("seed", range(30))
def test_gains_equal_plain_sums(seed: int) -> None:
    random = np.random.default_rng(seed)
    options, places, groups = random.integers(2, 9), random.integers(1, 300), random.integers(1, 5)
    serves = random.random((options, places)) < 0.4
    largest = int(random.choice([2, 9, 10**9]))
    weights = random.integers(0, largest, (groups, places))
    x = random.choice([0.0, 0.3, 0.6, 1.0], options)
    planes = planes_of(serves, weights)
    count = count_for(planes, groups)
    full = (x @ serves) >= 1 - 1e-6
    gains_at(planes, count, x)
    assert np.array_equal(count.whole, weights @ full)
    assert np.array_equal(count.gain, (weights * ~full) @ serves.T)
    whole_with(planes, count, 0, 1)
    assert np.array_equal(count.whole, weights @ (full | serves[0] | serves[1]))
    served_at(planes, count, x)
    assert np.array_equal(count.whole, weights @ full)


@pytest.mark.parametrize("seed", range(40))
def test_rounded_cut_holds_for_every_whole_choice(seed: int) -> None:
    """Wherever the plain sum reaches what is missing, the rounded one reaches one."""
    random = np.random.default_rng(seed)
    gains = random.integers(0, 40, 8).astype(float)
    short = float(random.integers(5, 60))
    for divisor in [0.0, *(g for g in gains if 0 < g < short and short / g % 1 > 1e-3)]:
        row = np.array([rounded(gain, short, divisor) for gain in gains])
        for pick in itertools.product((0, 1), repeat=8):
            if np.dot(pick, gains) >= short:
                assert np.dot(pick, row) >= 1 - 1e-9
