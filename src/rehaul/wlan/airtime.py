"""How long things take on the air, and what one link carries when it has the air to itself."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from rehaul.errors import OutOfRange
from rehaul.facts.modulation import Generation, ofdm_tones
from rehaul.facts.wlan_numbers import frame_formats, wlan_number
from rehaul.wlan.rates import phy_rate_mbps
from rehaul.words import say

Transport = Literal["tcp", "udp"]


@dataclass(frozen=True)
class Mode:
    """One way of sending: generation, step, width, streams and guard interval."""

    generation: Generation
    mcs: int
    width_mhz: int
    streams: int
    guard_us: float

    @property
    def rate_mbps(self) -> float:
        """Rate of the physical layer."""
        return phy_rate_mbps(self.generation, self.mcs, self.width_mhz, self.streams, self.guard_us)


@cache
def frame_us(mode: Mode, mpdus: int, ip_bytes: int, packets: int = 1) -> float:
    """Time of one aggregate on the air: preamble, training, and whole symbols of data [µs].

    Parameters
    ----------
    mode : how it is sent
    mpdus : frames in the aggregate
    ip_bytes : length of each IP packet
    packets : in one frame

    Validity: LDPC (no tail bits).
    Source: IEEE Std 802.11-2020 clauses 9.7, 19 and 21; 802.11ax-2021 clause 27.
    """
    form = frame_formats()[mode.generation]
    symbol_us = ofdm_tones()[mode.generation, mode.width_mhz].symbol_us + mode.guard_us
    bits = mpdus * _subframe_bytes(ip_bytes, packets) * 8 + wlan_number("service_bits")
    symbols = math.ceil(bits / (mode.rate_mbps * symbol_us) - 1e-9)
    return form.preamble_us + form.training_us * _training_symbols(mode.streams) + symbols * symbol_us


@cache
def largest_aggregate(mode: Mode, ip_bytes: int, at_most: int | None = None, packets: int = 1) -> int:
    """Most frames that fit one aggregate by count, by bytes and by time; at least 1.

    Validity: every frame holds as many packets (A-MSDU).
    Source: IEEE Std 802.11-2020 table 9-25 and aPPDUMaxTime.
    """
    form = frame_formats()[mode.generation]
    by_bytes = int(form.max_aggregate_bytes // _subframe_bytes(ip_bytes, packets))
    high = min(form.max_mpdus, by_bytes, at_most or form.max_mpdus)
    low = 1
    while low < high:  # the time grows with the count: halve
        middle = (low + high + 1) // 2
        if frame_us(mode, middle, ip_bytes, packets) <= wlan_number("max_ppdu_us"):
            low = middle
        else:
            high = middle - 1
    return low


def exchange_us(mode: Mode, frame_time_us: float, *, protect: bool = False) -> float:
    """Time that one aggregate takes from the air with all that goes with it [µs].

    The wait before it, with `protect` a request and a clearance, the frame itself of `frame_time_us`, and
    the acknowledgement. The random backoff is not in it. **Source**: IEEE Std 802.11, by the fact tables
    `wlan_numbers` and `frame_formats`.
    """
    sifs_us = wlan_number("sifs_us")
    guard_us = wlan_number("rts_us") + wlan_number("cts_us") + 2 * sifs_us if protect else 0.0
    acknowledgement_us = sifs_us + frame_formats()[mode.generation].block_ack_us
    return wlan_number("aifs_us") + guard_us + frame_time_us + acknowledgement_us


@cache
def air_per_bit_us(mode: Mode, transport: Transport, packets: int = 1) -> tuple[float, float]:
    """Air that one bit of payload takes: for the data, and for what the other side answers [µs].

    UDP: mean backoff + wait + aggregate + acknowledgement, over n payloads. TCP: its acknowledgements
    come back as aggregates of the other side, which takes its turns by the same rules; a turn is one
    such aggregate, the data aggregates between two of them, the collisions and the idle slots.

    Parameters
    ----------
    mode : how the side in question sends
    transport : tcp or udp; an answer to UDP takes none
    packets : of data in one frame; acknowledgements go as many to a frame

    Validity: no errors, full queues, one aggregate per access. Where the two sides differ in mode,
    the answers are counted as if the data came in aggregates of the answering mode: a few per cent
    too long where that is the slower.
    Source: timing of IEEE Std 802.11-2020 clause 10.
    """
    ip_bytes = int(wlan_number("ip_bytes"))
    mpdus = largest_aggregate(mode, ip_bytes, None, packets)
    data_us = exchange_us(mode, frame_us(mode, mpdus, ip_bytes, packets))
    carried = mpdus * packets
    slot_us = wlan_number("slot_us")
    if transport == "udp":
        cycle_us = data_us + wlan_number("cw_min") / 2 * slot_us
        return cycle_us / (carried * wlan_number("udp_payload_bytes") * 8), 0.0
    if transport != "tcp":
        raise OutOfRange(
            say("refused_wlan.no_transport", transport=transport),
            where="transport",
            remedy=say("refused_wlan.use_transport"),
        )
    turns = wlan_number("tcp_data_per_turn")
    ack_bytes = int(wlan_number("tcp_ack_bytes"))
    waiting = max(1, round(turns * carried / wlan_number("segments_per_ack")))
    acks = largest_aggregate(mode, ack_bytes, -(-waiting // packets), packets)
    answer_us = exchange_us(mode, frame_us(mode, acks, ack_bytes, packets))
    sending_us = (turns + wlan_number("tcp_collisions_per_turn")) * data_us
    idle_us = wlan_number("tcp_idle_slots_per_turn") * slot_us
    payload_bits = turns * carried * wlan_number("tcp_payload_bytes") * 8
    return (sending_us + idle_us) / payload_bits, answer_us / payload_bits


def _subframe_bytes(ip_bytes: int, packets: int = 1) -> int:
    if packets > 1:  # each with a header of its own, all but the last filled up to whole words
        each = ip_bytes + wlan_number("inner_header_bytes")
        ip_bytes = int((packets - 1) * -(-each // 4) * 4 + each)
    body = ip_bytes + wlan_number("mac_overhead_bytes") + wlan_number("delimiter_bytes")
    return int(-(-body // 4) * 4)


def _training_symbols(streams: int) -> int:
    return streams if streams in (1, 2, 4, 6, 8) else streams + 1
