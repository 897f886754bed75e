"""Sums of long-tailed minutes against SciPy's lognormal and against drawn samples."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from rehaul.takeoff.spread import Z_90, lognormal_moments, sum_of


def test_the_quantile_is_scipys() -> None:
    assert pytest.approx(stats.norm.ppf(0.9), abs=1e-12) == Z_90


@pytest.mark.parametrize(("middle", "high"), [(5, 15), (45, 110), (180, 420), (10, 10)])
def test_moments_are_scipys(middle: float, high: float) -> None:
    mean, variance = lognormal_moments(middle, high)
    sigma = np.log(high / middle) / Z_90
    if sigma == 0:
        assert (mean, variance) == (middle, 0)
        return
    reference = stats.lognorm(s=sigma, scale=middle)
    assert mean == pytest.approx(reference.mean(), rel=1e-12)
    assert variance == pytest.approx(reference.var(), rel=1e-9)
    assert reference.ppf(0.9) == pytest.approx(high, rel=1e-12)


def test_a_single_task_comes_back() -> None:
    assert sum_of([(1, 45, 110)]) == pytest.approx((45, 110), rel=1e-3)


def test_a_job_of_many_tasks_is_near_what_is_drawn() -> None:
    """Against 200,000 drawn jobs, whose own median and quantile are known to about 0.3 %."""
    tasks = [(9, 6, 9), (8, 5, 15), (8, 8, 20), (4, 8, 13), (2, 180, 420), (3, 25, 45)]
    random = np.random.default_rng(7)
    total = np.zeros(200_000)
    for count, middle, high in tasks:
        sigma = np.log(high / middle) / Z_90
        for _ in range(count):
            total += middle * np.exp(sigma * random.standard_normal(len(total)))
    middle, high = sum_of(tasks)
    assert middle == pytest.approx(np.median(total), rel=0.005)
    assert high == pytest.approx(np.quantile(total, 0.9), rel=0.005)


def test_nothing_takes_no_time() -> None:
    assert sum_of([]) == (0.0, 0.0)
