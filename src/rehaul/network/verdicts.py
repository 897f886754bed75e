"""What an old cable can do, as data: Ethernet rates, classes of power, and what holds it."""

from __future__ import annotations

from rehaul.house import Grade, Model

SHOWN_ANSWERS = 3  # of a reading, the likeliest


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


class TellingAnswer(Model):
    """One answer that a reading may give, how likely it is, and what is known then."""

    answer: str
    chance: float
    then: float  # chance that the Ethernet holds


class Telling(Model):
    """The reading that would tell most of a run."""

    reading: str
    ethernet: str  # whose chance it moves most
    chance: float  # today
    answers: tuple[TellingAnswer, ...]

    @property
    def sentence(self) -> str:
        """For people."""
        shown = sorted(self.answers, key=lambda one: -one.chance)[:SHOWN_ANSWERS]
        then = ", ".join(f"{100 * one.then:.0f} % if {one.answer}" for one in shown)
        return f"{self.reading}: {self.ethernet} is {100 * self.chance:.0f} % sure, {then}"
