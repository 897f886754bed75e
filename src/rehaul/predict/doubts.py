"""What may be wrong with a prediction, and how much each place depends on each of it.

The loss of a path is off by what all crossings of one house share, by each construction's own error,
by how fast power falls with distance in furnished rooms, by the offset of the device that reads and
of the radio that sends. What none of these explains stays with the place. What a box and a device deliver
of the radio's rate are doubts too, in logarithms, which only readings of Mb/s depend on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property, lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.arrays import Floats, Reals
from rehaul.facts.calibration import calibration_number
from rehaul.facts.guesses import prediction_bands
from rehaul.facts.radio_numbers import radio_numbers
from rehaul.facts.spectrum import BandGhz
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import (
    Cells,
    Grid,
    LayeredKind,
    Scene,
    crossing_counts,
    eased_counts,
    loss_table,
    shadowing_sd_db,
)
from rehaul.wlan import part_sd

HOUSE = "house"  # the error that all crossings of one house share
SPREADING = "spreading"  # loss beyond free space per decade of distance
FIXED = 2  # doubts before those of the kinds
SUREST_DB = 0.01  # no mean of houses is known better than that
ANY_BAND: BandGhz = "5"  # what boxes and devices deliver goes by no band


def level_name(band: str) -> str:
    """What the level of a band is called among the doubts.

    >>> level_name("5")
    'level at 5 GHz'
    """
    return f"level at {band} GHz"


@dataclass(frozen=True)
class Sender:
    """One radio that sends: a box in a band."""

    box: str
    band: str

    def __str__(self) -> str:
        return f"{self.box} at {self.band} GHz"


@dataclass(frozen=True, eq=False)
class Ways:
    """The straight ways from one transmitter to places, or from several, with what they cross."""

    points_m: Reals  # (k, 3)
    counts: Floats  # ([n,] kind, k) crossings
    felt: Floats  # ([n,] kind, k) how far the loss moves with that of one crossing of each kind
    decades: Floats  # ([n,] k) log10 of the distance in metres, 0 within one metre

    def at(self, places: NDArray[np.intp]) -> Ways:
        """The ways to some of the places, by their numbers (k,), in that order.

        The arrays are copies.
        """
        counts, felt, decades = (part[..., places] for part in (self.counts, self.felt, self.decades))
        return Ways(self.points_m[places], counts, felt, decades)


@dataclass(frozen=True, eq=False)
class Basis:
    """How the loss to each place depends on each doubt, and what no doubt explains.

    From one spot, or from n of them whose boxes are alike.
    """

    source: Sender
    points_m: Reals  # (k, 3)
    design: Floats  # ([n,] p, k)
    own_variance: Floats  # ([n,] k) dB²
    client: str = ""  # class of the device that listens
    box_variance: float = 0.0  # dB², of a box that nobody read: one and the same at all its places
    device_variance: float = 0.0  # dB², likewise of a device

    @property
    def level_variance(self) -> float:
        """What box and device that nobody read add everywhere [dB²]."""
        return self.box_variance + self.device_variance

    def level_shared(self, other: Basis) -> float:
        """What the levels of two bases have in common [dB²].

        The box's part where one box sends both, the device's where both are of one class. A box in two
        bands counts as two. 0 for levels that were read, as those are doubts. **Source**:
        docs/calibration.md, "What may be wrong".
        """
        box = min(self.box_variance, other.box_variance) if self.source == other.source else 0.0
        device = min(self.device_variance, other.device_variance) if self.client == other.client else 0.0
        return box + device

    def at(self, places: NDArray[np.intp]) -> Basis:
        """The same at some of the places, by their numbers (k,), in that order.

        Source, client and levels stay.
        """
        points, design = self.points_m[places], self.design[..., places]
        own = self.own_variance[..., places]
        return replace(self, points_m=points, design=design, own_variance=own)


@dataclass(frozen=True)
class Doubts:
    """The doubts of one house; their prior is normal about 0 with independent parts."""

    kinds: tuple[LayeredKind, ...]
    devices: tuple[tuple[str, str], ...] = ()  # (id, class of device)
    sources: tuple[Sender, ...] = ()
    learnt: tuple[
        tuple[str, float, float], ...
    ] = ()  # (doubt, shift [dB], standard deviation of the mean [dB])
    rate_boxes: tuple[str, ...] = ()  # whose rates were read
    rate_devices: tuple[tuple[str, str], ...] = ()  # (id, class) that read rates

    @property
    def spreading_sd_db(self) -> float:
        """Spread of the fall with distance [dB per decade]."""
        return radio_numbers()["spreading_sd"]

    @cached_property
    def levels(self) -> tuple[str, ...]:
        """Bands whose level was learnt; a level that was not is that of box and device."""
        names = {name for name, _, _ in self.learnt}
        return tuple(band for band in prediction_bands() if level_name(band) in names)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """What each doubt is called, (p,)."""
        devices = (f"device {name}" for name, _ in self.devices)
        kinds, levels = (kind.name for kind in self.kinds), map(level_name, self.levels)
        shares = (f"share of {name}" for name in (*self.rate_boxes, *(name for name, _ in self.rate_devices)))
        return HOUSE, SPREADING, *kinds, *devices, *map(str, self.sources), *levels, *shares

    def prior_variance(self) -> Reals:
        """Variance of each doubt before any reading of this house (p,), in the order of `names`.

        dB² of a unit of each; of the shares the square of their logarithm. A doubt that was learnt keeps
        what lies between houses, and how surely its mean is known. **Source**: the fact tables
        `calibration_numbers`, `radio_numbers` and `constructions`.
        """
        apart = (1.0 - radio_numbers()["crossing_correlation"]) * radio_numbers()["kind_shared"]
        variance = np.array(
            [
                1.0,
                self.spreading_sd_db**2,
                *(apart * kind.sd_db**2 for kind in self.kinds),
                *[calibration_number("device_offset_sd") ** 2] * len(self.devices),
                *[calibration_number("box_offset_sd") ** 2] * len(self.sources),
                *[0.0] * len(self.levels),
                *[part_sd(ANY_BAND, ("box",)) ** 2] * len(self.rate_boxes),
                *[part_sd(ANY_BAND, ("device",)) ** 2] * len(self.rate_devices),
            ]
        )
        names, between = self.names, calibration_number("between_houses")
        for name, _, sd_db in self.learnt:
            if name in names:
                row = names.index(name)
                variance[row] = between * variance[row] + max(sd_db, SUREST_DB) ** 2
        return variance

    def prior_mean(self) -> Reals:
        """Mean of each doubt as earlier houses have it (p,) [dB], in the order of `names`.

        0 where nothing was learnt. What was learnt of a doubt that this house does not have is left out.
        **Source**: docs/calibration.md, "Earlier houses".
        """
        names, mean = self.names, np.zeros(len(self.names))
        for name, shift_db, _ in self.learnt:
            if name in names:
                mean[names.index(name)] = shift_db
        return mean

    def share_row(self, box: str, client: str, device: str = "") -> Reals:
        """How the logarithm of a rate depends on the doubts of the shares (p,).

        `box` by id, `client` the class of the device, `device` as in `basis`. All 0 where neither was read;
        the mean of those of the class where no device is named. **Source**: docs/calibration.md, "The
        update": a rate says something of the power and of the share.
        """
        row = np.zeros(len(self.names))
        first = len(row) - len(self.rate_boxes) - len(self.rate_devices)
        if box in self.rate_boxes:
            row[first + self.rate_boxes.index(box)] = 1.0
        listening = _listening(self.rate_devices, client, device)
        for number in listening:
            row[first + len(self.rate_boxes) + number] = 1.0 / len(listening)
        return row

    def basis(
        self, ways: Ways, source: Sender, client: str, device: str = "", ln_per_db: float = 0.0
    ) -> Basis:
        """How places on these ways depend on the doubts when `source` sends and a device listens.

        `client` is the class of the device; `device` its id, empty for any of the household: then those
        of the class that were read stand for it, since what they read is their level in this house.
        `ln_per_db`, for readings of Mb/s: what a decibel does to the logarithm of the rate. **Source**:
        docs/calibration.md, "What may be wrong".
        """
        *spots, places = ways.decades.shape
        design = np.zeros((*spots, len(self.names), places), dtype=np.float32)
        design[..., 0, :] = self._shared @ ways.felt
        design[..., 1, :] = ways.decades
        design[..., FIXED : FIXED + len(self.kinds), :] = ways.felt
        first_device = FIXED + len(self.kinds)
        first_source = first_device + len(self.devices)
        listening = _listening(self.devices, client, device)
        for row in listening:
            design[..., first_device + row, :] = 1.0 / len(listening)
        first_level = first_source + len(self.sources)
        if source.band in self.levels:
            design[..., first_level + self.levels.index(source.band), :] = 1.0
        read = source in self.sources
        if read:
            design[..., first_source + self.sources.index(source), :] = 1.0
        if ln_per_db > 0:  # a share above the usual looks like less loss
            share = self.share_row(source.box, client, device) / -ln_per_db
            design += share.astype(np.float32)[:, None]
        return Basis(
            source,
            ways.points_m,
            design,
            self._own_variance(ways),
            client,
            0.0 if read else calibration_number("box_offset_sd") ** 2,
            unlike(len(listening)) * calibration_number("device_offset_sd") ** 2,
        )

    @cached_property
    def _shared(self) -> Floats:
        """How strongly one crossing of each kind depends on the error of the house (kind,) [dB]."""
        together = np.sqrt(radio_numbers()["crossing_correlation"])
        return np.array([together * kind.sd_db for kind in self.kinds], dtype=np.float32)

    def _own_variance(self, ways: Ways) -> Floats:
        """What stands about the spot, and each crossing's own error ([n,] k) [dB²]."""
        each = np.square(ways.felt)
        each /= np.maximum(ways.counts, np.float32(1))  # crossings of a kind err apart
        return np.asarray(shadowing_sd_db(ways.decades) ** 2 + self._apart @ each, dtype=np.float32)

    @cached_property
    def _apart(self) -> Floats:
        """Variance of one crossing of each kind that no other shares (kind,) [dB²]."""
        own = (1.0 - radio_numbers()["crossing_correlation"]) * (1.0 - radio_numbers()["kind_shared"])
        return np.array([own * kind.sd_db**2 for kind in self.kinds], dtype=np.float32)


