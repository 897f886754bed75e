"""The network as it stands: what each box hangs on today, from the street inwards."""

from __future__ import annotations

from collections.abc import Iterator, Set
from itertools import pairwise

from rehaul.facts.equipment import equipment
from rehaul.facts.link_media import Medium, medium_fed_by
from rehaul.facts.media import media_rows
from rehaul.facts.prediction import prediction_number
from rehaul.house import UNKNOWN, Box, CableKind, Job, Run, use_hold
from rehaul.network.core import gateway, kind_of
from rehaul.network.model import Graph, Link, Node, NodeKind
from rehaul.network.places import place_nodes
from rehaul.network.segments import run_segments
from rehaul.network.series import series_of, spread_mbps
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say

STREET, LINE = "street", "line"
NEW_ROUTER, NO_ROUTER = "new-router", "line-end"
USUAL_PORT_MBPS = prediction_number("usual_port")  # of a box whose class the table does not hold


def line_of(job: Job, end: str) -> Link:
    """The provider's line, as paid for, from the street to the box with id `end`.

    Rates are the subscription's down and up [Mb/s], counted as sure: no range. **Source**: docs/wlan.md, "The
    chain".
    """
    down, up = job.service.down_mbps, job.service.up_mbps
    return Link(
        id=LINE,
        a=STREET,
        b=end,
        medium="provider's line",
        low_mbps=down,
        rate_mbps=down,
        high_mbps=down,
        up_mbps=up,
        run=job.service.run or "",
    )


def feed_of(job: Job, box: Box) -> Link | None:
    """What a box that is no router hangs on: a cord, a cable in the wall, the mains, or the air.

    How it is fed is often not known; it then counts as fed by a cord, which is the kindest guess and stands
    among the findings. What a wireless hop carries is for the field to say: 0 here.
    """
    router = gateway(job)
    if router is None or box.id in (router.id, job.service.modem):
        return None
    port = port_payload_mbps(box)
    shares = ""
    fed = medium_fed_by(box.fed_by)
    if fed.medium == "wireless hop":
        low = middle = high = 0.0
        shares = f"air of {router.id}"
    elif fed.mbps_of:
        row = media_rows(fed.mbps_of)[0]
        low, middle, high = 0.0, row.rate_low_mbps, row.rate_mbps
    else:
        low = middle = high = port
    run = next((run for run in job.house.runs if run.id == box.run), None)
    if run is not None and box.fed_by in ("run", "unknown"):
        whole = series_of(run_segments(job.house, run))
        low, middle, high = (min(rate, port) for rate in spread_mbps(whole, ethernet_tcp_mbps(1.0)))
    return Link(
        id=run.id if run else f"{fed.name or 'cord'}-{box.id}",
        a=router.id,
        b=box.id,
        medium="twisted pair" if run else "cord" if fed.cable else fed.medium,
        low_mbps=low,
        rate_mbps=middle,
        high_mbps=high,
        shares=shares,
        run=run.id if run else "",
    )


def port_payload_mbps(box: Box) -> float:
    """Payload that one port of a box carries [Mb/s]: TCP over its Ethernet.

    A class that the table does not hold, or that has no port, counts as one of 1000 Mb/s. **Source**: the
    fact table `equipment`; `wlan.ethernet_tcp_mbps`.
    """
    row = equipment().get(box.equipment)
    rate = row.port_mbps if row and row.port_mbps > 0 else USUAL_PORT_MBPS
    return round(ethernet_tcp_mbps(rate), 1)


def standing_graph(job: Job) -> Graph:
    """The graph of what stands: the plan of doing nothing, with all boxes and all old cables.

    Cables that carry nothing of the network are in it as links of 0 Mb/s.
    """
    part = standing_part(job, {box.id for box in job.boxes})
    rest = resting_part(job, {link.run for link in part.links if link.run})
    return Graph(nodes=(*part.nodes, *rest.nodes), links=(*part.links, *rest.links))


