"""Rules on old cable: nothing is promised of it that nobody has found, and coax is fit for data."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.holds import is_released
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import GraphView, graph, parts, paths
from rehaul.facts.auditing import audit_number
from rehaul.facts.grades import chance
from rehaul.house import UNKNOWN, CableKind, Job, Run
from rehaul.words import say, term


def promised_with_a_verdict(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """An old pair is counted on only at a rate that its verdict calls likely, as it is or once put right;
    some pieces of a cable alone only with a likely chance of their own.

    **Source**: docs/auditor.md, `verdict-before-promise`.
    """
    verdicts = {row.text("run"): row for row in plan.rows("cabling")}
    links = graph(plan, "after").link_of()
    for name in dict.fromkeys(step.id for way in paths(plan) for step in way.steps):
        link = links.get(name)
        if link is None or link.age != "old" or link.medium != "twisted pair":
            continue
        row = verdicts.get(link.run)
        if row is None:
            yield finding(say("audit_network.no_verdict", name=name, run=link.run), name, link.run)
        elif 0 < len(link.pieces) < _pieces(job, link.run):
            if link.chance < chance("likely from"):
                yield finding(say("audit_network.at_a_chance", name=name, chance=link.chance), name, link.run)
        elif link.rate_mbps > _likely_mbps(row) + 0.1:
            yield finding(
                say(
                    "audit_network.beyond_verdict",
                    name=name,
                    rate_mbps=link.rate_mbps,
                    run=link.run,
                    likely_mbps=_likely_mbps(row),
                ),
                name,
                link.run,
            )


def _pieces(job: Job, run_id: str) -> int:
    """How many pieces a cable is made of."""
    return next((len(run.ends) - 1 for run in job.house.runs if run.id == run_id), 0)


def _likely_mbps(verdict: RowView) -> float:
    least = chance("likely from")
    return max(
        (
            row.number("rate_mbps")
            for row in verdict.rows("ethernet")
            if row.text("band") == "likely" or row.number("lifted_chance") >= least
        ),
        default=0.0,
    )


def unknown_is_not_fast(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A cable of which nothing is known is called likely, or worth a try, only at what any pair carries.

    Nothing is known of a cable whose kind is unknown and which has no test, no printed sheath and no gauge.
    Broken by a verdict `likely` or `try it` at a rate above that of the fact numbers `unknown_likely` and
    `unknown_try` [Mb/s].

    **Validity**: says nothing of cables of which anything is known: their verdicts are not worked out again.
    **Source**: docs/auditor.md, `unknown-not-fast`.
    """
    unknown = {run.id for run in job.house.runs if _is_unknown(run)}
    most = {"likely": audit_number("unknown_likely"), "try it": audit_number("unknown_try")}
    for row in plan.rows("cabling"):
        if row.text("run") not in unknown:
            continue
        for verdict in row.rows("ethernet"):
            band, rate = verdict.text("band"), verdict.number("rate_mbps")
            if band in most and rate > most[band]:
                yield finding(
                    say("audit_network.unknown_fast", run=row.text("run"), band=term(band), rate_mbps=rate),
                    row.text("run"),
                )
                break


def _is_unknown(run: Run) -> bool:
    """Whether neither kind, print, gauge nor any test says what a cable is."""
    return run.kind is CableKind.UNKNOWN and not run.tests and not run.sheath_print and run.gauge_awg is None


def coax_is_fit(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Data over coax have an adapter at both ends, splitters that pass them and no satellite, and stay in.

    Broken by fewer than two adapters; by a splitter on the way that amplifies, of which nobody knows what it
    passes, or that passes less than `splitter_top` [MHz], unless it is bought anew; by satellite television
    on a coax that is joined to it; and by a way out of the house without a filter.

    **Validity**: knows the coaxes of the job's record; losses on the way are not worked out here.
    **Source**: fact table of the auditor's numbers.
    """
    after = graph(plan, "after")
    bought = {name for part in parts(plan) for name in part.because}
    used = {step.id for way in paths(plan) for step in way.steps}
    data = [link for link in after.links if link.medium == "coax" and link.age != "kept" and link.id in used]
    adapters = [node.id for node in after.nodes if node.kind == "adapter"]
    if data and len(adapters) < 2:
        yield finding(say("audit_network.few_adapters"), *(link.id for link in data))
    if not data:
        return
    runs = {link.run for link in data}
    ends = {end for run in job.house.runs if run.id in runs for end in run.ends}
    for splitter in job.house.splitters:
        if splitter.id not in ends or splitter.id in bought:
            continue
        if splitter.amplifier:
            yield finding(say("audit_network.amplifier", name=splitter.id), splitter.id)
        elif splitter.passes_mhz is None:
            yield finding(say("audit_network.splitter_unknown", name=splitter.id), splitter.id)
        elif splitter.passes_mhz < audit_number("splitter_top"):
            yield finding(
                say("audit_network.splitter_narrow", name=splitter.id, passes_mhz=splitter.passes_mhz),
                splitter.id,
            )
    tree = _joined_coax(job, runs)
    for obligation in job.obligations:
        if obligation.kind.value == "satellite" and obligation.run in tree and not is_released(obligation):
            yield finding(say("audit_network.with_satellite", run=obligation.run), obligation.id)
    filtered = {name for part in parts(plan) if "filter" in part.item for name in part.because}
    for run in _ways_out(job, tree, after) if job.house.entry_filter is not True else ():
        if run not in filtered:
            yield finding(say("audit_network.no_filter", run=run), run)


def _joined_coax(job: Job, runs: set[str]) -> set[str]:
    """Coaxes that share splitters with these, themselves among them."""
    coax = {run.id: set(run.ends) for run in job.house.runs if run.kind is CableKind.COAX}
    splitters = {splitter.id for splitter in job.house.splitters}
    found, grown = set(runs) & set(coax), True
    while grown:
        reached = {end for run in found for end in coax[run]} & splitters
        more = {run for run, ends in coax.items() if ends & reached} - found
        found |= more
        grown = bool(more)
    return found


def _ways_out(job: Job, tree: set[str], after: GraphView) -> Iterator[str]:
    """Coaxes by which data may leave the house: to where lines come in or to an end nobody found.

    An end that an adapter or a new splitter is plugged in at leads nowhere else.
    """
    doors = {point.id for point in job.house.meeting_points} | {job.service.enters, UNKNOWN}
    adapters = {node.id for node in after.nodes if node.kind == "adapter"}
    plugged = {link.other(adapter) for link in after.links for adapter in adapters & {link.a, link.b}}
    new = {node.id for node in after.nodes if node.kind == "splitter"}
    new -= {splitter.id for splitter in job.house.splitters}
    split = {link.run: {link.a, link.b} for link in after.links if link.run and {link.a, link.b} & new}
    for run in job.house.runs:
        ends = set(run.ends) & split.get(run.id, set(run.ends))
        if run.id in tree and ends & doors - plugged:
            yield run.id
