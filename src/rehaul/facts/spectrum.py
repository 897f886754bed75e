"""Where Wi-Fi may transmit and how loudly: spectrum rules by country and the grid of channels."""

from __future__ import annotations

from functools import cache
from typing import ClassVar, Literal

from rehaul.facts.table import FactRow, load

BandGhz = Literal["2.4", "5", "6"]
Role = Literal["access point", "client"]


class SpectrumRule(FactRow):
    """One country's rule for one stretch of spectrum."""

    table: ClassVar[str] = "spectrum_rules"
    decides: ClassVar[str] = "which channels are lawful in a country, and how strong"
    country: str
    low_mhz: float
    high_mhz: float
    max_width_mhz: float
    power_dbm: float
    dfs: bool  # must listen for radar first and leave when it comes
    no_initiate: bool  # an access point may not start a network here
    joins_neighbour: bool  # a channel may reach into the next rule that touches this one
    indoor: bool  # indoor use only
    radar_region: Literal["FCC", "ETSI", "JP"]  # whose rules of listening for radar hold


class IndoorLimit(FactRow):
    """A limit for one role that the packaged rule does not carry: by power or by density."""

    table: ClassVar[str] = "indoor_power_limits"
    decides: ClassVar[str] = "how strong an indoor access point or its device may send in a country"
    country: str
    band: BandGhz
    low_mhz: float
    high_mhz: float
    role: Role
    eirp_dbm: float
    density_dbm_per_mhz: float | None = None


class ChannelGrid(FactRow):
    """A stretch of the numbered channel grid: numbers `first` to `last` by `step` at one width."""

    table: ClassVar[str] = "wifi_channels"
    decides: ClassVar[str] = "which channels exist, with their centres and widths"
    band: BandGhz
    base_mhz: float  # centre frequency = base + 5 × number
    width_mhz: int
    first: int
    last: int
    step: int


@cache
def spectrum_rules() -> dict[str, tuple[SpectrumRule, ...]]:
    """Rules of each country by its code of two letters, lowest frequency first [MHz, dBm].

    A country without rules is not there. **Validity**: as the rule base was packaged; law changes.
    **Source**: the fact table `spectrum_rules` (wireless-regdb).
    """
    found: dict[str, list[SpectrumRule]] = {}
    for row in load(SpectrumRule):
        found.setdefault(row.country, []).append(row)
    return {code: tuple(sorted(rows, key=lambda row: row.low_mhz)) for code, rows in found.items()}


@cache
def indoor_limits() -> tuple[IndoorLimit, ...]:
    """Limits of power by country, band and role that the packaged rules do not carry [dBm, dBm/MHz].

    In the order of the table; `density_dbm_per_mhz` None where no density is limited. **Source**: the fact
    table `indoor_power_limits` (47 CFR 15.407, RSS-248).
    """
    return load(IndoorLimit)


@cache
def channel_grid() -> tuple[ChannelGrid, ...]:
    """Stretches of the numbered channel grid of all bands: centre [MHz] = base + 5 · number.

    What a country allows of it is in `spectrum_rules`. **Source**: the fact table `wifi_channels` (IEEE Std
    802.11).
    """
    return load(ChannelGrid)