def unlike(count: int) -> float:
    """Of the variance between devices, what is left where so many of a class were read and any is meant.

    1 where none was, 0 where one was, which then stands for all; towards 1 the more there are. **Source**:
    docs/calibration.md, "What may be wrong".

    >>> unlike(0), unlike(1), unlike(4)
    (1.0, 0.0, 0.75)
    """
    return 1.0 - 1.0 / count if count else 1.0


def _listening(devices: Sequence[tuple[str, str]], client: str, device: str) -> list[int]:
    """Numbers of the devices that are meant: the one by its id, or all of the class."""
    if device:
        return [number for number, known in enumerate(devices) if known == (device, client)]
    return [number for number, (_, known) in enumerate(devices) if known == client]


def points_of(places: Grid | Cells | ArrayLike) -> Reals:
    """Where the receivers of a Grid or of some Cells of one are, or points as they are, (k, 3) [m]."""
    return places.points_m() if isinstance(places, Grid | Cells) else np.asarray(places, dtype=np.float64)


def ways_to(
    scene: Scene,
    position_m: ArrayLike,
    places: Grid | Cells | ArrayLike,
    points: Reals | None = None,
) -> Ways:
    """The straight ways from a transmitter to a Grid, some Cells of one, or points (k, 3) [m].

    Parameters: `position_m` (3,), or (n, 3) of several; `points`, `points_of` the same places, where they are
    at hand already. Counts and what is felt are ([n,] kind, k), in the order of the scene's kinds.
    **Validity** and **Source**: as `radio.crossing_counts` and `radio.eased_counts`.
    """
    points = points_of(places) if points is None else points
    spots = np.array(position_m, dtype=np.float64)
    counts = crossing_counts(scene, spots, places).reshape(*spots.shape[:-1], len(scene.kinds), len(points))
    away = points - spots[..., None, :]
    distance_m = np.sqrt(np.einsum("...j,...j->...", away, away))
    felt = eased_counts(counts, *_eased_by(scene))
    return Ways(points, counts, felt, np.log10(np.maximum(distance_m, 1.0)).astype(np.float32))


