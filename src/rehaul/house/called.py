"""What people call a thing of a house: its name, or where it is; the id that is on it comes second."""

from __future__ import annotations

from collections import defaultdict
from functools import lru_cache
from typing import NamedTuple

import shapely

from rehaul.house.base import UNKNOWN
from rehaul.house.geometry import point_along, room_shape, wall_length_m
from rehaul.house.job import Job, Need, Obligation, ObligationKind, Reading
from rehaul.house.model import Body, Opening, Outlet, Room, Run, Wall
from rehaul.same import Same
from rehaul.words import say

NEAR_M = 0.5  # a thing so near to a room is said to be in it
BESIDE_M = 0.45  # off a wall's face one looks for the room on that side, and for none beyond the wall
AT_M = 0.2
LOOKED_AT = (0.5, 0.25, 0.75)  # shares of a wall's length where one looks for the rooms beside it


class Thing(NamedTuple):
    """What one id of a job stands for."""

    kind: str  # as edits name it: "run", "meeting_point"; empty where nothing has the id
    storey: str  # id; empty where it is on none, or on several
    words: str  # its name, or where it is: "Closet to Study"
    named: bool  # whether it has a name of its own, so that its id need not be said

    def called(self, name: str) -> str:
        """In a sentence: `Closet to Study (C3)`, `Kitchen`. `name`: its id."""
        return self.words if self.named else say("called.then_id", words=self.words, id=name)

    def listed(self, name: str) -> str:
        """In a list, where what is on tape tells one cable or plate from the next: `C3, Closet to Study`."""
        if self.kind in ("run", "outlet"):
            return say("called.id_first", words=self.words, id=name)
        return self.called(name)


def called(job: Job, name: str) -> str:
    """What people call the thing with that id, in the middle of a sentence; the id itself where none has it.

    >>> from rehaul.jobs.demo import demo_job
    >>> called(demo_job(), "nothing has this id")
    'nothing has this id'
    """
    return thing_called(job, name).called(name)


def thing_called(job: Job, name: str) -> Thing:
    """What an id stands for: its kind, storey and words. **Source**: the job itself."""
    return _names(Same(job)).thing(name)


@lru_cache(maxsize=4)
def _names(job: Same[Job]) -> _Names:
    return _Names(job.of)


def _kind(kind: ObligationKind) -> str:
    return "DSL" if kind is ObligationKind.DSL else kind.value


