"""A link between an access point's radio and a device's radio, as both together can do it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rehaul.errors import BadInput
from rehaul.facts.modulation import Generation, Ladder, guard_intervals_us
from rehaul.facts.spectrum import BandGhz
from rehaul.facts.wlan_equipment import access_point_radios, client_radios
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.same import hashed_once
from rehaul.wlan.airtime import Mode
from rehaul.wlan.rates import is_defined, top_mcs, widths_mhz
from rehaul.words import say

_ORDER = tuple(Generation)
_WHERE_OF = {  # where a class is named that there is not
    "refused_wlan.no_access_point_class": "refused_wlan.where_access_point_class",
    "refused_wlan.no_device_class": "refused_wlan.where_device_class",
}


@hashed_once
@dataclass(frozen=True)
class RadioLink:
    """What two radios can do together."""

    band: BandGhz
    generation: Generation
    width_mhz: int
    streams: int
    guard_us: float = 0.8
    ladder: Ladder = Ladder.EXPECTED
    noise_figure_down_db: float = 7.0  # of the device
    noise_figure_up_db: float = 7.0  # of the access point
    up_lag_db: float = 0.0  # how much less arrives at the access point than at the device
    falls_back: bool = True  # rate control may use fewer streams and narrower frames

    def __post_init__(self) -> None:
        top_mcs(self.generation, self.width_mhz)  # refuses a width the generation does not have
        if self.guard_us not in guard_intervals_us()[self.generation]:
            raise BadInput(
                say("refused_wlan.no_guard", name=self.generation, guard_us=self.guard_us), where="guard_us"
            )

    def modes(self) -> tuple[tuple[Mode, int], ...]:
        """Every mode the link may use, each with the receive chains it is spread over.

        By width, streams, then step, from the least up; with `falls_back` the narrower widths and fewer
        streams too. Steps whose symbols hold no whole number of bits are left out. **Source**: IEEE Std
        802.11.
        """
        found = []
        for width in widths_mhz(self.generation):
            for streams in range(1, self.streams + 1):
                narrower = width < self.width_mhz or streams < self.streams
                if width > self.width_mhz or (narrower and not self.falls_back):
                    continue
                for mcs in range(top_mcs(self.generation, width) + 1):
                    if is_defined(self.generation, mcs, width, streams):
                        mode = Mode(self.generation, mcs, width, streams, self.guard_us)
                        found.append((mode, self.streams))
        return tuple(found)


@cache
def link_between(
    access_point: str,
    client: str,
    band: BandGhz,
    *,
    width_mhz: int | None = None,
    ladder: Ladder | str = Ladder.EXPECTED,
    eirp_dbm: float | None = None,
    client_eirp_dbm: float | None = None,
) -> RadioLink | None:
    """The link of two generic classes in one band; None where either has no radio there.

    Parameters
    ----------
    access_point, client : class names of the fact tables
    band : 2.4, 5 or 6
    width_mhz : the width the access point is set to; its widest where None. The link is as wide as
        both allow.
    ladder : how good the receivers are taken to be
    eirp_dbm : what the access point really emits, where the country allows less than it can
    client_eirp_dbm : the same of the device

    Raises
    ------
    BadInput for a class that is not in the tables.

    Validity: one link at a time (no multi-link operation). Antennas and the path serve both ways
    alike, so what arrives differs by the conducted powers alone.
    Source: the lesser of the two radios in generation, streams and width; IEEE Std 802.11 capability rules.
    """
    _require_known(
        access_point, {name for name, _ in access_point_radios()}, "refused_wlan.no_access_point_class"
    )
    _require_known(client, {name for name, _ in client_radios()}, "refused_wlan.no_device_class")
    ours, theirs = access_point_radios().get((access_point, band)), client_radios().get((client, band))
    if ours is None or theirs is None:
        return None
    generation = min(ours.generation, theirs.generation, key=_ORDER.index)
    able = ours.conducted_dbm + ours.antenna_dbi
    emitted = able if eirp_dbm is None else min(able, eirp_dbm)
    answered = theirs.conducted_dbm + theirs.antenna_dbi
    if client_eirp_dbm is not None:
        answered = min(answered, client_eirp_dbm)
    widest = min(ours.max_width_mhz, theirs.max_width_mhz, width_mhz or ours.max_width_mhz)
    return RadioLink(
        band=band,
        generation=generation,
        width_mhz=max(width for width in widths_mhz(generation) if width <= widest),
        streams=min(ours.streams, theirs.streams),
        guard_us=guard_intervals_us()[generation][0],
        ladder=Ladder(ladder),
        noise_figure_down_db=theirs.noise_figure_db,
        noise_figure_up_db=ours.noise_figure_db,
        up_lag_db=emitted - ours.antenna_dbi - (answered - theirs.antenna_dbi),
    )


def wander_db() -> float:
    """Short-term swing of the power that rate control follows, as a standard deviation [dB].

    **Source**: `power_wander_db` of the fact table `wlan_numbers` (docs/wlan.md).
    """
    return wlan_number("power_wander_db")


def _require_known(name: str, known: set[str], code: str) -> None:
    if name not in known:
        raise BadInput(
            say(code, name=name),
            where=say(_WHERE_OF[code]),
            remedy=say("refused_common.use_one_of_these", known=sorted(known)),
        )
