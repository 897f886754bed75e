"""A job while it is being drawn: lists that grow, the dice, and what this drawing must have."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from random import Random
from typing import TypeVar

from drawing.floors import Floor, Space
from rehaul.house import (
    Bell,
    Body,
    Box,
    Decision,
    Device,
    Hazard,
    MeetingPoint,
    Need,
    Obligation,
    Opening,
    Outlet,
    Reading,
    Room,
    Run,
    Service,
    Splitter,
    Storey,
    Wall,
)
from rehaul.house.base import Point

T = TypeVar("T")


@dataclass
class Sketch:
    """Everything drawn so far."""

    dice: Random
    themes: frozenset[str]  # what must be in this drawing, whatever the dice say
    year: int = 1990
    style: str = ""
    storeys: list[Storey] = field(default_factory=list)
    floors: dict[str, Floor] = field(default_factory=dict)  # by storey id
    spaces: dict[str, Space] = field(default_factory=dict)  # by room id
    rooms: list[Room] = field(default_factory=list)
    walls: list[Wall] = field(default_factory=list)
    openings: list[Opening] = field(default_factory=list)
    bodies: list[Body] = field(default_factory=list)
    outlets: list[Outlet] = field(default_factory=list)
    points: list[MeetingPoint] = field(default_factory=list)
    splitters: list[Splitter] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)
    hazards: list[Hazard] = field(default_factory=list)
    bells: list[Bell] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    service: Service = field(default_factory=Service)
    devices: list[Device] = field(default_factory=list)
    needs: list[Need] = field(default_factory=list)
    obligations: list[Obligation] = field(default_factory=list)
    decisions: list[Decision] = field(default_factory=list)
    readings: list[Reading] = field(default_factory=list)
    counts: dict[str, int] = field(default_factory=dict)

    def wants(self, theme: str, chance: float = 0.0) -> bool:
        """Whether this drawing has it: always where it is a theme of the drawing, else by chance."""
        return theme in self.themes or self.dice.random() < chance

    def maybe(self, chance: float) -> bool:
        return self.dice.random() < chance

    def pick(self, options: Sequence[T]) -> T:
        return options[self.dice.randrange(len(options))]

    def weighed(self, options: dict[T, float]) -> T:
        """One of the options by weight, in the order written."""
        mark = self.dice.random() * sum(options.values())
        for option, weight in options.items():
            mark -= weight
            if mark <= 0:
                return option
        return next(reversed(options))

    def between(self, low: float, high: float, digits: int = 2) -> float:
        return round(low + (high - low) * self.dice.random(), digits)

    def new_id(self, prefix: str, digits: int = 1) -> str:
        self.counts[prefix] = self.counts.get(prefix, 0) + 1
        return f"{prefix}{self.counts[prefix]:0{digits}d}"

    def room(self, name: str) -> Room:
        return next(room for room in self.rooms if room.id == name)

    def lived_in(self) -> list[Room]:
        """The household's own rooms indoors, in the house itself."""
        return [
            room
            for room in self.rooms
            if room.lived_in and not room.outside and not room.outbuilding and not room.household
        ]

    def indoors(self) -> list[Room]:
        return [room for room in self.rooms if not room.outside and not room.outbuilding]

    def by_the_wall(self, room: Room) -> Point:
        """A place at the foot of a wall of the room, clear of its doors."""
        return self.spaces[room.id].by_the_wall(self.dice)

    def add_outlet(self, room: Room, kind: str, **more: object) -> Outlet:
        """A plate on a wall of the room; what is known of it varies."""
        values: dict[str, object] = {
            "id": self.new_id(f"{room.storey}-", 2),
            "storey": room.storey,
            "kind": kind,
            "position": self.by_the_wall(room),
            "room": room.id if self.maybe(0.9) else None,
            "mains": self.weighed({True: 5.0, None: 4.0, False: 1.5}),
        }
        outlet = Outlet.model_validate(values | more)
        self.outlets.append(outlet)
        return outlet