class _Names:
    """The things of one job by id; each is put into words when somebody asks."""

    def __init__(self, job: Job) -> None:
        house = job.house
        self._storeys = {storey.id: storey.name for storey in house.storeys}
        self._rooms = {room.id: room for room in house.rooms}
        self._order = [room.name for room in house.rooms]
        self._walls = {wall.id: wall for wall in house.walls}
        self._known: dict[str, Thing] = {}
        self._asked = {
            thing.id: thing
            for things in (
                house.walls,
                house.openings,
                house.outlets,
                house.runs,
                house.bodies,
                job.needs,
                job.obligations,
            )
            for thing in things
        }
        self._readings = {reading.id: (number, reading) for number, reading in enumerate(job.readings, 1)}
        for storey in house.storeys:
            self._known[storey.id] = Thing("storey", storey.id, storey.name, True)
        for kind, things in (
            ("room", house.rooms),
            ("meeting_point", house.meeting_points),
            ("splitter", house.splitters),
            ("box", job.boxes),
        ):
            for thing in things:
                self._known[thing.id] = Thing(kind, thing.storey, thing.name, True)
        for device in job.devices:
            self._known[device.id] = Thing("device", "", device.name, True)
        rooms_on: dict[str, list[Room]] = defaultdict(list)
        for room in house.rooms:
            rooms_on[room.storey].append(room)
        self._trees = {
            storey: (shapely.STRtree([room_shape(room) for room in rooms]), rooms)
            for storey, rooms in rooms_on.items()
        }

    def thing(self, name: str) -> Thing:
        found = self._known.get(name)
        if found is None:
            found = self._known[name] = self._worded(name)
        return found

    def _worded(self, name: str) -> Thing:
        thing = self._asked.get(name)
        if isinstance(thing, Run):
            return Thing("run", self._run_storey(thing), self._run(thing), False)
        if isinstance(thing, Outlet):
            return Thing("outlet", thing.storey, self._outlet(thing), False)
        if isinstance(thing, Wall):
            return Thing("wall", thing.storey, self._wall(thing), False)
        if isinstance(thing, Opening):
            wall = self._walls[thing.wall]
            words = say("called.opening", kind=thing.kind.value, wall=self._wall(wall))
            return Thing("opening", wall.storey, words, False)
        if isinstance(thing, Body):
            where = self._near(thing.storey, thing.corner) or self._storey(thing.storey)
            return Thing("body", thing.storey, say("called.body", kind=thing.kind.value, where=where), False)
        if isinstance(thing, Need):
            room = self._rooms[thing.room]
            return Thing("need", room.storey, room.name, True)
        if isinstance(thing, Obligation):
            run = self.thing(thing.run)
            words = say("called.obligation", kind=_kind(thing.kind), run=run.called(thing.run))
            return Thing("obligation", run.storey, words, True)
        if name in self._readings:
            return self._reading(*self._readings[name])
        return Thing("", "", name, True)

    def _storey(self, storey: str) -> str:
        return self._storeys.get(storey, storey)

    def _run(self, run: Run) -> str:
        first, last = (self._end(end) for end in (run.ends[0], run.ends[-1]))
        between = len(run.ends) - 2
        if between:
            return say("called.chain", start=first, end=last, plates=between)
        return say("called.run", start=first, end=last)

    def _end(self, end: str) -> str:
        return say("called.nobody_knows") if end == UNKNOWN else self.thing(end).words

    def _run_storey(self, run: Run) -> str:
        on = {self.thing(end).storey for end in run.ends if end != UNKNOWN}
        return on.pop() if len(on) == 1 else ""

    def _outlet(self, outlet: Outlet) -> str:
        if outlet.room:
            return self._rooms[outlet.room].name
        room = self._near(outlet.storey, outlet.position) if outlet.position else ""
        return room or self._storey(outlet.storey)

    def _wall(self, wall: Wall) -> str:
        """By the rooms on its two sides."""
        beside: list[str] = []
        length_m = wall_length_m(wall)
        along = ((wall.end[0] - wall.start[0]) / length_m, (wall.end[1] - wall.start[1]) / length_m)
        away_m = BESIDE_M + (wall.thickness_m or 0.0) / 2
        for side in (1.0, -1.0):
            for share in LOOKED_AT:
                x, y = point_along(wall, share * length_m)
                spot = (x - side * away_m * along[1], y + side * away_m * along[0])
                if (room := self._near(wall.storey, spot, AT_M)) and room not in beside:
                    beside.append(room)
                    break
        if len(beside) == 2:
            beside.sort(key=self._order.index)  # whichever way the wall was drawn
            return say("called.wall_between", one=beside[0], other=beside[1])
        return say("called.wall_of", room=beside[0]) if beside else self._storey(wall.storey)

    def _reading(self, number: int, reading: Reading) -> Thing:
        room = self._rooms.get(reading.room or "")
        storey = room.storey if room else reading.storey or ""
        if room is None and reading.position and storey:
            where = self._near(storey, reading.position) or self._storey(storey)
        else:
            where = room.name if room else self._storey(storey) if storey else ""
        words = say("called.reading_in", where=where) if where else say("called.reading", number=number)
        return Thing("reading", storey, words, False)

    def _near(self, storey: str, position: tuple[float, float], within_m: float = NEAR_M) -> str:
        """Name of the nearest room within so much; empty where there is none."""
        tree, rooms = self._trees.get(storey, (None, []))
        if tree is None:
            return ""
        spot = shapely.Point(position)
        found = sorted(int(i) for i in tree.query(spot, predicate="dwithin", distance=within_m))
        near = [rooms[i] for i in found]  # the first of the document where two are as near
        if not near:
            return ""
        first = min(near, key=lambda room: (room.outside, round(room_shape(room).distance(spot), 3)))
        return first.name
