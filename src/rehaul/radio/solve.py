"""From a scene and a transmitter to gain and spread: which paths are added up, on a grid or at points."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Literal, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from rehaul.facts.radio_numbers import crossings_together, radio_numbers
from rehaul.radio.antenna import Transmitter, pattern_table_db
from rehaul.radio.band import FrequencyBand
from rehaul.radio.bodies import BodyTables, FlatBodies, round_grid, round_points
from rehaul.radio.bounces import add_bounces
from rehaul.radio.cells import over_cells
from rehaul.radio.decibels import POWER_SHIFT_DB
from rehaul.radio.diffraction import bend_points
from rehaul.radio.easing import from_eased
from rehaul.radio.finish import finish_grid, finish_points
from rehaul.radio.geometry import FlatScene, any_order, outward_order
from rehaul.radio.grid import Grid
from rehaul.radio.lanes import few_for
from rehaul.radio.losstable import THICKNESS_TOLERANCE
from rehaul.radio.polarised import amplitude_table, finish_upright
from rehaul.radio.reflect_points import reflect_points
from rehaul.radio.scene import Scene
from rehaul.radio.shadow import ADD, TURN, shade_grid
from rehaul.radio.straight import straight_losses
from rehaul.radio.summed import begin, end
from rehaul.radio.tables import (
    Tables,
    bodies,
    body_tables,
    edges,
    flat,
    folded,
    lane_tables,
    scene_tables,
    tables,
)
from rehaul.radio.uncertainty import shadowing_steps
from rehaul.units import SPEED_OF_LIGHT_M_PER_S

Decibels: TypeAlias = NDArray[np.float32]
Level: TypeAlias = Literal["direct", "reflections", "full"]
Sending: TypeAlias = Literal["mixed", "upright"]


class Senders(NamedTuple):
    """Several transmitters, as the compiled loops want them."""

    source: NDArray[np.float64]  # (n, 3)
    axis: NDArray[np.float64]  # (n, 3)
    pattern: Decibels  # (n, PATTERN_STEPS + 1)


class RayProblem(NamedTuple):
    """One transmitter in one scene, as the compiled loops want it."""

    pieces: FlatScene
    table: Tables
    bands: tuple[FrequencyBand, ...]
    source: NDArray[np.float64]  # (3,)
    axis: NDArray[np.float64]  # (3,)
    pattern: Decibels  # (PATTERN_STEPS + 1,)
    free_db: Decibels  # (band,) free-space loss at 1 m
    nearest_m: float
    together: float  # correlation of the errors of two crossings of one construction
    shadowing: tuple[float, float, float, float]  # see `shadowing_steps`
    spreading_db: float  # per decade of distance
    tolerance: float  # of thickness, over which the tables are averaged
    eased: bool  # whether many crossings on the straight path cost less than each alone
    bodies: FlatBodies
    body_table: BodyTables
    order: NDArray[np.int64]  # of the pieces, as they come

    @property
    def alone(self) -> Senders:
        """Its transmitter as the only one of several."""
        return Senders(self.source[None], self.axis[None], self.pattern[None])

    @property
    def spreads(self) -> tuple[tuple[float, float, float, float], float, float]:
        """What `finish` makes the spread of."""
        return self.shadowing, self.spreading_db, self.together

    @property
    def shadowing_db(self) -> float:
        """What shadows every path to a place alike, however many there are."""
        return self.shadowing[0]


def senders_of(transmitters: Sequence[Transmitter]) -> Senders:
    """Several transmitters gathered for the compiled loops, in their order; at least one."""
    return Senders(
        np.array([one.position_m for one in transmitters]),
        np.array([one.axis for one in transmitters]),
        np.array([pattern_table_db(one.mounting) for one in transmitters]),
    )


def problem(
    scene: Scene,
    transmitter: Transmitter,
    bands: tuple[FrequencyBand, ...],
    thickness_tolerance: float = THICKNESS_TOLERANCE,
    eased: bool = False,
) -> RayProblem:
    """One transmitter in one scene, gathered for the compiled loops: tables, geometry and numbers.

    What does not depend on the transmitter is kept between calls for the same scene object and bands.
    `eased`, where many crossings are to cost less than each alone. Raises BadInput for a body whose room
    has no size, OutOfRange for a band in which a material of the scene is not known.
    """
    numbers, known = radio_numbers(), _known(scene, bands, thickness_tolerance)
    return RayProblem(
        known.pieces,
        known.table,
        bands,
        np.array(transmitter.position_m),
        np.array(transmitter.axis),
        pattern_table_db(transmitter.mounting),
        known.free_db,
        numbers["nearest_distance"],
        crossings_together(),
        shadowing_steps(),
        numbers["spreading_sd"],
        thickness_tolerance,
        eased,
        known.bodies,
        known.body_table,
        known.order,
    )


class _Known(NamedTuple):
    """What does not depend on the transmitter."""

    pieces: FlatScene
    order: NDArray[np.int64]
    table: Tables
    free_db: Decibels
    bodies: FlatBodies
    body_table: BodyTables


@lru_cache(maxsize=16)
def _known(scene: Scene, bands: tuple[FrequencyBand, ...], thickness_tolerance: float) -> _Known:
    """The scene in some bands, looked up once a map."""
    return _Known(
        flat(scene),
        any_order(flat(scene)),
        scene_tables(scene, bands, thickness_tolerance),
        free_space_db(bands),
        bodies(scene),
        body_tables(scene, bands, thickness_tolerance),
    )


@lru_cache(maxsize=64)
def free_space_db(bands: tuple[FrequencyBand, ...]) -> Decibels:
    """Free-space loss at 1 m of every band (band,) [dB]: 20 log10(4π f / c), at the centre of each.

    **Validity**: far field. **Source**: ITU-R P.525.

    >>> round(float(free_space_db((FrequencyBand(2.4e9),))[0]), 2)
    40.05
    """
    centres = np.array([band.centre_hz for band in bands])
    return np.asarray(20 * np.log10(4 * np.pi * centres / SPEED_OF_LIGHT_M_PER_S), dtype=np.float32)


def on_cells(
    scene: Scene, of: RayProblem, grid: Grid, parts: int, level: Level, polarisation: Sending, bounces: int
) -> tuple[Decibels, Decibels]:
    """Gain and spread (band, storey, ny, nx) [dB], of the mean power over parts by parts receivers a cell.

    As `on_grid`, which `parts` of 1 is. The spread is one for all bands where the level is direct, and
    cannot be written to then.
    """
    if polarisation == "upright" and level == "direct":
        gain, sd = _upright(scene, of, grid, parts)
        return gain, for_all(sd, gain)
    if parts == 1:
        return on_grid(scene, of, grid, level, polarisation, bounces)
    gain, sd = on_grid(scene, of, grid.divided(parts), level, polarisation, bounces)
    alike = sd.strides[0] == 0  # one spread for all bands
    gain, sd = over_cells(gain, np.ascontiguousarray(sd[:1]) if alike else sd, parts)
    return gain, for_all(sd, gain)


def on_grid(
    scene: Scene, of: RayProblem, grid: Grid, level: Level, polarisation: Sending, bounces: int
) -> tuple[Decibels, Decibels]:
    """Gain and spread (band, storey, ny, nx) [dB] at the receivers of a grid.

    `level`, `polarisation` and `bounces` as in `power_field.field`, which checks them: nothing is checked
    here. **Validity** and **Source**: as `field`.
    """
    storeys, ny, nx = grid.shape
    bands = of.free_db.size
    origin, heights = (grid.x0_m, grid.y0_m), np.array(grid.z_m)
    gain, sd = _upright(scene, of, grid, 1) if polarisation == "upright" else _mixed(of, grid)
    if level == "direct":
        return gain, for_all(sd, gain)
    count, few = storeys * ny * nx, few_for(bands)
    power, scatter = np.zeros((2, count, few), dtype=np.float32)
    begin(gain.reshape(bands, -1), sd.reshape(-1), of.shadowing_db, power, scatter)
    add_bounces(
        (of.bodies, of.body_table), folded(scene),
        lane_tables(scene, of.bands, of.tolerance, polarisation == "upright"),
        (of.source, of.axis, of.pattern), (origin, grid.step_m, heights, ny, nx, of.free_db),
        (of.nearest_m, of.together), bounces, power, scatter,
    )  # fmt: skip
    if level == "full":
        second = _beyond_edges(scene, of.bands, grid, of.tolerance).reshape(-1, bands + 2, count)
        flat_power, flat_scatter = (np.ascontiguousarray(sums[:, :bands].T) for sums in (power, scatter))
        _bends(scene, of, grid.points_m(), second, flat_power, flat_scatter)
        power[:, :bands], scatter[:, :bands] = flat_power.T, flat_scatter.T
    gain, sd = np.empty((2, bands, *grid.shape), dtype=np.float32)
    end(power, scatter, of.shadowing_db, gain.reshape(bands, -1), sd.reshape(bands, -1))
    return gain, sd


def for_all(sd: Decibels, gain: Decibels) -> Decibels:
    """One spread for all bands, seen in the shape of the gains: not to be written to.

    `sd` of that shape comes back as it is. Quicker than NumPy's own.
    """
    if sd.shape == gain.shape:
        return sd
    found: Decibels = np.ndarray(gain.shape, sd.dtype, sd, strides=(0, *sd.strides[-gain.ndim + 1 :]))
    found.flags.writeable = False
    return found


def _mixed(of: RayProblem, grid: Grid) -> tuple[Decibels, Decibels]:
    """Gain (band, storey, ny, nx) and spread (storey, ny, nx) of the straight path, means of te and tm."""
    gain, sd = straight_of_each(of, of.alone, grid)
    return gain[0], sd[0]


def straight_of_each(of: RayProblem, senders: Senders, grid: Grid) -> tuple[Decibels, Decibels]:
    """Gain (n, band, storey, ny, nx) and spread (n, storey, ny, nx) [dB] of the straight path of each sender.

    Means of te and tm; `of` is of any transmitter in the scene: its own place is not read. **Validity** and
    **Source**: as `power_field.field` at the direct level.
    """
    (storeys, ny, nx), bands, count = grid.shape, of.free_db.size, len(senders.source)
    origin, heights = (grid.x0_m, grid.y0_m), np.array(grid.z_m)
    losses = np.zeros((count, storeys, ny, bands + 2, nx), dtype=np.float32)
    table, sd_db = _summed(of)
    shade_grid(
        *of.pieces, of.order, table, sd_db, senders.source, origin, grid.step_m, heights, losses, ADD
    )  # fmt: skip
    if len(of.bodies.centre_m):
        round_grid(
            of.bodies, of.body_table, senders.source, origin, grid.step_m, heights, of.eased, losses
        )  # fmt: skip
    if of.eased:
        from_eased(losses.reshape(-1, bands + 2, nx))
    gain = np.empty((count, bands, storeys, ny, nx), dtype=np.float32)
    sd = np.empty((count, storeys, ny, nx), dtype=np.float32)
    finish_grid(
        losses, *senders, of.free_db, origin, grid.step_m, heights, of.nearest_m, of.spreads, gain, sd
    )  # fmt: skip
    return gain, sd


def _summed(of: RayProblem) -> tuple[Decibels, Decibels]:
    """What is summed along the straight path: losses and spreads of each kind."""
    return (of.table.eased, of.table.eased_sd) if of.eased else (of.table.loss_db, of.table.sd_db)


def _upright(scene: Scene, of: RayProblem, grid: Grid, parts: int) -> tuple[Decibels, Decibels]:
    """Gain (band, storey, ny, nx) and spread (storey, ny, nx) of the straight path of an upright field."""
    bands, fine = of.free_db.size, grid.divided(parts)
    origin, heights = (fine.x0_m, fine.y0_m), np.array(fine.z_m)
    waves = np.zeros((len(heights), fine.ny, 4 * bands + 2, fine.nx), dtype=np.float32)
    waves[:, :, 0 : 4 * bands : 4] = 1.0
    table = amplitude_table(scene.kinds, of.bands, of.tolerance)
    order = outward_order(of.pieces, of.source)
    shade_grid(
        *of.pieces, order, table, of.table.sd_db, of.source[None],
        origin, fine.step_m, heights, waves[None], TURN,
    )  # fmt: skip
    if len(of.bodies.centre_m):
        losses = np.zeros((len(heights), fine.ny, bands + 2, fine.nx), dtype=np.float32)
        round_grid(
            of.bodies, of.body_table, of.source[None], origin, fine.step_m, heights, False, losses[None]
        )  # fmt: skip
        waves[:, :, : 4 * bands] *= np.repeat(10.0 ** (-losses[:, :, :bands] / 20), 4, axis=2)
        waves[:, :, 4 * bands :] += losses[:, :, bands:]
    gain = np.empty((bands, *grid.shape), dtype=np.float32)
    sd = np.empty(grid.shape, dtype=np.float32)
    finish_upright(
        waves, of.source, of.axis, of.pattern, of.free_db, origin, fine.step_m, heights,
        of.nearest_m, of.spreads, parts, gain, sd,
    )  # fmt: skip
    return gain, sd


def on_points(
    scene: Scene, of: RayProblem, points_m: NDArray[np.float64], level: Level
) -> tuple[Decibels, Decibels]:
    """Gain and spread (band, point) [dB] at points (k, 3) [m].

    Every piece is tried against every point, which for many points is dearer than a grid. Only mixed
    polarisation and single reflections. **Validity** and **Source**: as `field`.
    """
    bands = of.free_db.size
    losses = np.empty((len(points_m), bands + 2), dtype=np.float32)
    table, sd_db = _summed(of)
    straight_losses(*of.pieces, table, sd_db, of.source, points_m, losses)
    round_points(of.bodies, of.body_table, of.source, points_m, of.eased, losses)
    if of.eased:
        from_eased(losses[:, :, None])
    gain = np.empty((bands, len(points_m)), dtype=np.float32)
    sd = np.empty(len(points_m), dtype=np.float32)
    finish_points(
        losses, of.source, of.axis, of.pattern, of.free_db, points_m,
        of.nearest_m, of.spreads, gain, sd,
    )  # fmt: skip
    if level == "direct":
        return gain, for_all(sd, gain)
    power, scatter = _powers(gain, sd, of.shadowing_db)
    reflect_points(
        of.bodies, of.body_table, of.pieces, of.table, (of.source, of.axis, of.pattern), points_m,
        of.free_db, (of.nearest_m, of.together), power, scatter,
    )  # fmt: skip
    if level == "full":
        middles = edges(scene, of.bands).middle_m
        second = np.empty((len(middles), bands + 2, len(points_m)), dtype=np.float32)
        for e, middle in enumerate(middles):
            straight_losses(*of.pieces, of.table.loss_db, of.table.sd_db, middle, points_m, losses)
            round_points(of.bodies, of.body_table, middle, points_m, False, losses)
            second[e] = losses.T
        _bends(scene, of, points_m, second, power, scatter)
    return _levels(power, scatter, of.shadowing_db)


@lru_cache(maxsize=2)
def _beyond_edges(scene: Scene, bands: tuple[FrequencyBand, ...], grid: Grid, tolerance: float) -> Decibels:
    """What the rays from the middle of every edge to every receiver cross (e, band + 2, storey, ny, nx).

    It does not depend on the transmitter, so it is made once per house and grid.
    """
    storeys, ny, nx = grid.shape
    pieces, table, middles = flat(scene), tables(scene.kinds, bands, tolerance), edges(scene, bands).middle_m
    big, big_table = bodies(scene), body_tables(scene, bands, tolerance)
    origin, heights = (grid.x0_m, grid.y0_m), np.array(grid.z_m)
    found = np.zeros((len(middles), storeys, ny, len(bands) + 2, nx), dtype=np.float32)
    shade_grid(
        *pieces, any_order(pieces), table.loss_db, table.sd_db, middles,
        origin, grid.step_m, heights, found, ADD,
    )  # fmt: skip
    round_grid(big, big_table, middles, origin, grid.step_m, heights, False, found)
    return np.ascontiguousarray(found.transpose(0, 3, 1, 2, 4))


def _bends(
    scene: Scene,
    of: RayProblem,
    points_m: NDArray[np.float64],
    second: Decibels,
    power: Decibels,
    scatter: Decibels,
) -> None:
    """Add the ways round edges to power and scatter (band, point)."""
    found = edges(scene, of.bands)
    first = np.empty((len(found.length_m), len(of.bands) + 2), dtype=np.float32)
    straight_losses(*of.pieces, of.table.loss_db, of.table.sd_db, of.source, found.middle_m, first)
    round_points(of.bodies, of.body_table, of.source, found.middle_m, False, first)
    wave_m = np.array([SPEED_OF_LIGHT_M_PER_S / band.centre_hz for band in of.bands])
    bend_points(
        tuple(found), first, second, of.source, of.axis, of.pattern, points_m, of.free_db, wave_m,
        of.nearest_m, of.together, power, scatter,
    )  # fmt: skip


def _powers(gain: Decibels, sd: Decibels, shadowing_db: float) -> tuple[Decibels, Decibels]:
    """Power of the direct path above the shift, and power² times its variance without shadowing."""
    power = np.asarray(10.0 ** ((gain + POWER_SHIFT_DB) / 10.0), dtype=np.float32)
    return power, np.asarray(power**2 * (sd**2 - shadowing_db**2), dtype=np.float32)


def _levels(power: Decibels, scatter: Decibels, shadowing_db: float) -> tuple[Decibels, Decibels]:
    """Gain and spread from summed powers: each path weighs by its share, all share the shadowing.

    Independent paths i of power P_i: variance of 10 log10 ΣP_i is Σ (P_i / ΣP)² var_i, to first order.
    """
    gain = 10.0 * np.log10(power) - POWER_SHIFT_DB
    sd = np.sqrt(shadowing_db**2 + scatter / power**2)
    return np.asarray(gain, dtype=np.float32), np.asarray(sd, dtype=np.float32)
