"""Rules on old cable: nothing is promised of it that nobody has found, and coax is fit for data."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import Row
from rehaul.auditor.views import graph, parts, paths
from rehaul.facts.auditing import audit_number
from rehaul.facts.grades import chance
from rehaul.house import CableKind, Job, Run


def promised_with_a_verdict(job: Job, plan: Row) -> Iterator[PlanFinding]:
    """An old pair is counted on only at a rate that its verdict calls likely, as it is or once put right."""
    verdicts = {row.text("run"): row for row in plan.rows("cabling")}
    links = graph(plan, "after").link_of()
    for name in dict.fromkeys(step.id for way in paths(plan) for step in way.steps):
        link = links.get(name)
        if link is None or link.age != "old" or link.medium != "twisted pair":
            continue
        row = verdicts.get(link.run)
        if row is None:
            yield finding(f"{name} is counted on and there is no verdict on {link.run}.", name, link.run)
        elif link.rate_mbps > _likely_mbps(row) + 0.1:
            yield finding(
                f"{name} is counted on at {link.rate_mbps:g} Mb/s and {link.run} is good for "
                f"{_likely_mbps(row):g}.",
                name,
                link.run,
            )


def _likely_mbps(verdict: Row) -> float:
    least = chance("likely from")
    return max(
        (
            row.number("rate_mbps")
            for row in verdict.rows("ethernet")
            if row.text("band") == "likely" or row.number("lifted_chance") >= least
        ),
        default=0.0,
    )


def unknown_is_not_fast(job: Job, plan: Row) -> Iterator[PlanFinding]:
    """A cable of which nothing is known is called likely, or worth a try, only at what any pair carries."""
    unknown = {run.id for run in job.house.runs if _is_unknown(run)}
    most = {"likely": audit_number("unknown_likely"), "try it": audit_number("unknown_try")}
    for row in plan.rows("cabling"):
        if row.text("run") not in unknown:
            continue
        for verdict in row.rows("ethernet"):
            band, rate = verdict.text("band"), verdict.number("rate_mbps")
            if band in most and rate > most[band]:
                yield finding(
                    f"Nothing is known of {row.text('run')}, and it is called {band!r} at {rate:g} Mb/s.",
                    row.text("run"),
                )
                break


def _is_unknown(run: Run) -> bool:
    """Whether neither kind, print, gauge nor any test says what a cable is."""
    return run.kind is CableKind.UNKNOWN and not run.tests and not run.sheath_print and run.gauge_awg is None


def coax_is_fit(job: Job, plan: Row) -> Iterator[PlanFinding]:
    """Data over coax have an adapter at both ends, splitters that pass them, and stay in the house."""
    after = graph(plan, "after")
    bought = {name for part in parts(plan) for name in part.because}
    used = {step.id for way in paths(plan) for step in way.steps}
    data = [link for link in after.links if link.medium == "coax" and link.age != "kept" and link.id in used]
    adapters = [node.id for node in after.nodes if node.kind == "adapter"]
    if data and len(adapters) < 2:
        yield finding("Data go over coax with fewer than two adapters.", *(link.id for link in data))
    runs = {link.run for link in data}
    ends = {end for run in job.house.runs if run.id in runs for end in run.ends}
    for splitter in job.house.splitters:
        if splitter.id not in ends or splitter.id in bought:
            continue
        if splitter.amplifier:
            yield finding(f"{splitter.id} is an amplifier: data do not pass it backwards.", splitter.id)
        elif splitter.passes_mhz is not None and splitter.passes_mhz < audit_number("splitter_top"):
            yield finding(
                f"{splitter.id} passes {splitter.passes_mhz:g} MHz, too little for data.", splitter.id
            )
    if data and job.house.entry_filter is False and not any("filter" in part.item for part in parts(plan)):
        yield finding("Data go over coax and no filter keeps them in the house.", *(link.id for link in data))
