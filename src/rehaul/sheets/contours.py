"""Filled bands and labelled contours of a rate over a storey."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
import shapely
from contourpy import FillType, LineType, contour_generator
from scipy.ndimage import distance_transform_edt, gaussian_filter
from shapely.geometry.base import BaseGeometry

from rehaul.arrays import Floats, Reals
from rehaul.predict.results import StoreyMap
from rehaul.sheets import svg
from rehaul.sheets.layout import Layout
from rehaul.sheets.placing import Placer
from rehaul.sheets.ramp import Ramp
from rehaul.sheets.scale import StoreyView
from rehaul.sheets.walls import polygon_data
from rehaul.words import figure

LABEL_MM = 2.3
SMOOTH_M = 0.25  # standard deviation: what a hand that moves a little averages anyway
SHORTEST_DRAWN_MM = 3.0
SHORTEST_LABELLED_MM = 20.0
ON_WALL = 0.5  # how little of a label may lie on a wall, after Placer
NEXT_LABEL_MM = 110.0  # along one contour
INSIDE_M = 0.06  # contours end within the outer wall
SIMPLIFY_MM = 0.06


def _whole(field: Floats) -> Floats:
    """The field, outside the house as at the nearest place inside, so that contours reach the walls."""
    outside = ~np.isfinite(field)
    if not outside.any() or outside.all():
        return field
    index = distance_transform_edt(outside, return_distances=False, return_indices=True)
    return np.asarray(field[tuple(index)])


def _smooth(field: Floats, step_m: float) -> Floats:
    """The field averaged over half a metre: without it the drawing shows the grid, not the house."""
    if not np.isfinite(field).all():
        return field
    return np.asarray(gaussian_filter(field.astype(float), SMOOTH_M / step_m, mode="nearest"))


def shown_of(layout: Layout) -> BaseGeometry:
    """Where rates are drawn [mm on paper]: within the outer wall, and in what is drawn of outside areas."""
    inner = layout.within.buffer(-layout.view.mm(INSIDE_M), join_style="mitre")
    return shapely.union(inner, layout.open_air)


def draw(
    grid: StoreyMap,
    field: Floats,
    ramp: Ramp,
    view: StoreyView,
    shown: BaseGeometry,
    placer: Placer,
    name: str,
) -> tuple[str, str]:
    """Bands under the walls, and lines with their labels over them, as SVG; both clipped to what is shown.

    Parameters
    ----------
    grid : the storey's map, for where its squares lie [m]
    field : rates (row, column) [Mb/s]; NaN where none is known
    shown : area in mm on paper
    placer : where labels may go; it remembers them
    name : id of the clip path, of its own on every page

    Two empty texts where there are less than two rows or columns, or no rate at all. Lines too short to
    carry a figure are left out.

    **Source**: contours by contourpy on a field smoothed by 0.25 m (docs/papers.md, "How it is made").
    """
    values = _smooth(_whole(field), grid.step_m)
    if min(values.shape) < 2 or not np.isfinite(values).any():
        return "", ""
    rows, columns = values.shape
    xs = np.array([view.at((grid.x0_m + i * grid.step_m, 0.0))[0] for i in range(columns)])
    ys = np.array([view.at((0.0, grid.y0_m + j * grid.step_m))[1] for j in range(rows)])
    xs[0], xs[-1] = xs[0] - view.mm(grid.step_m), xs[-1] + view.mm(grid.step_m)
    ys[0], ys[-1] = ys[0] + view.mm(grid.step_m), ys[-1] - view.mm(grid.step_m)
    maker = contour_generator(
        xs, ys, values.astype(float), fill_type=FillType.OuterOffset, line_type=LineType.Separate
    )
    clip = f'<clipPath id="{name}"><path d="{polygon_data(shown)}" clip-rule="evenodd"/></clipPath>'
    edges = (-math.inf, *ramp.levels_mbps, math.inf)
    bands = []
    for (low, high), tint in zip(pairwise(edges), ramp.tints, strict=True):
        data = _band_data(maker.filled(low, high))
        if data:
            bands.append(
                svg.element("path", d=data, fill=tint, fill_rule="evenodd", stroke=tint, stroke_width=0.1)
            )
    lines, labels = [], []
    for level in ramp.levels_mbps:
        for points in maker.lines(level):
            smooth = _simplified(np.asarray(points))
            if len(smooth) < 2 or shapely.LineString(smooth).length < SHORTEST_DRAWN_MM:
                continue
            lines.append(svg.path_data(smooth))
            labels += _labels(smooth, level, placer, shown)
    drawn = svg.element("path", d="".join(lines), fill="none", stroke=svg.INK, stroke_width=svg.THIN_MM)
    clipped = {"clip_path": f"url(#{name})"}
    return clip + svg.group(bands, **clipped), svg.group([drawn] if lines else [], **clipped) + "".join(
        labels
    )


def _band_data(filled: tuple[Any, ...]) -> str:
    data = []
    for points, offsets in zip(*filled, strict=True):
        for start, end in pairwise(offsets):
            ring = _simplified(points[start : end - 1], closed=True)
            if len(ring) > 2:
                data.append(svg.path_data(ring, closed=True))
    return "".join(data)


def _simplified(points: Reals, *, closed: bool = False) -> list[svg.Mm]:
    if closed:
        points = np.vstack([points, points[:1]])
    coords = shapely.get_coordinates(shapely.simplify(shapely.LineString(points), SIMPLIFY_MM))
    pairs = [(float(x), float(y)) for x, y in coords]
    return pairs[:-1] if closed else pairs


def _labels(points: list[svg.Mm], level: float, placer: Placer, shown: BaseGeometry) -> list[str]:
    """The level written along the line where it runs straight, every so often."""
    line = shapely.LineString(points)
    if line.length < SHORTEST_LABELLED_MM:
        return []
    words = figure(f"{level:g}")
    width = svg.text_width_mm(words, LABEL_MM, mono=True) + 1.2
    wanted = max(1, round(line.length / NEXT_LABEL_MM))
    labels: list[str] = []
    for share in _shares():
        if len(labels) == wanted:
            break
        middle = line.length * share
        a, b = (line.interpolate(middle + side * width / 2) for side in (-1, 1))
        straight = a.distance(b) / width
        centre = ((a.x + b.x) / 2, (a.y + b.y) / 2)
        if straight < 0.94 or not shown.contains(shapely.Point(centre)):
            continue
        turn = math.degrees(math.atan2(b.y - a.y, b.x - a.x))
        turn = turn - 180 if turn > 90 else turn + 180 if turn <= -90 else turn
        across = abs(math.cos(math.radians(turn))) * width + abs(math.sin(math.radians(turn))) * LABEL_MM
        down = abs(math.sin(math.radians(turn))) * width + abs(math.cos(math.radians(turn))) * LABEL_MM
        if placer.place(across, down, [(centre, 0.0)], most=ON_WALL) is None:
            continue
        drop = LABEL_MM * 0.36
        base = (
            centre[0] - drop * math.sin(math.radians(turn)),
            centre[1] + drop * math.cos(math.radians(turn)),
        )
        labels.append(
            svg.text(base, words, size=LABEL_MM, anchor="middle", mono=True, halo=svg.PAPER, turn_deg=turn)
        )
    return labels


def _shares() -> list[float]:
    """Places along a line, the middle first, then ever finer."""
    return [0.5, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875, *[(2 * i + 1) / 32 for i in range(16)]]
