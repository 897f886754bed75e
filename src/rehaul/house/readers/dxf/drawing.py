"""What a drawing holds: straight lines, marks of doors and windows, and words, in metres."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from typing import Any

from ezdxf import recover, units
from ezdxf.enums import InsertUnits
from ezdxf.lldxf.const import DXFError

from rehaul.errors import BadInput
from rehaul.facts.foreign_names import meaning
from rehaul.house.geometry import PlainPoint
from rehaul.house.readers.report import Log
from rehaul.words import say

LARGEST_DRAWING_BYTES = 100 * 1024 * 1024
MOST_LINES = 5_000
LARGEST_HOUSE_M = 150.0
SMALLEST_HOUSE_M = 1.5


@dataclass
class DxfDrawing:
    """A drawing taken apart."""

    walls: list[tuple[PlainPoint, PlainPoint]] = field(default_factory=list)
    marks: list[tuple[str, list[PlainPoint]]] = field(
        default_factory=list
    )  # "door" or "window", and its points
    words: list[tuple[str, PlainPoint]] = field(default_factory=list)


# What the library raises where a drawing breaks the rules that it relies on.
DAMAGE = (ArithmeticError, AssertionError, AttributeError, DXFError, LookupError, RecursionError,
          TypeError, ValueError)  # fmt: skip


def open_drawing(path: Path, log: Log) -> DxfDrawing:
    """Lines, marks and words of a DXF file, in metres; what was left out is told to `log`.

    Units are those the drawing states, else guessed by its size. Raises BadInput for a file that is no
    drawing, is damaged, holds too much, or is of no house's size. **Source**: docs/readers.md, "A drawing
    (DXF)".
    """
    try:
        return _opened(path, log)
    except DAMAGE as error:
        raise BadInput(
            say("refused_house.drawing_damaged", kind=type(error).__name__),
            where=path.name,
            remedy=say("refused_house.save_again_as_dxf"),
        ) from error


def _opened(path: Path, log: Log) -> DxfDrawing:
    if path.stat().st_size > LARGEST_DRAWING_BYTES:
        raise BadInput(
            say("refused_house.drawing_over_100_mb"),
            where=path.name,
            remedy=say("refused_house.save_one_storey_alone"),
        )
    with path.open("rb") as file:
        file.seek(max(0, path.stat().st_size - 64))
        whole = b"EOF" in file.read()
    if not whole:
        raise BadInput(
            say("refused_house.not_dxf_drawing_cut"),
            where=path.name,
            remedy=say("refused_house.take_last_good_copy"),
        )
    try:
        document, auditor = recover.readfile(path)
    except (OSError, DXFError, UnicodeDecodeError, ValueError):
        raise BadInput(
            say("refused_house.not_dxf_drawing"),
            where=path.name,
            remedy=say("refused_house.save_again_as_dxf"),
        ) from None
    if auditor.has_errors:
        log.note(say("readers.drawing_damaged", places=len(auditor.errors)))
    space = list(document.modelspace())
    kinds = {layer.dxf.name: meaning("layer", layer.dxf.name) for layer in document.layers}
    if "wall" not in kinds.values():
        log.note(say("readers.no_layer_of_walls"))
        kinds = {name: kind or "wall" for name, kind in kinds.items()}
    raw = DxfDrawing()
    _take(space, kinds, raw, log)
    return _in_metres(raw, document.units, log, path)


def _take(entities: Iterable[Any], kinds: dict[str, str | None], into: DxfDrawing, log: Log) -> None:
    for entity in entities:
        what = entity.dxftype()
        kind = kinds.get(entity.dxf.layer) or (
            None if entity.dxf.layer in kinds else meaning("layer", entity.dxf.layer)
        )
        if what in ("TEXT", "MTEXT"):
            text = entity.plain_text() if what == "MTEXT" else entity.dxf.text
            into.words.append((" ".join(text.split()), _plan(entity.dxf.insert)))
        elif what == "INSERT":
            block = meaning("layer", entity.dxf.name)
            kind = kind if kind in ("door", "window") else block
            if kind in ("door", "window"):
                parts = [point for part in entity.virtual_entities() for point in _points(part)]
                into.marks.append((kind, parts or [_plan(entity.dxf.insert)]))
            else:
                _take(entity.virtual_entities(), kinds, into, log)
        elif kind is None:
            log.leave(what, say("readers.on_other_layer", layer=entity.dxf.layer))
        else:
            points = _points(entity)
            if len(points) < 2:
                log.leave(what, say("readers.no_line_arc_or_block"))
            elif kind == "wall":
                into.walls += list(pairwise(points))
            else:
                into.marks.append((kind, points))
        if len(into.walls) > MOST_LINES:
            raise BadInput(
                say("refused_house.more_than_lines_walls", most_lines=MOST_LINES),
                where="drawing",
                remedy=say("refused_house.save_one_storey_alone"),
            )


def _points(entity: Any) -> list[PlainPoint]:
    """Corners of a line, polyline, arc, circle or spline; empty for anything else."""
    what = entity.dxftype()
    if what == "LINE":
        return [_plan(entity.dxf.start), _plan(entity.dxf.end)]
    if what in ("LWPOLYLINE", "POLYLINE") and not entity.has_arc:
        corners = entity.get_points("xy") if what == "LWPOLYLINE" else entity.points()
        points = [_plan(corner) for corner in corners]
        closed = entity.closed if what == "LWPOLYLINE" else entity.is_closed
        return [*points, points[0]] if closed and points else points
    if what in ("LWPOLYLINE", "POLYLINE"):
        return [point for part in entity.virtual_entities() for point in _points(part)]
    if what in ("ARC", "CIRCLE", "ELLIPSE", "SPLINE"):
        size = getattr(entity.dxf, "radius", 1.0)
        return [_plan(point) for point in entity.flattening(max(1e-6, 0.01 * size))]
    return []


def _plan(point: Any) -> PlainPoint:
    return (float(point[0]), float(point[1]))


def _in_metres(raw: DxfDrawing, code: int, log: Log, path: Path) -> DxfDrawing:
    ends = [end for line in raw.walls for end in line]
    if not ends:
        raise BadInput(
            say("refused_house.drawing_holds_no_lines"),
            where=path.name,
            remedy=say("refused_house.put_walls_on_layer"),
        )
    spread = max(max(values) - min(values) for values in zip(*ends, strict=True))
    scale = _scale(code, spread, log)
    if not SMALLEST_HOUSE_M <= spread * scale <= LARGEST_HOUSE_M:
        raise BadInput(
            say("refused_house.drawing_too_wide", spread=spread * scale),
            where=path.name,
            remedy=say("refused_house.set_unit_save_house"),
        )
    corner = [min(values) for values in zip(*ends, strict=True)]

    def move(point: PlainPoint) -> PlainPoint:
        return (round((point[0] - corner[0]) * scale, 4), round((point[1] - corner[1]) * scale, 4))

    return DxfDrawing(
        [(move(a), move(b)) for a, b in raw.walls if math.dist(a, b) * scale > 1e-3],
        [(kind, [move(point) for point in points]) for kind, points in raw.marks],
        [(text, move(point)) for text, point in raw.words],
    )


def _scale(code: int, spread: float, log: Log) -> float:
    """Metres per drawing unit: as the drawing says, else by its size."""
    if code:
        return float(units.conversion_factor(InsertUnits(code), InsertUnits(units.M)))
    scale, unit = (0.001, "readers.in_millimetres") if spread > 1000 else (1.0, "readers.in_metres")
    log.note(say(unit))
    return scale
