"""Rules on paths: how data come from the street to every access point and wired outlet."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.holds import why_not_used
from rehaul.auditor.pieces import runs_of
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import GraphView, LinkView, WayView, access_points, graph, paths, plates, unique
from rehaul.house import Job
from rehaul.words import say

ROUNDING_MBPS = 0.1  # rates are printed to a tenth
ROUNDING_CHANCE = 0.001
NEW_ROUTER = "new-router"


def one_each(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every access point and wired outlet has one path, and nothing else has one.

    One finding for each thing without a path, each path to something that the plan does not give, and each
    thing with two paths.

    **Validity**: compares ids alone; whether a path leads there is `from_the_street`. **Source**:
    docs/auditor.md, `path-for-each`.
    """
    wanted = [ap.id for ap in access_points(plan)] + [plate.id for plate in plates(plan)]
    found = [way.to for way in paths(plan)]
    for name in sorted(set(wanted) - set(found)):
        yield finding(say("audit_network.no_path", name=name), name)
    for name in sorted(set(found) - set(wanted)):
        yield finding(say("audit_network.path_to_nothing", name=name), name)
    for name in unique(found):
        yield finding(say("audit_network.two_paths", name=name), name)


def from_the_street(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every path starts at the street, goes from link to link, and ends where it says.

    Broken by a first link that does not touch the node of kind `street`, by two links that share no node,
    and by a last node that is not the one the path is for.

    **Validity**: a path with a link that the graph does not have is passed over here: `links_stand` says it.
    **Source**: docs/auditor.md, `path-from-street`.
    """
    after = graph(plan, "after")
    links = after.link_of()
    streets = [node.id for node in after.nodes if node.kind == "street"]
    for way in paths(plan):
        known = [links[step.id] for step in way.steps if step.id in links]
        if len(known) != len(way.steps):
            continue  # a link that does not exist is said by its own rule
        here = next((s for s in streets if known and s in (known[0].a, known[0].b)), "")
        if not here:
            yield finding(say("audit_network.not_from_street", name=way.to), way.to)
            continue
        for link in known:
            if here not in (link.a, link.b):
                yield finding(say("audit_network.breaks_off", name=way.to, link=link.id), way.to, link.id)
                break
            here = link.other(here)
        else:
            if here != way.to:
                yield finding(say("audit_network.ends_elsewhere", name=way.to, end=here), way.to, here)


def links_stand(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every link of a path is in the graph after the work, and promises no more there.

    Broken by a link that is not there, one of another medium or shared with something else, and by a path
    that counts on more of it than the graph gives: rate (0.1 Mb/s forgiven), chance (0.001 forgiven), class
    of power.

    **Validity**: path and graph are both the plan's; where both promise too much nothing is found.
    **Source**: docs/auditor.md, `path-links-stand`.
    """
    links = graph(plan, "after").link_of()
    for way in paths(plan):
        for step in way.steps:
            link = links.get(step.id)
            if link is None:
                yield finding(say("audit_network.uses_unknown", name=way.to, link=step.id), step.id)
            elif (step.medium, step.shares) != (link.medium, link.shares):
                yield finding(
                    say(
                        "audit_network.medium_differs",
                        link=step.id,
                        drawn=link.medium,
                        used=step.medium,
                        name=way.to,
                    ),
                    step.id,
                    way.to,
                )
            elif (
                step.rate_mbps > link.rate_mbps + ROUNDING_MBPS
                or step.chance > link.chance + ROUNDING_CHANCE
                or step.poe_class > link.poe_class
            ):
                yield finding(say("audit_network.counts_on_more", name=way.to, link=step.id), step.id, way.to)


def _same_ends(job: Job, stood: LinkView, link: LinkView) -> bool:
    """Whether a link joins what it joined, a new router in the place of one that goes being the same."""
    now, then = {link.a, link.b}, {stood.a, stood.b}
    goes = [box.id for box in job.boxes if not box.keep]
    return now == then or any({box if end == NEW_ROUTER else end for end in now} == then for box in goes)


def links_usable(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every link of a path is kept, bought, or an old cable that may be used.

    Broken by a link that is held, one said to be kept that does not join the same ends today, and one of old
    cable that `why_not_used` speaks against. A new router in the place of one that goes counts as the same
    end.

    **Validity**: whether what is new is bought is a rule of its own (`bought.every_thing_bought`).
    **Source**: docs/auditor.md, `path-links-usable`.
    """
    before, links = graph(plan, "before").link_of(), graph(plan, "after").link_of()
    for name in dict.fromkeys(step.id for way in paths(plan) for step in way.steps):
        link = links.get(name)
        if link is None:
            continue
        if link.held:
            yield finding(say("audit_network.counted_on_and_held", name=name, held=link.held), name)
        if link.age == "kept":
            stood = before.get(name)
            if stood is None or not _same_ends(job, stood, link):
                yield finding(say("audit_network.does_not_stand", name=name), name)
        elif link.age == "old":
            for run in runs_of(job, link) or (name,):
                why = why_not_used(job, run)
                if why:
                    yield finding(say("audit_network.counted_on_but", name=name, why=why), name, run)
        elif link.age != "new":
            yield finding(say("audit_network.of_no_age", name=name), name)


def weakest_rules(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No path promises more than its weakest link, and it names that link.

    Broken by a rate above the least of the path's links (0.1 Mb/s forgiven), a chance above the least of
    theirs (0.001 forgiven), and by a narrowest link that is not on the path or carries more than another.
    Over a shared medium the link named may be one that carries more by itself. **Source**: docs/auditor.md,
    `path-weakest-link`.
    """
    for way in paths(plan):
        if not way.steps:
            continue
        least = min(step.rate_mbps for step in way.steps)
        if way.rate_mbps > least + ROUNDING_MBPS:
            yield finding(
                say(
                    "audit_network.promised_too_much",
                    name=way.to,
                    promised_mbps=way.rate_mbps,
                    least_mbps=least,
                ),
                way.to,
            )
        if way.chance > min(step.chance for step in way.steps) + ROUNDING_CHANCE:
            yield finding(say("audit_network.too_sure", name=way.to), way.to)
        named = [step for step in way.steps if step.id == way.narrowest]
        if not named:
            yield finding(say("audit_network.narrowest_elsewhere", name=way.to, link=way.narrowest), way.to)
        elif named[0].rate_mbps > least + ROUNDING_MBPS and not named[0].shares:
            yield finding(say("audit_network.not_narrowest", link=way.narrowest, name=way.to), way.to)


def shared_fits(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """What is promised over a shared medium fits into it: the turns that all of it takes add up to one.

    The turn of a path is the rate promised divided by what the medium carries for it alone. Broken where two
    paths or more take over one together, each forgiven the 0.1 Mb/s that rates are printed to.

    **Validity**: takes the medium's rate from the graph; what it carries in truth is not worked out here.
    **Source**: docs/auditor.md, `shared-medium-fits`.
    """
    after = graph(plan, "after")
    for medium in dict.fromkeys(link.shares for link in after.links if link.shares):
        carried = [(way, _carries(way, after, medium)) for way in paths(plan)]
        over = [(way, rate) for way, rate in carried if rate is not None]
        turns = sum(way.rate_mbps / rate if rate > 0 else math.inf for way, rate in over)
        little = sum(ROUNDING_MBPS / rate for _, rate in over if rate > 0)
        if len(over) > 1 and turns > 1 + little:
            yield finding(
                say(
                    "audit_network.shared_too_much",
                    names=tuple(way.to for way, _ in over),
                    turns=turns,
                    medium=medium,
                ),
                medium,
                *(way.to for way, _ in over),
            )


def _carries(way: WayView, after: GraphView, medium: str) -> float | None:
    """What a medium carries of one path, were it alone; None where the path does not go over it."""
    links = after.link_of()
    rates = [
        links[step.id].rate_mbps for step in way.steps if step.id in links and links[step.id].shares == medium
    ]
    return min(rates, default=None)
