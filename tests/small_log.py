"""A small job in a log of its own, and edits of it: what tests of stores begin with."""

from __future__ import annotations

import itertools
from typing import Any

from rehaul.house import House, Job, Outlet, Room, Run, Storey, Wall
from rehaul.jobs import Ledger, edit_from_data

NUMBERS = itertools.count(1)


def small_job() -> Job:
    """Four walls around one room, two plates with a cable between them."""
    corners = ((0.0, 0.0), (8.0, 0.0), (8.0, 5.0), (0.0, 5.0))
    house = House(
        storeys=(Storey(id="g", name="Ground", elevation_m=0),),
        walls=tuple(
            Wall(id=f"w{n + 1}", storey="g", start=corners[n], end=corners[(n + 1) % 4]) for n in range(4)
        ),
        rooms=(Room(id="r1", name="Kitchen", storey="g", polygon=corners),),
        outlets=tuple(Outlet(id=f"0-0{n}", storey="g", position=(n, 0.1), room="r1") for n in (1, 2)),
        runs=(Run(id="c1", ends=("0-01", "0-02")),),
    )
    return Job(id="job", title="Small", house=house)


def edit_data(base: int, *changes: dict[str, Any], edit: str = "", label: str = "") -> dict[str, Any]:
    name = edit or f"edit-{next(NUMBERS):06d}"
    return {"edit": name, "base": base, "label": label, "changes": list(changes)}


def change(kind: str, thing_id: str, **fields: Any) -> dict[str, Any]:
    return {"do": "set", "kind": kind, "id": thing_id, "fields": fields}


def note(ledger: Ledger, words: str, wall: str = "w1", person: str = "p1") -> int:
    """A note on a wall, as an edit; its revision."""
    edit = edit_data(ledger.revision, change("wall", wall, note=words), label=f"Note {words}")
    return ledger.submit(person, edit_from_data(edit)).revision
