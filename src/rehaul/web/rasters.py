"""A field as bytes: a small header in JSON, then float32 rows, ready for a typed array."""

from __future__ import annotations

import struct
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rehaul.errors import BadInput
from rehaul.predict.moving import RoomNow
from rehaul.web.answers import compact
from rehaul.words import say

# Rates by the name that pages use, with the field of `StoreyMap` that holds them.
RATES = {
    "down_mbps": "rate_mbps",
    "low_mbps": "low_mbps",
    "high_mbps": "high_mbps",
    "up_mbps": "rate_up_mbps",
    "up_low_mbps": "low_up_mbps",
    "up_high_mbps": "high_up_mbps",
}
QUANTITIES = (*RATES, "power_dbm", "power_sd_db")


@dataclass(frozen=True, eq=False)
class StoreyMaps:
    """The maps of one storey."""

    storey: str  # id
    x0_m: float  # centre of the first cell
    y0_m: float
    step_m: float
    z_m: float
    rates: Mapping[str, NDArray[np.float32]]  # by quantity: (y, x), NaN outside the house
    power_dbm: NDArray[np.float32]  # (band, y, x) strongest source in each band
    power_sd_db: NDArray[np.float32]  # (band, y, x)


@dataclass(frozen=True, eq=False)
class Maps:
    """The maps of a house, before or after the work."""

    bands: tuple[str, ...]
    storeys: tuple[StoreyMaps, ...]


@dataclass(frozen=True, eq=False)
class Raster:
    """One quantity over one storey."""

    storey: str
    quantity: str
    band: str | None
    x0_m: float  # centre of the first cell
    y0_m: float
    step_m: float
    z_m: float
    values: NDArray[np.float32]  # (y, x), NaN outside the house
    rooms: tuple[RoomNow, ...] = ()  # what they get: down, or up where the map is of that

    def framed(self, **more: object) -> bytes:
        """Length of the header, header, raster; the raster starts on a multiple of 4."""
        header = compact({**more, **self._header()}).encode()
        header += b" " * (-len(header) % 4)
        return struct.pack("<I", len(header)) + header + self.values.astype("<f4").tobytes()

    def shows_as(self, other: Raster) -> bool:
        """Whether both look alike: the same quantity at the same places, to the last bit."""
        if self is other:
            return True
        return self._header() == other._header() and self.values.tobytes() == other.values.tobytes()

    def _header(self) -> dict[str, object]:
        rows, cols = self.values.shape
        return {
            "storey": self.storey,
            "quantity": self.quantity,
            "band": self.band,
            "rows": rows,
            "cols": cols,
            "x0_m": self.x0_m,
            "y0_m": self.y0_m,
            "step_m": self.step_m,
            "z_m": self.z_m,
            "rooms": {room.room: room[1:] for room in self.rooms},
        }


def map_raster(maps: Maps, storey: str, quantity: str, band: str | None) -> Raster:
    """One of the maps. Raises BadInput for a storey, quantity or band that they do not have."""
    found = next((row for row in maps.storeys if row.storey == storey), None)
    if found is None:
        raise BadInput(
            say("refused_web.no_map_storey", storey=storey[:32]),
            where="storey",
            remedy=say("refused_common.name_one_that_stands"),
        )
    if quantity in found.rates:
        values = found.rates[quantity]
    else:
        values = _power(maps, found, quantity, band)
        values = np.where(np.isnan(found.rates["down_mbps"]), np.float32(np.nan), values)
    return Raster(storey, quantity, band, found.x0_m, found.y0_m, found.step_m, found.z_m, values)


def _power(maps: Maps, found: StoreyMaps, quantity: str, band: str | None) -> NDArray[np.float32]:
    """Power or its spread, (y, x), in one band or in the strongest."""
    if quantity not in QUANTITIES:
        raise BadInput(
            say("refused_web.not_quantity_map"),
            where="quantity",
            remedy=say("refused_common.give_one_of", names=QUANTITIES),
        )
    wanted = found.power_dbm if quantity == "power_dbm" else found.power_sd_db
    if band is None:
        strongest = found.power_dbm.argmax(axis=0)
        return np.asarray(np.take_along_axis(wanted, strongest[None], axis=0)[0])
    if band not in maps.bands:
        raise BadInput(
            say("refused_web.not_band_map"),
            where="band",
            remedy=say("refused_common.give_one_of", names=maps.bands),
        )
    return np.asarray(wanted[maps.bands.index(band)])
