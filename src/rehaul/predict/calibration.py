"""The model meets the house: readings correct the losses of its constructions, for every map at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.facts.calibration import calibration_number
from rehaul.facts.radio_numbers import radio_numbers
from rehaul.house import Job
from rehaul.predict.air import Air, Listener, air_of
from rehaul.predict.correction import Array, Correction, correct, corrected_field
from rehaul.predict.observations import Observation, observations
from rehaul.predict.radiators import Radiator
from rehaul.predict.scene import HouseScene
from rehaul.radio import Grid, Kind
from rehaul.radio.counts import crossing_counts

HOUSE = "house"  # the error that all crossings of one house share


@dataclass(frozen=True, eq=False)
class Calibration:
    """What the readings of one house say, and which of them do not fit the rest."""

    kinds: tuple[Kind, ...]
    correction: Correction
    readings: tuple[str, ...]  # ids used, in the order of the correction's weights
    left_out: tuple[tuple[str, str], ...]  # ids not used, and why

    @property
    def suspects(self) -> tuple[str, ...]:
        """Readings that do not fit the rest: a wrong room, a sleeping device, somebody in the way."""
        return tuple(np.array(self.readings, dtype=object)[self.correction.suspect].tolist())

    def apply(self, air: Air, counts: NDArray[np.float32]) -> Air:
        """The same air, corrected; `counts` (kind, *places) of its box."""
        design = self._design(counts, air.radiator.id)
        shift, sd = corrected_field(self.correction, design, _own_variance(self.kinds, counts))
        return replace(air, power_dbm=air.power_dbm - shift, sd_db=sd.astype(np.float32))

    def _design(self, counts: NDArray[np.float32], box: str) -> NDArray[np.float32]:
        """How each place depends on each parameter (p, *places); a device's offset stays with it."""
        rows = [loading(self.kinds, counts)[None], counts]
        others = self.correction.names[1 + len(self.kinds) :]
        ones = np.ones((1, *counts.shape[1:]), dtype=np.float32)
        rows += [ones if name == _box_name(box) else 0 * ones for name in others]
        return np.concatenate(rows).astype(np.float32)


def calibrate(
    scene: HouseScene, observations: Sequence[Observation], left_out: Sequence[tuple[str, str]] = ()
) -> Calibration:
    """Update the losses of the scene's constructions by what was observed.

    **Validity**: any number of observations; the losses of constructions that no path crosses stay as
    they were. **Source**: `correct`; prior spreads of the fact tables.
    """
    kinds = scene.scene.kinds
    devices = sorted({o.device for o in observations if o.device})
    boxes = sorted({o.box for o in observations})
    names = (HOUSE, *(kind.name for kind in kinds), *map(_device_name, devices), *map(_box_name, boxes))
    prior = np.diag([1.0, *_kind_variances(kinds), *_offsets("device", devices), *_offsets("box", boxes)])
    design = np.array([_row(kinds, o, devices, boxes) for o in observations]).reshape(-1, len(names))
    difference = np.array([-o.difference_db for o in observations])  # of loss: more power is less loss
    noise = np.array([o.sd_db**2 + float(_own_variance(kinds, o.counts)) for o in observations])
    found = correct(names, prior, design, difference, noise)
    return Calibration(kinds, found, tuple(o.reading for o in observations), tuple(left_out))


def loading(kinds: Sequence[Kind], counts: NDArray[np.float32]) -> NDArray[np.float32]:
    """How strongly a path depends on the error that the whole house shares (*places) [dB]."""
    spreads = np.array([kind.sd_db for kind in kinds], dtype=np.float32)
    together = np.sqrt(radio_numbers()["crossing_correlation"])
    return np.asarray(together * np.tensordot(spreads, counts, axes=1), dtype=np.float32)


def _kind_variances(kinds: Sequence[Kind]) -> list[float]:
    alone = 1.0 - radio_numbers()["crossing_correlation"]
    shared = calibration_number("kind_shared")
    return [alone * shared * kind.sd_db**2 for kind in kinds]


def _own_variance(kinds: Sequence[Kind], counts: NDArray[np.float32]) -> NDArray[np.float32]:
    """What no parameter explains: what stands about the spot, and each crossing's own error (*places)."""
    alone = (1.0 - radio_numbers()["crossing_correlation"]) * (1.0 - calibration_number("kind_shared"))
    squares = np.array([alone * kind.sd_db**2 for kind in kinds], dtype=np.float32)
    own = np.float32(radio_numbers()["shadowing_sd"] ** 2)
    return np.asarray(own + np.tensordot(squares, counts, axes=1), dtype=np.float32)


def _offsets(what: str, names: Sequence[str]) -> list[float]:
    return [calibration_number(f"{what}_offset_sd") ** 2] * len(names)


def _row(kinds: Sequence[Kind], seen: Observation, devices: Sequence[str], boxes: Sequence[str]) -> Array:
    parts = [
        np.array([loading(kinds, seen.counts)]),
        seen.counts,
        np.array([float(seen.device == name) for name in devices]),
        np.array([float(seen.box == name) for name in boxes]),
    ]
    return np.concatenate([np.asarray(part, dtype=np.float64) for part in parts])


def _device_name(device: str) -> str:
    return f"device {device}"


def _box_name(box: str) -> str:
    return f"box {box}"


def corrected_air(
    job: Job,
    scene: HouseScene,
    radiator: Radiator,
    places: Grid | ArrayLike,
    listener: Listener,
    calibration: Calibration | None = None,
) -> tuple[Air, ...]:
    """The air of one box at every place, corrected by readings where there are any."""
    airs = air_of(scene, radiator, places, job.country, listener, dfs=job.choices.dfs)
    if calibration is None or not calibration.readings or not airs:
        return airs
    counts = crossing_counts(scene.scene, radiator.position_m, places)
    return tuple(calibration.apply(air, counts) for air in airs)


def calibration_of(job: Job, scene: HouseScene, radiators: Sequence[Radiator]) -> Calibration:
    """What the readings of a job taken before the work say of the boxes that stand."""
    before = [reading for reading in job.readings if reading.stage == "before"]
    return calibrate(scene, *observations(job, scene, radiators, before))
