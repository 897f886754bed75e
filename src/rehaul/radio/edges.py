"""Where a wave can bend round: door jambs, ends and tops of walls that stop short, rims of stair voids."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.radio.geometry import FlatScene

_TOUCH_M = 2e-3  # pieces this close meet
_SHORTEST_M = 0.05  # shorter edges are left out
_WORTH_DB = 6.02  # an edge at grazing costs this much, so a piece that costs less is simply gone through


class Edges(NamedTuple):
    """Edges of pieces that cost more than a bend, each with what stands beside it in the opening."""

    start_m: NDArray[np.float64]  # (e, 3)
    along: NDArray[np.float64]  # (e, 3) unit vector from start to end
    length_m: NDArray[np.float64]  # (e,)
    inward: NDArray[np.float64]  # (e, 3) unit vector from the edge into its piece
    beside_db: NDArray[np.float32]  # (e, band) loss of what fills the opening, 0 where it is open

    @property
    def middle_m(self) -> NDArray[np.float64]:
        """Middle of every edge (e, 3) [m]."""
        return np.ascontiguousarray(self.start_m + self.along * self.length_m[:, None] / 2)


def find_edges(pieces: FlatScene, straight_db: NDArray[np.float32]) -> Edges:
    """Edges of a scene that are worth a bend, ends of panels first, then tops, then rims of plates.

    `straight_db` (kind, band) is the loss of every kind at normal incidence [dB]. An edge counts where
    going through its piece costs more than the 6 dB of a bend at grazing, and where nothing closes it;
    edges under 5 cm do not. Returns no rows where there is none. **Validity**: one bend; corners between
    two walls are none. **Source**: a knife edge at grazing, ITU-R P.526.
    """
    rows = [*_panel_ends(pieces, straight_db), *_panel_tops(pieces, straight_db), *_rims(pieces, straight_db)]
    if not rows:
        empty = np.empty((0, 3))
        return Edges(empty, empty, np.empty(0), empty, np.empty((0, straight_db.shape[1]), np.float32))
    start, end, inward, beside = (np.array(column) for column in zip(*rows, strict=True))
    length = np.linalg.norm(end - start, axis=1)
    return Edges(start, (end - start) / length[:, None], length, inward, beside.astype(np.float32))


EdgeRow = tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64], NDArray[np.float32]]


def _panel_ends(pieces: FlatScene, straight_db: NDArray[np.float32]) -> list[EdgeRow]:
    """Upright edges: where a panel ends at an opening or in the open."""
    panels, kinds = pieces.panels_m, pieces.panel_kind
    found: list[EdgeRow] = []
    for p, panel in enumerate(panels):
        own_db = straight_db[kinds[p]]
        if own_db.max() <= _WORTH_DB:
            continue
        for here, there in ((panel[:2], panel[2:4]), (panel[2:4], panel[:2])):
            inward = (there - here) / np.linalg.norm(there - here)
            near = _touching(panels, here)
            near[p] = False
            near &= (panels[:, 4] < panel[5] - _TOUCH_M) & (panels[:, 5] > panel[4] + _TOUCH_M)
            others = np.flatnonzero(near)
            breaks = np.unique(np.clip([panel[4], panel[5], *panels[others, 4:].ravel()], panel[4], panel[5]))
            for low, high in pairwise(breaks):
                if high - low < _SHORTEST_M:
                    continue
                beside = _beside(panels[others], kinds[others], (low + high) / 2, here, inward, straight_db)
                if beside is not None and (own_db - beside).max() > _WORTH_DB:
                    ends = np.array([*here, low]), np.array([*here, high])
                    found.append((*ends, np.array([*inward, 0.0]), beside))
    return found


def _touching(panels: NDArray[np.float64], point: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Which panels pass within a hair of a point of the plan (n,)."""
    a, way = panels[:, :2], panels[:, 2:4] - panels[:, :2]
    share = np.clip(np.sum((point - a) * way, axis=1) / np.sum(way * way, axis=1), 0, 1)
    return np.asarray(np.hypot(*(a + share[:, None] * way - point).T) < _TOUCH_M)


