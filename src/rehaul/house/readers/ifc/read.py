"""The whole reading of a building model: open it, take out what a house needs, list the rest."""

from __future__ import annotations

import statistics
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import ifcopenshell
import numpy as np
from ifcopenshell.util.element import get_aggregate
from ifcopenshell.util.unit import calculate_unit_scale
from pydantic import ValidationError

from rehaul.errors import BadInput
from rehaul.house.integrity import require_house
from rehaul.house.model import House, Storey
from rehaul.house.readers.ifc.floors import read_floor
from rehaul.house.readers.ifc.levels import Level, Levels, read_levels
from rehaul.house.readers.ifc.materials import note_guesses
from rehaul.house.readers.ifc.model_file import open_model
from rehaul.house.readers.ifc.openings import read_openings
from rehaul.house.readers.ifc.reading import Element, ModelReading, name_of
from rehaul.house.readers.ifc.rooms import RoomRead, read_rooms
from rehaul.house.readers.ifc.shapes import shapes_of
from rehaul.house.readers.ifc.walls import DEFAULT_HEIGHT_M, WallPiece, read_walls
from rehaul.house.readers.report import ElementCounts, ReadReport
from rehaul.words import say

BODIED = ("IfcWall", "IfcCurtainWall", "IfcOpeningElement", "IfcSlab", "IfcSpace")
FILLINGS = ("IfcDoor", "IfcWindow")
FAR_M = 1000.0  # beyond this the sheet is moved to the house
LOWEST_STOREY_M = 1.8
WHY_LEFT = {  # codes
    "IfcBeam": "readers.structure",
    "IfcMember": "readers.structure",
    "IfcPlate": "readers.structure",
    "IfcColumn": "readers.structure",
    "IfcFooting": "readers.structure",
    "IfcRailing": "readers.too_light",
    "IfcStair": "readers.stairs",
    "IfcStairFlight": "readers.stairs",
    "IfcRoof": "readers.roofs",
    "IfcSlab": "readers.no_floor_of_storey",
    "IfcCovering": "readers.finishes",
    "IfcFurnishingElement": "readers.furniture",
    "IfcFurniture": "readers.furniture",
    "IfcFlowTerminal": "readers.fittings",
    "IfcVirtualElement": "readers.line_between_rooms",
    "IfcBuildingElementProxy": "readers.not_said_what",
    "IfcAnnotation": "readers.drawing_text",
}
# What the library raises where a model breaks the rules that it relies on.
DAMAGE = (ArithmeticError, AssertionError, AttributeError, LookupError, RecursionError, RuntimeError,
          TypeError, ValueError)  # fmt: skip
PLACES = ("IfcSite", "IfcBuilding", "IfcBuildingStorey")


def read_ifc(path: Path) -> ReadReport:
    """The house in the IFC model at `path`, with the model's own counts and everything not understood.

    Raises BadInput for a file that is not IFC, is cut short, or holds no building. **Source**:
    docs/readers.md, "A building model (IFC)".
    """
    model, faults = open_model(path)
    try:
        report = _read(model, path)
    except ValidationError:  # what no house has: told by whoever asked
        raise
    except DAMAGE as error:
        raise _damaged(path, faults) from error
    if not faults:
        return report
    note = say("readers.file_damaged", places=faults)
    return replace(report, notes=(note, *report.notes))


def _damaged(path: Path, faults: int) -> BadInput:
    return BadInput(
        say("refused_house.model_damaged_at_places", faults=faults)
        if faults
        else say("refused_house.model_does_not_fit_together"),
        where=path.name,
        remedy=say("refused_house.export_again_as_ifc2x3"),
    )


def _read(model: ifcopenshell.file, path: Path) -> ReadReport:
    reading = _prepared(model, path)
    levels = read_levels(reading, [*reading.of("IfcWall"), *reading.of("IfcSpace")])
    pieces = read_walls(reading, levels)
    openings = read_openings(reading, pieces)
    rooms = read_rooms(reading, levels)
    storeys = _storeys(reading, levels, pieces, rooms)
    house = House(
        name=_house_name(reading),
        storeys=tuple(storeys),
        rooms=tuple(found.room for found in rooms),
        walls=tuple(piece.wall for piece in pieces),
        openings=tuple(openings),
    )
    if not pieces and not rooms:
        raise BadInput(
            say("refused_house.model_holds_no_walls"),
            where=path.name,
            remedy=say("refused_house.export_building"),
        )
    require_house(house, where=path.name)
    _say_what_is_missing(reading, house)
    _leave_the_rest(reading)
    return ReadReport(house, _counts(reading), reading.log.not_understood(), tuple(reading.log.notes))


