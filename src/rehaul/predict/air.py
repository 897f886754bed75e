"""What the air carries from each radiating box to each place, before the wires are counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.arrays import Floats
from rehaul.facts.calibration import calibration_number, measured_level_db
from rehaul.facts.spectrum import BandGhz
from rehaul.facts.wlan_equipment import client_radios
from rehaul.predict.correction import tail
from rehaul.predict.paths import Paths
from rehaul.predict.radiators import Radiator, bands_of, client_eirp_dbm, eirp_dbm
from rehaul.predict.scene import HouseScene
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Cells, Field, Grid, Holding, Level, Transmitter, downlink_dbm, field
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
) -> tuple[Air, ...]:
    """One `Air` per band that both the box and the device have; one pass of geometry for all bands."""
    tuned = _tuned(radiator, listener.client, country, dfs)
    if not tuned:
        return ()
    sender = Transmitter(radiator.position_m, eirp_dbm=0.0, mounting=radiator.pattern)
    found = field(scene.scene, sender, places, [spectrum_of(one.band) for one in tuned], level)
    return _airs(radiator, tuned, listener, found.gain_db, _spreads_db(found))


def airs_of_each(
    radiators: Sequence[Radiator],
    country: str,
    listener: Listener = DEFAULT_LISTENER,
    *,
    dfs: bool = False,
    paths: Paths,
) -> tuple[tuple[Air, ...], ...]:
    """The airs of several boxes at the places of `paths`, in their order, as `air_of` at the direct level.

    What boxes at a spot share is worked out once, and together with that of the other spots.
    """
    tuned = [_tuned(radiator, listener.client, country, dfs) for radiator in radiators]
    spots = [
        (radiator.position_m, radiator.pattern, tuple(one.band for one in radios))
        for radiator, radios in zip(radiators, tuned, strict=True)
    ]
    fields = paths.fields([spot for spot in spots if spot[2]])
    airs: list[tuple[Air, ...]] = []
    for radiator, radios, spot in zip(radiators, tuned, spots, strict=True):
        if not radios:
            airs.append(())
            continue
        found = fields[spot]
        spreads_db = paths.once(("spread", spot), partial(_spreads_db, found))
        airs.append(_airs(radiator, radios, listener, found.gain_db, spreads_db))
    return tuple(airs)


class _Tuned(NamedTuple):
    """A radio of a box together with that of a device."""

    band: BandGhz
    link: RadioLink
    sent_dbm: float  # by the box


def _airs(
    radiator: Radiator,
    tuned: tuple[_Tuned, ...],
    listener: Listener,
    gain_db: Floats,
    sd_db: Sequence[Floats],
) -> tuple[Air, ...]:
    """One air per radio, from gains and spreads (band, *places) in their order."""
    return tuple(
        Air(
            radiator,
            one.band,
            one.link,
            gain_db[row] + np.float32(_level_dbm(one, listener)),
            sd_db[row],
            listener.client,
            usual_share(one.band),
        )
        for row, one in enumerate(tuned)
    )


def _level_dbm(tuned: _Tuned, listener: Listener) -> float:
    """Power at the device over a path of no loss."""
    antenna_dbi = client_radios()[listener.client, tuned.band].antenna_dbi
    sent_dbm = tuned.sent_dbm + measured_level_db(tuned.band)
    return float(downlink_dbm(sent_dbm, antenna_dbi, listener.holding))


def _spreads_db(found: Field) -> tuple[Floats, ...]:
    """Spread of the power in each band (*places,): of the path, and of a box and a device not read."""
    wider, level_db = np.float32(tail(0)), np.float32(level_sd_db())
    if not found.sd_db.strides[0]:  # one for all bands
        return (wider * np.hypot(found.sd_db[0], level_db),) * len(found.bands)
    return tuple(wider * np.hypot(sd_db, level_db) for sd_db in found.sd_db)


def level_sd_db() -> float:
    """How far the level of one box and one device, neither of them read, may lie off [dB].

    **Source**: `box_offset_sd` and `device_offset_sd` of the fact table `calibration_numbers`, as
    independent.

    >>> round(level_sd_db(), 2)
    4.47
    """
    return float(np.hypot(calibration_number("box_offset_sd"), calibration_number("device_offset_sd")))


def _tuned(radiator: Radiator, client: str, country: str, dfs: bool) -> tuple[_Tuned, ...]:
    return _tuned_of(radiator.equipment, radiator.widths_mhz, client, country, dfs)


@lru_cache(maxsize=512)  # a choice asks for a handful, each of many boxes
def _tuned_of(
    equipment: str, widths_mhz: tuple[tuple[BandGhz, int], ...], client: str, country: str, dfs: bool
) -> tuple[_Tuned, ...]:
    """Box and device together in every band that both have, the device held to the country's limit."""
    found: list[_Tuned] = []
    for band in bands_of(equipment):
        sent_dbm, width_mhz = eirp_dbm(equipment, band, country, dfs=dfs), dict(widths_mhz).get(band)
        link = link_between(equipment, client, band, width_mhz=width_mhz, eirp_dbm=sent_dbm)
        if link is None:
            continue
        allowed_dbm = client_eirp_dbm(client, band, country, link.width_mhz, dfs=dfs)
        link = link_between(
            equipment, client, band, width_mhz=width_mhz, eirp_dbm=sent_dbm, client_eirp_dbm=allowed_dbm
        )
        if link is not None:
            found.append(_Tuned(band, link, sent_dbm))
    return tuple(found)


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
