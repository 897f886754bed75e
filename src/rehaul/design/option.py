"""One thing that may be chosen: what it is, where it stands, and how it is fed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rehaul.design.feeds import Feed
from rehaul.design.places import Place
from rehaul.design.routerplaces import HERE, RouterPlace
from rehaul.design.uplink import Uplink
from rehaul.facts.equipment import Equipment
from rehaul.facts.wlan_equipment import DeviceSwap
from rehaul.house import Box
from rehaul.network.model import Link
from rehaul.wlan import ethernet_tcp_mbps


@dataclass(frozen=True)
class Option:
    """One thing at one place, fed in one way."""

    id: str
    what: Literal["access point", "outlet", "router", "box", "uplink", "device", "settings"]
    group: str
    cost: float
    cost_90: float
    needs: tuple[str, ...] = ()
    ports: int = 0
    watts: float = 0.0
    place: Place | None = None
    equipment: Equipment | None = None
    feed: Feed | None = None
    uplink: Uplink | None = None  # of a box or outlet not chosen yet: the slowest of those it may hang on
    beside: tuple[str, ...] = ()  # uplinks of which one must be chosen too
    router: RouterPlace | None = None
    box: Box | None = None
    room: str = ""  # that an outlet is for, or that an old device is in
    swap: DeviceSwap | None = None  # of a device: what it is and becomes
    afresh_of: str = ""  # the option of the same box as it is set today; this one sets it as planned
    supply: bool = False  # it has a supply of its own at a mains socket

    @property
    def moves(self) -> bool:
        """Whether it is the router at another place than it stands at."""
        return self.router is not None and self.router.id != HERE

    @property
    def links(self) -> tuple[Link, ...]:
        """From the router on."""
        return (*(self.uplink.links if self.uplink else ()), *(self.feed.links if self.feed else ()))

    @property
    def wire_mbps(self) -> float:
        """Payload that the links from the router on carry."""
        rates = [link.rate_mbps for link in self.links]
        if self.equipment is not None:
            rates.append(ethernet_tcp_mbps(self.equipment.port_mbps))
        return min(rates, default=float("inf"))
