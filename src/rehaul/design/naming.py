"""Names of boxes: the room's, numbered where a room has several."""

from __future__ import annotations

from collections.abc import Sequence


def numbered(rooms: Sequence[str]) -> list[str]:
    """Room names, numbered where a room has several: `Playroom 1`, `Playroom 2`.

    **Source**: docs/choosing.md, "Boxes, addresses, names".

    >>> numbered(["Playroom", "Hall", "Playroom"])
    ['Playroom 1', 'Hall', 'Playroom 2']
    """
    seen: dict[str, int] = {}
    found = []
    for room in rooms:
        seen[room] = seen.get(room, 0) + 1
        found.append(room if rooms.count(room) == 1 else f"{room} {seen[room]}")
    return found
