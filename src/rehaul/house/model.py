"""The house as data: what stands, and what runs in its walls.

Coordinates are metres: x right, y up on the sheet, z up from the lowest finished floor.
"Unknown" is a value: a survey is never complete.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from rehaul.facts.cables import CableKind
from rehaul.house.base import (
    UNKNOWN,
    Coordinate,
    Estimate,
    Grade,
    Id,
    Model,
    Name,
    NotNegative,
    Point,
    Point3,
    Positive,
    Rate,
    SignOff,
    Text,
)

Polygon = Annotated[tuple[Point, ...], Field(min_length=3, max_length=2000)]


class Layer(Model):
    """One sheet of material in a wall or slab, as a building model or a person named it."""

    material: Name  # a material or composite of the fact tables, or the foreign name where none fits
    thickness_m: Positive


class Slab(Model):
    """The floor of a storey: what a path meets between this storey and the one below."""

    construction: Name = UNKNOWN
    layers: tuple[Layer, ...] = ()
    thickness_m: Positive = 0.3
    outlines: Annotated[
        tuple[Polygon, ...], Field(max_length=100)
    ] = ()  # its parts; none: round the storey's rooms
    voids: tuple[Polygon, ...] = ()  # stair wells and the like


class Storey(Model):
    """One floor of the house."""

    id: Id
    name: Name
    elevation_m: Coordinate  # finished floor above elevation 0
    height_m: Positive = 2.4  # floor to ceiling
    floor: Slab = Slab()
    access: Literal["open below", "open above", "closed", "unknown"] = UNKNOWN  # how its walls are reached
    ceiling: Literal["hollow", "solid", "unknown"] = UNKNOWN  # solid: concrete and the like, no cable in it


class Wall(Model):
    """A straight wall: a centre line with a thickness, a height and a construction."""

    id: Id
    storey: Id
    start: Point
    end: Point
    thickness_m: Positive | None = None  # None: the construction's own
    height_m: Positive | None = None  # None: to the ceiling
    base_m: NotNegative = 0.0  # above the storey's floor
    construction: Name = UNKNOWN  # a construction of the fact table
    layers: tuple[Layer, ...] = ()  # where given, they rule over `construction`
    fire_rated: bool | None = None
    drilling: Literal["allowed", "forbidden", "unknown"] = UNKNOWN  # may anything be screwed to it
    note: Text = ""


class OpeningKind(StrEnum):
    DOOR = "door"
    WINDOW = "window"
    GAP = "gap"  # an opening with nothing in it


class Opening(Model):
    """A door, window or gap in a wall; `offset_m` runs along the centre line from the wall's start."""

    id: Id
    wall: Id
    kind: OpeningKind
    offset_m: NotNegative  # to the near edge
    width_m: Positive
    height_m: Positive = 2.0
    sill_m: NotNegative = 0.0  # above the storey's floor
    construction: Name = UNKNOWN
    open: bool | None = None  # a door as it usually stands; None: unknown, counted as shut
    hinge: Literal["near", "far", "unknown"] = (
        UNKNOWN  # the edge its leaf hangs on, seen from the wall's start
    )
    swing: Literal["left", "right", "unknown"] = UNKNOWN  # the side of the wall it opens to, seen so too


class Room(Model):
    """A room: the name chosen once and used everywhere."""

    id: Id
    name: Name
    storey: Id
    polygon: Polygon
    lived_in: bool = True  # False: stores, voids, stairs; no need is assumed there
    outbuilding: bool = False  # stands apart from the house: no copper goes there
    outside: bool = False  # garden, drive, terrace: asks for signal, holds no box
    bathroom: bool = False  # bath or shower: no box goes in
    household: Text = ""  # whose, where several live in the house; empty: the customer's

    @property
    def counts(self) -> bool:
        """Lived in and within the walls: what it gets is counted though nothing is asked for."""
        return self.lived_in and not self.outside


class BodyKind(StrEnum):
    FRIDGE = "fridge"
    BATH = "bath"
    BOILER = "boiler"
    DUCT = "duct"
    MIRROR = "mirror"
    CHIMNEY = "chimney"
    OTHER = "other"


class Body(Model):
    """A big thing that radio does not like: metal, or a chimney breast."""

    id: Id
    storey: Id
    kind: BodyKind
    corner: Point  # lower left on the sheet
    width_m: Positive
    depth_m: Positive
    height_m: Positive
    base_m: NotNegative = 0.0
    construction: Name = "metal-body"


class OutletKind(StrEnum):
    TELEPHONE = "telephone"
    COAX = "coax"
    DATA = "data"
    BLANK = "blank plate"
    UNKNOWN = "unknown"


class Outlet(Model):
    """A plate on a wall where a cable surfaces, or is said to."""

    id: Id
    storey: Id
    kind: OutletKind = OutletKind.UNKNOWN
    position: Point | None = None  # None: never located; it stays listed as such
    height_m: NotNegative = 0.3  # above the storey's floor
    room: Id | None = None
    mains: bool | None = None  # a mains socket within a cord's reach
    old_label: Text = ""
    note: Text = ""


class MeetingKind(StrEnum):
    CLOSET = "closet"
    PANEL = "panel"
    DEMARCATION = "demarcation point"
    JUNCTION_BOX = "junction box"


class MeetingPoint(Model):
    """A place where cables meet: where a rack, a panel or a joint can be."""

    id: Id
    name: Name
    storey: Id
    position: Point
    height_m: NotNegative = 1.2
    kind: MeetingKind = MeetingKind.CLOSET
    enclosure: Literal["open wall", "cupboard", "flush metal can", "attic", "unknown"] = UNKNOWN
    power_sockets: Annotated[int, Field(ge=0, le=1000)] | None = None
    inside_m: tuple[Positive, Positive, Positive] | None = None  # width, height, depth of what it can hold
    vented: bool | None = None  # whether air passes through a closed one


