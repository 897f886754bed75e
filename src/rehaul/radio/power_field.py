"""Median power and its spread from one transmitter, on a grid or at scattered points."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.errors import BadInput
from rehaul.radio.antenna import Transmitter
from rehaul.radio.band import FrequencyBand, as_bands
from rehaul.radio.grid import Cells, Grid
from rehaul.radio.losstable import THICKNESS_TOLERANCE
from rehaul.radio.scene import Scene
from rehaul.radio.solve import (
    Level,
    Sending,
    for_all,
    on_cells,
    on_points,
    problem,
    senders_of,
    straight_of_each,
)
from rehaul.words import say


@dataclass(frozen=True, eq=False)
class Field:
    """What a receiver with an isotropic antenna gets: a median and a standard deviation, per band."""

    bands: tuple[FrequencyBand, ...]
    gain_db: NDArray[np.float32]  # (band, storey, y, x) or (band, point): power over eirp
    sd_db: NDArray[np.float32]  # same shape
    eirp_dbm: NDArray[np.float64]  # (band,)

    @property
    def power_dbm(self) -> NDArray[np.float32]:
        """Median received power [dBm], shape of `gain_db`."""
        eirp = self.eirp_dbm.astype(np.float32)
        return self.gain_db + eirp.reshape(-1, *([1] * (self.gain_db.ndim - 1)))


def field(
    scene: Scene,
    transmitter: Transmitter,
    places: Grid | Cells | ArrayLike,
    bands: Iterable[FrequencyBand | float],
    level: Level = "direct",
    *,
    polarisation: Sending = "mixed",
    thickness_tolerance: float = THICKNESS_TOLERANCE,
    bounces: int = 1,
    eased: bool = True,
    parts: int = 1,
) -> Field:
    """Field of one transmitter at every receiver.

    Parameters: `places`, a Grid, some Cells of one, or points (k, 3) [m]; `bands`, bands or single
    frequencies [Hz], by whose mean losses the spread is weighed; `level`, which paths are added up in
    power: the straight one; with one mirror reflection from every panel and plate; or with one bend round
    an edge besides. `polarisation` mixed takes the mean of both at every crossing, as for a device held
    anyhow; upright follows both through every crossing of the straight path, for an upright antenna and all
    power received, on grids only. `thickness_tolerance` is the share of thickness to average over, 0 for
    exact walls. `bounces`, on grids, is 2 to add reflections from one mirror to another to the levels with
    reflections. `eased`, where mixed, lets many crossings on the straight path cost less than each alone,
    as power also comes by ways that are not followed. `parts`, on grids, takes the mean power over parts by
    parts receivers spread over each cell about a receiver, instead of the receiver alone. Returns gains of
    shape (band, storey, y, x) or (band, k). Raises BadInput where points are not numbers.
    **Validity**: receivers nearer than 0.1 m count as at 0.1 m; far field of small antennas; pieces wide
    against the wavelength. **Source**: free space ITU-R P.525; crossings and mirrors ITU-R P.2040;
    easing COST 231 (see `radio.easing`).
    """
    if level not in ("direct", "reflections", "full"):
        raise BadInput(
            say("refused_radio.no_level", level=level), where="level", remedy=say("refused_radio.use_level")
        )
    if parts < 1:
        raise BadInput(
            say("refused_radio.no_parts", parts=parts),
            where="parts",
            remedy=say("refused_common.give_1_or_more"),
        )
    if polarisation not in ("mixed", "upright") or bounces not in (1, 2):
        raise BadInput(
            say("refused_radio.polarisation", polarisation=polarisation, bounces=bounces),
            where="polarisation, bounces",
            remedy=say("refused_radio.use_polarisation"),
        )
    found = as_bands(bands)
    of = problem(scene, transmitter, found, thickness_tolerance, eased and polarisation == "mixed")
    if isinstance(places, Cells):  # the whole map is the dearer way to a few places, and the same one
        gain, sd = on_cells(scene, of, places.grid, parts, level, polarisation, bounces)
        gain, sd = places.of(gain), places.of(sd)
    elif isinstance(places, Grid):
        gain, sd = on_cells(scene, of, places, parts, level, polarisation, bounces)
    elif polarisation != "mixed" or bounces != 1 or parts != 1:
        raise BadInput(
            say("refused_radio.grids_only"),
            where="polarisation",
            remedy=say("refused_radio.give_a_grid"),
        )
    else:
        gain, sd = on_points(scene, of, as_points(places), level)
    return Field(found, gain, sd, transmitter.eirp_per_band_dbm(len(found)))


def fields(
    scene: Scene,
    transmitters: Sequence[Transmitter],
    places: Grid | Cells | ArrayLike,
    bands: Iterable[FrequencyBand | float],
) -> tuple[Field, ...]:
    """Fields of several transmitters, as `field` each at the direct level, in one pass over a grid.

    Parameters and shapes as in `field`. **Validity** and **Source**: as `field`.
    """
    found = as_bands(bands)
    if not isinstance(places, Grid | Cells):
        return tuple(field(scene, transmitter, places, found) for transmitter in transmitters)
    if not transmitters:
        return ()
    of, senders = problem(scene, transmitters[0], found, eased=True), senders_of(transmitters)
    gain, sd = straight_of_each(of, senders, places.grid if isinstance(places, Cells) else places)
    if isinstance(places, Cells):
        gain, sd = places.of(gain), places.of(sd)
    return tuple(
        Field(found, gain[n], for_all(sd[n], gain[n]), transmitter.eirp_per_band_dbm(len(found)))
        for n, transmitter in enumerate(transmitters)
    )


def field_at(
    scene: Scene,
    transmitter: Transmitter,
    points_m: ArrayLike,
    bands: Iterable[FrequencyBand | float],
    level: Level = "direct",
) -> Field:
    """Field of one transmitter at scattered points (k, 3) [m], of shape (band, k); otherwise as `field`.

    `bands` are bands or single frequencies [Hz]. Raises BadInput where points are not rows of three
    numbers.

    >>> scene = Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), ())
    >>> found = field_at(scene, Transmitter((0.0, 0.0, 1.0)), [[10.0, 0.0, 1.0]], [5.5e9])
    >>> round(float(found.power_dbm[0, 0]), 1)  # 20 dBm less the free-space loss of 10 m
    -47.3
    """
    return field(scene, transmitter, np.asarray(points_m, dtype=np.float64), bands, level)


def as_points(points_m: ArrayLike) -> NDArray[np.float64]:
    """Points as a contiguous (k, 3) array [m], of float64.

    Raises BadInput where they are not rows of three finite numbers.
    """
    points = np.ascontiguousarray(points_m, dtype=np.float64)
    if points.ndim != 2 or points.shape[1] != 3 or not np.isfinite(points).all():
        raise BadInput(
            say("refused_radio.points_rows"), where="points_m", remedy=say("refused_radio.mend_them")
        )
    return points
