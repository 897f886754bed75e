"""What every drawing of a storey has: its place on the paper, walls, dimensions, scale bar and legend."""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from rehaul.house import House, Storey
from rehaul.house.geometry import house_bounds, storey_shape
from rehaul.sheets import openings, svg, walls
from rehaul.sheets.placing import Placer, box_round
from rehaul.sheets.scale import StoreyView, scale_bar, scale_for, scale_words
from rehaul.units import UnitSystem, format_length
from rehaul.words import figure, say

WIDTH_MM, HEIGHT_MM = 243.0, 168.0  # fits A4 and Letter, lying, inside the frame and above the title block
DIMENSIONS_MM = 9.0  # strip at the top and left for overall dimensions
FOOT_MM = 15.0  # strip at the bottom for scale bar and legend
OVERHANG_M = 0.45  # walls stand half outside their centre lines


@dataclass(frozen=True)
class Layout:
    """A storey laid on the paper."""

    house: House
    storey: Storey
    system: UnitSystem
    view: StoreyView
    solid: BaseGeometry  # on paper
    unknown: BaseGeometry
    within: BaseGeometry  # what the storey's floor covers, on paper
    open_air: BaseGeometry  # outside areas, on paper
    placer: Placer


def lay(house: House, storey: Storey, system: UnitSystem) -> Layout:
    """A storey laid on the paper, at one scale and origin for its house: sheets lie over each other.

    The paper is 243 by 168 mm, which both A4 and Letter hold. A house without walls gets a metre square.
    Words that are placed later keep clear of walls and door sweeps by the layout's own `placer`. **Source**:
    docs/papers.md, "How it is made": one scale and one origin for every storey.
    """
    x0, y0, x1, y1 = house_bounds(house) or (0.0, 0.0, 1.0, 1.0)
    x0, y0, x1, y1 = x0 - OVERHANG_M, y0 - OVERHANG_M, x1 + OVERHANG_M, y1 + OVERHANG_M
    width_mm, height_mm = WIDTH_MM - DIMENSIONS_MM, HEIGHT_MM - DIMENSIONS_MM - FOOT_MM
    ratio = scale_for(x1 - x0, y1 - y0, width_mm, height_mm, system)
    spare_x = width_mm - (x1 - x0) * 1000 / ratio
    spare_y = height_mm - (y1 - y0) * 1000 / ratio
    view = StoreyView(x0, y1, ratio, DIMENSIONS_MM + spare_x / 2, DIMENSIONS_MM + spare_y / 2)
    solid, unknown = (walls.on_paper(shape, view) for shape in walls.storey_walls(house, storey.id))
    frame = (0.0, 0.0, WIDTH_MM, HEIGHT_MM - FOOT_MM)
    placer = Placer(frame, shapely.union(solid, unknown))
    placer.avoid(leaf.sweep() for leaf in openings.leaves(house, storey.id, view))
    within = walls.on_paper(storey_shape(house, storey), view)
    open_air = _open_air(house, storey, view, within)
    return Layout(house, storey, system, view, solid, unknown, within, open_air, placer)


def _open_air(house: House, storey: Storey, view: StoreyView, within: BaseGeometry) -> BaseGeometry:
    """What is drawn of gardens, drives and terraces beyond the walls."""
    areas = [
        shapely.make_valid(shapely.Polygon([view.at(point) for point in room.polygon]))
        for room in house.rooms
        if room.outside and room.storey == storey.id
    ]
    return shapely.difference(shapely.union_all(areas), within)


def draw_shell(layout: Layout) -> str:
    """Walls, doors, windows and overall dimensions as SVG; outside areas by a dashed edge.

    What every drawing of a storey begins with; symbols and words go over it.
    """
    return (
        _edges(layout.open_air)
        + walls.draw_walls(layout.solid, layout.unknown)
        + openings.draw_openings(layout.house, layout.storey.id, layout.view)
        + _dimensions(layout)
    )


def _edges(open_air: BaseGeometry) -> str:
    if open_air.is_empty:
        return ""
    return svg.element(
        "path",
        d=walls.polygon_data(open_air),
        fill="none",
        stroke=svg.INK,
        stroke_width=svg.FINE_MM,
        stroke_dasharray="1.6 0.9",
    )


