"""What an old cable can do, as data: Ethernet rates, classes of power, and what holds it."""

from __future__ import annotations

from rehaul.house import Grade, Model


class EthernetVerdict(Model):
    """Whether a run holds one Ethernet rate."""

    ethernet: str  # "1000BASE-T"
    rate_mbps: float
    band: str  # likely, try it, no
    chance: float
    reason: str
    grade: Grade
    lift: str = ""  # what would make it better
    lifted_chance: float = 0.0  # the chance once that is done


class PowerVerdict(Model):
    """Whether a run carries one class of power over Ethernet."""

    poe_class: int
    band: str  # likely, try it, no
    voltage_at_device_v: float
    device_w: float
    reason: str
    grade: Grade


class RunVerdict(Model):
    """What an old cable can do, as it is."""

    run: str
    ends: tuple[str, ...]
    length_low_m: float
    length_m: float
    length_high_m: float
    ethernet: tuple[EthernetVerdict, ...]  # slowest first
    power: tuple[PowerVerdict, ...]  # lowest class first
    likely_mbps: float  # fastest rate in the band "likely"; 0 where none
    hoped_mbps: float  # fastest rate in "likely" or "try it"
    poe_class: int  # highest class in "likely"; 0 where none
    usable: bool  # may be used for the new network at all
    held_by: tuple[str, ...] = ()  # obligations that hold it
    sentence: str = ""
