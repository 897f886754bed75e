"""Single numbers of the wireless medium: timing, frame sizes, noise, thresholds, Ethernet framing."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.modulation import Generation
from rehaul.facts.table import FactRow, load


class WlanNumber(FactRow):
    """One named number with its unit."""

    table: ClassVar[str] = "wlan_numbers"
    decides: ClassVar[str] = "how much of the air is left for data, and when boxes hear each other"
    name: str
    value: float
    unit: str


class FrameFormat(FactRow):
    """Preamble, aggregation and acknowledgement of one generation."""

    table: ClassVar[str] = "frame_formats"
    decides: ClassVar[str] = "how much of a Wi-Fi rate is left for data after preambles and acknowledgements"
    generation: Generation
    preamble_us: float  # without training symbols
    training_us: float  # per spatial stream
    max_mpdus: int  # frames in one aggregate
    max_aggregate_bytes: int
    block_ack_us: float
    packets_per_frame: int  # aggregated inside one frame, as radios do; simulations send one


class MaskPoint(FactRow):
    """One corner of the transmit spectrum mask of a 20 MHz channel."""

    table: ClassVar[str] = "transmit_mask"
    decides: ClassVar[str] = "how much a neighbouring channel disturbs"
    offset_mhz: float
    level_db: float


@cache
def wlan_number(name: str) -> float:
    """The value of one named number."""
    return wlan_numbers()[name].value


@cache
def wlan_numbers() -> dict[str, WlanNumber]:
    """All named numbers."""
    return {row.name: row for row in load(WlanNumber)}


@cache
def frame_formats() -> dict[Generation, FrameFormat]:
    """Frame formats by generation."""
    return {row.generation: row for row in load(FrameFormat)}


@cache
def transmit_mask() -> tuple[MaskPoint, ...]:
    """The mask from the centre outwards."""
    return tuple(sorted(load(MaskPoint), key=lambda row: row.offset_mhz))
