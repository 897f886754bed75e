"""The router's own ports: where it stands next to what is fed, they take the place of a main switch."""

from __future__ import annotations

from dataclasses import replace

from rehaul.design.battery import LIVELY_W, cheapest_battery
from rehaul.design.feeds import Feed
from rehaul.design.oldcables import VISIT
from rehaul.design.works import Work, Works
from rehaul.facts.equipment import equipment
from rehaul.house import Box, Job
from rehaul.words import say

MEDIUM = "router ports"
ROUTER_SPARE = 1  # ports of a router that something in the house may hang on already
USUAL_PORTS = 4  # of a router of a class that no table holds


def own_ports(job: Job, router: Box) -> int:
    """How many of its ports are for what is new: those that are wished spare stay so.

    A router of a class that no table holds has `USUAL_PORTS`. Never below 0. **Source**: fact table of
    equipment.
    """
    row = equipment().get(router.equipment)
    spare = max(ROUTER_SPARE, job.choices.spare_ports)
    return max(0, (row.ports if row is not None else USUAL_PORTS) - spare)


def one_port(job: Job, router: Box) -> tuple[tuple[str, float], ...]:
    """The share of its free ports that one thing takes; nothing where it has none to count."""
    ports = own_ports(job, router)
    return ((MEDIUM, round(1 / ports, 6)),) if ports else ()


def add_battery(works: Works) -> tuple[str, ...]:
    """The battery that is asked for stands beside the router where no board holds it.

    **Source**: docs/choosing.md, "Boxes, addresses, names".
    """
    minutes = works.job.choices.ups_minutes
    battery = cheapest_battery(LIVELY_W, minutes) if minutes > 0 else None
    if battery is None:
        return ()
    words = say("design_work.battery", minutes=minutes)
    return (
        works.add(
            Work(id="battery", words=words, tasks=("switch",), parts=((battery.name, 1),), needs=(VISIT,))
        ),
    )


def on_own_ports(works: Works, feed: Feed, router: Box, cord: str, port_mbps: float) -> Feed:
    """The same feed from a port of the router instead of one of a main switch, with the cord to it.

    Parameters: `cord`, item of the price list; `port_mbps`, payload of the router's port, which bounds the
    first link.
    """
    kept = [name for name in feed.works if not works.known[name].ports]
    plugged = [name.removeprefix("port ") for name in feed.works if works.known[name].ports]
    own = [
        works.add(Work(id=f"own port {name} {cord}", parts=((cord, 1),), loads=one_port(works.job, router)))
        for name in plugged or ([feed.id] if feed.port else [])
    ]
    first = feed.links[0]
    rates = {name: min(getattr(first, name), port_mbps) for name in ("low_mbps", "rate_mbps", "high_mbps")}
    links = (first.model_copy(update=rates), *feed.links[1:])
    return replace(feed, works=(*kept, *own), port=False, links=links)
