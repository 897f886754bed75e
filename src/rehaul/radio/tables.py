"""All constructions of a scene in all bands, as the arrays the compiled loops read."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from rehaul.facts.radio_numbers import radio_numbers
from rehaul.radio.band import FrequencyBand
from rehaul.radio.bodies import BodyTables, FlatBodies, flatten_bodies
from rehaul.radio.easing import eased_spreads, to_eased
from rehaul.radio.edges import Edges, find_edges
from rehaul.radio.folded import Folded, fold
from rehaul.radio.geometry import FlatScene, find_mirrors, flatten
from rehaul.radio.lanes import in_lanes, with_swaps
from rehaul.radio.layers import LayeredKind
from rehaul.radio.losstable import COSINE_STEPS, THICKNESS_TOLERANCE, in_db, loss_table
from rehaul.radio.reflect import LaneTables
from rehaul.radio.scene import Scene
from rehaul.units import SPEED_OF_LIGHT_M_PER_S


class Tables(NamedTuple):
    """Loss over the cosine of incidence; one spare step at the end saves a test in the inner loop."""

    loss_db: NDArray[np.float32]  # (kind, band, COSINE_STEPS + 2)
    reflection_db: NDArray[np.float32]  # (kind, band, COSINE_STEPS + 2)
    sd_db: NDArray[np.float32]  # (kind,)
    eased: NDArray[np.float32]  # as loss_db, to be summed and given to `from_eased`
    eased_sd: NDArray[np.float32]  # (kind,) likewise


class UprightTables(NamedTuple):
    """Losses for an upright field (kind, band, COSINE_STEPS + 2)."""

    panel_loss_db: NDArray[np.float32]
    panel_reflection_db: NDArray[np.float32]
    plate_loss_db: NDArray[np.float32]
    plate_reflection_db: NDArray[np.float32]


@lru_cache(maxsize=64)
def tables(
    kinds: tuple[LayeredKind, ...],
    bands: tuple[FrequencyBand, ...],
    thickness_tolerance: float = THICKNESS_TOLERANCE,
) -> Tables:
    """Losses of every kind in every band, as the compiled loops read them.

    In the order of `kinds` and `bands`; `thickness_tolerance` as in `loss_table`, whose **Validity** and
    **Source** hold.
    """
    loss = np.zeros((len(kinds), len(bands), COSINE_STEPS + 2), dtype=np.float32)
    reflection = np.zeros_like(loss)
    for k, kind in enumerate(kinds):
        for b, band in enumerate(bands):
            table = loss_table(kind.structure, band, thickness_tolerance)
            loss[k, b, :-1], reflection[k, b, :-1] = table.loss_db, table.reflection_db
    loss[:, :, -1], reflection[:, :, -1] = loss[:, :, -2], reflection[:, :, -2]
    sd_db = np.array([kind.sd_db for kind in kinds], dtype=np.float32)
    straight_db = loss[:, :, COSINE_STEPS]
    return Tables(loss, reflection, sd_db, to_eased(loss), eased_spreads(straight_db, sd_db))


@lru_cache(maxsize=16)
def scene_tables(scene: Scene, bands: tuple[FrequencyBand, ...], thickness_tolerance: float) -> Tables:
    """The tables of a scene; known by the scene itself, which is quicker than by all its layers.

    As `tables` of its kinds. A scene built anew counts as another, even if it is equal.
    """
    return tables(scene.kinds, bands, thickness_tolerance)


@lru_cache(maxsize=16)
def upright_tables(
    scene: Scene, bands: tuple[FrequencyBand, ...], thickness_tolerance: float
) -> UprightTables:
    """Tables of a scene for an upright field: te at panels and tm at plates, as on a level ray.

    **Validity**: for reflections of a nearly level path; steep ones turn the field, which only the straight
    path follows. **Source**: as `loss_table`.
    """
    shape = len(scene.kinds), len(bands), COSINE_STEPS + 2
    found = UprightTables(*(np.zeros(shape, dtype=np.float32) for _ in range(4)))
    for k, kind in enumerate(scene.kinds):
        for b, band in enumerate(bands):
            table = loss_table(kind.structure, band, thickness_tolerance)
            powers = table.transmitted_te, table.reflected_te, table.transmitted_tm, table.reflected_tm
            for into, power in zip(found, powers, strict=True):
                into[k, b, :-1] = in_db(power)
                into[k, b, -1] = into[k, b, -2]
    return found


@lru_cache(maxsize=16)
def flat(scene: Scene) -> FlatScene:
    """The scene as flat arrays (see `flatten`), kept while the scene is in use.

    Equal scenes that are two objects are flattened twice.
    """
    return flatten(scene)


@lru_cache(maxsize=16)
def bodies(scene: Scene) -> FlatBodies:
    """The bodies of the scene as flat arrays (see `flatten_bodies`), kept while the scene is in use.

    In the order of `scene.bodies`.
    """
    return flatten_bodies(scene)


@lru_cache(maxsize=16)
def body_tables(scene: Scene, bands: tuple[FrequencyBand, ...], thickness_tolerance: float) -> BodyTables:
    """What the bodies of a scene let through, taken square on, and the scale of every wave.

    The last wave is one more than `bands`: that by which the spread is weighed. **Source**: `loss_table`,
    and `body_spread_frequency` of the fact table `radio_numbers`.
    """
    waves = (*bands, FrequencyBand(radio_numbers()["body_spread_frequency"] * 1e9))
    made_of = [scene.kinds[body.kind] for body in scene.bodies]
    loss_db = tables(tuple(made_of), waves, thickness_tolerance).loss_db[:, :, COSINE_STEPS]
    return BodyTables(
        np.array([np.sqrt(2 * w.centre_hz / SPEED_OF_LIGHT_M_PER_S) for w in waves], dtype=np.float32),
        np.asarray(10.0 ** (-loss_db / 10), dtype=np.float32),
        np.array([kind.sd_db for kind in made_of], dtype=np.float32),
        np.asarray(1.0 / loss_db[:, -1], dtype=np.float32),
    )


@lru_cache(maxsize=16)
def lane_tables(
    scene: Scene, bands: tuple[FrequencyBand, ...], thickness_tolerance: float, upright: bool
) -> LaneTables:
    """What pieces and mirrors of a scene lose, as reflections read it, kept while the scene is in use.

    By te at panels and tm at plates where `upright`, else by the mean of both. **Validity** and **Source**:
    as `tables` and `upright_tables`.
    """
    mixed = tables(scene.kinds, bands, thickness_tolerance)
    spread = mixed.sd_db
    panel, panel_mirror, plate, plate_mirror = (
        upright_tables(scene, bands, thickness_tolerance) if upright else (*mixed[:2], *mixed[:2])
    )
    swaps = folded(scene).swaps
    return LaneTables(
        with_swaps(in_lanes(panel, spread, None), swaps),
        in_lanes(plate, spread, None),
        with_swaps(in_lanes(panel_mirror, spread, 0), swaps),
        in_lanes(plate_mirror, spread, 0),
        with_swaps(in_lanes(panel_mirror, spread, 1), swaps),
        in_lanes(plate_mirror, spread, 1),
    )


@lru_cache(maxsize=16)
def folded(scene: Scene) -> Folded:
    """The scene cut and folded at the planes of it that throw back (see `fold`), kept while it is in use.

    Bodies are no mirrors.
    """
    return fold(flat(scene), find_mirrors(flat(scene)))


@lru_cache(maxsize=16)
def edges(scene: Scene, bands: tuple[FrequencyBand, ...]) -> Edges:
    """The edges of the scene worth a bend (see `find_edges`), kept while the scene is in use.

    Which are worth it depends on the bands: on what their pieces let through there. **Source**:
    docs/radio.md, "Levels of paths": where a piece costs more than 6 dB.
    """
    return find_edges(flat(scene), tables(scene.kinds, bands).loss_db[:, :, COSINE_STEPS])
