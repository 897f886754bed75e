"""Modulation and coding steps, tones and guard intervals of the four Wi-Fi generations in use."""

from __future__ import annotations

from enum import StrEnum
from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load


class Generation(StrEnum):
    """A generation of the Wi-Fi physical layer, by the standard's short name."""

    HT = "HT"  # IEEE 802.11n
    VHT = "VHT"  # IEEE 802.11ac
    HE = "HE"  # IEEE 802.11ax
    EHT = "EHT"  # IEEE 802.11be


class Ladder(StrEnum):
    """How good a receiver is taken to be."""

    GUARANTEED = "guaranteed"  # the standard's minimum sensitivity: any certified device does this
    EXPECTED = "expected"  # the signal an open-source supplicant asks for before it counts on a step
    BEST = "best"  # an ideal receiver in white noise, 10 % packet errors


class ModulationStep(FactRow):
    """One modulation and coding step: bits per tone and code rate."""

    table: ClassVar[str] = "modulation_steps"
    decides: ClassVar[str] = "the Wi-Fi rates that a link can have"
    mcs: int
    bits: int
    code_numerator: int
    code_denominator: int


class Tones(FactRow):
    """Data tones of one generation at one width, and the length of its symbol without guard."""

    table: ClassVar[str] = "ofdm_tones"
    decides: ClassVar[str] = "the Wi-Fi rates that a link can have"
    generation: Generation
    width_mhz: int
    data_tones: int
    symbol_us: float
    top_mcs: int


class LeftOutMode(FactRow):
    """A mode that the standard leaves out although its symbol holds a whole number of data bits."""

    table: ClassVar[str] = "left_out_modes"
    decides: ClassVar[str] = "the Wi-Fi rates that a link can have"
    generation: Generation
    mcs: int
    width_mhz: int
    streams: int


class Guard(FactRow):
    """One guard interval that a generation may use."""

    table: ClassVar[str] = "guard_intervals"
    decides: ClassVar[str] = "the Wi-Fi rates that a link can have"
    generation: Generation
    guard_us: float


class ReceiverLimit(FactRow):
    """What a receiver needs for one step at 20 MHz: a level in dBm or a signal-to-noise ratio in dB."""

    table: ClassVar[str] = "receiver_limits"
    decides: ClassVar[str] = "which rate a Wi-Fi link has at a level or a signal-to-noise ratio"
    ladder: Ladder
    mcs: int
    value: float
    unit: Literal["dbm", "db"]


@cache
def modulation_steps() -> dict[int, ModulationStep]:
    """Modulation and coding steps by MCS number: bits per tone, and the code rate as a fraction.

    **Source**: the fact table `modulation_steps` (IEEE Std 802.11).

    >>> step = modulation_steps()[7]
    >>> step.bits, step.code_numerator, step.code_denominator
    (6, 5, 6)
    """
    return {row.mcs: row for row in load(ModulationStep)}


@cache
def ofdm_tones() -> dict[tuple[Generation, int], Tones]:
    """Data tones, length of a symbol without guard [µs] and top MCS, by generation and width [MHz].

    A width that a generation has not is not there. **Source**: the fact table `ofdm_tones` (IEEE Std
    802.11).

    >>> ofdm_tones()[Generation.HE, 80].data_tones
    980
    """
    return {(row.generation, row.width_mhz): row for row in load(Tones)}


@cache
def left_out_modes() -> frozenset[tuple[Generation, int, int, int]]:
    """Modes that the standard leaves out, besides those without a whole number of data bits.

    Returns generation, MCS, width [MHz] and streams of each: their data bits do not divide evenly among
    the encoders. **Source**: the fact table `left_out_modes` (IEEE Std 802.11).

    >>> (Generation.VHT, 6, 80, 3) in left_out_modes()
    True
    """
    return frozenset((row.generation, row.mcs, row.width_mhz, row.streams) for row in load(LeftOutMode))


@cache
def guard_intervals_us() -> dict[Generation, tuple[float, ...]]:
    """Guard intervals that each generation may use [µs], shortest first.

    **Source**: the fact table `guard_intervals` (IEEE Std 802.11).

    >>> guard_intervals_us()[Generation.HE]
    (0.8, 1.6, 3.2)
    """
    found: dict[Generation, list[float]] = {}
    for row in load(Guard):
        found.setdefault(row.generation, []).append(row.guard_us)
    return {generation: tuple(sorted(values)) for generation, values in found.items()}


@cache
def receiver_limits() -> dict[tuple[Ladder, int], ReceiverLimit]:
    """What a receiver needs for a step at 20 MHz, by ladder and MCS number: a level [dBm] or a ratio [dB].

    `unit` of each row says which. **Validity**: 20 MHz; `rehaul.wlan` widens them. **Source**: the fact
    table `receiver_limits` (docs/wlan.md).
    """
    return {(row.ladder, row.mcs): row for row in load(ReceiverLimit)}
