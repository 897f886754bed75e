"""Doors, windows and empty openings: each on the wall it is cut into, or else on the nearest."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from rehaul.house.model import Opening, OpeningKind
from rehaul.house.readers.ifc.reading import Element, ModelReading
from rehaul.house.readers.ifc.shapes import Shape
from rehaul.house.readers.ifc.walls import WallPiece
from rehaul.words import Saying, say

NARROWEST_M = 0.1
NEAR_M = 0.35  # a door without a stated wall belongs to one whose face is this near
THROUGH_SHARE = 0.8  # an opening that cuts less of the wall's thickness is a recess
DOOR_HIGH_M = 1.9
FLOOR_HIGH_M = 0.15
SAME_PLACE_M = 0.15


@dataclass(frozen=True)
class OpeningPlace:
    """Where an opening sits: the piece of wall, from and to along it, and heights in the world."""

    piece: WallPiece
    start_m: float
    end_m: float
    low_m: float
    high_m: float

    def covers(self, other: OpeningPlace) -> bool:
        """True where the other lies for more than half of its width in this one, on the same piece of wall.

        Heights are not compared. **Source**: docs/readers.md, "A building model (IFC)": doors, windows, gaps.
        """
        shared = min(self.end_m, other.end_m) - max(self.start_m, other.start_m)
        return self.piece is other.piece and shared > 0.5 * (other.end_m - other.start_m)

    def repeats(self, other: OpeningPlace) -> bool:
        """True where both take up the same part of one wall: all four edges within 0.15 m, a frame's width.

        Some models hold a door twice, as itself and as its opening. **Source**: docs/readers.md, "A building
        model (IFC)": doors, windows, gaps.
        """
        ends = ("start_m", "end_m", "low_m", "high_m")
        same = all(abs(getattr(self, end) - getattr(other, end)) < SAME_PLACE_M for end in ends)
        return self.piece is other.piece and same


def read_openings(reading: ModelReading, pieces: list[WallPiece]) -> list[Opening]:
    """Doors and windows in the order of the model, then the openings that hold neither.

    Each lies on one of `pieces`; one that lies on none, or where another stands already, is listed as left
    out. A model without doors has its windows that reach the floor taken as doors, which a note tells.
    **Source**: docs/readers.md, "A building model (IFC)": doors, windows, gaps.
    """
    doors = reading.of("IfcDoor", "IfcWindow")
    placed = [(element, place) for element in doors if (place := _place(reading, pieces, element))]
    doors_missing = not reading.of("IfcDoor")
    openings, counts = [], dict.fromkeys(OpeningKind, 0)
    kept: list[OpeningPlace] = []
    for element, place in placed:
        if any(place.repeats(other) for other in kept):
            reading.leave(element, say("readers.same_place_as_another"))
            continue
        kept.append(place)
        reading.used.add(element.id())
        kind = OpeningKind.DOOR if element.is_a("IfcDoor") else OpeningKind.WINDOW
        if doors_missing and _reaches_the_floor(place):
            kind = OpeningKind.DOOR
            reading.log.note(say("readers.windows_as_doors", high_m=DOOR_HIGH_M))
        counts[kind] += 1
        openings.append(_opening(place, kind, counts[kind]))
    for place in _gaps(reading, pieces, kept):
        counts[OpeningKind.GAP] += 1
        openings.append(_opening(place, OpeningKind.GAP, counts[OpeningKind.GAP]))
    return openings


def _opening(place: OpeningPlace, kind: OpeningKind, number: int) -> Opening:
    floor_m = place.piece.level.elevation_m
    sill_m = max(0.0, place.low_m - floor_m)
    return Opening(
        id=f"{kind.value[0]}{number}" if kind is not OpeningKind.WINDOW else f"win{number}",
        wall=place.piece.wall.id,
        kind=kind,
        offset_m=round(place.start_m, 4),
        width_m=round(place.end_m - place.start_m, 4),
        height_m=round(place.high_m - floor_m - sill_m, 4),
        sill_m=round(sill_m, 4),
    )


def _reaches_the_floor(place: OpeningPlace) -> bool:
    low = place.low_m - place.piece.level.elevation_m <= FLOOR_HIGH_M
    return low and place.high_m - place.low_m >= DOOR_HIGH_M


def _place(reading: ModelReading, pieces: list[WallPiece], element: Element) -> OpeningPlace | None:
    """Where a door or window sits; listed and None where it cannot be said."""
    shape = reading.shapes.get(element.id())
    for relation in element.FillsVoids:
        void = relation.RelatingOpeningElement
        host = void.VoidsElements[0].RelatingBuildingElement if void.VoidsElements else None
        on_host = [piece for piece in pieces if host is not None and piece.element == host.id()]
        if host is not None and not on_host:
            reading.leave(element, say("readers.sits_in_no_wall", host=_article(host)))
            return None
        alone = len(void.HasFillings) == 1
        body = reading.shapes.get(void.id()) if alone else shape
        place = _best(on_host, body or shape)
        if place:
            reading.used.add(void.id())
            return place
    if shape is None:
        reading.leave(element, say("readers.no_body_and_no_wall"))
        return None
    place = _best([piece for piece in pieces if _beside(piece, shape)], shape)
    if place is None:
        reading.leave(element, say("readers.no_wall_near", near_m=NEAR_M))
        return None
    reading.log.note(say("readers.put_on_nearest_wall"))
    return place


def _article(host: Element) -> Saying:
    known = {"IfcSlab": "readers.a_slab", "IfcRoof": "readers.a_roof"}
    return say(known[host.is_a()]) if host.is_a() in known else say("readers.an_element", kind=host.is_a())


def _beside(piece: WallPiece, shape: Shape) -> bool:
    """True where the middle of the body lies in or close to the wall, at the wall's height."""
    middle = (shape.plan_m.min(axis=0) + shape.plan_m.max(axis=0)) / 2
    along, across = piece.strip.measure(middle[None, :])
    near = abs(float(across[0])) <= piece.strip.thickness_m / 2 + NEAR_M
    overlap_m = min(piece.high_m, shape.high_m) - max(piece.low_m, shape.low_m)
    return (
        near
        and 0 <= float(along[0]) <= piece.strip.length_m
        and overlap_m > 0.5 * (shape.high_m - shape.low_m)
    )


