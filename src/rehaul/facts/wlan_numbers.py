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
    """The value of one number of the wireless medium by name, whose ending says the unit; else see its row.

    Raises KeyError for a name the table has not. **Source**: the fact table `wlan_numbers` (docs/wlan.md).

    >>> wlan_number("slot_us")
    9.0
    """
    return wlan_numbers()[name].value


@cache
def wlan_numbers() -> dict[str, WlanNumber]:
    """All numbers of the wireless medium by name, each row with its unit and where it was read.

    **Source**: the fact table `wlan_numbers` (IEEE Std 802.11 as coded in ns-3, and computed).
    """
    return {row.name: row for row in load(WlanNumber)}


@cache
def frame_formats() -> dict[Generation, FrameFormat]:
    """Preamble [µs], aggregation and acknowledgement of each generation.

    **Source**: the fact table `frame_formats` (IEEE Std 802.11 as coded in public simulators).
    """
    return {row.generation: row for row in load(FrameFormat)}


@cache
def transmit_mask() -> tuple[MaskPoint, ...]:
    """Corners of the transmit mask of a 20 MHz channel, from the centre outwards: offset [MHz], level [dB].

    **Validity**: the most that a transmitter may send beside its channel; real ones send less. **Source**:
    the fact table `transmit_mask` (IEEE 802.11-10/1327r0).

    >>> [(corner.offset_mhz, corner.level_db) for corner in transmit_mask()][:3]
    [(0.0, 0.0), (9.0, 0.0), (11.0, -20.0)]
    """
    return tuple(sorted(load(MaskPoint), key=lambda row: row.offset_mhz))