def _dimensions(layout: Layout) -> str:
    """Overall width above and depth to the left, over the outer faces of the walls."""
    cut = shapely.union(layout.solid, layout.unknown)
    if cut.is_empty:
        return ""
    x0, y0, x1, y1 = cut.bounds
    above, left = max(2.8, y0 - 4.5), max(2.8, x0 - 4.5)
    width = figure(format_length((x1 - x0) * layout.view.ratio / 1000, layout.system))
    depth = figure(format_length((y1 - y0) * layout.view.ratio / 1000, layout.system))
    ticks = "".join(
        f"M{svg.number(x - 0.9)} {svg.number(y + 0.9)}L{svg.number(x + 0.9)} {svg.number(y - 0.9)}"
        for x, y in ((x0, above), (x1, above), (left, y0), (left, y1))
    )
    lines = (
        f"M{svg.number(x0 - 1)} {svg.number(above)}H{svg.number(x1 + 1)}"
        f"M{svg.number(left)} {svg.number(y0 - 1)}V{svg.number(y1 + 1)}"
        f"M{svg.number(x0)} {svg.number(y0 - 1)}V{svg.number(above - 1.2)}"
        f"M{svg.number(x1)} {svg.number(y0 - 1)}V{svg.number(above - 1.2)}"
        f"M{svg.number(x0 - 1)} {svg.number(y0)}H{svg.number(left - 1.2)}"
        f"M{svg.number(x0 - 1)} {svg.number(y1)}H{svg.number(left - 1.2)}"
    )
    middle_x, middle_y = (x0 + x1) / 2, (y0 + y1) / 2
    layout.placer.take(box_round((middle_x, above - 1.5), 24, 4))
    layout.placer.take(box_round((left - 1.5, middle_y), 4, 24))
    return (
        svg.element("path", d=lines, fill="none", stroke=svg.INK, stroke_width=svg.FINE_MM)
        + svg.element("path", d=ticks, fill="none", stroke=svg.INK, stroke_width=svg.MEDIUM_MM)
        + svg.text((middle_x, above - 0.7), width, size=2.4, anchor="middle", halo=svg.PAPER)
        + svg.text((left - 0.7, middle_y), depth, size=2.4, anchor="middle", halo=svg.PAPER, turn_deg=-90)
    )


def draw_foot(layout: Layout, legend: list[tuple[str, float, str]]) -> str:
    """Scale bar, the empty ring in which north is marked by hand, and the legend.

    A legend entry is its picture drawn about (0, 0), the picture's width, and its words.
    """
    top = HEIGHT_MM - FOOT_MM
    words = say("drawings.scale", scale=scale_words(layout.view.ratio, layout.system))
    parts = [
        svg.line((0, top + 0.5), (WIDTH_MM, top + 0.5), stroke=svg.INK, stroke_width=svg.FINE_MM),
        scale_bar((3, top + 6.5), layout.view, layout.system, 44),
        svg.text((3, top + 12.2), words, size=2.4),
        svg.circle((57, top + 6.2), 3.2, fill="none", stroke=svg.INK, stroke_width=svg.THIN_MM),
        svg.element(
            "path",
            d=f"M57 {svg.number(top + 2.2)}v1.4M57 {svg.number(top + 8.8)}v1.4"
            f"M53 {svg.number(top + 6.2)}h1.4M59.6 {svg.number(top + 6.2)}h1.4",
            stroke=svg.INK,
            stroke_width=svg.THIN_MM,
        ),
        svg.text((57, top + 13.2), say("drawings.mark_north"), size=2.0, anchor="middle", italic=True),
    ]
    x, y = 76.0, top + 4.2
    for picture, width, caption in legend:
        needed = width + 1.6 + svg.text_width_mm(caption, 2.3) + 4.5
        if x + needed > WIDTH_MM + 4 and x > 76.0:
            x, y = 76.0, y + 4.7
        parts.append(
            svg.group([picture], transform=f"translate({svg.number(x + width / 2)} {svg.number(y)})")
        )
        parts.append(svg.text((x + width + 1.6, y + 0.8), caption, size=2.3))
        x += needed
    return "".join(parts)
