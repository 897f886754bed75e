"""The marks on a plan sheet: rehaul's own, told apart by shape alone so that a grey copy reads the same."""

from __future__ import annotations

from rehaul.house import OutletKind
from rehaul.sheets import svg

OUTLET_MM = 1.25  # radius
LEGEND = {
    "telephone": "drawings.telephone_plate",
    "coax": "drawings.coax_plate",
    "data": "drawings.data_plate",
    "blank plate": "drawings.blank_plate",
    "unknown": "drawings.unknown_plate",
    "access point": "drawings.access_point",
    "meeting point": "drawings.meeting_point",
    "splitter": "drawings.splitter",
    "box": "drawings.box",
    "riser": "drawings.riser",
    "body": "drawings.body",
}


def outlet(at: svg.Mm, kind: OutletKind) -> str:
    """A ring on the wall as SVG; what is in it tells the kind, a question mark where that is not known.

    Told apart by shape alone, so that a grey copy reads the same; as all marks here, about `at` [mm].
    """
    x, y = at
    r = OUTLET_MM
    ring = svg.circle(at, r, fill=svg.PAPER, stroke=svg.INK, stroke_width=0.25)
    if kind is OutletKind.TELEPHONE:
        return ring + svg.circle(at, 0.5, fill=svg.INK)
    if kind is OutletKind.DATA:
        return svg.circle(at, r, fill=svg.INK) + svg.circle(at, 0.5, fill=svg.PAPER)
    if kind is OutletKind.COAX:
        d = 0.62 * r
        cross = f"M{_at(x - d, y - d)}L{_at(x + d, y + d)}M{_at(x - d, y + d)}L{_at(x + d, y - d)}"
        return ring + svg.element("path", d=cross, stroke=svg.INK, stroke_width=0.25)
    if kind is OutletKind.BLANK:
        return ring
    return ring + svg.text((x, y + 0.75), "?", size=2.1, anchor="middle", mono=True, bold=True)


def access_point(at: svg.Mm) -> str:
    """A solid kite with a light heart, and two brackets for what it radiates."""
    x, y = at
    kite = f"M{_at(x, y - 2.6)}L{_at(x + 2.6, y)}L{_at(x, y + 2.6)}L{_at(x - 2.6, y)}Z"
    brackets = (
        f"M{_at(x - 2.6, y - 2.2)}L{_at(x - 3.7, y)}L{_at(x - 2.6, y + 2.2)}"
        f"M{_at(x + 2.6, y - 2.2)}L{_at(x + 3.7, y)}L{_at(x + 2.6, y + 2.2)}"
    )
    return (
        svg.element("path", d=kite, fill=svg.INK, stroke=svg.PAPER, stroke_width=0.3)
        + svg.circle(at, 0.75, fill=svg.PAPER)
        + svg.element("path", d=brackets, fill="none", stroke=svg.INK, stroke_width=0.3)
    )


def meeting_point(at: svg.Mm) -> str:
    """A box with its shelves."""
    x, y = at
    shelves = f"M{_at(x - 1.9, y - 0.7)}H{svg.number(x + 1.9)}M{_at(x - 1.9, y + 0.7)}H{svg.number(x + 1.9)}"
    return svg.rect(
        x - 1.9, y - 2.1, 3.8, 4.2, fill=svg.PAPER, stroke=svg.INK, stroke_width=0.4
    ) + svg.element("path", d=shelves, stroke=svg.INK, stroke_width=0.25)


def splitter(at: svg.Mm) -> str:
    """A triangle: one way in at the tip, several out at its base."""
    x, y = at
    outline = f"M{_at(x - 1.6, y)}L{_at(x + 1.2, y - 1.5)}V{svg.number(y + 1.5)}Z"
    return svg.element("path", d=outline, fill=svg.PAPER, stroke=svg.INK, stroke_width=0.25)


def box(at: svg.Mm) -> str:
    """A low box with its feet."""
    x, y = at
    return svg.rect(
        x - 1.8, y - 1.1, 3.6, 1.8, fill=svg.PAPER, stroke=svg.INK, stroke_width=0.25
    ) + svg.element(
        "path",
        d=f"M{_at(x - 1.2, y + 0.7)}V{svg.number(y + 1.3)}M{_at(x + 1.2, y + 0.7)}V{svg.number(y + 1.3)}",
        stroke=svg.INK,
        stroke_width=0.25,
    )


def riser(at: svg.Mm, *, up: bool, down: bool) -> str:
    """A ring with an arrow for each way the cables go, up or down the page for up or down the house."""
    x, y = at
    arrows = "".join(
        f"M{_at(x, y)}V{svg.number(y + 2.5 * way)}"
        f"M{_at(x - 0.7, y + 1.6 * way)}L{_at(x, y + 2.5 * way)}L{_at(x + 0.7, y + 1.6 * way)}"
        for way, wanted in ((-1, up), (1, down))
        if wanted
    )
    return svg.circle(at, 1.0, fill=svg.PAPER, stroke=svg.INK, stroke_width=0.25) + svg.element(
        "path", d=arrows, fill="none", stroke=svg.INK, stroke_width=0.3
    )


def body(x: float, y: float, width: float, height: float) -> str:
    """A big thing that radio does not like: an outline with both diagonals.

    `x`, `y`: its upper left corner [mm], not its middle.
    """
    cross = f"M{_at(x, y)}L{_at(x + width, y + height)}M{_at(x + width, y)}L{_at(x, y + height)}"
    return svg.rect(
        x, y, width, height, fill=svg.PAPER, stroke=svg.INK, stroke_width=svg.THIN_MM
    ) + svg.element("path", d=cross, stroke=svg.INK, stroke_width=svg.FINE_MM)


def named(name: str, at: svg.Mm) -> str:
    """The symbol of a legend entry, by its words or by the kind of a plate.

    ValueError for words that are neither.
    """
    if name == "access point":
        return access_point(at)
    if name == "meeting point":
        return meeting_point(at)
    if name == "splitter":
        return splitter(at)
    if name == "box":
        return box(at)
    if name == "riser":
        return riser(at, up=True, down=True)
    if name == "body":
        return body(at[0] - 1.6, at[1] - 1.4, 3.2, 2.8)
    return outlet(at, OutletKind(name))


def _at(x: float, y: float) -> str:
    return f"{svg.number(x)} {svg.number(y)}"