class Splitter(Model):
    """Where one coax becomes several: cables name it among their ends."""

    id: Id
    name: Name
    storey: Id
    position: Point | None = None  # None: known to be there, never found
    height_m: NotNegative = 0.3  # above the storey's floor
    ways: Annotated[int, Field(ge=1, le=32)] = 2  # outputs
    input: Id | None = None  # the coax on its input; None: nobody looked
    passes_mhz: Annotated[float, Field(gt=0, le=10000)] | None = None  # printed on it, at most
    amplifier: bool = False
    capped: bool | None = None  # whether the outputs that feed nothing are terminated


class Topology(StrEnum):
    HOME_RUN = "home run"
    DAISY_CHAIN = "daisy chain"
    SPLICED = "spliced"
    UNKNOWN = "unknown"


class RunState(StrEnum):
    LIVE_TELEPHONE = "live telephone"
    ALARM = "alarm"
    DEAD = "dead"
    DAMAGED = "damaged"
    UNKNOWN = "unknown"


class WireMap(StrEnum):
    GOOD = "good"
    OPEN = "open"
    SHORT = "short"
    CROSSED = "crossed"
    REVERSED = "reversed"
    SPLIT = "split pair"


class RunTest(Model):
    """What was found on a run with an instrument in hand."""

    wire_map: WireMap | None = None
    link_mbps: Rate | None = None  # the Ethernet rate that came up
    port_mbps: Rate = 1000.0  # the fastest rate that both test ports have
    errors: Annotated[int, Field(ge=0, le=10**15)] | None = None  # over a timed transfer
    soak_s: NotNegative | None = None
    loop_ohm: NotNegative | None = None
    fault_ohm: NotNegative | None = None  # loop of a shorted pair, read from `from_end` up to the fault
    from_end: Id | None = None
    poe_voltage_v: NotNegative | None = None
    certified_to: CableKind | None = None
    by: Text = ""
    date: Text = ""


class Run(Model):
    """A cable in the walls. `ends` lists where it surfaces, in order along it; a chain has more than two.

    An end is the id of an outlet, a meeting point or a splitter, or "unknown".
    """

    id: Id
    ends: Annotated[tuple[str, ...], Field(min_length=2, max_length=20)]
    kind: CableKind = CableKind.UNKNOWN
    pairs: Annotated[int, Field(ge=1, le=25)] | None = None
    gauge_awg: Annotated[int, Field(ge=18, le=28)] | None = None
    coax: Literal["RG-59", "RG-6", "RG-11", "unknown"] = UNKNOWN  # the series of a coax
    sheath_print: Text = ""
    length_m: Estimate | None = None  # None: judged from the plan
    topology: Topology = Topology.UNKNOWN
    splices: Annotated[int, Field(ge=0, le=50)] | None = None
    taps_m: tuple[Positive, ...] = ()  # open branches, each by its length
    state: RunState = RunState.UNKNOWN
    in_conduit: bool | None = None
    conduit_bore_m: Positive | None = None  # inside diameter
    conduit_others: Annotated[int, Field(ge=0, le=50)] = 0  # other cables that stay in the same conduit
    # The way it runs; its length counts where none is noted.
    route: Annotated[tuple[Point3, ...], Field(max_length=500)] = ()
    tests: tuple[RunTest, ...] = ()
    traced: Grade = Grade.UNKNOWN  # how sure it is that the ends belong together
    note: Text = ""


class HazardKind(StrEnum):
    ASBESTOS = "asbestos"
    LEAD_PAINT = "lead paint"
    KNOB_AND_TUBE = "knob and tube"
    OTHER = "other"


class Hazard(Model):
    """Something in the way that a licensed person tests or makes safe before a hole is made there."""

    id: Id
    kind: HazardKind
    state: Literal["suspected", "present", "made safe", "tested clear"] = "suspected"
    storey: Id | None = None  # neither storey nor room: the whole house
    room: Id | None = None
    where: Text = ""  # in words: eaves, ceiling, party wall
    sign_off: SignOff | None = None


class Bell(Model):
    """A door bell or door camera fed over an old run."""

    id: Id
    run: Id
    transformer_v: Annotated[float, Field(ge=4, le=48)] = 16.0
    load_va: Annotated[float, Field(ge=0, le=100)] = 10.0
    needs_v: Annotated[float, Field(ge=0, le=48)] = 0.0


class House(Model):
    """Everything that stands."""

    name: Name = "House"
    built_year: Annotated[int, Field(ge=1500, le=2100)] | None = None
    tenure: Literal["owned", "rented", "unknown"] = UNKNOWN
    storeys: Annotated[tuple[Storey, ...], Field(max_length=50)] = ()
    rooms: Annotated[tuple[Room, ...], Field(max_length=2000)] = ()
    walls: Annotated[tuple[Wall, ...], Field(max_length=20000)] = ()
    openings: Annotated[tuple[Opening, ...], Field(max_length=20000)] = ()
    bodies: Annotated[tuple[Body, ...], Field(max_length=2000)] = ()
    outlets: Annotated[tuple[Outlet, ...], Field(max_length=2000)] = ()
    meeting_points: Annotated[tuple[MeetingPoint, ...], Field(max_length=100)] = ()
    splitters: Annotated[tuple[Splitter, ...], Field(max_length=200)] = ()
    entry_filter: bool | None = None  # a filter where the coax enters the house keeps our data in
    runs: Annotated[tuple[Run, ...], Field(max_length=2000)] = ()
    hazards: Annotated[tuple[Hazard, ...], Field(max_length=200)] = ()
    bells: Annotated[tuple[Bell, ...], Field(max_length=50)] = ()
