"""What was done on a job: plugs placed, ends read, decisions recorded, steps ticked off. It only grows."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from rehaul.facts.line_voltages import line_voltage
from rehaul.house.base import STORABLE, Id, Model, Name, NotNegative, Rate, SignOff, Text
from rehaul.words import say

Conductor = Annotated[int, Field(ge=1, le=8)]  # counted in colour order
NotNegativeMoney = Annotated[float, Field(ge=0, le=1e9)]
TiedGroups = tuple[tuple[Conductor, ...], ...]


class PlacedPlug(Model):
    """A tracing plug that stands, or stood, in an outlet."""

    id: Id
    outlet: Id
    round: Annotated[int, Field(ge=1, le=20)] = 1
    ties: TiedGroups = ()  # conductors strapped together
    resistors: tuple[tuple[Conductor, Conductor, Annotated[float, Field(gt=0, le=1e9)]], ...] = ()
    by: Text = ""
    time: Text = ""


class TraceReading(Model):
    """One thing seen at the end of a cable while tracing. A mistake is withdrawn by another entry."""

    id: Id
    kind: Literal["continuity", "resistance", "tone", "link", "bridge", "withdrawn"]
    end: Id | None = None  # the run whose end at the meeting point was read
    outlet: Id | None = None  # tone, link
    other: Id | None = None  # bridge: the other run; withdrawn: the reading that no longer counts
    ties: TiedGroups = ()  # continuity: which conductors beep together
    tested: tuple[Conductor, ...] | None = None  # continuity: those probed; all where left out
    conductors: tuple[Conductor, Conductor] | None = None  # resistance
    ohm: NotNegative | None = None  # resistance; None: the meter shows open
    heard: Literal["loud", "faint", "none"] | None = None  # tone
    rate_mbps: Rate | None = None  # link; None: no light
    joined: bool | None = None  # bridge
    round: Annotated[int, Field(ge=1, le=20)] = 1
    reason: Text = ""
    by: Text = ""
    time: Text = ""

    @model_validator(mode="after")
    def _says_enough(self) -> TraceReading:
        needed = {
            "continuity": ("end",),
            "resistance": ("end", "conductors"),
            "tone": ("end", "outlet", "heard"),
            "link": ("end", "outlet"),
            "bridge": ("end", "other", "joined"),
            "withdrawn": ("other",),
        }[self.kind]
        missing = [field for field in needed if getattr(self, field) is None]
        if missing:
            raise ValueError(say("refused_house.reading_needs", kind=self.kind, needs=missing[0]))
        return self


class LineCheck(Model):
    """What was found out about the lines that arrive where cables meet, before anything is tied to them.

    A mistake is withdrawn by another entry; of two that say the same thing the later one counts.
    """

    id: Id
    at: Id  # the meeting point
    what: Literal["who depends", "voltage", "modem sync", "disconnected", "reconnected", "withdrawn"]
    run: Id | None = None  # None: every cable there
    outlet: Id | None = None  # voltage, modem sync: tried at this plate, not at the meeting point
    nobody: bool | None = None  # who depends: False where somebody does, and is in the register
    # voltage: the highest on any pair, without its sign; one of the two is enough where it shows a live line
    dc_v: Annotated[float, Field(ge=0, le=500)] | None = None
    ac_v: Annotated[float, Field(ge=0, le=500)] | None = None
    synchronises: bool | None = None  # modem sync: a line with DSL alone has no voltage
    sign_off: SignOff | None = None  # disconnected: the occupant agreed; reconnected: tested with them
    other: Id | None = None  # withdrawn: the check that no longer counts
    by: Text = ""
    time: Text = ""
    note: Text = ""

    @model_validator(mode="after")
    def _says_enough(self) -> LineCheck:
        needed = {
            "who depends": ("nobody",),
            "voltage": () if self._shows_volts() else ("dc_v", "ac_v"),
            "modem sync": ("synchronises",),
            "disconnected": ("sign_off",),
            "reconnected": ("sign_off",),
            "withdrawn": ("other",),
        }[self.what]
        missing = [field for field in needed if getattr(self, field) is None]
        if missing:
            code = "refused_house.volts_need" if self.what == "voltage" else "refused_house.line_check_needs"
            raise ValueError(say(code, what=self.what, needs=missing[0]))
        if self.what == "reconnected" and self.sign_off and not self.sign_off.words.strip():
            raise ValueError(say("refused_house.reconnected_needs_words"))
        if self.outlet is not None and (self.run is not None or self.what not in ("voltage", "modem sync")):
            raise ValueError(say("refused_house.tried_at_plate"))
        return self

    def _shows_volts(self) -> bool:
        """Whether what was measured is a live line already; silence of one current is half a reading."""
        loud_dc = self.dc_v is not None and not line_voltage("dc", self.dc_v).quiet
        return loud_dc or (self.ac_v is not None and not line_voltage("ac", self.ac_v).quiet)


class Decision(Model):
    """A recorded decision about a cable itself: tested dead, or its service moved or given up."""

    id: Id
    run: Id
    sign_off: SignOff


class Tick(Model):
    """A step of the work that somebody says is done."""

    id: Id
    task: Name  # the step's key, which stays the same when the plan is made anew
    by: Text = ""
    time: Text = ""
    note: Text = ""
    despite: Text = ""  # the steps that should have come first, where somebody went ahead knowingly


class Acceptance(Model):
    """One signed line of the acceptance record."""

    id: Id
    about: Id  # a run or a room
    result: Literal["pass", "fail", "not tested"]
    note: Text = ""
    sign_off: SignOff | None = None


class AcceptedOffer(Model):
    """An offer as it was signed: its own text, and a hash by which a later change shows."""

    id: Id
    option: Name  # the offer's name
    total: NotNegativeMoney
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$", description="ISO 4217 code")]
    offer: Annotated[
        str, Field(max_length=200_000, description="canonical JSON of what was offered"), STORABLE
    ]
    sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$", description="of `offer` in UTF-8")]
    sign_off: SignOff
    # The plan as signed, canonical JSON, and its hash; empty for offers of schema version 1.
    plan: Annotated[str, Field(max_length=8_000_000), STORABLE] = ""
    plan_sha256: Annotated[str, Field(pattern=r"^([0-9a-f]{64})?$")] = ""
