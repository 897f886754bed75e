"""A closer look at old cables: what to measure first, which limits they miss, what else they could do."""

from __future__ import annotations

from rehaul.copper import MediaOption, against_limits, other_media, run_line
from rehaul.facts.cables import CableRow, ChannelClass, cables
from rehaul.facts.channel_limits import channel_limits
from rehaul.facts.ethernet import CHANNEL_CLASSES, ETHERNETS, Ethernet, ethernet_needs
from rehaul.facts.prediction import prediction_number
from rehaul.house import (
    UNKNOWN,
    CableKind,
    Job,
    ObligationKind,
    Run,
    RunState,
    Topology,
    open_obligations,
    use_hold,
)
from rehaul.network.cabling import run_length, run_verdicts, telling
from rehaul.network.coaxtree import CoaxTree, coax_trees
from rehaul.network.verdicts import BrokenLimit, ClassCheck, OtherUse, RunVerdict
from rehaul.words import say

BROKEN_DB = 0.05  # cables are taken as just within their category: less than that is rounding
GOOD_MBPS = prediction_number("usual_port")  # where pairs carry that, nothing else need be asked of them


def closer_looks(job: Job, verdicts: tuple[RunVerdict, ...] | None = None) -> tuple[RunVerdict, ...]:
    """The verdicts with what a closer look at each cable says: what to measure, limits missed, other uses.

    `verdicts` are those of `run_verdicts`, worked out where they are not given; they come back in their
    order. Raises KeyError for a verdict on a cable that the job does not hold. **Source**: docs/copper.md,
    "From margin to verdict": on a closer look.
    """
    runs = {run.id: run for run in job.house.runs}
    trees = coax_trees(job)
    found = run_verdicts(job) if verdicts is None else verdicts
    return tuple(_closer(job, runs[verdict.run], verdict, trees) for verdict in found)


def _closer(job: Job, run: Run, verdict: RunVerdict, trees: tuple[CoaxTree, ...]) -> RunVerdict:
    """One verdict with it. Said in words: limits that are missed, and the best other use."""
    tells, against = telling(job, run), class_check(job, run)
    other = other_uses(job, run, verdict, trees)
    said = [tells.sentence] if tells else []
    said += [against.sentence] if against and against.broken else []
    said += [one.sentence for one in other[:1]]
    more = {"telling": tells, "against": against, "other": other, "closer": tuple(said)}
    return verdict.model_copy(update=more)


def class_check(job: Job, run: Run) -> ClassCheck | None:
    """The run as noted against the limits of the class that its kind is sold for.

    None where its kind is not known, where it is damaged, where what hangs on it is not known, or where a
    certificate says it.
    **Validity**, **Source**: as `against_limits`; the cable is taken as just within its category.
    """
    hangs = run.topology in (Topology.DAISY_CHAIN, Topology.UNKNOWN) and not run.taps_m
    certified = any(test.certified_to for test in run.tests)
    if run.kind not in cables() or run.state is RunState.DAMAGED or hangs or certified:
        return None
    row = cables()[run.kind]
    channel = _class_of(row)
    length_m, pairs = run_length(job.house, run).middle, run.pairs or row.pairs
    line = run_line(row.kind, length_m, taps_m=run.taps_m, splices=run.splices or 0, pairs=pairs)
    found = against_limits(line, channel)
    broken = [
        BrokenLimit(
            quantity=one.quantity,
            by_db=round(-one.tightest_db, 1),
            at_mhz=float(f"{one.tightest_hz / 1e6:.3g}"),
        )
        for one in found
        if one.tightest_db < -BROKEN_DB
    ]
    loss = next(one for one in found if one.quantity == "insertion loss")
    return ClassCheck(
        channel=channel,
        ethernet=_certified(channel),
        broken=tuple(sorted(broken, key=lambda one: -one.by_db)),
        top_mhz=round(float(loss.frequency_hz[-1]) / 1e6, 1),
        loss_allowed_db=round(float(loss.limit_db[-1]), 1),
        loss_left_db=round(float(loss.limit_db[-1] - loss.value_db[-1]), 1),
    )


def _class_of(row: CableRow) -> ChannelClass:
    """The class that a cable of this kind is sold for; what 100 Mb/s asks where that has no limits here."""
    own = row.certified_class
    known = {line for line, _ in channel_limits()}
    return own if own is not None and own in known else ethernet_needs()["100BASE-TX"].certified_by


def _certified(channel: ChannelClass) -> Ethernet:
    """The fastest rate that a certificate of the class settles."""
    rank = CHANNEL_CLASSES.index
    return [e for e in ETHERNETS if rank(ethernet_needs()[e].certified_by) <= rank(channel)][-1]


def other_uses(job: Job, run: Run, verdict: RunVerdict, trees: tuple[CoaxTree, ...]) -> tuple[OtherUse, ...]:
    """What a cable could carry besides Ethernet by itself: coax, or pairs that hold no gigabit.

    Nothing for a cable that is held, damaged or of which an end was never found.
    **Validity**, **Source**: as `other_media`.
    """
    if use_hold(job, run.id) or run.state is RunState.DAMAGED or UNKNOWN in run.ends:
        return ()
    if run.kind is CableKind.COAX:
        return _over_coax(job, run, trees)
    if not run.kind.may_have_pairs or verdict.likely_mbps >= GOOD_MBPS:
        return ()
    dsl = any(one.kind is ObligationKind.DSL for one in open_obligations(job, run.id))
    found = other_media("telephone pair", length_m=verdict.length_m, live_dsl=dsl)
    return tuple(_use(one, one.rate_low_mbps, one.rate_mbps) for one in found)


def _over_coax(job: Job, run: Run, trees: tuple[CoaxTree, ...]) -> tuple[OtherUse, ...]:
    """What data may do over the best way from this coax to another end of its tree."""
    tree = next((tree for tree in trees if run in tree.runs), None)
    if tree is None or tree.stop or run.id not in tree.free:
        return ()
    ends = tree.ends()
    ways = [
        (path.loss_db, end, path)
        for start in run.ends
        for end in ends
        if start in ends and end != start and (path := tree.path(job, start, end)) is not None
    ]
    if not ways:  # it does not surface twice yet: the splitters between are not known
        return tuple(_use(one, one.rate_low_mbps, one.rate_mbps) for one in other_media("coax"))
    loss_db, end, path = min(ways, key=lambda way: way[:2])
    low_mbps, _, most_mbps = path.rates_mbps()
    return tuple(
        _use(
            one,
            min(one.rate_low_mbps, low_mbps),
            min(one.rate_mbps, most_mbps),
            say("network.to_end", end=end),
        )
        for one in other_media("coax", length_m=path.length_m, path_db=loss_db)
        if one.band != "no"
    )


def _use(one: MediaOption, low_mbps: float, most_mbps: float, where: str = "") -> OtherUse:
    return OtherUse(
        medium=one.medium,
        standard=one.standard,
        low_mbps=round(low_mbps, 1),
        most_mbps=round(most_mbps, 1),
        band=one.band,
        where=where,
        reason=one.reason,
        needs=one.needs,
        caution=one.caution,
    )
