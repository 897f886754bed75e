"""Walls of a model: from their bodies, or where they have none from their axis and layers."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

import ifcopenshell.geom
import numpy as np
from ifcopenshell.util.element import get_material
from ifcopenshell.util.placement import get_local_placement
from numpy.typing import NDArray

from rehaul.house.base import UNKNOWN
from rehaul.house.model import Wall
from rehaul.house.readers.ifc.levels import Level, Levels
from rehaul.house.readers.ifc.materials import construction_by_name, layers_of
from rehaul.house.readers.ifc.reading import Element, ModelReading, name_of
from rehaul.house.readers.ifc.shapes import Shape, footprint
from rehaul.house.readers.joints import joined
from rehaul.house.readers.strips import SHORTEST_STRIP_M, Strip, strips_of
from rehaul.words import say

DEFAULT_HEIGHT_M = 2.4
LOWEST_WALL_M = 0.3  # lower ones are kerbs and plinths


@dataclass(frozen=True)
class WallPiece:
    """One straight piece of a wall: what the model's element became."""

    wall: Wall
    strip: Strip
    level: Level
    element: int
    low_m: float
    high_m: float


def read_walls(reading: ModelReading, levels: Levels) -> list[WallPiece]:
    """All pieces of all walls, by storey from the lowest and in the order of the model.

    A straight wall is one piece, a bent one several; curtain walls count. One that makes none is listed as
    left out.
    """
    pieces: list[WallPiece] = []
    for number, element in enumerate(reading.of("IfcWall", "IfcCurtainWall"), start=1):
        pieces += _pieces(reading, levels, element, f"w{number}")
    return [piece for level in levels.levels for piece in _joined([p for p in pieces if p.level == level])]


def _joined(pieces: list[WallPiece]) -> list[WallPiece]:
    strips = joined([piece.strip for piece in pieces])
    return [
        replace(
            piece, strip=strip, wall=piece.wall.model_copy(update={"start": strip.start, "end": strip.end})
        )
        for piece, strip in zip(pieces, strips, strict=True)
    ]


def _covered_strips(element: Element, shape: Shape, axis: NDArray[np.float64] | None) -> tuple[Strip, ...]:
    covered = footprint(shape)
    if element.is_a("IfcCurtainWall"):  # many thin panes and frames: its hull first
        return strips_of(covered.convex_hull) or strips_of(covered)
    return strips_of(covered, _direction(axis)) or strips_of(covered)


def _pieces(reading: ModelReading, levels: Levels, element: Element, wall_id: str) -> list[WallPiece]:
    shape = reading.shapes.get(element.id())
    axis = _axis_m(reading, element)
    if shape is not None:
        low_m, high_m = shape.low_m, shape.high_m
        strips = _covered_strips(element, shape, axis)
    elif axis is not None:
        low_m = float(axis[0, 2])
        high_m = low_m + DEFAULT_HEIGHT_M
        strips = _along_axis(axis, _layered_m(reading, element) or 0.1)
        reading.log.note(say("readers.walls_without_body", height_m=DEFAULT_HEIGHT_M))
    else:
        reading.leave(element, say("readers.no_body_nor_axis"))
        return []
    if not strips:
        reading.leave(element, say("readers.no_two_faces"))
        return []
    level = levels.of(element, low_m)
    base_m = max(0.0, low_m - level.elevation_m)
    height_m = high_m - level.elevation_m - base_m
    if height_m < LOWEST_WALL_M:
        reading.leave(element, say("readers.too_low_a_wall", lowest_m=LOWEST_WALL_M))
        return []
    reading.used.add(element.id())
    result = []
    for count, strip in enumerate(strips, start=1):
        layers = layers_of(reading, element, strip.thickness_m, "wall")
        construction = UNKNOWN if layers else construction_by_name(reading, "wall", element)
        wall = Wall(
            id=wall_id if len(strips) == 1 else f"{wall_id}.{count}",
            storey=level.id,
            start=strip.start,
            end=strip.end,
            thickness_m=round(strip.thickness_m, 4),
            height_m=round(height_m, 4),
            base_m=round(base_m, 4),
            construction=construction,
            layers=layers,
            note=name_of(element),
        )
        result.append(WallPiece(wall, strip, level, element.id(), low_m, high_m))
    return result


def _axis_m(reading: ModelReading, element: Element) -> NDArray[np.float64] | None:
    """Points of the wall's axis in the world, (point, xyz)."""
    representations = element.Representation.Representations if element.Representation else ()
    axis = next((item for item in representations if item.RepresentationIdentifier == "Axis"), None)
    if axis is None or not element.ObjectPlacement:
        return None
    settings = ifcopenshell.geom.settings()
    settings.set("dimensionality", ifcopenshell.ifcopenshell_wrapper.CURVES)
    try:
        curve = ifcopenshell.geom.create_shape(settings, axis)
    except RuntimeError:
        return None
    local = np.array(curve.verts, dtype=np.float64).reshape(-1, 3)
    if len(local) < 2:
        return None
    matrix = get_local_placement(element.ObjectPlacement)
    placed: NDArray[np.float64] = local @ matrix[:3, :3].T + matrix[:3, 3] * reading.unit_m
    moved: NDArray[np.float64] = placed + np.array([*reading.moved_m, 0.0])
    return moved


def _direction(axis: NDArray[np.float64] | None) -> NDArray[np.float64] | None:
    """Which way a straight axis runs on the plan; None for a bent one."""
    if axis is None:
        return None
    plan = axis[:, :2]
    span = plan[-1] - plan[0]
    length = float(np.hypot(*span))
    if length < SHORTEST_STRIP_M:
        return None
    aside = (plan - plan[0]) @ np.array([-span[1], span[0]]) / length
    return span if float(np.abs(aside).max()) < 0.01 else None


def _along_axis(axis: NDArray[np.float64], thickness_m: float) -> tuple[Strip, ...]:
    points = [(round(float(x), 4), round(float(y), 4)) for x, y in axis[:, :2]]
    strips = (Strip(a, b, thickness_m) for a, b in pairwise(points))
    return tuple(strip for strip in strips if strip.length_m >= SHORTEST_STRIP_M)


def _layered_m(reading: ModelReading, element: Element) -> float:
    material = get_material(element, should_skip_usage=True)
    if material is None or not material.is_a("IfcMaterialLayerSet"):
        return 0.0
    return float(sum(layer.LayerThickness for layer in material.MaterialLayers)) * reading.unit_m
