"""Which channels a country allows, how wide, how loud, and under what condition."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rehaul.errors import BadInput
from rehaul.facts.spectrum import (
    BandGhz,
    ChannelGrid,
    Role,
    SpectrumRule,
    channel_grid,
    indoor_limits,
    spectrum_rules,
)
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.units import db_from_ratio
from rehaul.words import say

PRIMARY_MHZ = 20
BANDS: tuple[BandGhz, ...] = ("2.4", "5", "6")


@dataclass(frozen=True, order=True)
class BandChannel:
    """One channel of one band; the number is that of its centre."""

    band: BandGhz
    width_mhz: int
    number: int
    centre_mhz: float
    power_dbm: float = 0.0  # the country's limit for an access point, EIRP
    dfs: bool = False  # must listen for radar first and leave when it comes

    @property
    def low_mhz(self) -> float:
        """Lower edge."""
        return self.centre_mhz - self.width_mhz / 2

    @property
    def high_mhz(self) -> float:
        """Upper edge."""
        return self.centre_mhz + self.width_mhz / 2

    def overlap_mhz(self, other: BandChannel) -> float:
        """Spectrum that both channels use [MHz]; 0 in two bands, and where they only touch.

        **Source**: docs/wlan.md, "Channels".

        >>> one, six = (BandChannel("2.4", 20, n, 2407.0 + 5 * n) for n in (1, 4))
        >>> one.overlap_mhz(six)
        5.0
        """
        if self.band != other.band:
            return 0.0
        return max(0.0, min(self.high_mhz, other.high_mhz) - max(self.low_mhz, other.low_mhz))

    def __str__(self) -> str:
        return f"{self.number} ({self.width_mhz} MHz{', DFS' if self.dfs else ''})"


def countries() -> tuple[str, ...]:
    """Countries whose rules are in the table, codes of two letters by alphabet.

    **Source**: the fact table `spectrum_rules` (wireless-regdb).
    """
    return tuple(sorted(spectrum_rules()))


@cache
def lawful_channels(
    country: str, band: BandGhz, width_mhz: int | None = None, *, dfs: bool = True
) -> tuple[BandChannel, ...]:
    """Channels an access point may start a network on indoors.

    A channel is lawful where each of its 20 MHz parts lies inside one rule that allows the width, or
    that may join the rules it touches to reach it.

    Parameters
    ----------
    country : two-letter code
    band : 2.4, 5 or 6
    width_mhz : only this width; all where None. At 2.4 GHz only 20 MHz is offered.
    dfs : include those that must listen for radar

    Returns
    -------
    channels by width and number, with the power limit of an access point

    Raises
    ------
    BadInput for a country that is not in the table.

    Validity: indoor use; low-power indoor class at 6 GHz.
    Source: wireless-regdb (see the table of spectrum rules); IEEE 802.11 Annex E numbering.

    >>> [channel.number for channel in lawful_channels("DE", "5", 160)]
    [50, 114]
    """
    rules = _rules(country)
    found = []
    for grid in channel_grid():
        if grid.band != band or (width_mhz is not None and grid.width_mhz != width_mhz):
            continue
        for number in range(grid.first, grid.last + 1, grid.step):
            channel = _channel(grid, number, country, rules)
            if channel is not None and (dfs or not channel.dfs):
                found.append(channel)
    return tuple(sorted(found))


def power_limit_dbm(country: str, channel: BandChannel, role: Role = "access point") -> float:
    """Highest EIRP on a channel for an access point or a device [dBm].

    Validity: indoors. Where the table has no separate limit for the role, the packaged rule holds;
    it can understate an indoor access point.
    Source: wireless-regdb; the table of indoor limits; docs/wlan.md, "Channels".
    """
    rules = _rules(country)
    touched = _rules_under(channel.low_mhz, channel.width_mhz, rules)
    if not touched:
        raise BadInput(
            say("refused_wlan.no_channel", country=country, channel=channel.number, band=channel.band),
            where="channel",
        )
    return _limit_dbm(country, channel.band, channel.low_mhz, channel.width_mhz, touched, role)


def indoors_only(country: str, channel: BandChannel) -> bool:
    """Whether a country lets a channel be used indoors alone.

    Validity: a channel over several rules is for indoors where any of them is.
    Source: wireless-regdb (see the table of spectrum rules); docs/wlan.md, "Channels".

    >>> [indoors_only("DE", channel) for channel in lawful_channels("DE", "5", 160)]
    [True, False]
    """
    return any(rule.indoor for rule in _rules_under(channel.low_mhz, channel.width_mhz, _rules(country)))


def radar_listen_s(country: str, channel: BandChannel) -> float:
    """How long an access point listens before it may use a channel; 0 where no radar is protected [s].

    Validity: indoors, first use of the channel. When radar comes later it leaves within 10 s and
    stays away for 30 minutes.
    Source: ETSI EN 301 893 (10 minutes where weather radar works); 47 CFR 15.407; docs/wlan.md, "Channels".

    >>> radar_listen_s("DE", lawful_channels("DE", "5", 160)[1])
    600.0
    """
    if not channel.dfs:
        return 0.0
    weather = (
        channel.low_mhz < wlan_number("radar_weather_high_mhz")
        and wlan_number("radar_weather_low_mhz") < channel.high_mhz
    )
    long = weather and _rules(country)[0].radar_region == "ETSI"
    return wlan_number("radar_listen_weather_s" if long else "radar_listen_s")


def _rules(country: str) -> tuple[SpectrumRule, ...]:
    rules = spectrum_rules().get(country.upper())
    if rules is None:
        raise BadInput(
            say("refused_wlan.no_rules", country=country),
            where="country",
            remedy=say("refused_common.use_one_of", known=list(countries())),
        )
    return rules


def _channel(
    grid: ChannelGrid, number: int, country: str, rules: tuple[SpectrumRule, ...]
) -> BandChannel | None:
    centre, width = grid.base_mhz + 5 * number, grid.width_mhz
    low = centre - width / 2
    touched = _rules_under(low, width, rules)
    if not touched or any(_widest_mhz(rule, rules) < width for rule in touched):
        return None
    if grid.band != "6" and any(rule.no_initiate for rule in touched):
        return None  # at 6 GHz the indoor class itself is the permission
    power = _limit_dbm(country.upper(), grid.band, low, width, touched, "access point")
    return BandChannel(grid.band, width, number, centre, power, any(rule.dfs for rule in touched))


def _rules_under(low_mhz: float, width_mhz: int, rules: tuple[SpectrumRule, ...]) -> tuple[SpectrumRule, ...]:
    """The rules that hold a channel, 20 MHz by 20 MHz; none where a part of it is not covered."""
    touched: list[SpectrumRule] = []
    for part in range(width_mhz // PRIMARY_MHZ):
        low = low_mhz + PRIMARY_MHZ * part
        under = _rules_under_part(low, low + PRIMARY_MHZ, rules)
        if not under:
            return ()
        touched += [rule for rule in under if rule not in touched]
    return tuple(touched)


def _rules_under_part(
    low_mhz: float, high_mhz: float, rules: tuple[SpectrumRule, ...]
) -> tuple[SpectrumRule, ...]:
    """One rule that holds the part whole, or two that touch inside it and may be joined."""
    for rule in rules:
        if rule.low_mhz <= low_mhz and high_mhz <= rule.high_mhz:
            return (rule,)
    for lower in rules:
        for upper in rules:
            spans = lower.low_mhz <= low_mhz and high_mhz <= upper.high_mhz
            if spans and lower.high_mhz == upper.low_mhz and lower.joins_neighbour and upper.joins_neighbour:
                return (lower, upper)
    return ()


def _widest_mhz(rule: SpectrumRule, rules: tuple[SpectrumRule, ...]) -> float:
    """The rule's own width, or all that touches it where it may join its neighbours."""
    if not rule.joins_neighbour:
        return rule.max_width_mhz
    low, high = rule.low_mhz, rule.high_mhz
    for other in rules:  # lowest first: one pass up for the top,
        if other.low_mhz == high:
            high = other.high_mhz
    for other in reversed(rules):  # one pass down for the bottom
        if other.high_mhz == low:
            low = other.low_mhz
    return high - low


def _limit_dbm(
    country: str, band: BandGhz, low_mhz: float, width_mhz: int, rules: tuple[SpectrumRule, ...], role: Role
) -> float:
    for limit in indoor_limits():
        inside = limit.low_mhz <= low_mhz and low_mhz + width_mhz <= limit.high_mhz
        if (limit.country, limit.band, limit.role) == (country, band, role) and inside:
            if limit.density_dbm_per_mhz is None:
                return limit.eirp_dbm
            by_density = limit.density_dbm_per_mhz + db_from_ratio(width_mhz)
            return min(limit.eirp_dbm, by_density)
    return min(rule.power_dbm for rule in rules)
