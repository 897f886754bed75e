"""The job document: one house, its survey, what the household needs, and what was decided."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from rehaul.facts.link_media import FedBy
from rehaul.house.base import (
    UNKNOWN,
    Id,
    Model,
    Name,
    NotNegative,
    Point,
    Rate,
    SignOff,
    Text,
)
from rehaul.house.model import House
from rehaul.house.trail import (
    Acceptance,
    AcceptedOffer,
    Decision,
    LineCheck,
    PlacedPlug,
    Tick,
    TraceReading,
)
from rehaul.words import term

SCHEMA_VERSION: Literal[3] = 3

Probability = Annotated[float, Field(ge=0.5, le=0.999)]
Country = Annotated[str, Field(pattern=r"^[A-Z]{2}$", description="ISO 3166 code")]
Currency = Annotated[str, Field(pattern=r"^[A-Z]{3}$", description="ISO 4217 code")]


class RadioSetting(Model):
    """What one radio of a box is set to today, as its own page or a scan says. None: not read."""

    band: Band
    channel: Annotated[int, Field(ge=1, le=253)] | None = None  # primary
    width_mhz: Literal[20, 40, 80, 160, 320] | None = None


class Box(Model):
    """A box with electronics that stands in the house today: modem, router, access point, switch."""

    id: Id
    name: Name
    equipment: Name  # a generic equipment class of the fact table
    storey: Id
    position: Point
    height_m: NotNegative = 1.0
    keep: bool = True  # False: it goes when the new network stands
    movable: bool | None = None  # may it stand elsewhere; None: not asked, counted as yes
    radio: bool = True  # whether its radio is on
    set_to: tuple[RadioSetting, ...] = ()  # a band that is not named counts as at its widest
    fed_by: FedBy = UNKNOWN  # how it hangs on the network
    run: Id | None = None  # the cable in the wall that feeds it, where one does


class Service(Model):
    """What is paid for, and where it enters."""

    down_mbps: Rate = 100.0
    up_mbps: Rate = 20.0
    medium: Literal["cable", "dsl", "fibre", "wireless", "unknown"] = UNKNOWN
    modem: Id | None = None  # the box that it ends in
    run: Id | None = None  # the cable in the house that the provider's line comes in on
    enters: Id | None = None  # the meeting point or outlet where it comes into the house
    managed_queue: bool | None = None  # its queue is kept short, by the router or the modem; None: not known


class Device(Model):
    """A household device used for readings or named in a need."""

    id: Id
    name: Name
    client: Name  # a client class of the fact table


class Band(StrEnum):
    GHZ_2_4 = "2.4"
    GHZ_5 = "5"
    GHZ_6 = "6"


class Quantity(StrEnum):
    DOWN_MBPS = "down_mbps"
    UP_MBPS = "up_mbps"
    POWER_DBM = "power_dbm"
    DELAY_MS = "delay_ms"
    LOADED_DELAY_MS = "loaded_delay_ms"
    LINK_MBPS = "link_mbps"


class Reading(Model):
    """One thing measured at one place at one time."""

    id: Id
    quantity: Quantity
    value: Annotated[float, Field(ge=-130, le=100000)]
    spread: NotNegative | None = None  # standard deviation of repeats
    repeats: Annotated[int, Field(ge=1)] = 1
    at_most: bool = False  # nothing was heard: the power is no more than the value
    stage: Literal["before", "during", "after"] = "before"
    room: Id | None = None
    storey: Id | None = None
    position: Point | None = None  # None: somewhere in the room
    height_m: NotNegative = 1.2
    device: Id | None = None
    band: Band | None = None
    box: Id | None = None  # the transmitter it was on, a box or a planned access point
    wired: bool = False
    doors: Literal["open", "shut", "unknown"] = UNKNOWN
    time: Text = ""  # ISO 8601
    note: Text = ""


class Need(Model):
    """What a room needs: the rate to reach there, and how surely."""

    id: Id
    room: Id
    uses: tuple[Name, ...] = ()  # uses of the fact table
    down_mbps: NotNegative | None = None  # None: summed from the uses
    up_mbps: NotNegative | None = None
    probability: Probability = 0.9
    client: Name | None = None  # client class; None: a phone of two streams
    wired_outlets: Annotated[int, Field(ge=0, le=20)] = 0
    delay_ms: NotNegative | None = None  # asked for under load: calls and games


class ObligationKind(StrEnum):
    MONITORED_ALARM = "monitored alarm"
    PENDANT_ALARM = "pendant alarm"
    ENTRY_PHONE = "entry phone"
    LIFT = "lift"
    DSL = "dsl"
    FAX = "fax"
    TELEPHONE = "telephone"
    TELEVISION = "television"  # aerial or cable television on a coax
    SATELLITE = "satellite"
    CABLE_MODEM = "cable modem"
    OTHER_HOUSEHOLD = "other household"
    OTHER = "other"

    @property
    def words(self) -> str:
        """As people write it, in the reader's language."""
        return "DSL" if self is ObligationKind.DSL else term(self.value)


class ObligationState(StrEnum):
    IN_USE = "in use"
    BELIEVED_UNUSED = "believed unused"
    MOVED = "moved and tested"  # it works on its new line
    RELEASED = "released"  # its owner says in writing that it may go


