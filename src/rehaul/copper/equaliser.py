"""What an equaliser can make of a line: the ideal bound, and one with as many taps as real ones have."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rehaul.arrays import Complex, Reals
from rehaul.facts.conductors import copper_property

SYMBOLS = 256  # symbols in the time window of the grid
BANDS = 2  # the grid reaches this many half symbol rates: all a receive filter lets through
NO_SIGNAL = 1e-30  # a floor that keeps the decibels of nothing finite
LATEST_DECISION = 9  # symbols after the strongest sample within which a decision is tried
PHASES = 4  # sampling phases a symbol that the receiver may choose from


@dataclass(frozen=True)
class Equaliser:
    """A decision-feedback equaliser by its numbers of taps."""

    forward_taps: int
    feedback_taps: int


def _equaliser(size: str) -> Equaliser:
    forward, feedback = (copper_property(f"{size} {part} taps") for part in ("forward", "feedback"))
    return Equaliser(int(forward), int(feedback))


USUAL = _equaliser("usual")
SMALL = _equaliser("small")


@dataclass(frozen=True)
class Received:
    """What reaches the receiver, on the grid of `grid_hz`: unit-power symbols through `response`."""

    response: Complex  # (frequency,) transfer of the pulse, as amplitude at the receiver
    noise: Reals  # (frequency,) noise power density in the same unit per hertz, one-sided
    symbol_rate_hz: float


def grid_hz(symbol_rate_hz: float) -> Reals:
    """The frequencies on which the equaliser works, from 0 to one symbol rate, in Hz [n].

    **Validity**: impulse responses shorter than 256 symbols once the bulk delay is taken out.
    **Source**: common practice for a receive filter that ends near half the symbol rate.
    """
    return np.asarray(np.arange(SYMBOLS * BANDS // 2 + 1) * (symbol_rate_hz / SYMBOLS))


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


def finite_snr_db(received: Received, equaliser: Equaliser = USUAL) -> float:
    """Unbiased SNR of a minimum-mean-square decision-feedback equaliser of finite length, in dB.

    Symbol-spaced forward taps at the best sampling phase and delay; feedback takes away the symbols
    right after the decided one.

    Parameters: received on its grid; equaliser. Returns the SNR in dB.

    **Validity**: right decisions fed back; channel shorter than the window of 256 symbols; locked on the
    strongest sample (one that locks on a late echo instead can do better on a line with a tap).
    **Source**: minimum-mean-square normal equations, textbook; never above `ideal_snr_db`.
    """
    impulse = np.fft.irfft(received.response, n=SYMBOLS * PHASES) * PHASES
    noise = np.fft.ifft(_fold(received.noise)).real * received.symbol_rate_hz / 2.0
    phases = impulse.reshape(SYMBOLS, PHASES).T
    snr = _snr_by_delay(phases, noise, equaliser)
    return 10.0 * float(np.log10(max(float(np.max(snr)), NO_SIGNAL)))


def _snr_by_delay(phases: Reals, noise: Reals, equaliser: Equaliser) -> Reals:
    """SNR for each sampling phase and decision delay, [phase, delay].

    phases[p, k] is the sample k symbols after the symbol was sent; the equaliser sees samples
    n .. n - forward_taps + 1 and decides the symbol sent `delay` before n.
    """
    spectrum = np.abs(np.fft.fft(phases)) ** 2
    autocorrelation = np.fft.ifft(spectrum).real + noise
    sample = np.arange(equaliser.forward_taps)
    everything = autocorrelation[:, np.abs(sample[:, None] - sample[None, :])]
    # Receivers lock on the strongest sample; a decision soon after it leaves later echoes to feedback.
    peak = np.argmax(np.abs(phases), axis=1)
    delay = peak[:, None] + np.arange(min(LATEST_DECISION, equaliser.forward_taps))
    # columns[p, d, i, j] is what the symbol j after the decided one's delay puts on sample i.
    symbol = np.arange(equaliser.feedback_taps + 1)
    index = (delay[:, :, None, None] + symbol - sample[:, None]) % SYMBOLS
    columns = phases[np.arange(len(phases))[:, None, None, None], index]
    remaining = everything[:, None] - columns @ columns.swapaxes(-1, -2)
    wanted = columns[..., :1]
    return np.asarray(np.sum(wanted * np.linalg.solve(remaining, wanted), axis=(-1, -2)))


def _fold(density: Reals) -> Reals:
    """Sum of alias bands over one whole symbol-rate period, of a one-sided even density."""
    both_sides = np.concatenate([density, density[-2:0:-1]])
    return np.asarray(both_sides.reshape(BANDS, SYMBOLS).sum(axis=0))
