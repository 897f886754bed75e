"""The rate of the air itself: bits per symbol over the length of a symbol."""

from __future__ import annotations

from functools import cache

from rehaul.errors import OutOfRange
from rehaul.facts.modulation import (
    Generation,
    guard_intervals_us,
    left_out_modes,
    modulation_steps,
    ofdm_tones,
)
from rehaul.words import say

_STANDARD = "IEEE Std 802.11"
MAX_STREAMS = {Generation.HT: 4, Generation.VHT: 8, Generation.HE: 8, Generation.EHT: 8}


def widths_mhz(generation: Generation | str) -> tuple[int, ...]:
    """Channel widths a generation can use [MHz], narrowest first. Raises ValueError for no generation's name.

    **Source**: the fact table `ofdm_tones` (IEEE Std 802.11).

    >>> widths_mhz("HE")
    (20, 40, 80, 160)
    """
    name = Generation(generation)
    return tuple(sorted(width for one, width in ofdm_tones() if one is name))


def top_mcs(generation: Generation | str, width_mhz: int) -> int:
    """The highest modulation step of a generation at a width [MHz].

    Raises OutOfRange for a width it does not have. **Source**: the fact table `ofdm_tones` (IEEE Std
    802.11).

    >>> top_mcs("HE", 80)
    11
    """
    name = Generation(generation)
    tones = ofdm_tones().get((name, width_mhz))
    if tones is None:
        known = widths_mhz(name)
        raise OutOfRange(
            say("refused_wlan.no_width", name=name, width_mhz=width_mhz),
            where="width_mhz",
            remedy=say("refused_wlan.use_width", known=known),
            source=_STANDARD,
        )
    return tones.top_mcs


@cache
def phy_rate_mbps(
    generation: Generation | str, mcs: int, width_mhz: int, streams: int, guard_us: float
) -> float:
    """Rate of the physical layer: tones × bits × code rate × streams / (symbol + guard).

    Parameters
    ----------
    generation : HT, VHT, HE or EHT
    mcs : modulation step per stream [0 to 7, 9, 11, 13 by generation; HT numbers each stream from 0]
    width_mhz : channel width [MHz]
    streams : spatial streams
    guard_us : guard interval [µs]

    Returns
    -------
    rate [Mb/s]

    Raises
    ------
    OutOfRange for a combination the standard does not have.

    Validity: every combination of the standard's equal-modulation tables; of VHT those that the
    standard leaves out are refused.
    Source: IEEE Std 802.11-2020 clauses 19, 21; 802.11ax-2021 clause 27; 802.11be-2024 clause 36.

    >>> round(phy_rate_mbps("HE", 11, 80, 2, 0.8), 1)
    1201.0
    """
    name = Generation(generation)
    highest = top_mcs(name, width_mhz)
    if not 0 <= mcs <= highest:
        raise OutOfRange(
            say("refused_wlan.no_mcs", name=name, mcs=mcs),
            where="mcs",
            remedy=say("refused_wlan.use_mcs", highest=highest),
            source=_STANDARD,
        )
    if not 1 <= streams <= MAX_STREAMS[name]:
        raise OutOfRange(
            say("refused_wlan.no_streams", name=name, streams=streams),
            where="streams",
            remedy=say("refused_wlan.use_streams", most=MAX_STREAMS[name]),
            source=_STANDARD,
        )
    if guard_us not in guard_intervals_us()[name]:
        known = [f"{value:g}" for value in guard_intervals_us()[name]]
        raise OutOfRange(
            say("refused_wlan.no_guard", name=name, guard_us=guard_us),
            where="guard_us",
            remedy=say("refused_wlan.use_guard", known=known),
            source=_STANDARD,
        )
    if not is_defined(name, mcs, width_mhz, streams):
        raise OutOfRange(
            say("refused_wlan.left_out_mcs", mcs=mcs, width_mhz=width_mhz, streams=streams),
            where="mcs",
            remedy=say("refused_wlan.one_lower"),
            source=_STANDARD,
        )
    tones = ofdm_tones()[name, width_mhz]
    return _data_bits(name, mcs, width_mhz, streams) / (tones.symbol_us + guard_us)


def is_defined(generation: Generation, mcs: int, width_mhz: int, streams: int) -> bool:
    """Whether the standard has this mode: of VHT only those whose data bits come out even.

    A symbol holds a whole number of them, and so does each encoder's share. Other generations have every
    mode. **Source**: IEEE Std 802.11; the fact table `left_out_modes`.

    >>> is_defined(Generation.VHT, 9, 20, 1), is_defined(Generation.VHT, 9, 40, 1)
    (False, True)
    """
    if generation is not Generation.VHT:
        return True
    whole = _data_bits(generation, mcs, width_mhz, streams).is_integer()
    return whole and (generation, mcs, width_mhz, streams) not in left_out_modes()


def _data_bits(generation: Generation, mcs: int, width_mhz: int, streams: int) -> float:
    step, tones = modulation_steps()[mcs], ofdm_tones()[generation, width_mhz].data_tones
    return tones * step.bits * step.code_numerator * streams / step.code_denominator
