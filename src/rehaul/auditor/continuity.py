"""Rules on copper and drawing: cables really come where the plan plugs them in."""

from __future__ import annotations

import math
from collections.abc import Iterator

from rehaul.auditor.bought import SMALL
from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.pieces import ends_of, outer_ends, pieces_of, run_of
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import PlacePoint, access_points, graph, paths, plates, tasks, unique
from rehaul.facts.auditing import audit_number
from rehaul.house import CableKind, Job, MeetingPoint, Outlet, Splitter
from rehaul.words import say

_TWICE = {"before": "audit_network.twice_before", "after": "audit_network.twice_after"}


def graph_whole(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every id of the graph stands for one thing, every link ends at nodes, every old cable is the job's.

    Judges the graphs before and after the work. Broken by an id that two nodes, two links or a node and a
    link bear, by a link with an end that is no node, and by an old cable that the house does not have.
    **Source**: docs/auditor.md, `graph-whole`.
    """
    runs = {run.id for run in job.house.runs}
    for state in _TWICE:
        found = graph(plan, state)
        nodes = [node.id for node in found.nodes]
        for name in unique([*nodes, *(link.id for link in found.links)]):
            yield finding(say(_TWICE[state], name=name), name)
        for link in found.links:
            for end in (link.a, link.b):
                if end not in nodes:
                    yield finding(say("audit_network.ends_nowhere", name=link.id, end=end), link.id, end)
            if link.run and link.run not in runs:
                yield finding(say("audit_network.old_cable_unknown", name=link.id, run=link.run), link.id)


def drawn_where_it_is(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Plates, meeting points and access points stand in the graph where job and plan have them.

    Broken by another storey, by a place farther off than the fact number `in_room` [m], and by an access
    point that the graph does not have. A node without a position is compared by its storey alone.

    **Validity**: heights are not compared. **Source**: fact table of the auditor's numbers.
    """
    places: dict[str, tuple[str, PlacePoint]] = {
        thing.id: (thing.storey, thing.position) for thing in _fixed_things(job) if thing.position is not None
    }
    places |= {ap.id: (ap.site.storey, ap.site.position) for ap in access_points(plan)}
    nodes = graph(plan, "after").node_of()
    for name in sorted(set(places) & set(nodes)):
        storey, position = places[name]
        drawn = nodes[name]
        apart_m = 0.0 if drawn.position is None else math.dist(drawn.position, position)
        if drawn.storey != storey or apart_m > audit_number("in_room"):
            yield finding(say("audit_network.drawn_elsewhere", name=name), name)
    for ap in access_points(plan):
        if ap.id not in nodes:
            yield finding(say("audit_network.not_in_graph", name=ap.id), ap.id)


def _fixed_things(job: Job) -> tuple[Outlet | MeetingPoint | Splitter, ...]:
    return (*job.house.outlets, *job.house.meeting_points, *job.house.splitters)


def comes_to_the_panel(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A cable terminated at the panel really comes to where cables meet.

    Asks every step of kind `panel_port` and every port with a place on the panel. Broken where neither outer
    end of the old cable, or of its joined pieces, is a place where cables meet.

    **Validity**: a new cable is passed over: it ends where it is pulled to. **Source**: docs/auditor.md,
    `comes-to-the-panel`.
    """
    links = {link.id: link for link in graph(plan, "after").links}
    centre = {point.id for point in job.house.meeting_points}
    runs = {run.id: run for run in job.house.runs}
    named = [(task.id, name) for task in tasks(plan) if task.norm == "panel_port" for name in task.because]
    named += [
        (say("audit_network.port", number=port.number("port")), port.text("link") or port.text("run"))
        for port in plan.rows("network", "ports")
        if port.has("panel_port")
    ]
    for who, cable in dict.fromkeys(named):
        link = links.get(cable)
        ends: frozenset[str] | None = frozenset()
        if link is not None and pieces_of(job, link):
            ends = outer_ends(job, pieces_of(job, link))
        elif link is None and cable in runs:
            ends = frozenset(runs[cable].ends)
        elif link is None and ends_of(job, cable) is not None:
            ends = frozenset(ends_of(job, cable) or ())
        else:
            continue  # a new cable ends where it is pulled to; other names are no cables
        if not centre & (ends or frozenset()):
            yield finding(say("audit_network.not_at_panel", name=cable, who=who), cable)


def pieces_join(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """The pieces of a link are the house's, join end to end, and lead to where the link goes.

    Broken by pieces that the house does not have or that share no end, and by a link that goes to a plate,
    meeting point or splitter where its joined pieces do not come out.

    **Validity**: coax is passed over: it branches at splitters and does not lie end to end. **Source**:
    docs/auditor.md, `pieces-join`.
    """
    surfaces = {thing.id for thing in _fixed_things(job)}
    for link in graph(plan, "after").links:
        pieces = pieces_of(job, link)
        if not pieces or link.medium == "coax":
            continue
        ends = outer_ends(job, pieces)
        if ends is None:
            yield finding(say("audit_network.pieces_apart", name=link.id), link.id, *pieces)
            continue
        for end in (link.a.removeprefix(SMALL), link.b.removeprefix(SMALL)):
            if end in surfaces and end not in ends:
                yield finding(say("audit_network.does_not_surface", name=link.id, end=end), link.id, end)


def at_an_end(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """What is fed by an old cable is at an end of it.

    Broken by an access point or wired outlet fed by a cable that is not in the house, and by one at a plate,
    meeting point or splitter that is no outer end of the last old stretch on its path.

    **Validity**: places that are no fixed point of the house, such as those on a desk, are not asked.
    **Source**: docs/auditor.md, `fed-at-an-end`.
    """
    runs = {run.id: run for run in job.house.runs}
    links = graph(plan, "after").link_of()
    surfaces = {thing.id for thing in _fixed_things(job)}
    last: dict[str, tuple[str, ...]] = {}
    for way in paths(plan):
        old = [links[step.id] for step in way.steps if step.id in links and pieces_of(job, links[step.id])]
        if old:
            last[way.to] = pieces_of(job, old[-1])
    fed = [(ap.id, ap.site.id, ap.site.run) for ap in access_points(plan)]
    fed += [(plate.id, plate.id, plate.run) for plate in plates(plan)]
    for who, place, run in fed:
        if run and run not in runs:
            yield finding(say("audit_network.fed_by_unknown", name=who, run=run), who, run)
        elif (
            run
            and place in surfaces
            and place not in (outer_ends(job, last.get(who, (run,))) or runs[run].ends)
        ):
            yield finding(say("audit_network.fed_elsewhere", name=who, run=run, place=place), who, run)


def copper_used_once(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No stretch of an old pair is part of two links, unless both are as people said; coax may be shared.

    A link is as people said where it is the provider's line, or the recorded cable of a box that stands.
    Broken by a stretch in two links of which at least one is not.

    **Validity**: pairs of one cable are not told apart: two links on two pairs of it are broken as well.
    **Source**: docs/auditor.md, `copper-used-once`.
    """
    coax = {run.id for run in job.house.runs if run.kind is CableKind.COAX}
    users: dict[str, list[str]] = {}
    for link in graph(plan, "after").links:
        for piece in pieces_of(job, link):
            if run_of(job, piece) not in coax:
                users.setdefault(piece, []).append(link.id)
    fed = {(box.run, box.id) for box in job.boxes if box.run}
    links = graph(plan, "after").links
    said = {link.id for link in links if link.medium == "provider's line" or (link.run, link.b) in fed}
    for piece, names in users.items():
        if len(names) > 1 and not said.issuperset(names):
            yield finding(say("audit_network.used_twice", names=tuple(names), piece=piece), piece, *names)


def reach_kept(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No copper link that is put to use is longer than balanced copper reaches.

    Broken by a link of twisted pair, old or new, longer than the fact number `copper_channel` [m].

    **Validity**: takes the length that the plan gives the link. **Source**: fact table of the auditor's
    numbers.
    """
    most_m = audit_number("copper_channel")
    for link in graph(plan, "after").links:
        if link.medium == "twisted pair" and link.age != "kept" and link.length_m > most_m:
            yield finding(
                say("audit_network.too_long", name=link.id, length_m=link.length_m, most_m=most_m), link.id
            )
