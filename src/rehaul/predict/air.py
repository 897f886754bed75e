"""What the air carries from each radiating box to each place, before the wires are counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.facts.guesses import prediction_bands
from rehaul.facts.spectrum import Band
from rehaul.facts.wlan_equipment import client_radios
from rehaul.predict.radiators import Radiator, eirp_dbm
from rehaul.predict.scene import HouseScene
from rehaul.radio import Band as Spectrum
from rehaul.radio import Grid, Holding, Level, Transmitter, downlink_dbm, field
from rehaul.wlan import Link, goodput_range, link_between, probability_of

DEFAULT_CLIENT = "phone"
NOTHING_DBM = -200.0

Floats = NDArray[np.float32]


@dataclass(frozen=True)
class Listener:
    """A device that listens, and how it is held."""

    client: str = DEFAULT_CLIENT
    holding: Holding = "hand"


DEFAULT_LISTENER = Listener()


@dataclass(frozen=True, eq=False)
class Air:
    """Power and rate at every place from each box in one band; the shape of places is the field's."""

    radiator: Radiator
    band: Band
    link: Link
    power_dbm: Floats  # (*places,) at the device, median
    sd_db: Floats  # (*places,)

    def at(self, places: NDArray[np.intp]) -> Air:
        """The same air at some of its places (flat indices)."""
        return replace(self, power_dbm=self.power_dbm.ravel()[places], sd_db=self.sd_db.ravel()[places])

    def range_mbps(self) -> tuple[Floats, Floats, Floats]:
        """Low, median and high goodput: a 90 % interval, each (*places,)."""
        return goodput_range(self.power_dbm, self.sd_db, self.link)

    def chance_of(self, rate_mbps: float) -> Floats:
        """Chance that the air carries the rate, (*places,)."""
        return np.asarray(probability_of(rate_mbps, self.power_dbm, self.sd_db, self.link), dtype=np.float32)


def spectrum_of(band: Band) -> Spectrum:
    """The stretch of spectrum that stands for a band before channels are chosen."""
    row = prediction_bands()[band]
    return Spectrum(row.centre_mhz * 1e6, row.width_mhz * 1e6)


def air_of(
    scene: HouseScene,
    radiator: Radiator,
    places: Grid | ArrayLike,
    country: str,
    listener: Listener = DEFAULT_LISTENER,
    *,
    dfs: bool = False,
    level: Level = "direct",
) -> tuple[Air, ...]:
    """One `Air` per band that both the box and the device have; one pass of geometry for all bands."""
    links: list[tuple[Band, Link]] = []
    powers_dbm: list[float] = []
    widths = dict(radiator.widths_mhz)
    for band in radiator.bands():
        sent_dbm = eirp_dbm(radiator.equipment, band, country, dfs=dfs)
        link = link_between(
            radiator.equipment, listener.client, band, width_mhz=widths.get(band), eirp_dbm=sent_dbm
        )
        if link is not None:
            links.append((band, link))
            powers_dbm.append(sent_dbm)
    if not links:
        return ()
    transmitter = Transmitter(radiator.position_m, eirp_dbm=tuple(powers_dbm), mounting=radiator.pattern)
    found = field(scene.scene, transmitter, places, [spectrum_of(band) for band, _ in links], level)
    return tuple(
        Air(
            radiator,
            band,
            link,
            np.asarray(
                downlink_dbm(
                    found.power_dbm[index],
                    client_radios()[listener.client, band].antenna_dbi,
                    listener.holding,
                ),
                dtype=np.float32,
            ),
            np.asarray(found.sd_db[index], dtype=np.float32),
        )
        for index, (band, link) in enumerate(links)
    )


def wire_mbps(radiator: Radiator) -> float:
    """What the links up to a box carry: the narrowest of them."""
    return min((link.rate_mbps for link in radiator.wire), default=float("inf"))


def best_chance(airs: Sequence[Air], rate_mbps: float) -> Floats:
    """Chance that the best box and band at each place carries the rate through its wires, (*places,)."""
    chances = [
        air.chance_of(rate_mbps) if wire_mbps(air.radiator) >= rate_mbps else np.zeros_like(air.power_dbm)
        for air in airs
    ]
    return np.asarray(np.max(chances, axis=0), dtype=np.float32)
