"""An invented plan with one of everything a paper may have to show, made without the engine.

The numbers are plausible, not computed: papers are tested for showing what a plan says.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np

from rehaul.facts.pulls import pull_ways
from rehaul.house import (
    Band,
    CableKind,
    Grade,
    Room,
    Run,
    RunState,
)
from rehaul.network.verdicts import EthernetVerdict, PowerVerdict, RunVerdict
from rehaul.planning import OpenQuestion, Plan
from rehaul.predict.results import Coverage, LinkRate, RoomRate, StoreyMap
from rehaul.takeoff.labels import labels_for
from rehaul.takeoff.scope import Pull
from sample_house import DEPTH_M, WIDTH_M, house, job
from sample_network import ACCESS_POINTS, channels, choice, network
from sample_work import order, takeoff

__all__ = ["DEPTH_M", "WIDTH_M", "house", "job", "plan"]

PAID_MBPS = job().service.down_mbps


def _coverage(sources: tuple[tuple[str, str, float, float, float], ...], ceiling_mbps: float) -> Coverage:
    step_m = 0.3
    xs, ys = np.arange(-0.15, WIDTH_M + 0.3, step_m), np.arange(-0.15, DEPTH_M + 0.3, step_m)
    grid_x, grid_y = np.meshgrid(xs, ys)
    maps, rates = [], {}
    for storey in house().storeys:
        z = storey.elevation_m + 1.2
        powers = []
        for _, _, x, y, source_z in sources:
            distance = np.sqrt((grid_x - x) ** 2 + (grid_y - y) ** 2 + (source_z - z) ** 2)
            walls = 11.0 * ((grid_x - 5.2) * (x - 5.2) < 0) + 9.0 * ((grid_y - 3.4) * (y - 3.4) < 0)
            floors = 17.0 * round(abs(source_z - z) / 2.8)
            powers.append(23 - 47 - 20 * np.log10(np.maximum(distance, 0.5)) - walls - floors)
        power = np.stack(powers)
        best = power.max(axis=0)
        rate = np.clip(ceiling_mbps / (1 + np.exp(-(best + 62) / 7)), 0.5, ceiling_mbps)
        outside = (grid_x < -0.15) | (grid_x > WIDTH_M + 0.15) | (grid_y > DEPTH_M + 0.15)
        rate = np.where(outside, np.nan, rate).astype(np.float32)
        maps.append(
            StoreyMap(
                storey=storey,
                x0_m=float(xs[0]),
                y0_m=float(ys[0]),
                step_m=step_m,
                z_m=z,
                rate_mbps=rate,
                low_mbps=rate * np.float32(0.6),
                high_mbps=np.minimum(rate * np.float32(1.4), np.float32(ceiling_mbps)),
                power_dbm=np.stack([best - 0.0, best - 6.0]).astype(np.float32),
                power_sd_db=np.full((2, *rate.shape), 5.0, np.float32),
                source_index=power.argmax(axis=0).astype(np.int16),
                band_index=np.ones(rate.shape, np.int8),
                rate_up_mbps=rate * np.float32(0.2),
                low_up_mbps=rate * np.float32(0.1),
                high_up_mbps=rate * np.float32(0.3),
            )
        )
        rates[storey.id] = (rate, power)
    return Coverage(
        sources=tuple(s[0] for s in sources),
        source_names=tuple(s[1] for s in sources),
        bands=(Band.GHZ_2_4, Band.GHZ_5),
        maps=tuple(maps),
        rooms=tuple(
            _room_rate(room, rates[room.storey], (xs, ys), sources, ceiling_mbps) for room in house().rooms
        ),
    )


def _room_rate(room: Room, field: tuple, axes: tuple, sources: tuple, ceiling_mbps: float) -> RoomRate:  # type: ignore[type-arg]
    (rate, power), (xs, ys) = field, axes
    (x0, y0), (x1, y1) = room.polygon[0], room.polygon[2]
    inside = np.ix_((ys > y0) & (ys < y1), (xs > x0) & (xs < x1))
    median = float(np.nanmedian(rate[inside]))
    need = next((n.down_mbps or 0.0 for n in job().needs if n.room == room.id), 0.0)
    served = float(np.mean(rate[inside] * 0.7 >= need)) * 100
    source = int(power[(slice(None), *inside)].mean(axis=(1, 2)).argmax())
    at_plan = median > 0.95 * ceiling_mbps
    air = f"air 5 GHz from {sources[source][1]}"
    return RoomRate(
        room=room.id,
        name=room.name,
        storey=room.storey,
        need_mbps=need,
        asked=0.9,
        served_pct=round(served, 1),
        met=served >= 90,
        low_mbps=median * 0.6,
        median_mbps=median,
        high_mbps=min(median * 1.4, ceiling_mbps),
        power_dbm=float(power[(source, *inside)].mean()),
        source=sources[source][0],
        source_name=sources[source][1],
        band=Band.GHZ_5,
        narrowest="plan" if at_plan else air,
        links=(LinkRate(name="plan", rate_mbps=PAID_MBPS), LinkRate(name=air, rate_mbps=median)),
    )


def _verdict(run: Run) -> RunVerdict:
    good = run.kind is CableKind.CAT5E and run.state is not RunState.DAMAGED
    middle = run.length_m.middle if run.length_m else 15.0
    grade = Grade.MEASURED if good else Grade.INFERRED
    return RunVerdict(
        run=run.id,
        ends=run.ends,
        length_low_m=run.length_m.low if run.length_m else middle,
        length_m=middle,
        length_high_m=run.length_m.high if run.length_m else middle,
        ethernet=(
            EthernetVerdict(
                ethernet="100BASE-TX",
                rate_mbps=100,
                band="likely" if good else "try it",
                chance=0.99 if good else 0.4,
                reason="Two pairs are whole",
                grade=grade,
            ),
            EthernetVerdict(
                ethernet="1000BASE-T",
                rate_mbps=1000,
                band="likely" if good else "no",
                chance=0.97 if good else 0.02,
                reason="Four pairs in one straight run" if good else "A chain with open branches",
                grade=grade,
                lift="" if good else "Pull new cable",
            ),
        ),
        power=(
            PowerVerdict(
                poe_class=3,
                band="likely" if good else "no",
                voltage_at_device_v=50.1 if good else 0.0,
                device_w=13.0,
                reason="Short and thick enough",
                grade=grade,
            ),
        ),
        likely_mbps=1000 if good else 0,
        hoped_mbps=1000 if good else 100,
        poe_class=3 if good else 0,
        usable=good and "unknown" not in run.ends,
        held_by=("O1",) if run.id == "C02" else (),
        sentence="Gigabit, measured over a 10 min full-load soak; not certified."
        if good
        else "Leave it: an alarm hangs on it until O1 is signed off."
        if run.id == "C02"
        else "Not for the network; keep as found and tag both ends.",
    )


@cache
def plan() -> Plan:
    before = _coverage((("X1", "Store", 6.1, 6.8, -1.5),), PAID_MBPS)
    after = _coverage(
        tuple(
            (ap.id, ap.name, *ap.site.position, math.fsum((elevation(ap.site.storey), ap.site.height_m)))
            for ap in ACCESS_POINTS
        ),
        PAID_MBPS,
    )
    return Plan(
        job=job(),
        cabling=tuple(_verdict(run) for run in house().runs),
        before=before,
        choice=choice(),
        after=after,
        channels=channels(),
        network=network(),
        takeoff=takeoff(),
        order=order(),
        labels=labels_for(job(), choice(), network(), (), (NEW_CABLE,)),
        open_questions=(
            OpenQuestion(
                about=("C08",),
                question="Where does cable C08 come out?",
                guess="Behind fitted furniture on the upper floor",
                costs="One more wired place, perhaps",
                settle="Tone C08 from the cellar board with the wardrobe moved; 10 minutes",
            ),
            OpenQuestion(
                about=("wU6",),
                question="What is the wall between Sewing room and Main bedroom made of?",
                guess="Studs and plasterboard",
                costs="Up to 40 Mb/s in the Main bedroom",
                settle="Read Mb/s on both sides of the wall, door shut; 5 minutes",
            ),
        ),
    )


NEW_CABLE = Pull(
    id="N1",
    outlet="N1",
    room="Hall",
    room_id="",
    storey="",
    length_m=12.0,
    floors_crossed=0,
    way=pull_ways()["fished"],
)


def elevation(storey: str) -> float:
    return next(s.elevation_m for s in house().storeys if s.id == storey)
