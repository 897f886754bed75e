"""Pin-to-pin readings as people type them."""

from __future__ import annotations

import re

from rehaul.errors import BadInput
from rehaul.printable import short
from rehaul.words import say

PINS = 8
_CELL = re.compile(r"[1-8]|-|\([1-8]*\)")


def far_pins_of(text: str) -> dict[int, tuple[int, ...]]:
    """Far pins seen from each near pin: `12345678`, `1-345678` (open), `(12)(12)345678` (short)."""
    squeezed = text.replace(" ", "").replace(",", "")
    cells = _CELL.findall(squeezed)
    if "".join(cells) != squeezed or len(cells) != PINS:
        raise BadInput(
            say("refused_cli.not_reading_pins", text=short(text), pins=PINS),
            where="FAR_PINS",
            remedy=say("refused_cli.write_one_far_pin"),
        )
    return {near: tuple(int(pin) for pin in cell if pin.isdigit()) for near, cell in enumerate(cells, 1)}
