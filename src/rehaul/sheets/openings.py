"""Door leaves with their swing, and the panes of windows."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import LineString

from rehaul.house import UNKNOWN, House, Opening, OpeningKind, Wall
from rehaul.house.geometry import opening_ends
from rehaul.sheets import svg
from rehaul.sheets.scale import StoreyView
from rehaul.sheets.walls import wall_thickness_m

TWO_LEAVES_M = 1.3  # a wider doorway has two leaves
ARC_STEPS = 18


@dataclass(frozen=True)
class Leaf:
    """A door leaf on paper: where it hangs, where it shuts, where its tip stands when open."""

    hinge: svg.Mm
    latch: svg.Mm
    tip: svg.Mm

    def sweep(self) -> LineString:
        """The outline of what the leaf sweeps over [mm on paper]: a quarter circle about its hinge."""
        x, y = self.hinge
        ends = [(point[0] - x, point[1] - y) for point in (self.latch, self.tip)]
        arc = []
        for step in range(ARC_STEPS + 1):
            angle = math.pi / 2 * step / ARC_STEPS
            shut, opened = math.cos(angle), math.sin(angle)
            arc.append(tuple(c + shut * a + opened * b for c, a, b in zip((x, y), *ends, strict=True)))
        return LineString([self.hinge, *arc, self.hinge])


def leaves(house: House, storey: str, view: StoreyView) -> list[Leaf]:
    """Every door leaf of a storey, on paper [mm]; a doorway wider than 1.3 m has two.

    Where nobody said which way a door opens, it is drawn into the house, towards the middle of the storey's
    walls, and hung on the edge that comes first. **Source**: docs/papers.md, "How it is made": drawn into
    the house.
    """
    walls = {wall.id: wall for wall in house.walls if wall.storey == storey}
    ends = [view.at(point) for wall in walls.values() for point in (wall.start, wall.end)]
    if not ends:
        return []
    middle = tuple(sum(axis) / len(ends) for axis in zip(*ends, strict=True))
    found = []
    for opening in house.openings:
        wall = walls.get(opening.wall)
        if wall is not None and opening.kind is OpeningKind.DOOR:
            a, b = (view.at(point) for point in opening_ends(wall, opening))
            half = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            hung = (b, a) if opening.hinge == "far" else (a, b)
            pairs = ((a, half), (b, half)) if opening.width_m > TWO_LEAVES_M else (hung,)
            inward = _normal(a, b)  # to the left
            if opening.swing != UNKNOWN:
                inward = inward if opening.swing == "left" else (-inward[0], -inward[1])
            elif math.dist(_moved(half, inward, 1), middle) > math.dist(_moved(half, inward, -1), middle):
                inward = (-inward[0], -inward[1])
            found += [
                Leaf(hinge, latch, _moved(hinge, inward, math.dist(hinge, latch))) for hinge, latch in pairs
            ]
    return found


def draw_openings(house: House, storey: str, view: StoreyView) -> str:
    """Door leaves with their swing and the panes of windows, as SVG; gaps stay open."""
    walls = {wall.id: wall for wall in house.walls if wall.storey == storey}
    parts = [
        _window(walls[opening.wall], opening, view)
        for opening in house.openings
        if opening.wall in walls and opening.kind is OpeningKind.WINDOW
    ]
    parts += [_leaf(leaf) for leaf in leaves(house, storey, view)]
    return svg.group(parts, fill="none", stroke=svg.INK, stroke_width=svg.THIN_MM)


def _leaf(leaf: Leaf) -> str:
    arc = svg.path_data([(x, y) for x, y in leaf.sweep().coords][1:-1])
    line = svg.line(leaf.hinge, leaf.tip, stroke_width=svg.MEDIUM_MM)
    return line + svg.element("path", d=arc, stroke_width=svg.FINE_MM)


def _window(wall: Wall, opening: Opening, view: StoreyView) -> str:
    start, end = (view.at(point) for point in opening_ends(wall, opening))
    across, half = _normal(start, end), view.mm(wall_thickness_m(wall)) / 2
    along = [
        [_moved(point, across, offset) for point in (start, end)] for offset in (-half, -0.22, 0.22, half)
    ]
    jambs = [[_moved(point, across, side * half) for side in (-1, 1)] for point in (start, end)]
    return svg.element("path", d="".join(svg.path_data(stroke) for stroke in (*along, *jambs)))


def _normal(a: svg.Mm, b: svg.Mm) -> svg.Mm:
    length = math.dist(a, b) or 1.0
    return ((b[1] - a[1]) / length, -(b[0] - a[0]) / length)


def _moved(point: svg.Mm, direction: svg.Mm, length: float) -> svg.Mm:
    return (point[0] + direction[0] * length, point[1] + direction[1] * length)
