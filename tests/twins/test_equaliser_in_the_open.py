"""The equaliser against a slow plain one, and against one trained on symbols sent through the line."""

from __future__ import annotations

import numpy as np
import pytest

from rehaul.copper import SMALL, USUAL, Received, finite_snr_db, margin_db, run_line
from rehaul.copper.equaliser import PHASES, SYMBOLS
from rehaul.copper.margin import received
from rehaul.copper.margins import margins_db
from rehaul.facts.cables import PairCableKind
from rehaul.facts.conductors import copper_property
from rehaul.facts.ethernet import ETHERNETS, Ethernet, ethernet_needs

LINES: list[tuple[PairCableKind, float, float]] = [
    ("cat5e", 30.0, 0.0),
    ("cat5e", 30.0, 2.0),
    ("cat5e", 30.0, 10.0),
    ("cat3", 15.0, 0.0),
    ("cat6", 60.0, 4.0),
]
FORWARD_TAPS, FEEDBACK_TAPS = USUAL.forward_taps, USUAL.feedback_taps
RATES: list[Ethernet] = ["100BASE-TX", "1000BASE-T", "5GBASE-T"]


def impulse_and_noise(signal: Received) -> tuple[np.ndarray, np.ndarray]:
    """Samples of one pulse at PHASES a symbol, and noise autocovariance at symbol lags, by plain sums."""
    frequency = np.arange(signal.response.size)
    times = np.arange(SYMBOLS * PHASES) / PHASES
    turn = np.exp(2j * np.pi * np.outer(times, frequency) / SYMBOLS)
    weight = np.full(frequency.size, 2.0)
    weight[0] = 1.0
    impulse = (turn @ (weight * signal.response)).real / SYMBOLS
    lags = np.arange(FORWARD_TAPS)
    cosine = np.cos(2 * np.pi * np.outer(lags, frequency) / SYMBOLS)
    edges = np.full(frequency.size, 1.0)
    edges[0] = edges[-1] = 0.5
    covariance = cosine @ (edges * signal.noise) * signal.symbol_rate_hz / SYMBOLS
    return impulse, covariance


def plain_snr_db(signal: Received) -> float:
    """Every phase and every delay that sees the strongest sample, full matrices, no shortcuts."""
    impulse, covariance = impulse_and_noise(signal)
    best = 0.0
    for phase in range(PHASES):
        taps = impulse[phase::PHASES]
        whole = np.array([np.roll(taps, shift) for shift in range(FORWARD_TAPS)])  # sample, symbol
        noise = np.array([[covariance[abs(i - j)] for j in range(FORWARD_TAPS)] for i in range(FORWARD_TAPS)])
        peak = int(np.argmax(np.abs(taps)))
        for delay in range(peak, peak + 14):
            known = [(delay + step) % SYMBOLS for step in range(FEEDBACK_TAPS + 1)]
            others = np.delete(whole, known, axis=1)
            wanted = whole[:, delay % SYMBOLS]
            best = max(best, wanted @ np.linalg.solve(others @ others.T + noise, wanted))
    return 10 * np.log10(best)


@pytest.mark.parametrize("ethernet", RATES)
@pytest.mark.parametrize("case", LINES, ids=str)
def test_fast_equals_plain(case: tuple[PairCableKind, float, float], ethernet: Ethernet) -> None:
    """The fast one tries fewer delays, so it may fall a little short and never lie above."""
    kind, length_m, tap_m = case
    signal = received(run_line(kind, length_m, taps_m=(tap_m,) if tap_m else ()), ethernet_needs()[ethernet])
    shortfall = plain_snr_db(signal) - finite_snr_db(signal)
    assert -1e-6 <= shortfall < 0.3


@pytest.mark.parametrize("tap_m", [0.0, 2.0])
def test_trained_on_symbols(tap_m: float) -> None:
    """Least squares over 12,000 random symbols through the line reaches the computed SNR."""
    signal = received(
        run_line("cat5e", 30.0, taps_m=(tap_m,) if tap_m else ()), ethernet_needs()["1000BASE-T"]
    )
    impulse, covariance = impulse_and_noise(signal)
    generator = np.random.default_rng(7)
    count = 12_000
    symbols = generator.choice([-1.0, 1.0], count)
    root = np.linalg.cholesky(covariance[np.abs(np.subtract.outer(np.arange(20), np.arange(20)))])
    best = -np.inf
    for phase in range(PHASES):
        # A later start keeps the samples before the peak, which the periodic window holds at its end.
        taps = np.roll(impulse[phase::PHASES], 20)
        clean = np.fft.ifft(np.fft.fft(symbols) * np.fft.fft(taps, count)).real
        # Coloured noise with the right covariance over the window of the equaliser.
        windows = np.array([np.roll(clean, shift) for shift in range(FORWARD_TAPS)])
        windows = windows + root @ generator.standard_normal((FORWARD_TAPS, count))
        peak = int(np.argmax(np.abs(taps)))
        for delay in range(peak + 1, peak + 9, 2):
            wanted = np.roll(symbols, delay)
            fed_back = np.array([np.roll(symbols, delay + step) for step in range(1, FEEDBACK_TAPS + 1)])
            design = np.concatenate([windows, fed_back])
            weights = np.linalg.solve(design @ design.T, design @ wanted)
            error = np.mean((wanted - weights @ design) ** 2)
            best = max(best, 10 * np.log10(1.0 / error - 1.0))
    assert abs(best - finite_snr_db(signal)) < 0.3


@pytest.mark.parametrize("kind", ["cat3", "cat5e", "cat6"])
def test_interpolated_margins(kind: PairCableKind) -> None:
    generator = np.random.default_rng(3)
    advantage_db = copper_property("typical crosstalk advantage")
    clear, tapped = [], []
    for _ in range(12):
        length_m, tap_m = generator.uniform(1.0, 110.0), generator.uniform(0.3, 25.0)
        for taps, errors in (((), clear), ((tap_m,), tapped)):
            line = run_line(kind, length_m, taps_m=taps)
            direct = np.array([margin_db(line, e, SMALL, advantage_db=advantage_db) for e in ETHERNETS])
            errors.append(margins_db((kind,), np.array([[length_m]]), (taps,))[0, 0, 0] - direct)
    assert np.max(np.abs(clear)) < 2.0
    assert np.all(np.mean(np.abs(tapped), axis=0) < 2.5)
