"""What the air carries from each radiating box to each place, before the wires are counted."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.arrays import Floats
from rehaul.facts.calibration import calibration_number, measured_level_db
from rehaul.facts.spectrum import BandGhz
from rehaul.facts.wlan_equipment import client_radios
from rehaul.predict.correction import tail
from rehaul.predict.paths import Paths
from rehaul.predict.radiators import Radiator, client_eirp_dbm, eirp_dbm
from rehaul.predict.scene import HouseScene
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Cells, Grid, Holding, Level, Transmitter, downlink_dbm, field
from rehaul.wlan import (
    WHOLE,
    Asks,
    RadioLink,
    ShareSpread,
    after_hop_mbps,
    before_hop_mbps,
    chance_of_asks,
    goodput_range,
    link_between,
    usual_share,
)

DEFAULT_CLIENT = "phone"
NOTHING_DBM = -200.0


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
    band: BandGhz
    link: RadioLink
    power_dbm: Floats  # (*places,) at the device, median
    sd_db: Floats  # (*places,)
    client: str = DEFAULT_CLIENT  # class of the device
    delivered: ShareSpread = WHOLE  # share of the ladder's rate that arrives

    def at(self, places: NDArray[np.intp]) -> Air:
        """The same air at some of its places, by their flat indices (k,); what comes back is of shape (k,).

        Box, band, link and delivered share stay.
        """
        power_dbm, sd_db = self.power_dbm.ravel()[places], self.sd_db.ravel()[places]
        return Air(self.radiator, self.band, self.link, power_dbm, sd_db, self.client, self.delivered)

    @property
    def up_power_dbm(self) -> Floats:
        """Power at the box from the device, (*places,): the path and both antennas serve both ways alike."""
        return self.power_dbm - np.float32(self.link.up_lag_db)

    def range_mbps(self) -> tuple[Floats, Floats, Floats]:
        """Low, median and high goodput to the device: a 90 % interval, each (*places,) [Mb/s].

        Over the air alone: see `through_mbps` for the wires. 0 where nothing is heard. **Validity** and
        **Source**: as `wlan.goodput_range`.
        """
        return goodput_range(self.power_dbm, self.sd_db, self.link, delivered=self.delivered)

    def up_range_mbps(self) -> tuple[Floats, Floats, Floats]:
        """Low, median and high goodput from the device: a 90 % interval, each (*places,).

        **Validity**: one device sends, and picks its own mode; not modelled: sending at the box's word
        (triggered access), receive chains of the box beyond the device's streams, a device that sends
        more softly in the fastest modes. **Source**: reciprocity of a passive path; as `goodput_range`.
        """
        return goodput_range(
            self.up_power_dbm, self.sd_db, self.link, direction="up", delivered=self.delivered
        )

    def chance_of(self, rate_mbps: float, *, up: bool = False) -> Floats:
        """Chance that the air carries a rate [Mb/s] to the device, or from it where `up`, (*places,).

        **Validity** and **Source**: as `wlan.chance_of_asks`.
        """
        return self.chance_both(*((0.0, rate_mbps) if up else (rate_mbps, 0.0)))

    def chance_both(self, down_mbps: float, up_mbps: float) -> Floats:
        """Chance that the air carries one rate to the device and the other from it, (*places,), both [Mb/s].

        Both ways at once: not the product of two chances, since one power decides both. **Validity** and
        **Source**: as `wlan.chance_of_asks`.
        """
        return chance_of_asks(
            Asks(down_mbps, up_mbps), self.power_dbm, self.sd_db, self.link, delivered=self.delivered
        )


def air_of(
    scene: HouseScene,
    radiator: Radiator,
    places: Grid | Cells | ArrayLike,
    country: str,
    listener: Listener = DEFAULT_LISTENER,
    *,
    dfs: bool = False,
    level: Level = "direct",
    paths: Paths | None = None,
) -> tuple[Air, ...]:
    """One `Air` per band that both the box and the device have; one pass of geometry for all bands.

    `paths` to the same places, where several boxes may stand at a spot: they spare the pass.
    """
    links: list[tuple[BandGhz, RadioLink]] = []
    powers_dbm: list[float] = []
    for band in radiator.bands():
        sent_dbm = eirp_dbm(radiator.equipment, band, country, dfs=dfs)
        link = _link(radiator, listener.client, band, sent_dbm, country, dfs)
        if link is not None:
            links.append((band, link))
            powers_dbm.append(sent_dbm)
    if not links:
        return ()
    bands = [band for band, _ in links]
    if paths is not None:
        found = replace(
            paths.field(radiator.position_m, radiator.pattern, bands), eirp_dbm=np.array(powers_dbm)
        )
    else:
        transmitter = Transmitter(radiator.position_m, eirp_dbm=tuple(powers_dbm), mounting=radiator.pattern)
        found = field(scene.scene, transmitter, places, [spectrum_of(band) for band in bands], level)
    power_dbm = found.power_dbm

    def spread_db() -> tuple[Floats, ...]:
        wider, level_db = np.float32(tail(0)), np.float32(level_sd_db())
        return tuple(wider * np.hypot(found.sd_db[index], level_db) for index in range(len(links)))

    if paths is None:
        sd_db = spread_db()
    else:  # one for all boxes at a spot
        sd_db = paths.once(("spread", radiator.position_m, radiator.pattern, tuple(bands)), spread_db)
    return tuple(
        Air(
            radiator,
            band,
            link,
            np.asarray(
                downlink_dbm(
                    power_dbm[index] + np.float32(measured_level_db(band)),
                    client_radios()[listener.client, band].antenna_dbi,
                    listener.holding,
                ),
                dtype=np.float32,
            ),
            sd_db[index],
            listener.client,
            usual_share(band),
        )
        for index, (band, link) in enumerate(links)
    )


def level_sd_db() -> float:
    """How far the level of one box and one device, neither of them read, may lie off [dB].

    **Source**: `box_offset_sd` and `device_offset_sd` of the fact table `calibration_numbers`, as
    independent.

    >>> round(level_sd_db(), 2)
    4.47
    """
    return float(np.hypot(calibration_number("box_offset_sd"), calibration_number("device_offset_sd")))


def _link(
    radiator: Radiator, client: str, band: BandGhz, sent_dbm: float, country: str, dfs: bool
) -> RadioLink | None:
    width_mhz = dict(radiator.widths_mhz).get(band)
    return _link_of(radiator.equipment, width_mhz, client, band, sent_dbm, country, dfs)


@lru_cache(maxsize=512)  # a choice asks for a handful of links, each of many boxes
def _link_of(
    equipment: str,
    width_mhz: int | None,
    client: str,
    band: BandGhz,
    sent_dbm: float,
    country: str,
    dfs: bool,
) -> RadioLink | None:
    """Box and device together, the device held to the country's limit at the width they share."""
    link = link_between(equipment, client, band, width_mhz=width_mhz, eirp_dbm=sent_dbm)
    if link is None:
        return None
    allowed_dbm = client_eirp_dbm(client, band, country, link.width_mhz, dfs=dfs)
    return link_between(
        equipment, client, band, width_mhz=width_mhz, eirp_dbm=sent_dbm, client_eirp_dbm=allowed_dbm
    )


