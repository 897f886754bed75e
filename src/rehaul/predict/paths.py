"""What lies between spots and one set of places: worked out once, however many boxes may stand at a spot."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import Any, TypeVar

from numpy.typing import ArrayLike

from rehaul.facts.radio_numbers import Mounting
from rehaul.facts.spectrum import BandGhz
from rehaul.predict.doubts import Ways, points_of, ways_to
from rehaul.predict.scene import HouseScene
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Cells, Field, Grid, Transmitter, field

SpotXyz = tuple[float, float, float]
T = TypeVar("T")


class Paths:
    """Gains and crossings from one spot after another to k places of a map, as the map has them."""

    def __init__(self, scene: HouseScene, places: Grid | Cells | ArrayLike) -> None:
        self.places = places
        self._scene = scene
        self._points_m = points_of(places)
        self._fields: dict[tuple[SpotXyz, Mounting, tuple[BandGhz, ...]], Field] = {}
        self._ways: dict[SpotXyz, Ways] = {}
        self._else: dict[Hashable, Any] = {}

    def field(self, position_m: SpotXyz, pattern: Mounting, bands: Sequence[BandGhz]) -> Field:
        """The field in these bands of a transmitter of 0 dBm at a position [m], (band, k).

        Its spread is that of these bands together. Worked out once for each position, mounting and choice
        of bands. **Validity** and **Source**: as `radio.field` at the direct level.
        """
        key = position_m, pattern, tuple(bands)
        if key not in self._fields:
            sender = Transmitter(position_m, eirp_dbm=0.0, mounting=pattern)
            spectra = [spectrum_of(band) for band in bands]
            self._fields[key] = field(self._scene.scene, sender, self.places, spectra)
        return self._fields[key]

    def ways(self, position_m: SpotXyz) -> Ways:
        """The straight ways from a position [m] to the k places, worked out once for each.

        They do not depend on band or mounting.
        """
        if position_m not in self._ways:
            self._ways[position_m] = ways_to(self._scene.scene, position_m, self.places, self._points_m)
        return self._ways[position_m]

    def once(self, key: Hashable, make: Callable[[], T]) -> T:
        """What else follows from these ways, worked out once under its key."""
        if key not in self._else:
            self._else[key] = make()
        found: T = self._else[key]
        return found
