"""What a device can reach at best on a box, and why: its streams, its width, its age."""

from __future__ import annotations

from rehaul.facts.wlan_equipment import access_point_radios
from rehaul.house import Job, Model, Reading
from rehaul.predict import standing_radiators
from rehaul.predict.air import DEFAULT_CLIENT
from rehaul.wlan import BANDS, RadioLink, goodput_mbps, link_between
from rehaul.words import say
from rehaul.words.fields import Words

STRONG_DBM = -30.0  # beside the box


class Ceiling(Model):
    """The best a device can do over the air, and what sets it."""

    rate_mbps: float
    words: Words


def ceiling(job: Job, reading: Reading) -> Ceiling | None:
    """The ceiling of a reading over the air; None for one by cable or where no box fits.

    **Validity**: one device alone on a free channel. **Source**: `goodput_mbps` at a strong signal.
    """
    if reading.wired:
        return None
    client = next((d.client for d in job.devices if d.id == reading.device), DEFAULT_CLIENT)
    boxes = [box for box in standing_radiators(job) if reading.box in (None, box.id)]
    links = [
        link
        for box in boxes
        for band in BANDS
        if reading.band in (None, band) and (box.equipment, band) in access_point_radios()
        for link in [link_between(box.equipment, client, band)]
        if link is not None
    ]
    if not links:
        return None
    best = max(links, key=_best_mbps)
    return Ceiling(
        rate_mbps=round(_best_mbps(best), 1),
        words=say(
            "proof.ceiling",
            client=client,
            generation=best.generation.value,
            streams=best.streams,
            width_mhz=best.width_mhz,
            band_ghz=float(best.band),
        ),
    )


def _best_mbps(link: RadioLink) -> float:
    return float(goodput_mbps(STRONG_DBM, link))
