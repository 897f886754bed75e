"""The network from the street to the devices as a graph: what stands, and what a plan would make of it.

A node is a place or a box that data pass; a link joins two of them over one medium. The ids are those that
people write on tape: a run that is one link has the run's id, the pieces of a chain are `C01.1`, `C01.2`
from its first end on, a new cable is `NC1`, a cord `cord-AP1`, a wireless hop `hop-AP2`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from rehaul.facts.link_media import Medium
from rehaul.house import Model
from rehaul.house.base import Point, Point3
from rehaul.words.fields import Words

NodeKind = Literal[
    "street",
    "modem",
    "router",
    "meeting point",
    "outlet",
    "splitter",
    "adapter",
    "switch",
    "access point",
    "room",
]
Age = Literal["kept", "old", "new"]  # stands and stays as it is; stands and is put to use; is bought


class Node(Model):
    """A place or a box that data pass."""

    id: str
    kind: NodeKind
    name: Words  # for people
    storey: str = ""
    position: Point | None = None
    height_m: float = 0.0  # above the storey's floor
    room: str = ""  # id


class Link(Model):
    """What joins two nodes, what it carries, and what it shares that with."""

    id: str
    a: str  # node nearer to the street
    b: str
    medium: Medium
    low_mbps: float  # payload, 90 % range
    rate_mbps: float
    high_mbps: float
    up_mbps: float | None = None  # towards the street; None: as the other way
    chance: float = 1.0  # that it carries `rate_mbps` once it is put right
    shares: str = ""  # id of the medium whose capacity it shares; empty: all its own
    poe_class: int = 0  # the highest class of power that passes
    run: str = ""  # the old cable it is (part of); of a joined series the first
    pieces: tuple[str, ...] = ()  # the segments that it is joined of, from `a` on
    age: Age = "kept"
    held: Words = ""  # why it may not be used yet
    length_m: float = 0.0
    route: tuple[Point3, ...] = ()


class Graph(Model):
    """Nodes and links of one state of the house."""

    nodes: tuple[Node, ...] = ()
    links: tuple[Link, ...] = ()

    def node(self, name: str) -> Node:
        """The node of that id. Raises KeyError where there is none.

        Each call walks through all nodes: who asks often makes a dictionary of them.
        """
        return {node.id: node for node in self.nodes}[name]

    def link(self, name: str) -> Link:
        """The link of that id. Raises KeyError where there is none.

        Each call walks through all links: who asks often makes a dictionary of them.
        """
        return {link.id: link for link in self.links}[name]


class PathLink(Model):
    """One link of a path, as a reader of the plan needs it."""

    id: Annotated[str, Field(description="as on its label and in the graph")]
    medium: Medium
    low_mbps: Annotated[float, Field(description="payload, low end of the 90 % range")]
    rate_mbps: Annotated[float, Field(description="payload that is counted on")]
    high_mbps: Annotated[float, Field(description="payload, high end of the 90 % range")]
    chance: Annotated[float, Field(description="that it carries `rate_mbps` once it is put right, 0 to 1")]
    shares: Annotated[str, Field(description="medium whose capacity it shares; empty: all its own")] = ""
    poe_class: Annotated[int, Field(description="highest class of power that passes; 0: none")] = 0


class Path(Model):
    """How data come from the street to one access point or wired outlet."""

    to: Annotated[str, Field(description="AP1, or the outlet's id")]
    kind: Literal["access point", "wired outlet"]
    room: Annotated[str, Field(description="id of the room it stands in")] = ""
    links: Annotated[tuple[PathLink, ...], Field(description="from the street inwards")]
    rate_mbps: Annotated[
        float, Field(description="payload of the narrowest link, shared media counted as promised")
    ]
    chance: Annotated[float, Field(description="that every link carries what it is counted on for")]
    narrowest: Annotated[str, Field(description="id of the link that sets the rate")]