class Obligation(Model):
    """Somebody who still depends on a pair. Nothing that would cut it is ordered before a sign-off."""

    id: Id
    kind: ObligationKind
    run: Id
    pairs: tuple[Annotated[int, Field(ge=1, le=25)], ...] = ()  # empty: not known which, so all
    state: ObligationState = ObligationState.IN_USE
    who: Text = ""
    sign_off: SignOff | None = None


class Choices(Model):
    """What people decided; the plan keeps to it."""

    pinned_sites: tuple[Id, ...] = ()
    forbidden_sites: tuple[Id, ...] = ()
    new_pulls: bool = True  # may new cable be pulled at all
    move_router: bool = True  # may the router stand elsewhere, or its radio be switched off
    wireless_hops: bool = True  # may an access point hang on another by radio
    coax_adapters: bool = True  # may data go over the old coax
    swap_devices: bool = True  # may an old device be given a new radio
    fixing: Literal["screws", "reversible"] = "screws"  # reversible: nothing that leaves a mark
    budget: NotNegative | None = None
    ups_minutes: NotNegative = 20.0
    margin_pct: Annotated[float, Field(ge=0, lt=90)] = 25.0
    tax_pct: Annotated[float, Field(ge=0, le=50)] = 0.0
    labour_per_h: NotNegative | None = None  # None: the invented figure of the fact table
    dfs: bool = False  # may radar-shared channels be used
    spare_ports: Annotated[int, Field(ge=0, le=48)] = 2
    to_be_moved: tuple[Id, ...] = ()  # obligations the household has moved first; their cables then count
    people: Annotated[int, Field(ge=1, le=2)] = 1  # how many work on the job
    whole_rooms: bool = False  # a need's probability is that of its whole room at once, not of each place


class Heard(Model):
    """A neighbour's network heard in a scan."""

    id: Id
    band: Band
    channel: Annotated[int, Field(ge=1, le=253)]
    width_mhz: Literal[20, 40, 80, 160, 320] = 20
    power_dbm: Annotated[float, Field(ge=-110, le=0)]
    room: Id | None = None
    busy_pct: Annotated[float, Field(ge=0, le=100)] | None = None
    time: Text = ""  # ISO 8601


class Gate(Model):
    """Asked at the door, before a tool leaves the van. None: not asked yet."""

    lead_paint: bool | None = None
    asbestos: bool | None = None
    knob_and_tube: bool | None = None
    fire_rated_walls: bool | None = None
    licence_checked: bool | None = None
    landlord_agrees: bool | None = None
    asked_about_alarms: bool | None = None


class Contacts(Model):
    """Who is who on this job. Secrets do not belong here."""

    household: Text = ""
    technician: Text = ""
    firm: Text = ""
    address: Text = ""


class LearntTerm(Model):
    """What earlier houses say of one doubt of a prediction, beyond the tables: a `term` in the document."""

    term: Name  # a construction, the fall with distance, or a band's level
    shift_db: float  # more loss, of one crossing, decade or place
    sd_db: NotNegative  # how surely the mean of such houses is known
    houses: Annotated[int, Field(ge=1, le=10**9)]
    readings: Annotated[int, Field(ge=1, le=10**9)]


class Learnt(Model):
    """What a firm's earlier houses say, as predictions of this job use it."""

    date: Text = ""
    houses: Annotated[int, Field(ge=0, le=10**9)] = 0
    readings: Annotated[int, Field(ge=0, le=10**9)] = 0
    terms: Annotated[tuple[LearntTerm, ...], Field(max_length=500)] = ()


class Job(Model):
    """One job is one document."""

    schema_version: Literal[3] = SCHEMA_VERSION
    id: Id
    title: Name
    invented: bool = False  # a demo: house, prices and readings are made up
    country: Country = "US"
    units: Literal["metric", "imperial"] = "metric"
    paper: Literal["A4", "Letter"] = "A4"
    currency: Currency = "USD"
    date: Text = ""
    house: House = House()
    boxes: tuple[Box, ...] = ()
    service: Service = Service()
    devices: tuple[Device, ...] = ()
    needs: tuple[Need, ...] = ()
    obligations: tuple[Obligation, ...] = ()
    readings: Annotated[tuple[Reading, ...], Field(max_length=20000)] = ()
    heard: tuple[Heard, ...] = ()
    placed_plugs: Annotated[tuple[PlacedPlug, ...], Field(max_length=20000)] = ()
    trace_readings: Annotated[tuple[TraceReading, ...], Field(max_length=20000)] = ()
    line_checks: Annotated[tuple[LineCheck, ...], Field(max_length=2000)] = ()
    decisions: Annotated[tuple[Decision, ...], Field(max_length=2000)] = ()
    ticks: Annotated[tuple[Tick, ...], Field(max_length=20000)] = ()
    acceptance: Annotated[tuple[Acceptance, ...], Field(max_length=20000)] = ()
    accepted_offers: Annotated[tuple[AcceptedOffer, ...], Field(max_length=100)] = ()  # the last one rules
    choices: Choices = Choices()
    gate: Gate = Gate()
    contacts: Contacts = Contacts()
    learnt: Learnt | None = None
    notes: Text = ""
