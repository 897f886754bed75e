"""Margins against the few that were published, and against every published reach."""

from __future__ import annotations

import numpy as np
import pytest

from published import Published
from rehaul.copper import (
    CableSection,
    Cord,
    Jack,
    Line,
    Tap,
    finite_snr_db,
    insertion_loss_db,
    margin_db,
    run_line,
)
from rehaul.copper.margin import received
from rehaul.facts.cables import PairCableKind
from rehaul.facts.ethernet import Ethernet, ethernet_needs, ethernet_reach


def full_channel() -> Line:
    """100 m of Category 5e with four connections, cords included."""
    jack = Jack("cat5e")
    cords = (Cord("cat5e", 5.0), jack, CableSection("cat5e", 45.0), jack, CableSection("cat5e", 45.0))
    return Line((*cords, jack, Cord("cat5e", 2.0), jack, Cord("cat5e", 3.0)))


def test_gigabit_design_margin_without_far_end_crosstalk() -> None:
    needs = ethernet_needs()["1000BASE-T"].model_copy(update={"fext_cancel_db": 300.0})
    margin = finite_snr_db(received(full_channel(), needs)) - needs.needs_db
    Published(
        10.5,
        "dB",
        "IEEE 802.3 1000BASE-T design margin quoted on the 802.3an list",
        "full channel, no FEXT",
        "excerpt",
        2.0,
        "outside noise and cancelling depths are from memory; finite equaliser against an ideal one",
    ).check(margin)


@pytest.mark.parametrize(("ethernet", "kind"), ethernet_reach())
def test_every_published_reach_has_margin(ethernet: Ethernet, kind: PairCableKind) -> None:
    """Promised reaches hold on cable at the limit of its category: the margin is nought or better."""
    row = ethernet_reach()[ethernet, kind]
    margin = margin_db(run_line(kind, row.reach_m - 4.0), ethernet)
    place = f"{ethernet} reaches {row.reach_m:g} m on {kind}"
    why = "a shortfall of 0.5 dB is allowed: 10BASE-T on Category 3 is promised to the last tenth"
    Published(0.0, "dB shortfall", row.source.document, place, "excerpt", 0.5, why).check(min(margin, 0.0))


BEYOND: list[tuple[Ethernet, PairCableKind, str]] = [
    ("10GBASE-T", "cat6", "TIA TSB-155 stops at 55 m"),
    ("10GBASE-T", "cat5e", "IEEE 802.3an asks for class E or better"),
    ("100BASE-TX", "cat3", "IEEE 802.3 clause 25 asks for Category 5"),
    ("1000BASE-T", "cat3", "IEEE 802.3 clause 40 asks for Category 5"),
]


@pytest.mark.parametrize(("ethernet", "kind", "place"), BEYOND)
def test_what_is_not_promised_fails_at_full_length(
    ethernet: Ethernet, kind: PairCableKind, place: str
) -> None:
    """The standards asked for better cable at 100 m, and the model says why."""
    why = "any negative margin agrees"
    Published(0.0, "dB to spare", "IEEE 802.3", place, "memory", 0.0, why).check(
        max(margin_db(run_line(kind, 96.0), ethernet), 0.0)
    )


@pytest.mark.parametrize(("mhz", "order"), [(5.0, 1), (15.0, 3), (25.0, 5)])
def test_notches_of_an_open_tap(mhz: float, order: int) -> None:
    """A 10 m open tap is a quarter wave long at odd multiples of about 5 MHz."""
    line = Line((CableSection("cat5e", 15.0), Tap(10.0, "cat5e"), CableSection("cat5e", 15.0)))
    frequencies = np.linspace((mhz - 2.5) * 1e6, (mhz + 2.5) * 1e6, 2001)
    notch_mhz = frequencies[np.argmax(insertion_loss_db(line, frequencies))] / 1e6
    why = "stated to the MHz; the tap's delay makes it 4.6 MHz per order"
    Published(
        mhz, "MHz", "quarter-wave stub, handbook", f"order {order}", "computed", 0.5 * order, why
    ).check(float(notch_mhz))
