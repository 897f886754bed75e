"""Boxes that radiate, with what feeds them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rehaul.facts.radio_numbers import Mounting
from rehaul.facts.spectrum import BandGhz
from rehaul.facts.wlan_equipment import access_point_radios, client_radios
from rehaul.house import Box, Job
from rehaul.house.geometry import storey_of
from rehaul.network.standing import feed_of
from rehaul.predict.results import LinkRate
from rehaul.same import hashed_once
from rehaul.wlan import BANDS, emitted_dbm, ethernet_tcp_mbps, lawful_channels
from rehaul.words import say, term


@hashed_once
@dataclass(frozen=True)
class Radiator:
    """One radiating box: where it is, what it is, and the links from the internet up to it."""

    id: str
    name: str
    equipment: str  # class of the fact table
    position_m: tuple[float, float, float]
    mounting: Literal["ceiling", "wall", "desk"] = "desk"
    wire: tuple[LinkRate, ...] = ()
    widths_mhz: tuple[tuple[BandGhz, int], ...] = ()  # as set; a band that is not named is at its widest
    air_left: tuple[tuple[BandGhz, float], ...] = ()  # what neighbours leave on the channel, 0 to 1; as set
    hop_mbps: float = 0.0  # payload of the wireless hop that feeds it on its own channel; 0: none

    @property
    def pattern(self) -> Mounting:
        """A wall mounting without a known heading counts as one that radiates evenly."""
        return "isotropic" if self.mounting == "wall" else self.mounting

    def bands(self) -> tuple[BandGhz, ...]:
        """Bands that the box's class has a radio for, lowest first.

        Empty for a class that the table does not hold. **Source**: the fact table `access_point_radios`.
        """
        return bands_of(self.equipment)


def bands_of(equipment: str) -> tuple[BandGhz, ...]:
    """Bands that a class of box has a radio for, lowest first; as `Radiator.bands`."""
    return tuple(band for band in BANDS if (equipment, band) in access_point_radios())


def eirp_dbm(equipment: str, band: BandGhz, country: str, *, dfs: bool = False) -> float:
    """Power of a class of box in its strongest direction, within the country's limit [dBm].

    The highest limit of any lawful channel of the band counts; with `dfs` those that must listen for radar
    too. -200 where no channel is lawful. Raises KeyError for a class without a radio in the band, BadInput
    for a country without rules. **Source**: the fact tables `access_point_radios`, `spectrum_rules` and
    `indoor_power_limits`.
    """
    radio = access_point_radios()[equipment, band]
    limits = [channel.power_dbm for channel in lawful_channels(country, band, dfs=dfs)]
    own_dbm = radio.conducted_dbm + radio.antenna_dbi
    return min(own_dbm, max(limits)) if limits else -200.0


def client_eirp_dbm(client: str, band: BandGhz, country: str, width_mhz: int, *, dfs: bool = False) -> float:
    """Power of a device in its strongest direction, within the country's limit for devices [dBm].

    **Validity**: the channel is not chosen yet, so that of the kindest limit counts.
    **Source**: the tables of radio classes, spectrum rules and indoor limits.
    """
    radio = client_radios()[client, band]
    channels = lawful_channels(country, band, width_mhz, dfs=dfs)
    able_dbm = radio.conducted_dbm + radio.antenna_dbi
    return max((emitted_dbm(radio, country, channel) for channel in channels), default=able_dbm)


def plan_link(job: Job) -> LinkRate:
    """The subscribed rates of a job [Mb/s], down and up, as the first link of every chain: `plan`.

    As paid for, not as measured.
    """
    return LinkRate(name=say("predict.plan"), rate_mbps=job.service.down_mbps, up_mbps=job.service.up_mbps)


def standing_radiators(job: Job, *, keep_only: bool = False) -> tuple[Radiator, ...]:
    """Boxes that radiate today; with `keep_only`, those that stay.

    What a box carries that hangs by radio is for `hop_fed` to say: it takes the field.
    """
    boxes = (box for box in job.boxes if box.keep or not keep_only)
    return tuple(box_radiator(job, box) for box in boxes if radiates(box))


def radiates(box: Box) -> bool:
    """Whether a box has a radio that is on: its class has one, and nobody noted it as off.

    **Source**: the fact table `access_point_radios`.
    """
    return box.radio and any(name == box.equipment for name, _ in access_point_radios())


def standing_wire(job: Job, box: Box) -> tuple[LinkRate, ...]:
    """The links from the street to a box that stands, the air left out: plan, what feeds it, port.

    Payloads in Mb/s. A cord is no link of its own, and a wireless hop is worked out apart (`hops.hop_fed`).
    The box must radiate: ValueError for a class without a radio. **Source**: docs/wlan.md, "The chain".
    """
    feed = feed_of(job, box)
    ports = [r.wired_port_mbps for (name, _), r in access_point_radios().items() if name == box.equipment]
    port = LinkRate(
        name=say("predict.port_of", box=box.name), rate_mbps=round(ethernet_tcp_mbps(max(ports)), 1)
    )
    if feed is None or feed.medium in ("cord", "wireless hop"):
        return (plan_link(job), port)
    name = say("predict.run", run=feed.id) if feed.run else term(feed.medium)
    return (plan_link(job), LinkRate(name=name, rate_mbps=feed.rate_mbps), port)


def box_radiator(job: Job, box: Box) -> Radiator:
    """A box that stands, as one that radiates at the widths that it is set to.

    Its position is x, y on the sheet and z from elevation 0 [m]. The box must radiate: see `radiates`.
    """
    return Radiator(
        id=box.id,
        name=box.name,
        equipment=box.equipment,
        position_m=(*box.position, storey_of(job.house, box.storey).elevation_m + box.height_m),
        wire=standing_wire(job, box),
        widths_mhz=tuple((row.band.value, row.width_mhz) for row in box.set_to if row.width_mhz),
    )