def standing_part(job: Job, present: Set[str]) -> Graph:
    """The street, the boxes that are there, and what each hangs on; a new router where the old one goes.

    `present` holds the ids of boxes that stay. Every box hangs on the router that is there then; cables
    that carry nothing are left to `resting_part`.
    """
    router, modem = gateway(job), job.service.modem
    head = head_of(job, present)
    nodes = [Node(id=STREET, kind="street", name=say("network.the_street"))]
    nodes += [_node(job, box) for box in job.boxes if box.id in present]
    if head not in present:
        nodes.append(Node(id=head, kind="router", name=say("network.where_line_ends")))
    links: list[Link] = []
    if modem is not None and modem in present and modem != head:
        links.append(line_of(job, modem))
        links.append(_from_modem(job, modem, head, stands=head in present))
    else:
        links.append(line_of(job, head))
    for box in job.boxes:
        link = feed_of(job, box) if box.id in present else None
        if link is not None and router is not None and box.id != head:
            links.append(link.model_copy(update={"a": head}))
    return Graph(nodes=tuple(nodes), links=tuple(links))


def _from_modem(job: Job, modem: str, head: str, *, stands: bool) -> Link:
    """What the router hangs on: the cable in the wall that is said to feed it, else a cord."""
    port = port_payload_mbps(next(box for box in job.boxes if box.id == modem))
    box = next((box for box in job.boxes if box.id == head), None)
    run = next((r for r in job.house.runs if box is not None and stands and r.id == box.run), None)
    low = middle = high = port
    if run is not None and run.kind.may_have_pairs:
        whole = series_of(run_segments(job.house, run))
        low, middle, high = (min(rate, port) for rate in spread_mbps(whole, ethernet_tcp_mbps(1.0)))
    return Link(
        id=run.id if run else f"cord-{head}",
        age="kept" if stands else "new",
        a=modem,
        b=head,
        medium=_medium(run.kind) if run else "cord",
        low_mbps=low,
        rate_mbps=middle,
        high_mbps=high,
        run=run.id if run else "",
    )


def resting_part(job: Job, used: Set[str]) -> Graph:
    """Plates, meeting points and splitters, and old cables between them that carry nothing of the network.

    `used` holds the ids of cables, or of their segments, that carry something: they are left out. Links are
    of 0 Mb/s, and `held` says why one may not be used yet.
    """
    house = job.house
    nodes = list(place_nodes(house))
    if any(UNKNOWN in run.ends for run in house.runs):
        nodes.append(Node(id=UNKNOWN, kind="outlet", name=say("network.end_not_found")))
    links = [
        Link(
            id=name,
            a=a,
            b=b,
            medium=_medium(run.kind),
            low_mbps=0.0,
            rate_mbps=0.0,
            high_mbps=0.0,
            run=run.id,
            pieces=(name,) if name != run.id else (),
            held=use_hold(job, run.id),
            route=run.route,
        )
        for run in house.runs
        for name, a, b in _rest_of(run, used)
    ]
    return Graph(nodes=tuple(nodes), links=tuple(links))


def _rest_of(run: Run, used: Set[str]) -> Iterator[tuple[str, str, str]]:
    """The segments of a run that are not used; the run as one where none is."""
    names = [f"{run.id}.{number}" for number in range(1, len(run.ends))]
    if run.id in used:
        return
    if not any(name in used for name in names):
        yield run.id, run.ends[0], run.ends[-1]
        return
    for name, (a, b) in zip(names, pairwise(run.ends), strict=True):
        if name not in used:
            yield name, a, b


def _medium(kind: CableKind) -> Medium:
    if kind is CableKind.COAX:
        return "coax"
    return "fibre" if kind is CableKind.FIBRE else "twisted pair"


def head_of(job: Job, present: Set[str]) -> str:
    """Id of the node that routes: the router that stands, else a new one, else where the line ends.

    `present` holds the ids of boxes that stay. A house without a router has `line-end`, a house whose
    router goes `new-router`.
    """
    router = gateway(job)
    if router is None:
        return NO_ROUTER
    return router.id if router.id in present else NEW_ROUTER


def _node(job: Job, box: Box) -> Node:
    router = gateway(job)
    kind = kind_of(box)
    named: NodeKind = "access point"
    if router is not None and box.id == router.id:
        named = "router"
    elif box.id == job.service.modem or kind == "modem":
        named = "modem"
    elif kind == "switch":
        named = "switch"
    return Node(
        id=box.id,
        kind=named,
        name=box.name,
        storey=box.storey,
        position=box.position,
        height_m=box.height_m,
    )
