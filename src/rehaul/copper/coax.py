"""Loss of a coax path through a house's tree of splitters."""

from __future__ import annotations

import math

from rehaul.errors import BadInput, require_range
from rehaul.facts.coax import CoaxKind, coax_kinds, coax_limit, splitters
from rehaul.facts.grades import Band


def coax_path_db(
    length_m: float, through: tuple[int, ...] = (), across: int | None = None, kind: CoaxKind = "RG-6"
) -> float:
    """Loss between two sockets at the top of the band used for data over coax, in dB.

    Parameters: length_m of cable end to end; `through` the ways of each splitter passed between its
    input and an output; `across` the ways of the splitter crossed from output to output, if one is.
    Raises BadInput for a splitter the table does not hold.

    **Validity**: sound connectors and splitters rated for 1675 MHz; old ones can be 10 dB worse.
    **Source**: fact rows `coax_kinds`, `coax_splitters`; loss grows as the root of frequency.

    >>> round(coax_path_db(30.0, through=(2,), across=4))
    36
    """
    require_range(length_m, 0.0, 1000.0, name="length_m")
    row = coax_kinds()[kind]
    cable_db = row.loss_db * length_m / 100.0 * math.sqrt(coax_limit("band top") / row.at_hz)
    known = splitters()
    for ways in (*through, *(() if across is None else (across,))):
        if ways not in known:
            remedy = f"Use one of {sorted(known)}"
            raise BadInput(f"no loss is known for a {ways}-way splitter", where="splitters", remedy=remedy)
    passed_db = sum(known[ways].loss_db for ways in through)
    crossed_db = 0.0 if across is None else known[across].across_db
    joints = 2 + 2 * (len(through) + (across is not None))
    return cable_db + passed_db + crossed_db + joints * coax_limit("connector loss")


def coax_band(path_db: float) -> Band:
    """Whether data over coax holds over a path loss in dB.

    **Validity**: bands only; a pair of adapters on trial decides.
    **Source**: fact rows `coax_limits` (from memory).
    """
    if path_db <= coax_limit("full rate loss"):
        return "likely"
    return "try it" if path_db <= coax_limit("last link loss") else "no"