@lru_cache(maxsize=16)
def _eased_by(scene: Scene) -> tuple[Floats, NDArray[np.bool_]]:
    """Loss of each kind straight through [dB], and which kinds are those of bodies, each (kind,)."""
    bodies = np.isin(np.arange(len(scene.kinds)), [body.kind for body in scene.bodies])
    return straight_db(scene.kinds), bodies


@cache
def straight_db(kinds: tuple[LayeredKind, ...]) -> Floats:
    """Loss of each kind straight through, mean in decibels over the bands (kind,) [dB].

    **Validity** and **Source**: as `radio.loss_table`, at the bands of `prediction_bands`.
    """
    bands = [spectrum_of(band) for band in prediction_bands()]
    rows = [np.mean([loss_table(kind.structure, band).loss_db[-1] for band in bands]) for kind in kinds]
    return np.array(rows, dtype=np.float32)


def doubts_of(
    kinds: Sequence[LayeredKind],
    devices: Sequence[tuple[str, str]],
    sources: Sequence[Sender],
    learnt: Sequence[tuple[str, float, float]] = (),
    rate_boxes: Sequence[str] = (),
    rate_devices: Sequence[tuple[str, str]] = (),
) -> Doubts:
    """Doubts for what was read: devices (id, class) and sources each once, in a fixed order.

    `learnt` rows are (doubt, shift [dB], standard deviation of the mean [dB]); `rate_boxes` and
    `rate_devices` those whose rates in Mb/s were read. Equal readings in any order give equal doubts.
    **Source**: docs/calibration.md, "What may be wrong".
    """
    known = tuple(sorted(set(devices))), tuple(sorted(set(sources), key=str))
    rates = tuple(sorted(set(rate_boxes))), tuple(sorted(set(rate_devices)))
    return Doubts(tuple(kinds), *known, tuple(learnt), *rates)
