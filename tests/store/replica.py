"""A client as the contract describes one: the server's state, and a queue of edits not acknowledged.

Plain and slow on purpose: lists and dictionaries only, nothing of the server's code.
"""

from __future__ import annotations

import copy
import itertools
from typing import Any

from rehaul.house import Job, Need, Opening, OpeningKind, Outlet, Reading, Room, Run, Storey, Wall
from rehaul.house.model import House

LISTS = {
    "storey": ("house", "storeys"),
    "room": ("house", "rooms"),
    "wall": ("house", "walls"),
    "opening": ("house", "openings"),
    "body": ("house", "bodies"),
    "outlet": ("house", "outlets"),
    "meeting_point": ("house", "meeting_points"),
    "run": ("house", "runs"),
    "box": (None, "boxes"),
    "device": (None, "devices"),
    "need": (None, "needs"),
    "obligation": (None, "obligations"),
    "reading": (None, "readings"),
    "heard": (None, "heard"),
}
_numbers = itertools.count(1)


def small_job() -> Job:
    """Two rooms, four walls, a door, three plates, two runs."""
    corners = ((0.0, 0.0), (8.0, 0.0), (8.0, 5.0), (0.0, 5.0))
    walls = tuple(
        Wall(id=f"w{n + 1}", storey="g", start=corners[n], end=corners[(n + 1) % 4]) for n in range(4)
    )
    left = Room(id="r1", name="Kitchen", storey="g", polygon=((0, 0), (4, 0), (4, 5), (0, 5)))
    right = Room(id="r2", name="Study", storey="g", polygon=((4, 0), (8, 0), (8, 5), (4, 5)))
    house = House(
        storeys=(Storey(id="g", name="Ground", elevation_m=0),),
        rooms=(left, right),
        walls=walls,
        openings=(Opening(id="d1", wall="w1", kind=OpeningKind.DOOR, offset_m=1, width_m=0.9),),
        outlets=tuple(Outlet(id=f"0-0{n}", storey="g", position=(n, 0.1), room="r1") for n in (1, 2, 3)),
        runs=(Run(id="c1", ends=("0-01", "0-02")), Run(id="c2", ends=("unknown", "0-03"))),
    )
    needs = (Need(id="n1", room="r2", down_mbps=50),)
    readings = (Reading(id="x1", quantity="down_mbps", value=40, room="r2"),)
    return Job(id="job", title="Small", house=house, needs=needs, readings=readings)


def edit_data(
    base: int, *changes: dict[str, Any], edit: str | None = None, label: str = ""
) -> dict[str, Any]:
    return {
        "edit": edit or f"edit-{next(_numbers):06d}",
        "base": base,
        "label": label,
        "changes": list(changes),
    }


def put(kind: str, /, **entity: Any) -> dict[str, Any]:
    return {"do": "put", "kind": kind, "entity": entity}


def change(kind: str, thing_id: str, /, **fields: Any) -> dict[str, Any]:
    return {"do": "set", "kind": kind, "id": thing_id, "fields": fields}


def drop(kind: str, thing_id: str) -> dict[str, Any]:
    return {"do": "drop", "kind": kind, "id": thing_id}


def apply_plainly(document: dict[str, Any], changes: list[dict[str, Any]]) -> None:
    """Changes as the server sends them, onto plain data, by the contract's words."""
    for item in changes:
        if item["kind"] not in LISTS:
            target = document if item["kind"] == "job" else document[item["kind"]]
            target.update(item["fields"])
            continue
        holder, field = LISTS[item["kind"]]
        things = document[holder][field] if holder else document[field]
        if item["do"] == "put":
            things.append(copy.deepcopy(item["entity"]))
        elif item["do"] == "drop":
            things[:] = [thing for thing in things if thing["id"] != item["id"]]
        else:
            for thing in things:
                if thing["id"] == item["id"]:
                    thing.update(copy.deepcopy(item["fields"]))


class Replica:
    """One client of a job."""

    def __init__(self, person: str, revision: int, job: Job) -> None:
        self.person = person
        self.revision = revision
        self.document = job.model_dump(mode="json")
        self.queue: list[dict[str, Any]] = []
        self.told: list[dict[str, Any]] = []

    def take(self, revision: int, changes: list[dict[str, Any]]) -> None:
        assert revision == self.revision + 1, "an edit was skipped or came twice"
        apply_plainly(self.document, changes)
        self.revision = revision
