"""Separated networks, and a name and an address for every box; private ranges of RFC 1918."""

from __future__ import annotations

import ipaddress
import re
from collections.abc import Sequence

from rehaul.design.results import AccessPoint, Address, Subnet
from rehaul.house import Job
from rehaul.words import say, term

HOME, GUEST, THINGS, MANAGEMENT = "home", "guest", "things", "management"
BASE = ipaddress.ip_network("10.84.0.0/16")  # out of the way of the ranges that providers' boxes use
_NETWORKS = (
    (HOME, 10, "design_network.home_for"),
    (GUEST, 20, "design_network.guest_for"),
    (THINGS, 30, "design_network.things_for"),
    (MANAGEMENT, 90, "design_network.management_for"),
)
FIRST_BOX = 10


def subnets() -> tuple[Subnet, ...]:
    """The separated networks: third number and VLAN alike, so that people can remember them.

    Returns home, guest, things and management, in this order, each a /24 of 10.84.0.0/16.

    **Validity**: a house whose provider's box uses 10.84 too has to be given others by hand. **Source**: RFC
    1918.

    >>> [network.subnet for network in subnets()][:2]
    ['10.84.10.0/24', '10.84.20.0/24']
    """
    return tuple(
        Subnet(name=name, vlan=vlan, subnet=str(_subnet(vlan)), purpose=say(purpose))
        for name, vlan, purpose in _NETWORKS
    )


def addresses(job: Job, access_points: Sequence[AccessPoint], *, switch: bool) -> tuple[Address, ...]:
    """Fixed addresses of the boxes; everything else is given out from 100 up.

    Parameters: `access_points` in the order in which they get their numbers; `switch`, whether there is a
    main switch.

    Returns the router in each network, then switch and access points in the management network (from .10
    up), last a provider's box that stays, which has no address of ours. **Source**: RFC 1918,
    docs/choosing.md.
    """
    rows = [
        Address(
            name=term("router"),
            network=name,
            address=str(_subnet(vlan)[1]),
            note=say("design_network.gateway"),
        )
        for name, vlan, _ in _NETWORKS
    ]
    management = _subnet(90)
    if switch:
        rows.append(Address(name=term("switch"), network=MANAGEMENT, address=str(management[2])))
    rows += [
        Address(
            name=box_name(ap),
            network=MANAGEMENT,
            address=str(management[FIRST_BOX + number]),
            note=ap.site.id,
        )
        for number, ap in enumerate(access_points)
    ]
    if any(box.keep and "router" in box.equipment for box in job.boxes):
        rows.append(
            Address(
                name=say("design_network.providers_box"),
                network=say("design_network.outside"),
                address=say("design_network.as_given"),
                note=say("design_network.one_translates"),
            )
        )
    return tuple(rows)


def box_name(access_point: AccessPoint) -> str:
    """A host name from the room's name: `ap-living-room`.

    Letters and figures of English alone are kept, in small; all else becomes one dash. A name without any
    gives `ap-`.
    """
    return "ap-" + re.sub(r"[^a-z0-9]+", "-", access_point.name.lower()).strip("-")


def _subnet(vlan: int) -> ipaddress.IPv4Network:
    network = ipaddress.ip_network(f"{str(BASE.network_address).rsplit('.', 2)[0]}.{vlan}.0/24")
    assert isinstance(network, ipaddress.IPv4Network)
    return network
