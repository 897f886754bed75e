"""What an equaliser can make of a line: the ideal bound, and one with as many taps as real ones have."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Reals = NDArray[np.float64]
Complex = NDArray[np.complex128]

FORWARD_TAPS = 20
FEEDBACK_TAPS = 14
OVERSAMPLING = 4  # samples a symbol on the grid; the receiver picks the best of these phases
SYMBOLS = 256  # symbols in the time window of the grid


@dataclass(frozen=True)
class Received:
    """What reaches the receiver, on the grid of `grid_hz`: unit-power symbols through `response`."""

    response: Complex  # (frequency,) transfer of the pulse, as amplitude at the receiver
    noise: Reals  # (frequency,) noise power density in the same unit per hertz, one-sided
    symbol_rate_hz: float


def grid_hz(symbol_rate_hz: float) -> Reals:
    """The frequencies on which the equaliser works, from 0 to OVERSAMPLING/2 symbol rates."""
    size = SYMBOLS * OVERSAMPLING
    return np.asarray(np.arange(size // 2 + 1) * (OVERSAMPLING * symbol_rate_hz / size))


def ideal_snr_db(received: Received) -> float:
    """SNR of the unlimited decision-feedback equaliser, in dB.

    Folds signal-to-noise ratios of all alias bands and takes the geometric mean of 1 + SNR.

    Parameters: received on its grid. Returns the SNR in dB.

    **Validity**: an upper bound for every equaliser with the same receiver.
    **Source**: Salz, Bell System Technical Journal 1973, by way of the IEEE 802.3an list (excerpt).
    """
    density = np.abs(received.response) ** 2 * 2.0 / received.symbol_rate_hz
    folded = _fold(density / received.noise)
    return 10.0 * float(np.log10(np.expm1(np.mean(np.log1p(folded)))))


def finite_snr_db(
    received: Received, *, forward_taps: int = FORWARD_TAPS, feedback_taps: int = FEEDBACK_TAPS
) -> float:
    """Unbiased SNR of a minimum-mean-square decision-feedback equaliser of finite length, in dB.

    Symbol-spaced forward taps at the best sampling phase and delay; feedback takes away the symbols
    right after the decided one.

    Parameters: received on its grid; numbers of taps. Returns the SNR in dB.

    **Validity**: right decisions fed back; channel shorter than the window of 256 symbols.
    **Source**: minimum-mean-square normal equations, textbook; never above `ideal_snr_db`.
    """
    impulse = np.fft.irfft(received.response) * OVERSAMPLING
    noise = np.fft.ifft(_fold(received.noise)).real * received.symbol_rate_hz / 2.0
    best = 0.0
    for phase in range(OVERSAMPLING):
        taps = impulse[phase::OVERSAMPLING]
        best = max(best, _best_delay_snr(taps, noise, forward_taps, feedback_taps))
    return 10.0 * float(np.log10(best)) if best > 0 else -np.inf


def _best_delay_snr(taps: Reals, noise: Reals, forward_taps: int, feedback_taps: int) -> float:
    """Best SNR over decision delays, for one sampling phase.

    taps[k] is the sample k symbols after the symbol was sent; the equaliser sees samples
    n .. n-forward_taps+1 and decides the symbol sent `delay` before n.
    """
    spectrum = np.abs(np.fft.fft(taps)) ** 2
    autocorrelation = np.fft.ifft(spectrum).real + noise
    lags = np.abs(np.subtract.outer(np.arange(forward_taps), np.arange(forward_taps)))
    everything = autocorrelation[lags]
    peak = int(np.argmax(np.abs(taps)))
    delays = peak + np.arange(forward_taps // 2, forward_taps + 1)
    # columns[d, i, j] = what symbol (delay d) + j puts on sample i of the window
    sample = np.arange(forward_taps)
    symbol = np.arange(feedback_taps + 1)
    columns = taps[(delays[:, None, None] + symbol[None, None, :] - sample[None, :, None]) % taps.size]
    remaining = everything - columns @ columns.transpose(0, 2, 1)
    wanted = columns[:, :, :1]
    solved = np.linalg.solve(remaining, wanted)
    return float(np.max(np.sum(wanted * solved, axis=(1, 2))))


def _fold(density: Reals) -> Reals:
    """Sum of alias bands over one whole symbol-rate period, of a one-sided even density."""
    both_sides = np.concatenate([density, density[-2:0:-1]])
    return np.asarray(both_sides.reshape(OVERSAMPLING, SYMBOLS).sum(axis=0))
