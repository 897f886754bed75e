"""Channels and widths for the access points of a house, and the neighbours heard."""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from rehaul.design.results import Channel, ChannelPlan
from rehaul.design.settings import WIDTHS_MHZ
from rehaul.facts.spectrum import BandGhz
from rehaul.facts.wlan_equipment import access_point_radios, client_radios
from rehaul.house import Band, Job
from rehaul.predict import HouseScene, Radiator
from rehaul.predict.neighbours import centre_mhz, left_on, span_mhz
from rehaul.predict.radiators import eirp_dbm
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Transmitter, field_at
from rehaul.wlan import (
    BANDS,
    BandChannel,
    Neighbour,
    allowed_channels,
    assign_channels,
    indoors_only,
    radar_listen_s,
    rank_mesh_channels,
)
from rehaul.words import say


def channel_plan(job: Job, radiators: Sequence[Radiator], scene: HouseScene) -> ChannelPlan:
    """The best channel and width of every radiating box in every band it has, with the proof.

    Parameters: `radiators`, every box that will radiate; `scene`, the house that they hear each other
    through.

    Returns one row for each box and band, what still overlaps, and the channel for small devices of the
    house; `proven` where no band can be done better. A band that the country or the boxes do not have is
    left out.

    **Validity**: neighbours count as loud at each box as where the scan was made. **Source**: docs/wlan.md,
    "channels".
    """
    channels: list[Channel] = []
    overlaps: list[str] = []
    proven = True
    quiet: list[BandChannel] = []
    for band in BANDS:
        ours = [radiator for radiator in radiators if band in radiator.bands()]
        allowed = allowed_channels(job.country, band, WIDTHS_MHZ[band], dfs=job.choices.dfs)
        if not ours or not allowed:
            continue
        found = assign_channels(
            _heard_dbm(job, ours, scene, band),
            allowed,
            neighbours=_neighbours(job, band, len(ours)),
            power_dbm=[eirp_dbm(r.equipment, band, job.country, dfs=job.choices.dfs) for r in ours],
            widest_mhz=[access_point_radios()[r.equipment, band].max_width_mhz for r in ours],
        )
        proven &= found.proved
        quiet += found.channels
        overlaps += [
            say("design_network.share_air", first=ours[a].name, second=ours[b].name, band_ghz=float(band))
            for a, b in found.overlapping_pairs
        ]
        for radiator, channel in zip(ours, found.channels, strict=True):
            channels.append(_row(job, radiator, band, channel))
    heard_24 = [n for n in (_as_channel(h.channel) for h in job.heard if h.band == "2.4") if n]
    mesh = rank_mesh_channels([*quiet, *heard_24])[0].number
    return ChannelPlan(channels=tuple(channels), overlaps=tuple(overlaps), proven=proven, things_channel=mesh)


def with_widths(
    radiators: Sequence[Radiator], plan: ChannelPlan, *, boxes: Container[str]
) -> tuple[Radiator, ...]:
    """The same boxes; those named at the widths of the plan, with what neighbours leave on its channels.

    Parameters: `boxes`, ids of those that are set by the plan; the others come back unchanged.

    **Validity**: a band of a named box that the plan has no row for keeps no width of its own.
    """
    widths = {(row.access_point, row.band.value): row.width_mhz for row in plan.channels}
    left = {(row.access_point, row.band.value): row.air_left for row in plan.channels}
    return tuple(
        replace(
            radiator,
            widths_mhz=tuple(
                (band, widths[radiator.id, band]) for band in BANDS if (radiator.id, band) in widths
            ),
            air_left=tuple((band, left[radiator.id, band]) for band in BANDS if (radiator.id, band) in left),
        )
        if radiator.id in boxes
        else radiator
        for radiator in radiators
    )


def _heard_dbm(job: Job, ours: Sequence[Radiator], scene: HouseScene, band: BandGhz) -> NDArray[np.float64]:
    """Level of each box at each other, (box, box) dBm."""
    points = np.array([radiator.position_m for radiator in ours])
    rows = []
    for radiator in ours:
        power = eirp_dbm(radiator.equipment, band, job.country, dfs=job.choices.dfs)
        transmitter = Transmitter(radiator.position_m, eirp_dbm=power, mounting=radiator.pattern)
        rows.append(field_at(scene.scene, transmitter, points, [spectrum_of(band)]).power_dbm[0])
    return np.array(rows, dtype=np.float64)


def _neighbours(job: Job, band: BandGhz, count: int) -> tuple[Neighbour, ...]:
    """Networks heard, taken to be as loud at each of our boxes as where the scan was made."""
    spans = [
        (heard, span_mhz(band, heard.channel, heard.width_mhz)) for heard in job.heard if heard.band == band
    ]
    return tuple(
        Neighbour(*span, (heard.power_dbm,) * count, heard.busy_pct)
        for heard, span in spans
        if span is not None
    )


def _as_channel(number: int) -> BandChannel | None:
    centre = centre_mhz("2.4", number)
    return None if centre is None else BandChannel("2.4", 20, number, centre)


def _row(job: Job, radiator: Radiator, band: BandGhz, channel: BandChannel) -> Channel:
    own_dbm = eirp_dbm(radiator.equipment, band, job.country, dfs=True)
    primary = channel.number - (channel.width_mhz // 20 - 1) * 2  # lowest 20 MHz part of the width
    devices = [row.max_width_mhz for (_, b), row in client_radios().items() if b == band]
    notes = []
    if channel.dfs:
        listens_min = radar_listen_s(job.country, channel) / 60.0
        notes.append(say("design_network.radar", listens_min=listens_min))
    if indoors_only(job.country, channel):
        notes.append(say("design_network.indoors"))
    if devices and channel.width_mhz > max(devices):
        notes.append(say("design_network.too_wide"))
    return Channel(
        access_point=radiator.id,
        band=Band(band),
        channel=primary,
        centre_channel=channel.number,
        width_mhz=channel.width_mhz,
        power_dbm=round(min(own_dbm, channel.power_dbm), 1),
        dfs=channel.dfs,
        note=say("words.in_turn", parts=tuple(notes)) if notes else "",
        air_left=round(left_on(job.heard, band, (channel.low_mhz, channel.high_mhz)), 3),
    )
