"""Bodies of a model's elements as triangles in world coordinates, metres, and how they look from above."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass

import ifcopenshell
import ifcopenshell.geom
import numpy as np
import shapely
from ifcopenshell.util.element import get_parts
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

FLAT_AREA_M2 = 1e-6  # a triangle that seen from above is smaller than this stands upright


@dataclass(frozen=True)
class Shape:
    """Triangles of one element."""

    points_m: NDArray[np.float64]  # (point, xyz)
    triangles: NDArray[np.int64]  # (triangle, corner)

    @property
    def plan_m(self) -> NDArray[np.float64]:
        """The points seen from above, (point, xy)."""
        return self.points_m[:, :2]

    @property
    def low_m(self) -> float:
        return float(self.points_m[:, 2].min())

    @property
    def high_m(self) -> float:
        return float(self.points_m[:, 2].max())

    def moved(self, by_m: NDArray[np.float64]) -> Shape:
        """The same body elsewhere: `by_m` (3,) is added to every point [m].

        The triangles are shared with the first.
        """
        return Shape(self.points_m + by_m, self.triangles)


def shapes_of(model: ifcopenshell.file, elements: Iterable[ifcopenshell.entity_instance]) -> dict[int, Shape]:
    """The body of each element that has one, by element number; an element without takes its parts' bodies.

    Openings are not cut out: a wall is whole.
    """
    wanted = list(elements)
    parts = {element.id(): list(get_parts(element)) for element in wanted}
    bodies = _triangulated(model, [*wanted, *(part for group in parts.values() for part in group)])
    for element in wanted:
        own = [bodies[part.id()] for part in parts[element.id()] if part.id() in bodies]
        if element.id() not in bodies and own:
            bodies[element.id()] = _joined(own)
    return bodies


def _triangulated(model: ifcopenshell.file, elements: list[ifcopenshell.entity_instance]) -> dict[int, Shape]:
    with_body = {element.id(): element for element in elements if element.Representation}
    if not with_body:
        return {}
    settings = ifcopenshell.geom.settings()
    settings.set("use-world-coords", True)
    settings.set("disable-opening-subtractions", True)
    settings.set("weld-vertices", True)
    iterator = ifcopenshell.geom.iterator(
        settings, model, os.cpu_count() or 1, include=list(with_body.values())
    )
    found: dict[int, Shape] = {}
    more = iterator.initialize()
    while more:
        result = iterator.get()
        points = np.array(result.geometry.verts, dtype=np.float64).reshape(-1, 3)
        triangles = np.array(result.geometry.faces, dtype=np.int64).reshape(-1, 3)
        if len(triangles) and np.isfinite(points).all():
            found[result.id] = Shape(points, triangles)
        more = iterator.next()
    return dict(sorted(found.items()))


def _joined(shapes: list[Shape]) -> Shape:
    starts = np.cumsum([0] + [len(shape.points_m) for shape in shapes[:-1]])
    return Shape(
        np.concatenate([shape.points_m for shape in shapes]),
        np.concatenate([s.triangles + start for s, start in zip(shapes, starts, strict=True)]),
    )


def footprint(shape: Shape) -> BaseGeometry:
    """What a body covers seen from above [m]: a polygon, several, or an empty one.

    Corners are put on a grid of a tenth of a millimetre. Upright triangles cover nothing.
    """
    corners = shape.plan_m[shape.triangles]  # (triangle, corner, xy)
    first, second = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    area = 0.5 * np.abs(first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0])
    lying = corners[area > FLAT_AREA_M2]
    if not len(lying):
        return shapely.Polygon()
    return shapely.unary_union(shapely.polygons(lying), grid_size=1e-4)
