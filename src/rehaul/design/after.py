"""The network as a choice makes it: the graph from the street to every box and outlet, with its paths."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from rehaul.design.choosing import Chosen
from rehaul.design.cords import new_cord
from rehaul.design.feeds import Feed
from rehaul.design.option import Option
from rehaul.house import Job
from rehaul.network.model import Graph, Link, Node, Path, PathLink
from rehaul.network.places import place_nodes
from rehaul.network.standing import STREET, USUAL_PORT_MBPS, head_of, resting_part, standing_part
from rehaul.wlan import ethernet_tcp_mbps
from rehaul.words import say

SWITCH = "switch"
CORD_PAYLOAD_MBPS = round(ethernet_tcp_mbps(USUAL_PORT_MBPS), 1)


class _Builder:
    """Collects nodes and links, each once."""

    def __init__(self, job: Job) -> None:
        self.places = {node.id: node for node in place_nodes(job.house)}
        self.nodes: dict[str, Node] = {}
        self.links: dict[str, Link] = {}

    def node(self, node: Node) -> str:
        self.nodes.setdefault(node.id, node)
        return node.id

    def link(self, link: Link) -> str:
        self.links.setdefault(link.id, link)
        return link.id

    def widen(self, link: Link) -> None:
        """A cable of a tree of coax: where several pairs go over it, it carries what the best of them do."""
        stands = self.links.get(link.id)
        if stands is None or link.rate_mbps > stands.rate_mbps:
            self.links[link.id] = link

    def plate(self, name: str) -> str:
        """The node of a plate, meeting point or splitter; of a new plate where there is none of that name."""
        return self.node(self.places.get(name) or Node(id=name, kind="outlet", name=name))

    def new_splitter(self, name: str, place: str) -> str:
        """The node of a new splitter where cables meet."""
        point = self.nodes[self.plate(place)]
        words = say("design_work.new_splitter_name", place=point.name)
        return self.node(point.model_copy(update={"id": name, "kind": "splitter", "name": words}))

    def adapter(self, name: str, place: str) -> str:
        """The node of an adapter at an end of a coax."""
        plate = self.nodes[self.plate(place)]
        words = (
            say("design_work.adapter_name", place=plate.name)
            if name == f"ad-{place}"
            else say("design_work.adapter_of_name", run=name.removeprefix("ad-"), place=plate.name)
        )
        return self.node(plate.model_copy(update={"id": name, "kind": "adapter", "name": words}))


def graph_after(job: Job, chosen: Chosen) -> Graph:
    """Every node and link once the choice is built; what stands and stays is in it.

    Parameters: `chosen`, of `choose` or `chosen_at`.

    Returns nodes and links, each once; a link leads from the street's side (`a`) to the far side (`b`), so
    that every box that is fed hangs on one link. Rates are payload [Mb/s], lengths metres.

    **Validity**: what is left of old cables comes last, without a rate. **Source**:
    docs/decisions.md, "One graph, and a choice over ways to feed".
    """
    made = _Builder(job)
    router = chosen.choice.router
    boxes = {option.box.id for option in chosen.options if option.box is not None}
    stands = standing_part(job, boxes)
    for node in stands.nodes:
        moved = node.id == router.box and router.do == "move"
        spot = {"storey": router.storey, "position": router.position, "height_m": router.height_m}
        made.node(node.model_copy(update=spot) if moved else node)
    for link in stands.links:
        made.link(link)
    head = head_of(job, boxes)
    core = _core(made, job, chosen, head)
    numbers = {point.way: point for point in chosen.choice.access_points}
    outlets = {outlet.way: outlet for outlet in chosen.choice.outlets}
    for option in chosen.options:
        if option.what == "access point":
            point = numbers[option.id]
            end = _feed(made, chosen, option, head if option.feed and option.feed.at_router else core)
            made.node(
                Node(
                    id=point.id,
                    kind="access point",
                    name=point.name,
                    storey=point.site.storey,
                    position=point.site.position,
                    height_m=point.site.height_m,
                    room=point.site.room,
                )
            )
            made.link(_last(option, end, point.id))
        elif option.what == "outlet":
            outlet = outlets[option.id]
            end = _feed(made, chosen, option, head if option.feed and option.feed.at_router else core)
            if outlet.id != end:
                made.node(
                    Node(
                        id=outlet.id,
                        kind="outlet",
                        name=outlet.name,
                        storey=outlet.storey,
                        position=outlet.position,
                        room=outlet.room,
                    )
                )
                made.link(cord(f"cord-{outlet.id}", end, outlet.id))
    used = {piece for link in made.links.values() for piece in link.pieces}
    used |= {link.run for link in made.links.values() if link.run and not link.pieces}
    spent = {option.feed.spends for option in chosen.options if option.feed and option.feed.spends}
    rest = resting_part(job, used | spent)
    for node in rest.nodes:
        made.node(node)
    for link in rest.links:
        made.link(link)
    return Graph(nodes=tuple(made.nodes.values()), links=tuple(made.links.values()))


def _core(made: _Builder, job: Job, chosen: Chosen, head: str) -> str:
    """The node with the ports: the main switch with its uplink, or the router where its own ports serve."""
    wired = [option for option in chosen.options if option.uplink is not None]
    if not wired:
        return head
    if wired[0].uplink is not None and wired[0].uplink.own is not None:
        return head
    place = chosen.placing.offering.core
    made.node(
        Node(
            id=SWITCH,
            kind="switch",
            name=say("design_work.main_switch_name"),
            storey=place.storey if place else "",
            position=place.position if place else None,
        )
    )
    uplink = wired[0].uplink
    assert uplink is not None
    for link in uplink.links:
        name = chosen.pulls["uplink"] if link.age == "new" and link.length_m > 0 else link.id
        made.link(link.model_copy(update={"id": name, "a": head, "b": SWITCH}))
    return SWITCH


def _feed(made: _Builder, chosen: Chosen, option: Option, core: str) -> str:
    """The links of a feed up to where it comes out, a small switch where there is one. The node there."""
    feed = option.feed
    assert feed is not None
    if feed.comes_out:
        return _over_coax(made, feed, core)
    here = core
    for number, link in enumerate(feed.links):
        if link.medium == "wireless hop":
            return link.a
        if link.medium == "cord":  # beside the switch: the box's own cord
            return core
        name = chosen.pulls.get(option.id, link.id) if link.age == "new" else link.id
        there = made.plate(link.b)
        made.link(link.model_copy(update={"id": name, "a": here, "b": there}))
        here = there
        if link.medium == "fibre" and link.age == "new":
            far = made.nodes[there]
            here = made.node(far.model_copy(update={"id": f"conv-{there}", "kind": "adapter"}))
            made.link(cord(f"cord-conv-{there}", there, here))
        goes_on = number + 1 < len(feed.links) or feed.id.endswith(" switched")
        if goes_on:
            small = f"sw-{there}"
            plate = made.nodes[there]
            words = say("design_work.small_switch_name", place=there)
            made.node(plate.model_copy(update={"id": small, "kind": "switch", "name": words}))
            made.link(cord(f"cord-{small}", there, small, poe_class=4))
            here = small
    return here


def _over_coax(made: _Builder, feed: Feed, start: str) -> str:
    """The first adapter with its cord, the cables of the tree, and the adapter where the feed comes out."""
    cord_to, lead, *coaxes, far_lead = feed.links
    if lead.b.startswith("sp-"):
        made.new_splitter(lead.b, lead.b.removeprefix("sp-"))
    made.adapter(cord_to.b, lead.b.removeprefix("sp-"))
    made.link(cord_to.model_copy(update={"a": start}))
    made.link(lead)
    for link in coaxes:
        made.plate(link.b)
        made.widen(link)
    made.link(far_lead)
    return made.adapter(far_lead.b, far_lead.a)


def _last(option: Option, end: str, name: str) -> Link:
    """From where the feed comes out to the box itself: a cord, or the hop through the air."""
    feed = option.feed
    assert feed is not None
    link = feed.links[-1]
    if link.medium == "wireless hop":
        rate = feed.hop_mbps
        return link.model_copy(
            update={"id": f"hop-{name}", "b": name, "low_mbps": rate, "rate_mbps": rate, "high_mbps": rate}
        )
    return cord(f"cord-{name}", end, name, poe_class=0 if option.supply else 8)


def cord(name: str, a: str, b: str, *, poe_class: int = 0) -> Link:
    """A patch cord; where power passes, of a port of 2.5 Gb/s.

    Parameters: `name`, `a`, `b`, ids; `poe_class` that it passes, 0 for none.

    **Source**: `ethernet_tcp_mbps`: the payload of 1 Gb/s, or of 2.5 Gb/s, to a tenth.
    """
    rate = CORD_PAYLOAD_MBPS if poe_class == 0 else round(ethernet_tcp_mbps(2500.0), 1)
    return new_cord(name, a, b, rate, poe_class=poe_class)


def paths_of(graph: Graph, chosen: Chosen) -> tuple[Path, ...]:
    """How data come to every access point and wired outlet of a choice.

    Parameters: `graph`, of `graph_after` for the same choice. Returns access points, then outlets, with what
    is promised of a shared medium as in `in_turns`. Raises KeyError where one hangs on nothing.
    """
    found = [
        path_to(graph, point.id, "access point", point.site.room) for point in chosen.choice.access_points
    ]
    found += [path_to(graph, outlet.id, "wired outlet", outlet.room) for outlet in chosen.choice.outlets]
    return in_turns(found, _asked_of(chosen))


def _asked_of(chosen: Chosen) -> dict[str, dict[str, float]]:
    """The share that each chosen thing asks of each medium, by its id in the plan."""
    names = {point.way: point.id for point in chosen.choice.access_points}
    names |= {outlet.way: outlet.id for outlet in chosen.choice.outlets}
    ways = chosen.placing.problem.ways
    return {names[way.id]: dict(way.loads) for way in ways if way.id in names}


def in_turns(paths: Sequence[Path], asked: Mapping[str, Mapping[str, float]]) -> tuple[Path, ...]:
    """The paths, those over one shared medium promised no more than it carries of them together.

    Each keeps what is asked of it; what the medium has left beyond that is shared out in proportion.
    **Source**: docs/exact.md, "The problem": no medium over its whole.
    """
    found = list(paths)
    for medium in sorted({link.shares for path in paths for link in path.links if link.shares}):
        over = [row for row, path in enumerate(found) if any(link.shares == medium for link in path.links)]
        if len(over) < 2:
            continue
        carries = [min(x.rate_mbps for x in found[row].links if x.shares == medium) for row in over]
        whole = [found[row].rate_mbps / rate for row, rate in zip(over, carries, strict=True)]
        least = [
            min(asked.get(found[row].to, {}).get(medium, 0.0), share)
            for row, share in zip(over, whole, strict=True)
        ]
        spare, wanted = max(1.0 - sum(least), 0.0), sum(whole) - sum(least)
        if sum(whole) <= 1.0:
            continue
        for row, rate, full, low in zip(over, carries, whole, least, strict=True):
            share = low + (full - low) * min(spare / wanted, 1.0) if wanted > 0 else low
            mine = next(x.id for x in found[row].links if x.shares == medium and x.rate_mbps == rate)
            promised = math.floor(10 * share * rate) / 10
            found[row] = found[row].model_copy(update={"rate_mbps": promised, "narrowest": mine})
    return tuple(found)


def path_to(graph: Graph, name: str, kind: str, room: str) -> Path:
    """The path from the street to one node; the graph is a tree.

    Parameters: `kind` and `room` are only handed on. The rate is that of the narrowest link [Mb/s], the
    first of equal ones; the chance is the product of all, to a thousandth.

    Raises KeyError where the node hangs on nothing.

    **Validity**: chances of links are taken as independent. Links without a rate lead nowhere. **Source**:
    docs/wlan.md, "The chain": the answer is the least.
    """
    links = _links_to(graph, name)
    narrow = min(links, key=lambda link: link.rate_mbps)
    chance = 1.0
    for link in links:
        chance *= link.chance
    return Path(
        to=name,
        kind=kind,
        room=room,
        links=tuple(
            PathLink(
                id=link.id,
                medium=link.medium,
                low_mbps=link.low_mbps,
                rate_mbps=link.rate_mbps,
                high_mbps=link.high_mbps,
                chance=link.chance,
                shares=link.shares,
                poe_class=link.poe_class,
            )
            for link in links
        ),
        rate_mbps=narrow.rate_mbps,
        chance=round(chance, 3),
        narrowest=narrow.id,
    )


def _links_to(graph: Graph, name: str) -> tuple[Link, ...]:
    """Links from the street to a node, in order. KeyError where the node hangs on nothing."""
    parent = {link.b: link for link in graph.links if link.rate_mbps > 0}
    found: list[Link] = []
    here = name
    while here != STREET:
        link = parent[here]
        found.append(link)
        here = link.a
    return tuple(reversed(found))
