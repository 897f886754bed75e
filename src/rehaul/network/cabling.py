"""What each old cable of a house can do: Ethernet rates, power, and what it is held by."""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise

from rehaul.copper import RunFacts, Verdict, settling, verdicts
from rehaul.copper.run import CertifiedClass
from rehaul.facts.cables import cables
from rehaul.facts.ethernet import ETHERNETS
from rehaul.facts.poe import poe_classes
from rehaul.facts.prediction import prediction_number
from rehaul.house import (
    UNKNOWN,
    CableKind,
    Estimate,
    Grade,
    House,
    Job,
    MeetingPoint,
    Outlet,
    Run,
    RunState,
    Splitter,
    WireMap,
    open_obligations,
    use_hold,
)
from rehaul.house.geometry import height_above_zero_m
from rehaul.network.verdicts import EthernetVerdict, PowerVerdict, RunVerdict, Telling, TellingAnswer
from rehaul.power import poe
from rehaul.words import Saying, say

_RANGE = ("low", "middle", "high")


def run_verdicts(job: Job) -> tuple[RunVerdict, ...]:
    """Verdicts on every old cable of a job as it is, in the order of the house: see `run_verdict`.

    Coax and fibre come too, with no Ethernet on them by itself.
    """
    return tuple(run_verdict(job, run) for run in job.house.runs)


def run_verdict(job: Job, run: Run) -> RunVerdict:
    """Verdict on one old cable as it is: rates, power over it, and whether a plan may use it.

    Lengths in metres and rates in Mb/s stand in the verdict. `likely_mbps` is the fastest Ethernet that is
    likely, `hoped_mbps` the fastest worth a try; both 0 where there is none. `usable` asks for more than a
    rate: both ends found and nothing that holds the cable. **Validity** and **Source**: as
    `copper.verdicts` and `power.powered_run` (docs/copper.md, docs/power.md).
    """
    length = run_length(job.house, run)
    held_by = tuple(obligation.id for obligation in open_obligations(job, run.id))
    held = use_hold(job, run.id)
    ethernet = _ethernet(run, length)
    power = _power(run, length)
    likely = max((v.rate_mbps for v in ethernet if v.band == "likely"), default=0.0)
    hoped = max((v.rate_mbps for v in ethernet if v.band != "no"), default=0.0)
    found = UNKNOWN not in run.ends
    usable = not held and found and likely > 0
    return RunVerdict(
        run=run.id,
        ends=run.ends,
        length_low_m=length.low,
        length_m=length.middle,
        length_high_m=length.high,
        ethernet=ethernet,
        power=power,
        likely_mbps=likely,
        hoped_mbps=hoped,
        poe_class=max((v.poe_class for v in power if v.band == "likely"), default=0),
        usable=usable,
        held_by=held_by,
        sentence=held or _sentence(run, ethernet, likely, found),
    )


def run_length(house: House, run: Run) -> Estimate:
    """A cable's length with its 90 % range [m], by the best evidence there is.

    As noted; else along its route as drawn; else by how far its ends lie apart along the walls; else, where
    an end is not placed, a usual drop's. All but the first are inferred or unknown, as `grade` says.
    **Source**: detours, slack and drops of the fact table `prediction_numbers`, trade judgement.
    """
    if run.length_m is not None:
        return run.length_m
    if len(run.route) >= 2:
        along_m = sum(math.dist(a, b) for a, b in pairwise(run.route))
        return Estimate(
            low=round(along_m, 1),
            middle=round(along_m + prediction_number("slack"), 1),
            high=round(along_m * prediction_number("drawn_detour_high") + prediction_number("slack"), 1),
            grade=Grade.INFERRED,
        )
    places = [_place(house, end) for end in run.ends]
    if any(place is None for place in places):
        low, middle, high = (prediction_number(f"drop_{end}") for end in _RANGE)
        return Estimate(middle=middle, low=low, high=high)
    known = [place for place in places if place is not None]
    way_m = sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) + abs(a[2] - b[2]) for a, b in pairwise(known))
    return _judged(way_m)


def _judged(way_m: float) -> Estimate:
    low, middle, high = (
        round(way_m * prediction_number(f"detour_{end}") + prediction_number("slack"), 1) for end in _RANGE
    )
    return Estimate(middle=middle, low=low, high=high, grade=Grade.INFERRED)


def _place(house: House, end: str) -> tuple[float, float, float] | None:
    things: tuple[Outlet | MeetingPoint | Splitter, ...] = (
        *house.outlets,
        *house.meeting_points,
        *house.splitters,
    )
    for thing in things:
        if thing.id == end and thing.position is not None:
            return (*thing.position, height_above_zero_m(house, thing))
    return None


