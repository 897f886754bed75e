"""The front of the switch, or of the router where it has none, port by port: what hangs on each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from rehaul.design.results import Port
from rehaul.sheets import svg
from rehaul.sheets.placing import wrapped
from rehaul.words import figure, say

PortsOf = Literal["switch", "router"]
_TITLES: dict[PortsOf, str] = {"switch": "drawings.switch_ports", "router": "drawings.router_ports"}
PORT_MM, ROW_MM, PER_ROW = 30.0, 30.0, 8


def ports_svg(ports: Sequence[Port], spare: int, *, of: PortsOf = "switch") -> str:
    """Ports in order, eight to a row, as SVG; a spare one is drawn empty, one with power carries a bolt.

    Parameters
    ----------
    ports : those that are used; numbers between them are drawn empty
    spare : how many more than these there are
    of : what they are ports of, for the title that a screen reader says
    """
    by_number = {port.port: port for port in ports}
    last = max([*by_number, len(by_number) + spare], default=0)
    rows = max(1, -(-last // PER_ROW))
    columns = min(max(last, 1), PER_ROW)
    parts = [
        svg.rect(
            0.5,
            0.5,
            columns * PORT_MM + 3,
            rows * ROW_MM + 3,
            fill="none",
            stroke=svg.INK,
            stroke_width=svg.THICK_MM,
        )
    ]
    for number in range(1, last + 1):
        row, column = divmod(number - 1, PER_ROW)
        parts.append(_port(number, by_number.get(number), 2 + column * PORT_MM, 2 + row * ROW_MM))
    return svg.drawing(columns * PORT_MM + 4, rows * ROW_MM + 4, parts, title=say(_TITLES[of]))


def _port(number: int, port: Port | None, x: float, y: float) -> str:
    width, middle = PORT_MM - 2, x + PORT_MM / 2
    ink = svg.INK if port else svg.GREY
    socket = f"M{_at(middle - 5, y + 12)}v-6h2.5v-1.6h5v1.6h2.5v6Z"
    parts = [
        svg.rect(
            x + 1,
            y + 1,
            width,
            ROW_MM - 2,
            fill="none",
            stroke=ink,
            stroke_width=svg.FINE_MM,
            stroke_dasharray=None if port else "0.8 0.8",
        ),
        svg.text((x + 2.4, y + 4.8), str(number), size=3.2, mono=True, bold=True, fill=ink),
        svg.element(
            "path", d=socket, fill=svg.PALE if port else "none", stroke=ink, stroke_width=svg.THIN_MM
        ),
    ]
    if port is None:
        parts.append(
            svg.text(
                (middle, y + 19), say("drawings.spare"), size=2.6, anchor="middle", italic=True, fill=svg.GREY
            )
        )
        return "".join(parts)
    if port.poe_class:
        bolt = f"M{_at(x + width - 2.2, y + 3)}l-1.9 3h1.5l-0.9 2.7l2.6-3.5h-1.6l0.9-2.2Z"
        parts.append(svg.element("path", d=bolt, fill=svg.INK))
        parts.append(
            svg.text((x + width - 0.6, y + 12), f"{port.poe_w:.0f} W", size=2.1, anchor="end", mono=True)
        )
    lines = wrapped(port.device, 2.4, width - 1.5, 2)
    for i, words in enumerate(lines):
        parts.append(svg.text((middle, y + 16.4 + 2.9 * i), words, size=2.4, anchor="middle"))
    ids = " ".join(
        filter(None, (say("drawings.panel", port=port.panel_port) if port.panel_port else "", port.run))
    )
    parts.append(svg.text((middle, y + 23.2), ids, size=2.1, anchor="middle", mono=True))
    parts.append(
        svg.text((middle, y + 26.4), figure(f"{port.rate_mbps:g} Mb/s"), size=2.1, anchor="middle", mono=True)
    )
    return "".join(parts)


def _at(x: float, y: float) -> str:
    return f"{svg.number(x)} {svg.number(y)}"
