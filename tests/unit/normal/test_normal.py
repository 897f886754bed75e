"""Chances and quantiles in every shape and far out, against a general library's."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import special

from rehaul.normal import below, chances, ln_below, quantile, student_quantile
from rehaul.normal.warm import warm_up

VALUES = np.linspace(-38, 38, 20_001)
CHANCES = np.concatenate(
    [np.logspace(-300, -1, 2000), np.linspace(0.001, 0.999, 5001), 1 - np.logspace(-15, -1, 1000)]
)


def test_chances_below() -> None:
    found, known = below(VALUES), special.ndtr(VALUES)
    seen = known > 1e-9
    assert np.abs(found[seen] / known[seen] - 1).max() < 2e-14
    there = known > 1e-300
    assert np.abs(found[there] / known[there] - 1).max() < 1e-12, (
        "where a digit of the value is a thousand of the chance"
    )


def test_quantiles() -> None:
    assert np.abs(quantile(CHANCES) - special.ndtri(CHANCES)).max() < 1e-13
    off = CHANCES[CHANCES != 0.5]
    assert np.abs(quantile(off) / special.ndtri(off) - 1).max() < 4e-15


@pytest.mark.parametrize("function", [below, quantile])
def test_one_or_many_are_the_same(function: object, monkeypatch: pytest.MonkeyPatch) -> None:
    """As Python runs it, and compiled."""
    for values in (VALUES / 40, CHANCES, np.array([0.0, 1.0, -1.0, 2.0, np.nan, np.inf, -np.inf])):
        answers = []
        for few in (0, 10**9):
            monkeypatch.setattr(chances, "FEW", few)
            answers.append(function(values))  # type: ignore[operator]
        assert np.array_equal(*answers, equal_nan=True)


def test_shapes_and_precision() -> None:
    for function in (below, quantile):
        for few in (function(0.25), function(np.full((2, 3), 0.25)), function(np.full((40, 50), 0.25))):
            assert few.dtype == np.float64
        assert function(0.25).shape == () and function(np.full((40, 50), 0.25)).shape == (40, 50)
        assert function([[0.25, 0.5]]).shape == (1, 2) and function(np.zeros((0, 3))).shape == (0, 3)
        assert function(np.full((40, 50), 0.25, np.float32)).dtype == np.float32
        turned = np.arange(2000.0).reshape(40, 50).T / 2000
        assert np.array_equal(function(turned), function(turned.copy()), equal_nan=True)
    assert below(3).dtype == np.float64, "a whole number is no reason to round"


def test_at_the_ends() -> None:
    assert quantile([0.0, 1.0]).tolist() == [-math.inf, math.inf]
    assert np.isnan(quantile([-0.1, 1.1, math.nan])).all() and math.isnan(below(math.nan))
    assert below([-math.inf, math.inf, -40.0]).tolist() == [0.0, 1.0, below(-40.0)]
    assert quantile(0.5) == 0.0


@pytest.mark.parametrize("value", [*np.linspace(-400, 30, 431), -30.0, -29.999999, -1e-9, 1e-9])
def test_logarithms_of_chances(value: float) -> None:
    assert ln_below(value) == pytest.approx(special.log_ndtr(value), rel=1e-14)


def test_logarithms_where_there_is_no_chance() -> None:
    assert ln_below(-math.inf) == -math.inf and ln_below(math.inf) == 0.0
    assert ln_below(38.0) < 0.0, "a general library says 0"


@pytest.mark.parametrize("freedom", [1, 1.5, 2, 3, 5.3, 10, 24, 24.9, 57, 1000])
def test_students_quantiles(freedom: float) -> None:
    for chance in (0.001, 0.05, 0.4, 0.51, 0.75, 0.9, 0.95, 0.99, 0.9995):
        assert student_quantile(chance, freedom) == pytest.approx(special.stdtrit(freedom, chance), rel=1e-10)
    assert student_quantile(0.5, freedom) == 0.0


def test_students_with_much_freedom_is_normal() -> None:
    assert student_quantile(0.95, 1e7) == pytest.approx(float(quantile(0.95)), rel=1e-6)


def test_many_are_warmed_up() -> None:
    warm_up()
