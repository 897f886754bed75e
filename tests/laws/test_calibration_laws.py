"""What every calibration keeps to: order does not matter, signs mirror, nothing gets less sure."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from counts import counted
from rehaul.predict.correction import Correction, correct

Sets = tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]


@st.composite
def readings(draw: st.DrawFn) -> Sets:
    """Prior variances (p,), design (n, p), differences (n,) and noise (n,)."""
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    doubts, count = draw(st.integers(1, 6)), draw(st.integers(1, 30))
    design = rng.integers(0, 4, (count, doubts)).astype(float)
    rough = draw(st.floats(0.2, 15))
    return rng.uniform(0.5, 20, doubts), design, rng.normal(0, rough, count), rng.uniform(4, 40, count)


def corrected(prior: NDArray, design: NDArray, off: NDArray, noise: NDArray) -> Correction:
    return correct(tuple(f"t{i}" for i in range(len(prior))), prior, design, off, noise)


@given(readings())
@settings(max_examples=counted(24, 60), deadline=None)
def test_the_order_of_readings_does_not_matter(case: Sets) -> None:
    prior, design, off, noise = case
    turn = np.arange(len(off))[::-1]
    one, other = corrected(prior, design, off, noise), corrected(prior, design[turn], off[turn], noise[turn])
    np.testing.assert_allclose(one.mean_db, other.mean_db, atol=1e-6)
    np.testing.assert_allclose(one.weight, other.weight[turn], atol=1e-6)


@given(readings())
@settings(max_examples=counted(24, 60), deadline=None)
def test_readings_turned_round_turn_the_correction_round(case: Sets) -> None:
    prior, design, off, noise = case
    one, other = corrected(prior, design, off, noise), corrected(prior, design, -off, noise)
    np.testing.assert_allclose(one.mean_db, -other.mean_db, atol=1e-9)
    assert one.scale == other.scale


@given(readings())
@settings(max_examples=counted(24, 60), deadline=None)
def test_terms_are_never_less_sure_than_before_but_for_the_scale(case: Sets) -> None:
    prior, design, off, noise = case
    found = corrected(prior, design, off, noise)
    left = np.diag(prior) - found.covariance / found.scale
    assert np.linalg.eigvalsh(left).min() > -1e-8 * prior.max()
    assert np.linalg.eigvalsh(found.covariance).min() > 0
    assert np.all((found.weight > 0) & (found.weight <= 1))


@given(readings())
@settings(max_examples=counted(24, 60), deadline=None)
def test_a_term_that_no_reading_touches_stays(case: Sets) -> None:
    prior, design, off, noise = case
    wider = np.append(prior, 9.0)
    found = corrected(wider, np.column_stack([design, np.zeros(len(off))]), off, noise)
    assert found.mean_db[-1] == 0
    assert np.isclose(found.covariance[-1, -1] / found.scale, 9.0)
