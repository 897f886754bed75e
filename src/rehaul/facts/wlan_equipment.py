"""Generic classes of access points and of the devices people carry, and what rooms need in Mb/s."""

from __future__ import annotations

from functools import cache
from typing import ClassVar

from rehaul.facts.modulation import Generation
from rehaul.facts.spectrum import BandGhz
from rehaul.facts.table import FactRow, load


class AccessPointRadio(FactRow):
    """One radio of a generic class of access point."""

    table: ClassVar[str] = "access_point_radios"
    decides: ClassVar[str] = "how strong each class of access point sends, and on which bands and widths"
    name: str
    band: BandGhz
    generation: Generation
    streams: int
    max_width_mhz: int
    conducted_dbm: float  # total of all chains
    antenna_dbi: float
    noise_figure_db: float
    wired_port_mbps: int


class ClientRadio(FactRow):
    """One radio of a generic class of device."""

    table: ClassVar[str] = "client_radios"
    decides: ClassVar[str] = "how well each class of device is heard, and so the upload of a room"
    name: str
    band: BandGhz
    generation: Generation
    streams: int
    max_width_mhz: int
    conducted_dbm: float
    antenna_dbi: float
    noise_figure_db: float


class RoomNeed(FactRow):
    """What one use needs, each way."""

    table: ClassVar[str] = "room_needs"
    decides: ClassVar[str] = "how many Mb/s a room asks for, by what it is used for"
    use: str
    down_mbps: float
    up_mbps: float


@cache
def access_point_radios() -> dict[tuple[str, BandGhz], AccessPointRadio]:
    """Radios of generic access points by (class name, band): power [dBm], antenna [dBi], noise figure [dB].

    A class has no row for a band it has no radio in. **Validity**: classes, not products. **Source**: the
    fact table `access_point_radios`.
    """
    return {(row.name, row.band): row for row in load(AccessPointRadio)}


@cache
def client_radios() -> dict[tuple[str, BandGhz], ClientRadio]:
    """Radios of devices people carry by (class name, band): power [dBm], antenna [dBi], noise figure [dB].

    A class has no row for a band it has no radio in. **Validity**: classes, not products. **Source**: the
    fact table `client_radios`.
    """
    return {(row.name, row.band): row for row in load(ClientRadio)}


@cache
def room_needs() -> dict[str, RoomNeed]:
    """What each use of a room needs, down and up [Mb/s], by use. **Source**: the fact table `room_needs`.

    Needs of one stream or one person: uses at the same time add up.
    """
    return {row.use: row for row in load(RoomNeed)}


class DeviceSwap(FactRow):
    """An old device, and what a part that anybody can plug in makes of it."""

    table: ClassVar[str] = "device_swaps"
    decides: ClassVar[str] = "whether a cheap part for an old device is offered instead of more access points"
    old: str  # a client class
    becomes: str  # another
    item: str  # of the price list


@cache
def device_swaps() -> dict[str, DeviceSwap]:
    """What a plug-in part makes of an old device, by the device's client class.

    `becomes` is another client class, `item` a row of the price list. A class without a row cannot be
    helped so. **Source**: the fact table `device_swaps`, trade judgement.
    """
    return {row.old: row for row in load(DeviceSwap)}
