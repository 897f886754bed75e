"""What stands between antennas: vertical rectangles, horizontal plates, and what they are made of."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from rehaul.errors import BadInput
from rehaul.radio.diffuse import DiffuseRoom, usual_room
from rehaul.radio.layers import LayeredKind
from rehaul.words import say


@dataclass(frozen=True, eq=False)
class Plate:
    """A horizontal polygon with holes at one height, such as a slab with a stair void."""

    z_m: float
    outer_m: NDArray[np.float64]  # (k, 2)
    holes_m: tuple[NDArray[np.float64], ...]  # each (k, 2)
    kind: int  # index into Scene.kinds


@dataclass(frozen=True)
class Bulk:
    """A big thing that waves go round, a box square to the axes; `kind` is all of it at once."""

    low_m: tuple[float, float, float]  # x, y, z of the least corner
    high_m: tuple[float, float, float]  # and of the opposite one
    kind: int  # index into Scene.kinds
    over: bool = True  # whether there is clear space over it
    under: bool = False  # and beneath it
    room: DiffuseRoom | None = field(default_factory=usual_room)  # where it stands; None under the open sky


@dataclass(frozen=True, eq=False)
class Scene:
    """Panels, plates, bodies and their kinds. Openings are panels of their own kind, or absent when open.

    Panels stand on the centre planes of walls and must meet the plates, or rays leak through the gap.
    """

    panels_m: NDArray[np.float64]  # (n, 6): x0, y0, x1, y1, z0, z1
    panel_kind: NDArray[np.int32]  # (n,) index into kinds
    plates: tuple[Plate, ...]
    kinds: tuple[LayeredKind, ...]
    bodies: tuple[Bulk, ...] = ()

    def __post_init__(self) -> None:
        panels = np.ascontiguousarray(np.asarray(self.panels_m, dtype=np.float64).reshape(-1, 6))
        kinds = np.ascontiguousarray(self.panel_kind, dtype=np.int32)
        object.__setattr__(self, "panels_m", panels)
        object.__setattr__(self, "panel_kind", kinds)
        if kinds.shape != (len(panels),):
            raise BadInput(
                say("refused_radio.panels_and_kinds", panels=len(panels), kinds=kinds.size),
                where="panel_kind",
                remedy=say("refused_radio.one_each"),
            )
        if not np.isfinite(panels).all():
            row = int(np.argwhere(~np.isfinite(panels))[0][0])
            raise BadInput(
                say("refused_radio.coordinate"),
                where=f"panels_m[{row}]",
                remedy=say("refused_common.mend_it"),
            )
        flat = (panels[:, 4] >= panels[:, 5]) | (np.hypot(*(panels[:, 2:4] - panels[:, :2]).T) <= 0)
        if flat.any():
            raise BadInput(
                say("refused_radio.panel_no_size"),
                where=f"panels_m[{int(np.argmax(flat))}]",
                remedy=say("refused_radio.give_panel"),
            )
        for i, body in enumerate(self.bodies):
            if not all(low < high for low, high in zip(body.low_m, body.high_m, strict=True)):
                raise BadInput(
                    say("refused_radio.body_no_size"),
                    where=f"bodies[{i}]",
                    remedy=say("refused_radio.body_size"),
                )
        used = [*kinds.tolist(), *(p.kind for p in self.plates), *(body.kind for body in self.bodies)]
        if used and not 0 <= min(used) <= max(used) < len(self.kinds):
            raise BadInput(
                say("refused_radio.no_kind"), where="kinds", remedy=say("refused_radio.mend_index")
            )


def plate(z_m: float, outer_m: object, kind: int, holes_m: tuple[object, ...] = ()) -> Plate:
    """A plate from any ring of points.

    `outer_m` and each of `holes_m` are rows of x, y [m], the last not repeated, either way round; `kind` is
    an index into the kinds of the scene. Raises BadInput where a ring has fewer than three points, or one
    that is no number.
    """
    rings = [np.ascontiguousarray(np.asarray(ring, dtype=np.float64)) for ring in (outer_m, *holes_m)]
    for ring in rings:
        if ring.ndim != 2 or ring.shape[1] != 2 or len(ring) < 3 or not np.isfinite(ring).all():
            raise BadInput(
                say("refused_radio.ring_points"), where="plate", remedy=say("refused_radio.mend_ring")
            )
    return Plate(float(z_m), rings[0], tuple(rings[1:]), kind)
