"""Median power and its spread from one transmitter, on a grid or at scattered points."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.errors import BadInput
from rehaul.facts.radio_numbers import radio_numbers
from rehaul.radio.antenna import Transmitter, pattern_table_db
from rehaul.radio.band import Band, as_bands
from rehaul.radio.finish import finish_grid, finish_points
from rehaul.radio.grid import Grid
from rehaul.radio.scene import Scene
from rehaul.radio.shadow import grid_losses
from rehaul.radio.straight import straight_losses
from rehaul.radio.tables import flat, tables
from rehaul.units import SPEED_OF_LIGHT_M_PER_S

Decibels: TypeAlias = NDArray[np.float32]
Level: TypeAlias = Literal["direct", "reflections", "full"]


@dataclass(frozen=True, eq=False)
class Field:
    """What a receiver with an isotropic antenna gets: a median and a standard deviation, per band."""

    bands: tuple[Band, ...]
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
    places: Grid | ArrayLike,
    bands: Iterable[Band | float],
    level: Level = "direct",
) -> Field:
    """Field of one transmitter at every receiver.

    Parameters: `places`, a Grid or points (k, 3) [m]; `bands`, bands or single frequencies [Hz];
    `level`, which paths are added up in power. Returns gains of shape (band, storey, y, x) or (band, k).
    Raises BadInput where points are not numbers.
    **Validity**: receivers nearer than 0.1 m count as at 0.1 m; far field of small antennas; pieces wide
    against the wavelength. **Source**: free space ITU-R P.525; crossings ITU-R P.2040, summed in decibels.
    """
    if level != "direct":
        raise BadInput(f"level {level!r} is not there yet", where="level", remedy="Use 'direct'")
    return _direct(scene, transmitter, places, as_bands(bands))


def field_at(
    scene: Scene,
    transmitter: Transmitter,
    points_m: ArrayLike,
    bands: Iterable[Band | float],
    level: Level = "direct",
) -> Field:
    """Field at scattered points (k, 3) [m]; otherwise as `field`."""
    return field(scene, transmitter, np.asarray(points_m, dtype=np.float64), bands, level)


def fields(
    scene: Scene, transmitters: Sequence[Transmitter], grid: Grid, bands: Iterable[Band | float]
) -> list[Field]:
    """Direct fields of many candidate transmitters on one grid; tables and geometry are made once."""
    found = as_bands(bands)
    return [_direct(scene, transmitter, grid, found) for transmitter in transmitters]


def _direct(
    scene: Scene, transmitter: Transmitter, places: Grid | ArrayLike, bands: tuple[Band, ...]
) -> Field:
    source = np.array(transmitter.position_m)
    pieces, table = flat(scene), tables(scene.kinds, bands)
    free_db = free_space_db(bands)
    pattern, axis = pattern_table_db(transmitter.mounting), np.array(transmitter.axis)
    numbers = radio_numbers()
    nearest_m, together = numbers["nearest_distance"], numbers["crossing_correlation"]
    shadowing = numbers["shadowing_sd"]
    if isinstance(places, Grid):
        storeys, ny, nx = places.shape
        losses = np.zeros((storeys, ny, len(bands) + 2, nx), dtype=np.float32)
        origin, heights = (places.x0_m, places.y0_m), np.array(places.z_m)
        grid_losses(*pieces, table.loss_db, table.sd_db, source, origin, places.step_m, heights, losses)
        gain = np.empty((len(bands), storeys, ny, nx), dtype=np.float32)
        sd: Decibels = np.empty((storeys, ny, nx), dtype=np.float32)
        finish_grid(
            losses, source, axis, pattern, free_db, origin, places.step_m, heights,
            nearest_m, shadowing, together, gain, sd,
        )  # fmt: skip
    else:
        points = as_points(places)
        scattered = np.empty((len(points), len(bands) + 2), dtype=np.float32)
        straight_losses(*pieces, table.loss_db, table.sd_db, source, points, scattered)
        gain = np.empty((len(bands), len(points)), dtype=np.float32)
        sd = np.empty(len(points), dtype=np.float32)
        finish_points(
            scattered, source, axis, pattern, free_db, points, nearest_m, shadowing, together, gain, sd
        )
    return Field(bands, gain, np.broadcast_to(sd, gain.shape), transmitter.eirp_per_band_dbm(len(bands)))


def free_space_db(bands: tuple[Band, ...]) -> NDArray[np.float32]:
    """Free-space loss at 1 m of every band [dB]: 20 log10(4π f / c). **Source**: ITU-R P.525."""
    centres = np.array([band.centre_hz for band in bands])
    return np.asarray(20 * np.log10(4 * np.pi * centres / SPEED_OF_LIGHT_M_PER_S), dtype=np.float32)


def as_points(points_m: ArrayLike) -> NDArray[np.float64]:
    """Points as a contiguous (k, 3) array [m]. Raises BadInput where they are not."""
    points = np.ascontiguousarray(points_m, dtype=np.float64)
    if points.ndim != 2 or points.shape[1] != 3 or not np.isfinite(points).all():
        raise BadInput("points are rows of three finite numbers", where="points_m", remedy="Mend them")
    return points
