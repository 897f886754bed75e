"""Which conductor goes on which pin, drawn: colours printed with their names and letter codes."""

from __future__ import annotations

from rehaul.facts.colour_letters import colour_letters
from rehaul.sheets import svg
from rehaul.tracing import TerminationSheet
from rehaul.tracing.terminating import PinRow
from rehaul.words import say, term

PITCH_MM, WIRE_MM, LENGTH_MM, LEFT_MM = 11.0, 5.2, 42.0, 5.0


def colour_code(row: PinRow) -> str:
    """Letters of a conductor, base before stripe: `W/O`, `O`, `G/W`.

    **Source**: fact table `colour_letters`.
    """
    if not row.stripe or row.stripe == row.base:
        return _letters(row.base)
    return f"{_letters(row.base)}/{_letters(row.stripe)}"


def _letters(colour: str) -> str:
    known = colour_letters().get(colour)
    return known.letters if known else colour[:2].upper()


def _ink(colour: str) -> str:
    known = colour_letters().get(colour)
    return known.ink if known else svg.PALE


def pins_svg(sheet: TerminationSheet) -> str:
    """The contacts seen from the front, contacts up and pin 1 at the left, each with its conductor below.

    Six contacts or eight, by the pins that the sheet uses. Colours are printed with names and letters too,
    so a grey copy reads the same.
    """
    last = max([8 if any(row.pin > 6 for row in sheet.rows) or len(sheet.rows) > 6 else 6, *_pins(sheet)])
    by_pin = {row.pin: row for row in sheet.rows}
    width = 2 * LEFT_MM + last * PITCH_MM
    parts = [_housing(width)]
    for pin in range(1, last + 1):
        x = LEFT_MM + (pin - 0.5) * PITCH_MM
        parts.append(svg.text((x, 6.2), str(pin), size=3.4, anchor="middle", mono=True, bold=True))
        row = by_pin.get(pin)
        parts.append(_contact(x, filled=row is not None))
        if row is not None:
            parts.append(_wire(x, row))
    parts.append(_pair_marks(sheet))
    return svg.drawing(width, 82.0, parts, title=say("drawings.conductors", sheet=sheet.title))


def _pins(sheet: TerminationSheet) -> list[int]:
    return [row.pin for row in sheet.rows]


def _housing(width: float) -> str:
    d = f"M1 21V2H{svg.number(width - 1)}V21"
    return svg.element("path", d=d, fill="none", stroke=svg.INK, stroke_width=svg.THICK_MM)


def _contact(x: float, *, filled: bool) -> str:
    style: svg.Style = {"fill": svg.INK if filled else "none", "stroke": svg.INK, "stroke_width": svg.THIN_MM}
    return svg.rect(x - 1.1, 8.5, 2.2, 9.0, **style)


def _wire(x: float, row: PinRow) -> str:
    """A conductor: its sheath, its stripe as slanting bands, its code on a paper tag, its name below."""
    left, top = x - WIRE_MM / 2, 19.5
    base = _ink(row.base)
    parts = [svg.rect(left, top, WIRE_MM, LENGTH_MM, fill=base, stroke=svg.INK, stroke_width=0.3)]
    if row.stripe and row.stripe != row.base:
        stripe = _ink(row.stripe)
        for i in range(5):
            y = top + 2.0 + i * 8.2
            right = left + WIRE_MM
            data = svg.path_data([(left, y + 2.6), (right, y), (right, y + 3.4), (left, y + 6)], closed=True)
            parts.append(svg.element("path", d=data, fill=stripe, stroke=svg.INK, stroke_width=svg.FINE_MM))
    code = colour_code(row)
    parts.append(
        svg.rect(
            x - 4.6, top + 15.5, 9.2, 5.4, fill=svg.PAPER, stroke=svg.INK, stroke_width=svg.THIN_MM, rx=0.8
        )
    )
    parts.append(
        svg.text(
            (x, top + 19.4), code, size=3.2 if len(code) < 5 else 2.6, anchor="middle", mono=True, bold=True
        )
    )
    for i, word in enumerate(_name_lines(term(row.colour))):
        parts.append(svg.text((x, top + LENGTH_MM + 3.4 + 2.8 * i), word, size=2.4, anchor="middle"))
    return "".join(parts)


def _name_lines(name: str) -> list[str]:
    return name.replace("-", "- ").replace("/", "/ ").split()[:3]


def _pair_marks(sheet: TerminationSheet) -> str:
    """Brackets that join the two conductors of a pair, one height for each pair."""
    pairs: dict[int, list[int]] = {}
    for row in sheet.rows:
        pairs.setdefault(row.pair, []).append(row.pin)
    parts = []
    for rank, (pair, pins) in enumerate(sorted(pairs.items())):
        if len(pins) != 2:
            continue
        a, b = (LEFT_MM + (pin - 0.5) * PITCH_MM for pin in sorted(pins))
        y = 72.0 + 2.5 * (rank % 4)
        parts.append(
            svg.element(
                "path",
                d=f"M{svg.number(a)} {svg.number(y - 1)}V{svg.number(y)}H{svg.number(b)}V{svg.number(y - 1)}",
                fill="none",
                stroke=svg.INK,
                stroke_width=svg.MEDIUM_MM if rank % 2 else svg.THIN_MM,
            )
        )
        parts.append(svg.text((b + 1.0, y + 0.6), say("drawings.pair", pair=pair), size=2.1, halo=svg.PAPER))
    return "".join(parts)
