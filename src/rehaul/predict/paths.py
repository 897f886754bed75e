"""What lies between spots and one set of places: worked out once, however many boxes may stand at a spot."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from typing import Any, TypeAlias, TypeVar

import numpy as np
from numpy.typing import ArrayLike

from rehaul.facts.radio_numbers import Mounting
from rehaul.facts.spectrum import BandGhz
from rehaul.predict.doubts import Ways, points_of, ways_to
from rehaul.predict.scene import HouseScene
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Cells, Field, Grid, Transmitter, fields

SpotXyz: TypeAlias = tuple[float, float, float]
Standing: TypeAlias = tuple[SpotXyz, Mounting, tuple[BandGhz, ...]]  # where, how, and the bands it sends in
TOGETHER = 8  # spots at once: their arrays stay near
T = TypeVar("T")
Key = TypeVar("Key", bound=Hashable)


class Paths:
    """Gains and crossings from many spots to k places of a map, as the map has them."""

    def __init__(self, scene: HouseScene, places: Grid | Cells | ArrayLike) -> None:
        self.places = places
        self._scene = scene
        self._points_m = points_of(places)
        self._fields: dict[Standing, Field] = {}
        self._ways: dict[SpotXyz, tuple[Ways, int]] = {}  # those of several spots, and which
        self._else: dict[Hashable, Any] = {}

    def fields(self, asked: Iterable[Standing]) -> dict[Standing, Field]:
        """The fields of transmitters of 0 dBm, each in its bands (band, k).

        The spread of each is that of its bands together. Worked out once for each position, mounting and
        choice of bands. **Validity** and **Source**: as `radio.field` at the direct level.
        """
        wanted = dict.fromkeys(asked)
        fresh = [standing for standing in wanted if standing not in self._fields]
        for bands in dict.fromkeys(bands for *_, bands in fresh):
            spectra = [spectrum_of(band) for band in bands]
            for some in _few([standing for standing in fresh if standing[2] == bands]):
                senders = [Transmitter(spot, eirp_dbm=0.0, mounting=pattern) for spot, pattern, _ in some]
                found = fields(self._scene.scene, senders, self.places, spectra)
                self._fields.update(zip(some, found, strict=True))
        return {standing: self._fields[standing] for standing in wanted}

    def ways(self, spots: Sequence[SpotXyz]) -> Ways:
        """The straight ways from several spots [m] to the k places, worked out once for each spot.

        Arrays begin with an axis of the spots. They do not depend on band or mounting.
        """
        fresh = [spot for spot in dict.fromkeys(spots) if spot not in self._ways]
        if fresh:
            found = ways_to(self._scene.scene, fresh, self.places, self._points_m)
            self._ways.update((spot, (found, row)) for row, spot in enumerate(fresh))
            if fresh == list(spots):
                return found
        kept = [self._ways[spot] for spot in spots]
        counts, felt, decades = (
            np.stack([getattr(ways, name)[row] for ways, row in kept])
            for name in ("counts", "felt", "decades")
        )
        return Ways(self._points_m, counts, felt, decades)

    def each(
        self, spots: Iterable[SpotXyz], key: Hashable, make: Callable[[Ways], Sequence[T]]
    ) -> dict[SpotXyz, T]:
        """What follows from the ways from each spot, worked out once for each under a key.

        `make` is given the ways from those that are new, a few at once, and says it of each in their order.
        """
        wanted = dict.fromkeys(spots)
        for some in _few([spot for spot in wanted if (spot, key) not in self._else]):
            found = make(self.ways(some))
            self._else.update(((spot, key), one) for spot, one in zip(some, found, strict=True))
        return {spot: self._else[spot, key] for spot in wanted}

    def once(self, key: Hashable, make: Callable[[], T]) -> T:
        """What else follows from these ways, worked out once under its key."""
        if key not in self._else:
            self._else[key] = make()
        found: T = self._else[key]
        return found


def _few(asked: Sequence[Key]) -> list[list[Key]]:
    return [list(asked[first : first + TOGETHER]) for first in range(0, len(asked), TOGETHER)]