def _beside(
    others: NDArray[np.float64],
    kinds: NDArray[np.int32],
    height: float,
    here: NDArray[np.float64],
    inward: NDArray[np.float64],
    straight_db: NDArray[np.float32],
) -> NDArray[np.float32] | None:
    """Loss of what continues beyond the end at a height (band,); None where the end is closed by a wall."""
    beside = np.zeros(straight_db.shape[1], dtype=np.float32)
    for other, kind in zip(others, kinds, strict=True):
        if not other[4] <= height < other[5]:
            continue
        loss = straight_db[kind]
        far = max((other[:2], other[2:4]), key=lambda end: float(np.hypot(*(end - here))))
        outward = far - here
        straight_on = -(outward @ inward) > 0.999 * np.linalg.norm(outward)
        if straight_on:
            beside = np.maximum(beside, loss)
        elif loss.max() > _WORTH_DB:
            return None
    return beside


def _panel_tops(pieces: FlatScene, straight_db: NDArray[np.float32]) -> list[EdgeRow]:
    """Level edges: tops of panels that stop short of whatever is above."""
    panels, kinds = pieces.panels_m, pieces.panel_kind
    found: list[EdgeRow] = []
    for p, panel in enumerate(panels):
        if straight_db[kinds[p]].max() <= _WORTH_DB:
            continue
        middle = (panel[:2] + panel[2:4]) / 2
        above = _touching(panels, middle)
        above[p] = False
        if (above & (panels[:, 4] <= panel[5] + _TOUCH_M) & (panels[:, 5] > panel[5] + _TOUCH_M)).any():
            continue
        if _covered(pieces, middle, panel[5]):
            continue
        ends = np.array([*panel[:2], panel[5]]), np.array([*panel[2:4], panel[5]])
        found.append((*ends, np.array([0.0, 0.0, -1.0]), np.zeros(straight_db.shape[1], np.float32)))
    return found


def _covered(pieces: FlatScene, point: NDArray[np.float64], height: float) -> bool:
    """Whether a plate lies on this point of the plan at this height."""
    for q, z in enumerate(pieces.plate_z_m):
        if abs(z - height) > _SHORTEST_M:
            continue
        ring = pieces.edges_m[pieces.edge_start[q] : pieces.edge_start[q + 1]]
        spans = (ring[:, 1] <= point[1]) != (ring[:, 3] <= point[1])
        rise = np.where(spans, ring[:, 3] - ring[:, 1], 1.0)
        cut = ring[:, 0] + (point[1] - ring[:, 1]) / rise * (ring[:, 2] - ring[:, 0])
        if np.count_nonzero(spans & (point[0] < cut)) % 2 or _on_ring(ring, point):
            return True
    return False


def _on_ring(ring: NDArray[np.float64], point: NDArray[np.float64]) -> bool:
    return bool(_touching(np.hstack([ring, np.zeros((len(ring), 2))]), point).any())


def _rims(pieces: FlatScene, straight_db: NDArray[np.float32]) -> list[EdgeRow]:
    """Level edges: rims of plates where no wall stands, such as a stair void."""
    found: list[EdgeRow] = []
    for q, z in enumerate(pieces.plate_z_m):
        if straight_db[pieces.plate_kind[q]].max() <= _WORTH_DB:
            continue
        ring = pieces.edges_m[pieces.edge_start[q] : pieces.edge_start[q + 1]]
        at_height = (pieces.panels_m[:, 4] <= z + _TOUCH_M) & (pieces.panels_m[:, 5] >= z - _TOUCH_M)
        for edge in ring:
            way = edge[2:] - edge[:2]
            length, middle = float(np.hypot(*way)), (edge[:2] + edge[2:]) / 2
            if length < _SHORTEST_M or (at_height & _touching(pieces.panels_m, middle)).any():
                continue
            normal = np.array([-way[1], way[0]]) / length
            if not _covered(pieces, middle + 0.01 * normal, z):
                normal = -normal
            ends = np.array([*edge[:2], z]), np.array([*edge[2:], z])
            found.append((*ends, np.array([*normal, 0.0]), np.zeros(straight_db.shape[1], np.float32)))
    return found
