"""Readings of Mb/s say how much of the radio's rate is delivered in this house: by this box, to this device.

The logarithm of a rate read, less that of the rate predicted, is the power's error times what a decibel does
there, and what the box delivers beyond the usual, what the device does, and what is of that place and hour.
So box and device are two more doubts of the house, which rates depend on and powers do not: in decibels the
reading depends on them the more, the less the rate follows the power. One update in closed form settles both
power and share, and where the rate hardly follows the power, the reading hardly moves it. A rate that the
wires hold back says that the share is at least so much.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from rehaul.facts.calibration import calibration_number
from rehaul.normal import ln_below
from rehaul.predict.air import Air, wire_mbps
from rehaul.predict.correction import Correction, tail
from rehaul.predict.doubts import Doubts, Sender, unlike
from rehaul.predict.observations import Observation, ReadingOfBox, place_sd_db
from rehaul.wlan import WHOLE, BandGhz, ShareSpread, before_hop_mbps, part_sd, receiver_sd_db, usual_share
from rehaul.wlan.chance import LEAST_MBPS, Z_90
from rehaul.words import Saying, say

LEAST_LN_PER_DB = 0.01  # where the rate follows the power less than that, it says nothing of it


@dataclass(frozen=True)
class HeldRate:
    """A reading of Mb/s that the wires held back."""

    reading: str  # id
    box: str
    device: str  # id
    client: str  # class of the device
    ln_off: float  # logarithm of read over predicted middle
    sd: float  # of what neither box nor device explains


def rate_observation(found: ReadingOfBox, known: Air) -> Observation | HeldRate | str:
    """A reading of Mb/s as the calibration takes it, or why it says nothing.

    Parameters
    ----------
    known : the air at its place, the power there as readings of power leave it: the rate is taken as
        straight in the power about that

    **Validity**: the ladder straight in the logarithm over its 90 % range at the place. **Source**:
    `goodput_range`, `usual_share`; spreads of the fact tables.
    """
    reading, radiator = found.reading, known.radiator
    alone_mbps = before_hop_mbps(reading.value, radiator.hop_mbps)
    if reading.value <= 0:
        return say("predict.nothing_came_through")
    if not np.isfinite(alone_mbps):
        return say("predict.faster_than_hop")
    radio = replace(known, delivered=WHOLE).range_mbps()
    low, middle, high = (max(float(part[0]), LEAST_MBPS) for part in radio)
    if high <= LEAST_MBPS:
        return say("predict.no_signal_there")
    usual = usual_share(known.band)
    off = float(np.log(alone_mbps / middle)) - usual.ln_mean
    own = float(np.hypot(usual.own_sd, calibration_number("rate_reading_sd")))
    spread_db = float(np.hypot(known.sd_db[0], receiver_sd_db()))
    per_db = max(float(np.log(high / low)) / (2 * Z_90 * spread_db), LEAST_LN_PER_DB)
    if reading.value >= calibration_number("ceiling_share") * wire_mbps(radiator):
        return HeldRate(
            reading.id, radiator.id, found.device, known.client, off, float(np.hypot(own, per_db * spread_db))
        )
    return Observation(
        reading=reading.id,
        source=Sender(radiator.id, known.band),
        device=found.device,
        client=known.client,
        difference_db=float(known.power_dbm[0] - found.air.power_dbm[0]) + off / per_db,
        sd_db=float(np.sqrt((own / per_db) ** 2 + receiver_sd_db() ** 2 + place_sd_db(reading) ** 2)),
        ways=found.ways,
        ln_per_db=per_db,
    )


def delivered_of(doubts: Doubts, correction: Correction, air: Air) -> ShareSpread:
    """The delivered share of a box and a class of device, as far as the readings know it.

    The usual share of homes where neither was read. **Validity** and **Source**: docs/calibration.md.
    """
    usual = usual_share(air.band)
    if not doubts.rate_boxes and not doubts.rate_devices:
        return usual
    row = doubts.share_row(air.radiator.id, air.client)
    if not row.any():
        return usual
    wider = correction.scale / tail(0) ** 2  # than before any reading
    known = float(row @ correction.covariance @ row) / tail(0) ** 2
    unread = sum(unread_variance(doubts, air.radiator.id, air.client, air.band))
    return ShareSpread(
        usual.ln_mean + float(row @ correction.mean_db),
        float(np.sqrt(known + unread)),
        usual.own_sd * float(np.sqrt(wider)),
    )


def unread_variance(doubts: Doubts, box: str, client: str, band: BandGhz) -> tuple[float, float]:
    """Variance of the logarithm of the share, of the part of a box and of that of a device that nobody read.

    0 for a box that was read; of a device less with each of its class that was. **Source**: the fact table
    `delivered_shares`.
    """
    listening = sum(known == client for _, known in doubts.rate_devices)
    alone = 0.0 if box in doubts.rate_boxes else part_sd(band, ("box",)) ** 2
    return alone, unlike(listening) * part_sd(band, ("device",)) ** 2


def with_held(doubts: Doubts, correction: Correction, held: Sequence[HeldRate]) -> Correction:
    """The doubts after rates that say only that the share is no less than so much, one after the other.

    **Validity**: each taken as a normal of the same mean and variance; nothing is said of the power.
    **Source**: moments of a truncated normal, textbook.
    """
    for one in held:
        row = doubts.share_row(one.box, one.client, one.device)
        together = correction.covariance @ row
        spread = float(np.sqrt(row @ together + correction.scale * one.sd**2))
        above = (float(row @ correction.mean_db) - one.ln_off) / spread
        pull = float(np.exp(-(above**2) / 2 - ln_below(above)) / np.sqrt(2 * np.pi))
        taken = np.outer(together, together) * (pull * (pull + above) / spread**2)
        correction = replace(
            correction,
            mean_db=correction.mean_db + together * (pull / spread),
            covariance=correction.covariance - taken,
        )
    return correction


def share_notes(airs: Sequence[Air], doubts: Doubts | None) -> tuple[Saying, ...]:
    """Why the ranges of Mb/s are as wide as they are, and what narrows them: one sentence, none without air.

    `doubts` None where no readings are taken in.
    """
    if not airs:
        return ()
    if doubts is None or not doubts.rate_boxes:
        return (say("predict.wide_before_readings"),)
    told = {air.radiator.name: air.delivered for air in airs if air.radiator.id in doubts.rate_boxes}
    shares = [say("predict.share_from", percent=found.median * 100, box=name) for name, found in told.items()]
    if not shares:
        return (say("predict.read_elsewhere"),)
    return (say("predict.read_here", shares=shares),)