def wire_mbps(radiator: Radiator, *, up: bool = False) -> float:
    """What the links up to a box carry to it, or from it where `up`: the narrowest of them [Mb/s].

    Infinite for a box of which no links are known. A wireless hop on its own channel is not among them: see
    `through_mbps`. **Source**: docs/wlan.md, "The chain".
    """
    return min((link.rate_up_mbps if up else link.rate_mbps for link in radiator.wire), default=float("inf"))


def through_mbps(radiator: Radiator, air_mbps: Floats, *, up: bool = False) -> Floats:
    """What is left of a rate on the air once the box's hop and its wires have carried it.

    Of the shape of `air_mbps`, all in Mb/s. A hop on the same channel shares the air with the device.
    **Source**: `wlan.after_hop_mbps`.
    """
    limit = np.float32(wire_mbps(radiator, up=up))
    return np.asarray(np.minimum(after_hop_mbps(air_mbps, radiator.hop_mbps), limit), dtype=np.float32)


def air_wanted_mbps(radiator: Radiator, rate_mbps: float, *, up: bool = False) -> float:
    """What the air must carry for a rate to come through a box [Mb/s].

    Infinite where its wires or its hop carry less: then no air is good enough. The inverse of
    `through_mbps`. **Source**: docs/wlan.md, "The chain".
    """
    if wire_mbps(radiator, up=up) < rate_mbps:
        return float("inf")
    return before_hop_mbps(rate_mbps, radiator.hop_mbps)
