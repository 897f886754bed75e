"""Each room today and after, on one scale of Mb/s, with its need and the link that sets its rate."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rehaul.predict.results import RoomRate
from rehaul.sheets import svg, words
from rehaul.sheets.placing import cut_to_width
from rehaul.words import say

WIDTH_MM, NAME_MM, LINK_MM, ROW_MM, HEAD_MM = 241.0, 36.0, 92.0, 6.6, 11.0
LEAST_MBPS = 1.0  # slower than that is no use to anybody
GRID_MBPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000)

ChartRow = tuple[RoomRate | None, RoomRate]  # today, after


def roomchart_svg(rows: Sequence[ChartRow]) -> str:
    """One line for each room: hollow is today, solid is after, the bar is what the room needs.

    Rows are pairs of today (None where the room has no rate today) and after. The scale is logarithmic
    [Mb/s], the same for all rooms.
    """
    rates = [rate for row in rows for rate in row if rate is not None]
    most = max([LEAST_MBPS * 10, *(max(rate.high_mbps, rate.need_mbps) for rate in rates)])
    top_mbps = next((float(tick) for tick in GRID_MBPS if tick >= most), most)
    axis = _Axis(NAME_MM, WIDTH_MM - LINK_MM - 5, top_mbps)
    bottom = HEAD_MM + len(rows) * ROW_MM
    parts = [_grid(axis, bottom), _key(axis)]
    parts += [_row(row, axis, HEAD_MM + (i + 0.5) * ROW_MM) for i, row in enumerate(rows)]
    return svg.drawing(WIDTH_MM, bottom + 1, parts, title=say("drawings.rates"))


class _Axis:
    """A scale of decades, because people feel a doubling and not a difference."""

    def __init__(self, left_mm: float, right_mm: float, top_mbps: float) -> None:
        self.left_mm, self.right_mm, self.top_mbps = left_mm, right_mm, top_mbps

    def at(self, rate_mbps: float) -> float:
        share = math.log(max(rate_mbps, LEAST_MBPS) / LEAST_MBPS) / math.log(self.top_mbps / LEAST_MBPS)
        return self.left_mm + min(1.0, share) * (self.right_mm - self.left_mm)


def _grid(axis: _Axis, bottom: float) -> str:
    parts = []
    for tick in GRID_MBPS:
        if tick <= axis.top_mbps:
            x = axis.at(tick)
            decade = str(tick).startswith("1")
            ink = svg.GREY if decade else svg.PALE
            parts.append(svg.line((x, HEAD_MM - 1), (x, bottom), stroke=ink, stroke_width=svg.FINE_MM))
            figure = (
                say("drawings.under", tick=tick) if tick == LEAST_MBPS else f"{tick:,}".replace(",", "\u202f")
            )
            parts.append(svg.text((x, HEAD_MM - 2), figure, size=2.3, anchor="middle"))
    parts.append(svg.text((axis.right_mm + 5, HEAD_MM - 2), say("drawings.set_by"), size=2.3, italic=True))
    return "".join(parts)


def _key(axis: _Axis) -> str:
    x = axis.left_mm
    return "".join(
        (
            _today(x, 2.6, (x - 3, x + 3)),
            svg.text((x + 5, 3.4), say("drawings.key_today"), size=2.4),
            _after(x + 42, 2.6, (x + 39, x + 45)),
            svg.text((x + 47, 3.4), say("drawings.key_after"), size=2.4),
            _need(x + 82, 2.6),
            svg.text((x + 84, 3.4), say("drawings.key_need"), size=2.4),
        )
    )


def _today(x: float, y: float, span: svg.Mm) -> str:
    line = svg.line((span[0], y), (span[1], y), stroke=svg.INK, stroke_width=0.25, stroke_dasharray="0.7 0.7")
    return line + svg.circle((x, y), 1.0, fill=svg.PAPER, stroke=svg.INK, stroke_width=0.35)


def _after(x: float, y: float, span: svg.Mm) -> str:
    line = svg.line((span[0], y), (span[1], y), stroke=svg.INK, stroke_width=0.35)
    return line + svg.circle((x, y), 1.1, fill=svg.INK)


def _need(x: float, y: float) -> str:
    return svg.rect(x - 0.35, y - 2.3, 0.7, 4.6, fill=svg.INK)


def _row(row: ChartRow, axis: _Axis, y: float) -> str:
    before, after = row
    edge = y + ROW_MM / 2
    parts = [svg.line((0, edge), (WIDTH_MM, edge), stroke=svg.PALE, stroke_width=svg.FINE_MM)]
    name = cut_to_width(after.name, 3.0, NAME_MM - 5)
    parts.append(svg.text((0, y + 1.0), name, size=3.0))
    if after.need_mbps:
        parts.append(_need(axis.at(after.need_mbps), y))
    if before is not None:
        span = (axis.at(before.low_mbps), axis.at(before.high_mbps))
        parts.append(_today(axis.at(before.median_mbps), y - 1.2, span))
    span = (axis.at(after.low_mbps), axis.at(after.high_mbps))
    parts.append(_after(axis.at(after.median_mbps), y + 1.2, span))
    x = axis.right_mm + 5
    for rate, shift in ((before, -0.5), (after, 2.3)):
        if rate is not None:
            lacks = rate is after and (after.asks or after.too_late) and not after.met
            said = say(
                "drawings.rate_not_met" if lacks else "drawings.rate_set_by",
                rate_mbps=rate.median_mbps,
                link=words.narrowest_words(rate),
            )
            parts.append(
                svg.text((x, y + shift), cut_to_width(said, 2.4, LINK_MM), size=2.4, bold=rate is after)
            )
    return "".join(parts)
