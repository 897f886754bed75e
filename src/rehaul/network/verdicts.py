"""What an old cable can do, as data: Ethernet rates, classes of power, and what holds it."""

from __future__ import annotations

from rehaul.house import Grade, Model
from rehaul.words import Saying, say, term
from rehaul.words.fields import Words

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

    answer: Words
    chance: float
    then: float  # chance that the Ethernet holds


class Telling(Model):
    """The reading that would tell most of a run."""

    reading: Words
    ethernet: str  # whose chance it moves most
    chance: float  # today
    answers: tuple[TellingAnswer, ...]

    @property
    def sentence(self) -> Saying:
        """For people."""
        shown = sorted(self.answers, key=lambda one: -one.chance)[:SHOWN_ANSWERS]
        return say(
            "network.telling",
            reading=self.reading,
            ethernet=self.ethernet,
            percent=100 * self.chance,
            then=[say("network.sure_if", percent=100 * one.then, answer=one.answer) for one in shown],
        )


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
    def sentence(self) -> Saying:
        """For people."""
        if not self.broken:
            return say(
                "network.keeps_every_limit",
                channel=self.channel,
                ethernet=self.ethernet,
                left_db=self.loss_left_db,
                allowed_db=self.loss_allowed_db,
                top_mhz=self.top_mhz,
            )
        misses = [
            say("network.misses_by", quantity=row.quantity, by_db=row.by_db, at_mhz=row.at_mhz)
            for row in self.broken[:SHOWN_LIMITS]
        ]
        return say("network.misses_limits", channel=self.channel, ethernet=self.ethernet, misses=misses)


class OtherUse(Model):
    """An open standard that a cable could carry with an adapter at each end."""

    medium: str
    standard: str
    low_mbps: float  # to count on
    most_mbps: float  # the best case
    band: str  # likely, try it
    where: Words = ""  # the other end, of a coax
    reason: Words = ""
    needs: Words = ""
    caution: Words = ""

    @property
    def sentence(self) -> Saying:
        """For people."""
        medium: str = term(self.medium)
        if self.where:
            medium = say("network.medium_there", medium=medium, where=self.where)
        return say(
            "network.other_use",
            medium=medium,
            standard=self.standard,
            low_mbps=self.low_mbps,
            most_mbps=self.most_mbps,
            band=self.band,
            needs=self.needs,
            caution=self.caution,
        )


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
    sentence: Words = ""
    telling: Telling | None = None  # what to look at or measure first to know more
    against: ClassCheck | None = None  # against the limits of the class that its kind is sold for
    other: tuple[OtherUse, ...] = ()  # what it could carry where pairs do not suffice
    closer: tuple[Words, ...] = ()  # what a closer look says, in sentences
