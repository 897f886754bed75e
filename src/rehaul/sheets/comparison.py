"""Before and after as one picture: a row for each room, a ring before, a dot after, and what it needs."""

from __future__ import annotations

from collections.abc import Sequence

from rehaul.house import Quantity
from rehaul.proof import BeforeAfter
from rehaul.proof.comparing import LESS_IS_BETTER
from rehaul.sheets import svg
from rehaul.words import figure, say

WIDTH_MM, ROW_MM = 170.0, 11.0
LEFT_MM, RIGHT_MM, TOP_MM, BOTTOM_MM = 52.0, 34.0, 13.0, 12.0
OUTCOMES = {
    "better": "drawings.better",
    "no different": "drawings.no_better",
    "worse": "drawings.worse",
    "cannot tell": "drawings.too_few_readings",
}
STEPS = (1, 2, 5)


def comparison_svg(pairs: Sequence[BeforeAfter], quantity: Quantity = Quantity.DOWN_MBPS) -> str:
    """The pairs of one quantity as an SVG drawing; a sentence instead of an axis where there are none.

    Rings and dots are medians, the bars about them intervals of the median; no colour is needed. **Source**:
    docs/proof.md, "Before and after".
    """
    rows = [pair for pair in pairs if pair.quantity is quantity]
    unit = "ms" if quantity in LESS_IS_BETTER else "Mb/s"
    height_mm = TOP_MM + ROW_MM * max(len(rows), 1) + BOTTOM_MM
    title = say("drawings.before_and_after", unit=unit)
    if not rows:
        words = say("drawings.nothing_on_both_sides")
        return svg.drawing(WIDTH_MM, height_mm, [svg.text((4.0, TOP_MM), words, size=3.2)], title=title)
    most = max(max(pair.before.high, pair.after.high) for pair in rows)
    step, top = _axis(most)
    parts = [_key(), _scale(step, top, len(rows), unit)]
    parts += [_row(pair, number, top, unit) for number, pair in enumerate(rows)]
    return svg.drawing(WIDTH_MM, height_mm, parts, title=title)


def _axis(most: float) -> tuple[float, float]:
    """A step of 1, 2 or 5 times a power of ten that gives at most six, and the end of the axis."""
    power = 1.0
    while True:
        for step in STEPS:
            if most <= 6 * step * power:
                count = max(1, -int(-most // (step * power)))
                return step * power, count * step * power
        power *= 10.0


def _x_mm(value: float, top: float) -> float:
    return LEFT_MM + (WIDTH_MM - LEFT_MM - RIGHT_MM) * value / top


def _key() -> str:
    y = 5.0
    return svg.group(
        [
            svg.circle((LEFT_MM, y), 1.3, fill=svg.PAPER, stroke=svg.INK, stroke_width=svg.MEDIUM_MM),
            svg.text((LEFT_MM + 3, y + 1), say("drawings.before"), size=3.0),
            svg.circle((LEFT_MM + 22, y), 1.3, fill=svg.INK),
            svg.text((LEFT_MM + 25, y + 1), say("drawings.after"), size=3.0),
            svg.text(
                (LEFT_MM + 40, y + 1),
                say("drawings.bars_hold"),
                size=2.6,
                fill=svg.GREY,
            ),
        ]
    )


def _scale(step: float, top: float, rows: int, unit: str) -> str:
    foot = TOP_MM + ROW_MM * rows
    parts = []
    for number in range(round(top / step) + 1):
        x = _x_mm(number * step, top)
        parts.append(svg.line((x, TOP_MM - 2), (x, foot), stroke=svg.PALE, stroke_width=svg.FINE_MM))
        parts.append(svg.text((x, foot + 4), figure(f"{number * step:g}"), size=2.8, anchor="middle"))
    parts.append(svg.text((WIDTH_MM - RIGHT_MM + 4, foot + 4), unit, size=2.8))
    return svg.group(parts)


def _row(pair: BeforeAfter, number: int, top: float, unit: str) -> str:
    y = TOP_MM + ROW_MM * (number + 0.5)
    name = say("drawings.by_cable", room=pair.room_name) if pair.wired else pair.room_name
    parts = [
        svg.text((2.0, y - 0.2), _short(name, 26), size=3.2),
        svg.text((2.0, y + 3.2), _short(pair.device_name, 32), size=2.4, fill=svg.GREY),
        svg.line(
            (_x_mm(pair.before.median, top), y),
            (_x_mm(pair.after.median, top), y),
            stroke=svg.GREY,
            stroke_width=svg.FINE_MM,
            stroke_dasharray="1 0.8",
        ),
    ]
    for side, down_mm in ((pair.before, -1.6), (pair.after, 1.6)):
        ends = (_x_mm(side.low, top), y + down_mm), (_x_mm(side.high, top), y + down_mm)
        parts.append(svg.line(*ends, stroke=svg.INK, stroke_width=svg.THIN_MM))
    before, after = (_x_mm(side.median, top) for side in (pair.before, pair.after))
    parts += [
        svg.circle((before, y - 1.6), 1.2, fill=svg.PAPER, stroke=svg.INK, stroke_width=svg.MEDIUM_MM),
        svg.circle((after, y + 1.6), 1.2, fill=svg.INK),
        svg.text(
            (WIDTH_MM - RIGHT_MM + 4, y - 0.2),
            f"{pair.before.median:.0f} → {pair.after.median:.0f} {unit}",
            size=3.0,
        ),
        svg.text((WIDTH_MM - RIGHT_MM + 4, y + 3.4), say(OUTCOMES[pair.outcome]), size=2.6, bold=True),
    ]
    return svg.group(parts)


def _short(words: str, most: int) -> str:
    return words if len(words) <= most else words[: most - 1] + "…"
