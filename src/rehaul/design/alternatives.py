"""The same house at another point of the front: what would be built if fewer rooms, or more, were served."""

from __future__ import annotations

from collections.abc import Sequence

from rehaul.design.results import AccessPoint, Choice, FrontPoint


def at_point(choice: Choice, point: FrontPoint) -> Choice:
    """The choice with the access points of one point of its front in place of the chosen ones."""
    sites = {site.id: site for site in choice.candidates}
    stands = [(sites[name], kind) for name, kind in zip(point.sites, point.equipment, strict=True)]
    names = numbered([site.name for site, _ in stands])
    points = tuple(
        AccessPoint(id=f"AP{index}", name=name, site=site, equipment=kind, why=site.why)
        for index, ((site, kind), name) in enumerate(zip(stands, names, strict=True), 1)
    )
    return choice.model_copy(update={"access_points": points, "cost": point.cost, "shortfalls": ()})


def numbered(rooms: Sequence[str]) -> list[str]:
    """Room names, numbered where a room has several: `Playroom 1`, `Playroom 2`."""
    seen: dict[str, int] = {}
    found = []
    for room in rooms:
        seen[room] = seen.get(room, 0) + 1
        found.append(room if rooms.count(room) == 1 else f"{room} {seen[room]}")
    return found