def _best(pieces: list[WallPiece], shape: Shape | None) -> OpeningPlace | None:
    """The place on the piece that lies closest to the body and takes most of it."""
    if shape is None:
        return None
    found = []
    for piece in pieces:
        along, across = piece.strip.measure(shape.plan_m)
        start = max(0.0, float(along.min()))
        end = min(piece.strip.length_m, float(along.max()))
        low, high = max(piece.low_m, shape.low_m), min(piece.high_m, shape.high_m)
        if end - start >= NARROWEST_M and high - low >= NARROWEST_M:
            aside = abs(float(across.min() + across.max())) / 2 + float(np.ptp(across))
            found.append(
                (round(aside - (end - start), 4), piece.wall.id, OpeningPlace(piece, start, end, low, high))
            )
    return min(found, key=lambda item: item[:2])[2] if found else None


def _gaps(
    reading: ModelReading, pieces: list[WallPiece], filled: list[OpeningPlace]
) -> Iterator[OpeningPlace]:
    """Openings in walls that hold no door or window."""
    for void in reading.of("IfcOpeningElement"):
        host = void.VoidsElements[0].RelatingBuildingElement if void.VoidsElements else None
        if void.id() in reading.used or void.HasFillings:
            continue
        on_host = [piece for piece in pieces if host is not None and piece.element == host.id()]
        shape = reading.shapes.get(void.id())
        place = _best(on_host, shape)
        if host is not None and host.is_a("IfcSlab"):
            continue  # an opening in a floor is read with the floor
        if place is None or shape is None:
            reading.leave(void, say("readers.in_no_wall"))
        elif _depth_m(place, shape) < THROUGH_SHARE * place.piece.strip.thickness_m:
            reading.leave(void, say("readers.recess"))
        else:
            reading.used.add(void.id())
            if not any(place.covers(other) or other.covers(place) for other in filled):
                yield place


def _depth_m(place: OpeningPlace, shape: Shape) -> float:
    _, across = place.piece.strip.measure(shape.plan_m)
    half = place.piece.strip.thickness_m / 2
    return min(half, float(across.max())) - max(-half, float(across.min()))
