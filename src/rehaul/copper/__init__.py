"""Copper lines: sections, cascade, crosstalk, margins, and which Ethernet holds on a run."""

from rehaul.copper.against import LimitMargin, against_limits
from rehaul.copper.coax import (
    cable_loss_db,
    coax_band,
    coax_chance,
    coax_loss_at_db,
    coax_rate_mbps,
    coax_spread_db,
    full_coax_mbps,
    splitter_loss_db,
    splitter_range_db,
)
from rehaul.copper.crosstalk import echo_db, elfext_db, next_db
from rehaul.copper.dsl import tap_notch_hz
from rehaul.copper.elements import CableSection, Cord, Element, Jack, Line, Splice, Tap
from rehaul.copper.equaliser import SMALL, USUAL, Equaliser, Received, finite_snr_db, grid_hz, ideal_snr_db
from rehaul.copper.judging import Verdict, verdict, verdicts
from rehaul.copper.limits import limit_line
from rehaul.copper.margin import margin_db
from rehaul.copper.margins import run_line
from rehaul.copper.media import MediaOption, other_media
from rehaul.copper.run import CertifiedClass, CopperState, CopperTopology, RunCategory, RunFacts
from rehaul.copper.settle import CableAnswer, CableQuestion, settling
from rehaul.copper.twoport import cascade, insertion_loss_db, scattering

__all__ = [
    "SMALL",
    "USUAL",
    "CableAnswer",
    "CableQuestion",
    "CableSection",
    "CertifiedClass",
    "CopperState",
    "CopperTopology",
    "Cord",
    "Element",
    "Equaliser",
    "Jack",
    "LimitMargin",
    "Line",
    "MediaOption",
    "Received",
    "RunCategory",
    "RunFacts",
    "Splice",
    "Tap",
    "Verdict",
    "against_limits",
    "cable_loss_db",
    "cascade",
    "coax_band",
    "coax_chance",
    "coax_loss_at_db",
    "coax_rate_mbps",
    "coax_spread_db",
    "echo_db",
    "elfext_db",
    "finite_snr_db",
    "full_coax_mbps",
    "grid_hz",
    "ideal_snr_db",
    "insertion_loss_db",
    "limit_line",
    "margin_db",
    "next_db",
    "other_media",
    "run_line",
    "scattering",
    "settling",
    "splitter_loss_db",
    "splitter_range_db",
    "tap_notch_hz",
    "verdict",
    "verdicts",
]
