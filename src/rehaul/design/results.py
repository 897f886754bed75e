"""What was chosen: sites, runs, channels, boxes, names and addresses, each with its reason."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field, field_validator

from rehaul.house import Band, Model
from rehaul.house.base import Point, Point3
from rehaul.words.fields import Words


class Site(Model):
    """A place where an access point may go, and what getting there costs."""

    id: str  # the outlet's id, or N1, N2, ... for a new pull
    name: str  # the room's name
    storey: str
    position: Point
    height_m: float  # above the storey's floor
    mounting: Literal["ceiling", "wall", "shelf"]
    fixing: Literal["screws", "reversible"] = "screws"
    room: str = ""
    run: str = ""  # the old run that reaches it; empty for a new pull
    new_pull_m: float = 0.0
    hop: bool = False  # hangs on the router by radio: no cable at all
    way: str = ""  # how a new cable gets there, by the fact table `pull_ways`
    spends: str = ""  # the old run that is drawn out for it
    wire_mbps: float  # what the run carries
    poe_class: int
    cost: float  # expected, without the access point
    cost_90: float
    chance: float  # that the run works as taken
    route: tuple[Point3, ...] = ()
    why: Words = ""


class AccessPoint(Model):
    """A chosen access point."""

    id: str  # AP1, AP2, ...
    name: str  # room name, used everywhere
    site: Site
    equipment: str  # generic equipment class
    why: Words  # why here and not elsewhere
    way: str = ""  # id of the chosen way
    supply: bool = False  # it has a supply of its own at a mains socket


class WiredOutlet(Model):
    """A wired outlet that the plan gives to a room that asks for one."""

    id: str  # the plate's id, or one of its own at the end of a new cable
    room: str
    name: str  # the room's, for people
    storey: str
    position: Point | None = None
    run: str = ""  # the old cable that reaches it; empty for a new one
    pull: str = ""  # the new cable
    rate_mbps: float  # payload
    way: str = ""
    beside_switch: bool = False  # on a small switch at that plate


class RouterDecision(Model):
    """What becomes of the router."""

    box: str = ""
    do: Literal["keep", "move", "radio off", "none"] = "none"
    storey: str = ""
    position: Point | None = None
    height_m: float = 0.0
    words: Words = ""
    cost: float = 0.0


class SwappedDevice(Model):
    """An old device that is given a new radio instead of its room getting a box."""

    id: str
    room: str  # id
    name: str  # of the room, for people
    was: str  # client class
    becomes: str
    item: str  # of the price list
    way: str  # id of the chosen way
    words: Words
    cost: float
    by: Literal["household"] = "household"  # who does it: no visit for it


class SetBox(Model):
    """A box that stands, whose radio is set afresh: it could send wider than it is set to."""

    box: str
    name: str
    words: Words


class PaidOnce(Model):
    """A piece of work that several ways may share."""

    id: str
    words: Words
    cost: float


class FrontPoint(Model):
    """One point on the front of cost against rooms served."""

    cost: float
    rooms_served: int
    rooms: tuple[str, ...]  # names of the rooms served
    sites: tuple[str, ...]
    equipment: tuple[str, ...]
    ways: tuple[str, ...] = ()
    switch: str = ""  # class of the main switch
    devices: tuple[str, ...] = ()  # names of rooms whose old device gets a new radio
    set_afresh: tuple[str, ...] = ()  # names of boxes that stand and whose radio is set afresh
    chosen: bool = False
    nothing: bool = False  # everything stays as it stands
    beaten: bool = False  # another costs less and serves no fewer rooms; see `told_beaten`


def told_beaten(front: tuple[FrontPoint, ...]) -> tuple[FrontPoint, ...]:
    """The front, every point told whether it is beaten; the chosen one never is.

    Parameters: `front`, all its points. Beaten is one that another serves as many rooms as, or more, for
    less.
    """
    return tuple(
        point.model_copy(
            update={
                "beaten": not point.chosen
                and any(one.cost < point.cost and one.rooms_served >= point.rooms_served for one in front)
            }
        )
        for point in front
    )


class RoomShortfall(Model):
    """A room whose need the plan cannot meet, by how much, and the cheapest thing that would fix it."""

    room: str
    name: str
    need_mbps: float
    gets_mbps: float
    served_pct: float
    fix: Words
    fix_cost: float | None
    kind: Literal["down", "up", "delay", "outlets"] = "down"
    says: Words = ""  # what it lacks, for people


class RoomChance(Model):
    """How surely a room is served as a whole, its walls wrong together."""

    room: str
    name: str
    asked: float
    chance: float


class Choice(Model):
    """Which sites, why, and how sure it is that nothing cheaper would do."""

    access_points: tuple[AccessPoint, ...]
    candidates: tuple[Site, ...]
    cost: float
    bound: float
    gap_pct: float
    proven: bool
    front: tuple[FrontPoint, ...]
    shortfalls: tuple[RoomShortfall, ...]
    what_one_more_buys: Words = ""
    why_not: tuple[Words, ...] = ()  # for each of the cheapest sites left out, and how many more there are
    room_chances: tuple[RoomChance, ...] = ()  # where the job asks for whole rooms
    outlets: tuple[WiredOutlet, ...] = ()
    router: RouterDecision = RouterDecision()
    devices: tuple[SwappedDevice, ...] = ()  # old devices that are given a new radio
    set_afresh: tuple[SetBox, ...] = ()  # boxes that stand and are set to other channels and widths
    pins_left: tuple[str, ...] = ()  # pinned sites that nothing can feed, or pay: the plan does without
    resources: tuple[PaidOnce, ...] = ()
    ways: tuple[str, ...] = ()  # ids of everything chosen
    rooms_met: tuple[str, ...] = ()  # ids of rooms whose need is met, as chosen
    words: Words = ""  # the first sentence for people
    problem: dict[str, Any] = Field(default_factory=dict)  # what was solved, as plain data

    @field_validator("front")
    @classmethod
    def _told(cls, front: tuple[FrontPoint, ...]) -> tuple[FrontPoint, ...]:
        return told_beaten(front)


class Channel(Model):
    """What one access point sends on in one band."""

    access_point: str
    band: Band
    channel: int  # primary channel number
    centre_channel: int  # number of the whole width's centre
    width_mhz: int
    power_dbm: float  # EIRP
    dfs: bool = False
    note: Words = ""
    air_left: float = 1.0  # part of the air that neighbours heard leave on it


class ChannelPlan(Model):
    """Channels of the whole house."""

    channels: tuple[Channel, ...]
    overlaps: tuple[Words, ...]  # sentences; empty where none was unavoidable
    proven: bool
    things_channel: int  # IEEE 802.15.4 channel left clear for sensors and locks


class Port(Model):
    """One row of the port map: what is plugged where."""

    port: int
    device: Words  # what hangs on it
    outlet: str = ""
    run: str = ""
    panel_port: int | None = None
    rate_mbps: float
    poe_class: int = 0
    poe_w: float = 0.0
    vlan: Words = ""
    cord_m: float = 0.5
    link: str = ""  # of the graph: the cable or cord that leaves here
    injector: bool = False  # power comes from an injector, not from the switch


RackKind = Literal["battery", "box", "switch", "panel"]  # box: it stood already, whatever it is


class RackItem(Model):
    """One thing in the rack, from the top."""

    unit: int  # lowest unit it fills, 1 at the bottom
    height_u: int
    name: Words
    kind: RackKind = "box"
    equipment: str
    draw_w: float
    new: bool = True  # False: it stands already


class Address(Model):
    """One row of the address sheet."""

    name: Words
    network: Words
    address: Words
    note: Words = ""


class Subnet(Model):
    """One separated network."""

    name: str
    vlan: int
    subnet: str
    purpose: Words


class Network(Model):
    """Switch, panel, rack, power, addresses."""

    switch: str  # equipment class
    ports: tuple[Port, ...]
    spare_ports: int
    poe_budget_w: float
    poe_used_w: float
    rack: tuple[RackItem, ...]
    rack_units: int
    draw_w: float
    core_draw_w: float
    ups: str
    ups_minutes_all: float
    ups_minutes_core: float
    temperature_rise_c: float
    heat_note: Words
    stands: Literal["in", "beside"] = "in"  # the place where cables meet, or on a board beside it
    subnets: tuple[Subnet, ...]
    addresses: tuple[Address, ...]
    notes: tuple[Words, ...] = ()
