"""What may be wrong with a prediction, and how much each place depends on each of it.

The loss of a path is off by what all crossings of one house share, by each construction's own error,
by how fast power falls with distance in furnished rooms, by the offset of the device that reads and
of the radio that sends. What none of these explains stays with the place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.facts.calibration import calibration_number
from rehaul.facts.radio_numbers import radio_numbers
from rehaul.radio import Grid, Kind, Scene
from rehaul.radio.counts import crossing_counts

Array = NDArray[np.float64]
Floats = NDArray[np.float32]

HOUSE = "house"  # the error that all crossings of one house share
SPREADING = "spreading"  # loss beyond free space per decade of distance
FIXED = 2  # terms before those of the kinds


@dataclass(frozen=True)
class Source:
    """One radio that sends: a box in a band."""

    box: str
    band: str

    def __str__(self) -> str:
        return f"{self.box} at {self.band} GHz"


@dataclass(frozen=True, eq=False)
class Ways:
    """The straight ways from one transmitter to places, with what they cross."""

    points_m: Array  # (k, 3)
    counts: Floats  # (kind, k)
    decades: Floats  # (k,) log10 of the distance in metres, 0 within one metre


@dataclass(frozen=True, eq=False)
class Basis:
    """How the loss to each place depends on each term, and what no term explains."""

    source: Source
    points_m: Array  # (k, 3)
    design: Floats  # (p, k)
    own_variance: Floats  # (k,) dB²

    def at(self, places: NDArray[np.intp]) -> Basis:
        """The same at some of the places."""
        return Basis(self.source, self.points_m[places], self.design[:, places], self.own_variance[places])


@dataclass(frozen=True)
class Terms:
    """The terms of one house; their prior is normal about 0 with independent parts."""

    kinds: tuple[Kind, ...]
    devices: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """What each term is called, (p,)."""
        devices = (f"device {name}" for name in self.devices)
        return HOUSE, SPREADING, *(kind.name for kind in self.kinds), *devices, *map(str, self.sources)

    def prior_variance(self) -> Array:
        """(p,) dB² of a unit of each term."""
        apart = (1.0 - radio_numbers()["crossing_correlation"]) * calibration_number("kind_shared")
        return np.array(
            [
                1.0,
                calibration_number("spreading_sd") ** 2,
                *(apart * kind.sd_db**2 for kind in self.kinds),
                *[calibration_number("device_offset_sd") ** 2] * len(self.devices),
                *[calibration_number("box_offset_sd") ** 2] * len(self.sources),
            ]
        )

    def basis(self, ways: Ways, source: Source, device: str = "") -> Basis:
        """How places on these ways depend on the terms when `source` sends and `device` listens."""
        design = np.zeros((len(self.names), len(ways.decades)), dtype=np.float32)
        design[0] = self._shared() @ ways.counts
        design[1] = ways.decades
        design[FIXED : FIXED + len(self.kinds)] = ways.counts
        after = FIXED + len(self.kinds)
        for row, known in enumerate((*self.devices, *self.sources), after):
            if known in (device, source):
                design[row] = 1.0
        return Basis(source, ways.points_m, design, self._own_variance(ways.counts))

    def _shared(self) -> Floats:
        """How strongly one crossing of each kind depends on the error of the house (kind,) [dB]."""
        together = np.sqrt(radio_numbers()["crossing_correlation"])
        return np.array([together * kind.sd_db for kind in self.kinds], dtype=np.float32)

    def _own_variance(self, counts: Floats) -> Floats:
        """What stands about the spot, and each crossing's own error (k,) [dB²]."""
        own = (1.0 - radio_numbers()["crossing_correlation"]) * (1.0 - calibration_number("kind_shared"))
        squares = np.array([own * kind.sd_db**2 for kind in self.kinds], dtype=np.float32)
        return np.asarray(np.float32(radio_numbers()["shadowing_sd"] ** 2) + squares @ counts)


def ways_to(scene: Scene, position_m: tuple[float, float, float], places: Grid | ArrayLike) -> Ways:
    """The straight ways from a transmitter to a Grid or points (k, 3) [m]; once per box and house."""
    points = places.points_m() if isinstance(places, Grid) else np.asarray(places, dtype=np.float64)
    counts = crossing_counts(scene, position_m, places).reshape(len(scene.kinds), -1)
    distance_m = np.linalg.norm(points - np.array(position_m), axis=1)
    return Ways(points, counts, np.log10(np.maximum(distance_m, 1.0)).astype(np.float32))


def terms_of(kinds: Sequence[Kind], devices: Sequence[str], sources: Sequence[Source]) -> Terms:
    """Terms for what was read: devices and sources each once, in a fixed order."""
    known = sorted({device for device in devices if device})
    return Terms(tuple(kinds), tuple(known), tuple(sorted(set(sources), key=str)))
