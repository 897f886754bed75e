"""From medians and spreads to chances, and shadowing that is alike at neighbouring places."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtr

from rehaul.facts.radio_numbers import radio_numbers
from rehaul.radio.grid import Grid


def probability_of(power_dbm: ArrayLike, sd_db: ArrayLike, at_least_dbm: ArrayLike) -> NDArray[np.float64]:
    """Chance that the power is at least `at_least_dbm`, from median and standard deviation; broadcasts.

    **Validity**: decibels spread normally. **Source**: ITU-R P.1238 (shadowing is log-normal).
    """
    margin = np.asarray(power_dbm, dtype=np.float64) - np.asarray(at_least_dbm, dtype=np.float64)
    return np.asarray(ndtr(margin / np.asarray(sd_db, dtype=np.float64)))


def shadowing_correlation(distance_m: ArrayLike) -> NDArray[np.float64]:
    """Correlation of shadowing between two places: exp(-d / d0), d0 of the fact table; any shape.

    **Validity**: one storey. **Source**: 3GPP TR 38.901, 7.4.4 (exponential autocorrelation).
    """
    return np.asarray(np.exp(-np.asarray(distance_m, dtype=np.float64) / _reach_m()))


def shadowing_sample_db(grid: Grid, generator: np.random.Generator) -> NDArray[np.float64]:
    """One drawn map of shadowing (storey, ny, nx) [dB], correlated over distance within each storey.

    Drawn exactly, by circulant embedding, from the correlation of `shadowing_correlation` with the
    standard deviation of the fact table; storeys are independent.
    **Validity**: as `shadowing_correlation`. **Source**: as there; the method is Dietrich and Newsam, 1997.
    """
    storeys, ny, nx = grid.shape
    pad = int(np.ceil(6 * _reach_m() / grid.step_m))  # beyond six reaches the wrapped tail is below 0.3 %
    rows, columns = 2 * max(ny, pad), 2 * max(nx, pad)
    y = np.minimum(np.arange(rows), rows - np.arange(rows)) * grid.step_m
    x = np.minimum(np.arange(columns), columns - np.arange(columns)) * grid.step_m
    spectrum = np.fft.fft2(shadowing_correlation(np.hypot(y[:, None], x[None, :]))).real
    root = np.sqrt(np.maximum(spectrum, 0.0) / (rows * columns))
    white = generator.standard_normal((storeys, 2, rows, columns))
    drawn = np.fft.fft2(root * (white[:, 0] + 1j * white[:, 1]), axes=(1, 2)).real[:, :ny, :nx]
    return np.asarray(radio_numbers()["shadowing_sd"] * drawn)


def _reach_m() -> float:
    return radio_numbers()["shadowing_distance"]
