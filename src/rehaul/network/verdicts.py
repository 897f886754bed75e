"""What an old cable can do, as data: Ethernet rates, classes of power, and what holds it."""

from __future__ import annotations

from rehaul.house import Grade, Model
from rehaul.words import Words

SHOWN_ANSWERS = 3  # of a reading, the likeliest
SHOWN_LIMITS = 3  # of a class, those missed most


class EthernetVerdict(Model):
    """Whether a run holds one Ethernet rate."""

    ethernet: str  # "1000BASE-T"
    rate_mbps: float
    band: str  # likely, try it, no
    chance: float
    reason: Words
    grade: Grade
    lift: Words = ""  # what would make it better
    lifted_chance: float = 0.0  # the chance once that is done


class PowerVerdict(Model):
    """Whether a run carries one class of power over Ethernet."""

    poe_class: int
    band: str  # likely, try it, no
    voltage_at_device_v: float
    device_w: float
    reason: Words
    grade: Grade


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


class BrokenLimit(Model):
    """One limit of a class that a line does not keep, where it misses it most."""

    quantity: str  # insertion loss, NEXT, return loss, ...
    by_db: float
    at_mhz: float


class ClassCheck(Model):
    """A cable as noted beside the limits of a class of channel: never a certificate."""

    channel: str  # "class D"
    ethernet: str  # the fastest rate that a certificate of the class settles
    broken: tuple[BrokenLimit, ...]  # the worst first
    top_mhz: float  # up to which it holds
    loss_allowed_db: float  # of insertion there
    loss_left_db: float

    @property
    def sentence(self) -> str:
        """For people."""
        start = f"{self.channel[0].upper()}{self.channel[1:]}, which settles {self.ethernet}"
        if not self.broken:
            left = f"{self.loss_left_db:.0f} of {self.loss_allowed_db:.0f} dB"
            return f"{start}: as noted it keeps every limit, {left} of loss left at {self.top_mhz:g} MHz"
        worst = self.broken[:SHOWN_LIMITS]
        misses = [f"{row.quantity} by {row.by_db:.0f} dB at {row.at_mhz:g} MHz" for row in worst]
        return f"{start}: as noted it misses {', '.join(misses)}"


class OtherUse(Model):
    """An open standard that a cable could carry with an adapter at each end."""

    medium: str
    standard: str
    low_mbps: float  # to count on
    most_mbps: float  # the best case
    band: str  # likely, try it
    where: str = ""  # the other end, of a coax
    reason: Words = ""
    needs: str = ""
    caution: str = ""

    @property
    def sentence(self) -> str:
        """For people."""
        there = f" {self.where}" if self.where else ""
        rates = f"{self.low_mbps:.0f} to {self.most_mbps:.0f} Mb/s, {self.band}"
        return f"As {self.medium}{there}, {self.standard}: {rates}; needs {self.needs}. {self.caution}"


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
    telling: Telling | None = None  # what to look at or measure first to know more
    against: ClassCheck | None = None  # against the limits of the class that its kind is sold for
    other: tuple[OtherUse, ...] = ()  # what it could carry where pairs do not suffice
    closer: tuple[str, ...] = ()  # what a closer look says, in sentences
