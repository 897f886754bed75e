"""The rack as it stands, unit by unit, with what each thing draws."""

from __future__ import annotations

from collections.abc import Sequence

from rehaul.design.results import RackItem
from rehaul.sheets import svg
from rehaul.words import say, term

UNIT_MM = 11.0  # a quarter of the true 44.45 mm
WIDTH_MM = 120.7  # a quarter of the true 482.6 mm


def rack_svg(items: Sequence[RackItem], units: int) -> str:
    """Front elevation of the rack at a quarter of its size, as SVG; empty units are drawn open.

    `units`: its height; more where something stands higher. Unit 1 is the lowest. **Source**: EIA-310, a unit
    of 44.45 mm, in the fact table `audit_numbers`; drawn 11 mm high.
    """
    units = max([units, *(item.unit + item.height_u - 1 for item in items)], default=units)
    left, top = 10.0, 2.0
    height = max(units, 1) * UNIT_MM
    parts = [
        svg.rect(left, top, WIDTH_MM, height, fill="none", stroke=svg.INK, stroke_width=svg.THICK_MM),
        svg.rect(left + 4, top, WIDTH_MM - 8, height, fill="none", stroke=svg.INK, stroke_width=svg.FINE_MM),
    ]
    for unit in range(1, units + 1):
        y = top + height - unit * UNIT_MM
        parts.append(svg.text((left - 2, y + UNIT_MM / 2 + 1), str(unit), size=2.8, anchor="end", mono=True))
        parts.append(
            svg.line(
                (left, y),
                (left + WIDTH_MM, y),
                stroke=svg.INK,
                stroke_width=svg.FINE_MM,
                stroke_dasharray="0.6 0.9",
            )
        )
        for x in (left + 2, left + WIDTH_MM - 2):
            for hole in (2.2, 5.5, 8.8):
                parts.append(
                    svg.circle((x, y + hole), 0.45, fill="none", stroke=svg.INK, stroke_width=svg.FINE_MM)
                )
    for item in items:
        y = top + height - (item.unit + item.height_u - 1) * UNIT_MM
        parts.append(_thing(item, left, y))
    return svg.drawing(left + WIDTH_MM + 2, height + 2 * top, parts, title=say("drawings.rack"))


def _thing(item: RackItem, left: float, y: float) -> str:
    high = item.height_u * UNIT_MM
    middle = y + high / 2
    watts = f"{item.draw_w:.0f} W" if item.draw_w else ""
    name, equipment = term(item.name), term(item.equipment)
    name_width = svg.text_width_mm(name, 3.4)
    parts = [
        svg.rect(
            left + 0.6,
            y + 0.6,
            WIDTH_MM - 1.2,
            high - 1.2,
            fill=svg.PAPER,
            stroke=svg.INK,
            stroke_width=svg.MEDIUM_MM,
        ),
        svg.text((left + 6, middle + 1.1), name, size=3.4, bold=True),
        svg.text((left + WIDTH_MM - 6, middle + 1.1), watts, size=3.0, anchor="end", mono=True),
    ]
    room = WIDTH_MM - 12 - name_width - 16
    if equipment != name and svg.text_width_mm(equipment, 2.8) < room:
        parts.append(svg.text((left + 9 + name_width, middle + 1.1), equipment, size=2.8, italic=True))
    return "".join(parts)
