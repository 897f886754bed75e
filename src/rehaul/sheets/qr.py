"""A QR code as a drawing, for the closet door."""

from __future__ import annotations

import segno
from segno.encoder import DataOverflowError

from rehaul.errors import BadInput
from rehaul.sheets import svg
from rehaul.words import say

QUIET_MODULES = 4  # of paper round the code


def qr_svg(words: str, width_mm: float, *, shows: str) -> str:
    """The words as a QR code of that width, quiet zone included; any telephone reads them, no network needed.

    Raises BadInput where the words are too many. **Source**: QR code with a quiet zone of 4 modules, ISO/IEC
    18004 (from memory).
    """
    try:
        code = segno.make(words, error="m", micro=False, boost_error=False)
    except DataOverflowError:
        raise BadInput(
            say("refused_sheets.too_long_for_qr", characters=len(words)),
            where=say("refused_sheets.where_door"),
            remedy=say("refused_sheets.shorten_notes"),
        ) from None
    rows = [bytes(row) for row in code.matrix]
    module = width_mm / (len(rows) + 2 * QUIET_MODULES)
    data = []
    for j, row in enumerate(rows):
        start = None
        for i, dark in enumerate((*row, 0)):
            if dark and start is None:
                start = i
            elif not dark and start is not None:
                data.append(_bar(start, j, i - start))
                start = None
    side = len(rows) + 2 * QUIET_MODULES
    picture = svg.element("path", d="".join(data), fill="#000000")
    scaled = f'<g transform="scale({module:.6f})">{picture}</g>'
    ground = svg.rect(0, 0, side * module, side * module, fill="#ffffff")
    return svg.drawing(width_mm, width_mm, [ground, scaled], title=shows)


def _bar(i: int, j: int, count: int) -> str:
    return f"M{i + QUIET_MODULES} {j + QUIET_MODULES}h{count}v1h-{count}z"
