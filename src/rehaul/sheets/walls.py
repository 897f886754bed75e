"""Walls as a draughtsman fills them in: each by its true thickness."""

from __future__ import annotations

import math

import shapely
import shapely.affinity
from shapely import LineString, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from rehaul.facts.constructions import constructions
from rehaul.house import UNKNOWN, House, Opening, Wall
from rehaul.house.geometry import opening_ends, wall_length_m
from rehaul.sheets import svg
from rehaul.sheets.scale import StoreyView

UNKNOWN_THICKNESS_M = 0.12  # drawn so, and hatched, until somebody looks
TOUCH_M = 0.02


def wall_thickness_m(wall: Wall) -> float:
    """As measured, else by its layers, else its construction's own, else a guess: 0.12 m.

    **Source**: fact table `constructions`.
    """
    if wall.thickness_m is not None:
        return wall.thickness_m
    if wall.layers:
        return sum(layer.thickness_m for layer in wall.layers)
    known = constructions().get(wall.construction)
    return known.thickness_m if known else UNKNOWN_THICKNESS_M


def is_unknown(wall: Wall) -> bool:
    """Whether nobody knows what a wall is made of: neither layers nor a construction.

    A measured thickness alone does not tell.
    """
    return not wall.layers and wall.construction in {UNKNOWN, ""}


def storey_walls(house: House, storey: str) -> tuple[BaseGeometry, BaseGeometry]:
    """Cut areas of the storey's walls [m]: of known and of unknown construction, openings left out.

    Each wall by its true thickness. Where both meet the known one wins, so the two never overlap; either
    may be empty. **Source**: docs/papers.md, "How it is made": walls.
    """
    walls = [wall for wall in house.walls if wall.storey == storey]
    gaps: dict[str, list[Opening]] = {}
    for opening in house.openings:
        gaps.setdefault(opening.wall, []).append(opening)
    known: list[BaseGeometry] = []
    unknown: list[BaseGeometry] = []
    for wall in walls:
        shape = _cut(wall, walls)
        for opening in gaps.get(wall.id, ()):
            shape = shape.difference(_hole(wall, opening))
        (unknown if is_unknown(wall) else known).append(shape)
    solid = unary_union(known)
    return solid, unary_union(unknown).difference(solid)


def _cut(wall: Wall, walls: list[Wall]) -> Polygon:
    """The wall's area, carried on at each end to the far face of a wall it meets."""
    half = wall_thickness_m(wall) / 2
    reach = [min(half, _half_of_what_it_meets(wall, end, walls)) for end in (wall.start, wall.end)]
    length = wall_length_m(wall)
    ux, uy = ((wall.end[i] - wall.start[i]) / length for i in (0, 1))
    start = (wall.start[0] - ux * reach[0], wall.start[1] - uy * reach[0])
    end = (wall.end[0] + ux * reach[1], wall.end[1] + uy * reach[1])
    return LineString((start, end)).buffer(half, cap_style="flat")


def _half_of_what_it_meets(wall: Wall, end: tuple[float, float], walls: list[Wall]) -> float:
    halves = [
        wall_thickness_m(other) / 2
        for other in walls
        if other is not wall and _distance_m(end, other) <= TOUCH_M
    ]
    return max(halves, default=0.0)


def _distance_m(point: tuple[float, float], wall: Wall) -> float:
    (ax, ay), (bx, by) = wall.start, wall.end
    dx, dy = bx - ax, by - ay
    share = max(0.0, min(1.0, ((point[0] - ax) * dx + (point[1] - ay) * dy) / (dx * dx + dy * dy)))
    return math.hypot(point[0] - ax - share * dx, point[1] - ay - share * dy)


def _hole(wall: Wall, opening: Opening) -> Polygon:
    return LineString(opening_ends(wall, opening)).buffer(wall_thickness_m(wall) / 2 + 0.05, cap_style="flat")


def on_paper(shape: BaseGeometry, view: StoreyView) -> BaseGeometry:
    """The same shape in millimetres on paper, y downwards, as `StoreyView.at` places its points.

    `shape`: in metres of the house. **Source**: docs/papers.md, "How it is made": walls.
    """
    factor = 1000 / view.ratio
    moved = shapely.affinity.affine_transform(
        shape,
        [factor, 0, 0, -factor, view.left_mm - view.x0_m * factor, view.top_mm + view.y1_m * factor],
    )
    return moved


def polygon_data(shape: BaseGeometry) -> str:
    """Path data of a polygon or several, holes and all, for the even-odd rule.

    Points and lines in it are left out; empty for an empty shape.
    """
    parts = shapely.get_parts(shape)
    rings = [
        ring for part in parts if part.geom_type == "Polygon" for ring in (part.exterior, *part.interiors)
    ]
    return "".join(svg.path_data(list(ring.coords)[:-1], closed=True) for ring in rings)


def draw_walls(solid: BaseGeometry, unknown: BaseGeometry) -> str:
    """Filled walls [mm on paper] as SVG; those of unknown construction are open and hatched.

    **Source**: docs/papers.md, "How it is made": walls.
    """
    parts = []
    if not solid.is_empty:
        parts.append(svg.element("path", d=polygon_data(solid), fill=svg.INK, fill_rule="evenodd"))
    if not unknown.is_empty:
        style: svg.Style = {
            "fill": svg.PAPER,
            "fill_rule": "evenodd",
            "stroke": svg.INK,
            "stroke_width": svg.THIN_MM,
        }
        parts.append(svg.element("path", d=polygon_data(unknown), **style))
        parts.append(
            svg.element("path", d=_hatch(unknown), fill="none", stroke=svg.INK, stroke_width=svg.FINE_MM)
        )
    return "".join(parts)


def _hatch(shape: BaseGeometry, spacing: float = 1.1) -> str:
    x0, y0, x1, y1 = shape.bounds
    height = y1 - y0
    count = int((x1 - x0 + height) / spacing) + 1
    strokes = shapely.MultiLineString(
        [((x0 - height + i * spacing, y1), (x0 + i * spacing, y0)) for i in range(count + 1)]
    )
    cut = shapely.get_parts(shape.intersection(strokes))
    return "".join(svg.path_data(list(part.coords)) for part in cut if part.geom_type == "LineString")