def _prepared(model: ifcopenshell.file, path: Path) -> ModelReading:
    try:
        unit_m = float(calculate_unit_scale(model)) if model.by_type("IfcUnitAssignment") else 1.0
    except (RuntimeError, AttributeError, IndexError, KeyError):
        raise BadInput(
            say("refused_house.length_unit_makes_no_sense"),
            where=path.name,
            remedy=say("refused_house.export_again"),
        ) from None
    elements = [element for name in BODIED for element in model.by_type(name)]
    elements += [element for name in FILLINGS for element in model.by_type(name) if not _fills_alone(element)]
    reading = ModelReading(model, unit_m, shapes_of(model, elements))
    if not model.by_type("IfcUnitAssignment"):
        reading.log.note(say("readers.no_unit_of_length"))
    _move_to_the_house(reading)
    return reading


def _fills_alone(element: Element) -> bool:
    """True for a door or window whose opening says where it is: its own (costly) body is not needed."""
    voids = [relation.RelatingOpeningElement for relation in element.FillsVoids]
    return any(void.Representation and len(void.HasFillings) == 1 for void in voids)


def _move_to_the_house(reading: ModelReading) -> None:
    if not reading.shapes:
        return
    lowest = np.min([shape.points_m.min(axis=0) for shape in reading.shapes.values()], axis=0)
    if np.abs(lowest[:2]).max() > FAR_M:
        by = np.array([-np.floor(lowest[0]), -np.floor(lowest[1]), 0.0])
        reading.moved_m = (float(by[0]), float(by[1]))
        reading.shapes = {number: shape.moved(by) for number, shape in reading.shapes.items()}
        reading.log.note(say("readers.house_moved", by_m=reading.moved_m))


def _storeys(
    reading: ModelReading, levels: Levels, pieces: list[WallPiece], rooms: list[RoomRead]
) -> Iterable[Storey]:
    floors = [
        read_floor(
            reading,
            level,
            [found.room for found in rooms if found.room.storey == level.id],
            [piece.wall for piece in pieces if piece.level == level],
        )
        for level in levels.levels
    ]
    for index, level in enumerate(levels.levels):
        height_m = _clear_m(reading, level, pieces, rooms)
        if index + 1 < len(levels.levels):
            gap_m = levels.levels[index + 1].elevation_m - level.elevation_m - floors[index + 1].thickness_m
            if gap_m >= LOWEST_STOREY_M:
                height_m = min(height_m, gap_m)
        yield Storey(
            id=level.id,
            name=level.name,
            elevation_m=level.elevation_m,
            height_m=round(height_m, 4),
            floor=floors[index],
        )


def _clear_m(reading: ModelReading, level: Level, pieces: list[WallPiece], rooms: list[RoomRead]) -> float:
    """Height from the storey's floor to the top of its rooms, or of its walls where it has no rooms."""
    tops = [room.high_m for room in rooms if room.room.storey == level.id]
    tops = tops or [piece.high_m for piece in pieces if piece.level == level]
    return max(0.5, statistics.median_high(tops) - level.elevation_m) if tops else DEFAULT_HEIGHT_M


def _house_name(reading: ModelReading) -> str:
    buildings = reading.of("IfcBuilding")
    return name_of(buildings[0], "House") if buildings else "House"


def _counts(reading: ModelReading) -> ElementCounts:
    return ElementCounts(
        storeys=len(reading.of("IfcBuildingStorey")),
        walls=len(reading.of("IfcWall")),
        doors=len(reading.of("IfcDoor")),
        windows=len(reading.of("IfcWindow")),
        rooms=len(reading.of("IfcSpace")),
    )


def _say_what_is_missing(reading: ModelReading, house: House) -> None:
    note_guesses(reading)
    if not house.rooms:
        reading.log.note(say("readers.no_rooms"))
    bare = sum(1 for wall in house.walls if not wall.layers and wall.construction == "unknown")
    if bare:
        reading.log.note(say("readers.walls_of_nothing", bare=bare, walls=len(house.walls)))
    if not any(opening.kind == "door" for opening in house.openings):
        reading.log.note(say("readers.no_doors"))


def _leave_the_rest(reading: ModelReading) -> None:
    for element in reading.of("IfcProduct"):
        if element.id() not in reading.used and element.is_a() not in PLACES:
            holder = get_aggregate(element)
            if _is_part_of_used(reading, holder):
                continue
            reading.leave(element, say(WHY_LEFT.get(element.is_a(), "readers.no_use_for_it")))


def _is_part_of_used(reading: ModelReading, holder: Element | None) -> bool:
    """Frames and panes go with their window or curtain wall."""
    whole = ("IfcCurtainWall", "IfcDoor", "IfcWindow", "IfcWall", "IfcSlab")
    return holder is not None and holder.id() in reading.used and any(holder.is_a(name) for name in whole)
