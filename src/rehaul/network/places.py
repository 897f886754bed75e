"""Nodes of the places of a house: plates, meeting points, splitters."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.house import House, MeetingPoint, Splitter
from rehaul.network.model import Node, NodeKind


def place_nodes(house: House) -> Iterator[Node]:
    """Every plate, meeting point and splitter of a house as a node, in the order of the house.

    Ids are those of the house; a place that nobody measured has no position.
    """
    for outlet in house.outlets:
        yield Node(
            id=outlet.id,
            kind="outlet",
            name=outlet.id,
            storey=outlet.storey,
            position=outlet.position,
            height_m=outlet.height_m,
            room=outlet.room or "",
        )
    yield from (_named(point, "meeting point") for point in house.meeting_points)
    yield from (_named(splitter, "splitter") for splitter in house.splitters)


def _named(place: MeetingPoint | Splitter, kind: NodeKind) -> Node:
    return Node(
        id=place.id,
        kind=kind,
        name=place.name,
        storey=place.storey,
        position=place.position,
        height_m=place.height_m,
    )