def facts_of(run: Run, length: Estimate) -> RunFacts:
    """A cable as the physics takes it. A chain is judged as it hangs now.

    `length` may be that of any part of it [m]. Of several tests of one kind the last counts. A kind that
    cannot have pairs goes in as unknown, so that coax must be kept out beforehand. **Source**:
    docs/copper.md, "From margin to verdict".
    """
    tests = run.tests
    wire_maps = [test.wire_map for test in tests if test.wire_map]
    links = [test.link_mbps for test in tests if test.link_mbps]
    errors = [test.errors for test in tests if test.errors is not None]
    certified = [test.certified_to for test in tests if test.certified_to]
    loops = [test.loop_ohm for test in tests if test.loop_ohm is not None]
    return RunFacts(
        category=run.kind.value if run.kind.may_have_pairs else UNKNOWN,
        pairs=run.pairs,
        length_m=(length.low, length.middle, length.high),
        topology=run.topology.value,
        taps_m=run.taps_m,
        splices=run.splices,
        state=run.state.value,
        awg=run.gauge_awg,
        wire_map_ok=wire_maps[-1] is WireMap.GOOD if wire_maps else None,
        link_mbps=links[-1] if links else None,
        tried_mbps=max((test.port_mbps for test in tests if test.link_mbps), default=None),
        errors=errors[-1] if errors else None,
        loop_ohm=loops[-1] if loops else None,
        certified=_certified_class(certified[-1]) if certified else "",
    )


def _certified_class(kind: CableKind) -> CertifiedClass:
    row = cables().get(kind)
    return (row.certified_class or "") if row else ""


def telling(job: Job, run: Run) -> Telling | None:
    """What to look at or measure first to know more of a run; None where nothing would tell much.

    Of all rates and readings the one that would move a chance most. Nothing is said of cable that carries no
    Ethernet by itself, or that is damaged.
    **Validity**, **Source**: as `settling`.
    """
    if not run.kind.may_have_pairs or run.state is RunState.DAMAGED:
        return None
    facts = facts_of(run, run_length(job.house, run))
    chances = {verdict.ethernet: verdict.probability for verdict in ethernet_verdicts(facts)}
    found = [(reading, ethernet) for ethernet in ETHERNETS for reading in settling(facts, ethernet)]
    best = max(found, key=lambda pair: pair[0].worth, default=None)
    if best is None or best[0].worth < prediction_number("telling"):
        return None
    reading, ethernet = best
    return Telling(
        reading=reading.reading,
        ethernet=ethernet,
        chance=round(chances[ethernet], 2),
        answers=tuple(
            TellingAnswer(answer=one.answer, chance=round(one.chance, 2), then=round(one.probability, 2))
            for one in reading.answers
        ),
    )


def _ethernet(run: Run, length: Estimate) -> tuple[EthernetVerdict, ...]:
    if not run.kind.may_have_pairs:
        return ()
    blind = run.kind is CableKind.UNKNOWN and not any(test.link_mbps for test in run.tests)
    found = tuple(
        EthernetVerdict(
            ethernet=found.ethernet,
            rate_mbps=found.rate_mbps,
            band=found.band,
            chance=round(found.probability, 2),
            reason=found.reason,
            grade=Grade(found.evidence),
            lift=found.lift,
            lifted_chance=round(found.lifted_probability, 2),
        )
        for found in ethernet_verdicts(facts_of(run, length))
    )
    return tuple(_blind(row) for row in found) if blind else found


def _blind(row: EthernetVerdict) -> EthernetVerdict:
    """A verdict on a cable of which nobody knows the kind, and which nobody tested: at most worth a try."""
    if row.rate_mbps > prediction_number("untested_most"):
        return row.model_copy(update={"band": "no", "reason": say("network.nothing_known")})
    return row.model_copy(update={"band": "try it"}) if row.band == "likely" else row


@cache
def ethernet_verdicts(facts: RunFacts) -> tuple[Verdict, ...]:
    """Verdicts of the physics on a cable for every Ethernet, slowest first, worked out once for equal facts.

    As `copper.verdicts`, whose **Validity** and **Source** hold; nothing of the house is in them.
    """
    return verdicts(facts)


def _power(run: Run, length: Estimate) -> tuple[PowerVerdict, ...]:
    if not run.kind.may_have_pairs:
        return ()
    facts = facts_of(run, length)
    found = [(row, poe(facts, number)) for number, row in poe_classes().items()]
    return tuple(
        PowerVerdict(
            poe_class=result.poe_class,
            band=result.band,
            voltage_at_device_v=round(result.voltage_at_device_v, 1),
            device_w=row.device_w,
            reason=result.reason,
            grade=Grade(result.evidence),
        )
        for row, result in found
    )


def _sentence(run: Run, ethernet: tuple[EthernetVerdict, ...], likely: float, found: bool) -> Saying:
    if not found:
        return say("network.end_never_found")
    if not ethernet:
        return say("network.no_ethernet", kind=run.kind.value)
    if run.state is RunState.DAMAGED:
        return say("network.damaged", lift=ethernet[-1].lift)
    best = max((v for v in ethernet if v.band == "likely"), key=lambda v: v.rate_mbps, default=None)
    if best is None:
        hope = max(
            (v for v in ethernet if v.band == "try it"), key=lambda v: v.rate_mbps, default=ethernet[0]
        )
        best = hope
    return say("network.best_ethernet", ethernet=best.ethernet, band=best.band, reason=best.reason)
