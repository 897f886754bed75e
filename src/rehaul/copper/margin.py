"""Margin of a line for an Ethernet: signal to noise at the decision, less what the code needs."""

from __future__ import annotations

import numpy as np

from rehaul.copper.crosstalk import alien_next_db, elfext_db, next_db, ratio, roughened_db
from rehaul.copper.elements import CableSection, Line
from rehaul.copper.equaliser import USUAL, Equaliser, Received, finite_snr_db, grid_hz, ideal_snr_db
from rehaul.copper.twoport import cascade, decibels, insertion_loss_db, scattering
from rehaul.facts.cables import cable
from rehaul.facts.ethernet import Ethernet, EthernetRow, ethernet_needs

RECEIVE_CORNER = 0.5  # corner of the receive filter, in symbol rates
RECEIVE_ORDER = 4


def received(line: Line, needs: EthernetRow, *, advantage_db: float = 0.0) -> Received:
    """Signal and noise at the far receiver of a line, on the equaliser's grid.

    Noise is background, near-end and far-end crosstalk of the line's own pairs and, where both
    directions share a pair, echo, each less what transceivers cancel; advantage_db by which the pairs
    leak less than their category allows.

    **Validity**: no crosstalk from other cables, no bursts; pairs near their category's limit.
    **Source**: fact rows of `ethernet_needs`; noise terms as on the IEEE 802.3an list (excerpt).
    """
    frequencies = grid_hz(needs.symbol_rate_hz)
    above = frequencies[1:]
    chain = scattering(cascade(line, above))
    bulk_s = sum(
        cable(part.kind).delay_s / 100.0 * part.length_m
        for part in line.elements
        if isinstance(part, CableSection)
    )
    through = chain.s21 * np.exp(2.0j * np.pi * above * bulk_s)
    sent_mw = ratio(-needs.transmit_dbm)
    period = above / needs.symbol_rate_hz
    shape = np.sinc(period) * (1.0 - needs.shaping + needs.shaping * np.exp(-2.0j * np.pi * period))
    transmit = np.sqrt(sent_mw) * shape
    density = np.abs(transmit) ** 2 * 2.0 / needs.symbol_rate_hz
    several = needs.full_duplex_pairs
    leak = ratio(next_db(line, above, power_sum=several) + needs.next_cancel_db + advantage_db)
    if several:
        far_db = elfext_db(line, above, power_sum=True) + needs.fext_cancel_db + advantage_db
        leak = leak + np.abs(chain.s21) ** 2 * ratio(far_db)
        leak = leak + ratio(roughened_db(line, above, decibels(chain.s11)) + needs.echo_cancel_db)
    if needs.alien:
        leak = leak + ratio(alien_next_db(line, above))
    noise = density * leak + ratio(-needs.noise_dbm)
    filtered = 1.0 / (1.0 + (period / RECEIVE_CORNER) ** (2 * RECEIVE_ORDER))
    response = transmit * through * np.sqrt(filtered)
    floor = noise * filtered
    # Transformers pass no direct current, but receivers restore it: take it as at the first frequency.
    return Received(
        np.concatenate([[response[0].real], response]),
        np.concatenate([[floor[0]], floor]),
        needs.symbol_rate_hz,
    )


def margin_db(
    line: Line, ethernet: Ethernet, equaliser: Equaliser | None = USUAL, *, advantage_db: float = 0.0
) -> float:
    """How far the signal-to-noise ratio lies above what the Ethernet needs, in dB.

    Parameters: line; ethernet; equaliser, None for the unlimited one; advantage_db by which the pairs
    leak less than their category allows. Returns dB; below nought the link is not expected to hold.
    For 10BASE-T it is the allowed loss less the worst from 5 to 10 MHz.

    **Validity**: a band, not a reading: trust it to a few dB (see docs/copper.md).
    **Source**: `ideal_snr_db`, `finite_snr_db` and the fact rows of `ethernet_needs`.

    >>> from rehaul.copper import run_line
    >>> round(margin_db(run_line("cat5e", 30.0), "1000BASE-T"))
    14
    """
    needs = ethernet_needs()[ethernet]
    if ethernet == "10BASE-T":
        return needs.needs_db - float(np.max(insertion_loss_db(line, np.linspace(5e6, 10e6, 51))))
    signal = received(line, needs, advantage_db=advantage_db)
    snr_db = finite_snr_db(signal, equaliser) if equaliser else ideal_snr_db(signal)
    return snr_db - needs.needs_db
