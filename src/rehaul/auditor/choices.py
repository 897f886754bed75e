"""Rules on what people decided: the plan keeps to it."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.trial import outcome, problem_of
from rehaul.auditor.views import access_points, graph, unique
from rehaul.facts.link_media import cable_media
from rehaul.house import Job
from rehaul.words import say

_MUST_STAY = {"move": "audit_network.router_moved", "radio off": "audit_network.router_silenced"}


def choices_kept(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """New cables, hops, coax adapters and the router's place are as people chose; so are pinned sites.

    Broken by what `choices` of the job rules out, by a box at a forbidden site, and by a pinned site without
    one, unless the plan leaves it out, says so in its notes, and no one or two more ways put a box there
    within the budget.

    **Validity**: that a left out pin is out of reach is tried beside the chosen ways only, not over all
    choices. **Source**: docs/auditor.md, `choices-kept`.
    """
    choices = job.choices
    for link in graph(plan, "after").links:
        if link.age == "new" and link.medium in cable_media() and not choices.new_pulls:
            yield finding(say("audit_network.no_pulls", name=link.id), link.id)
        if link.age != "kept" and link.medium == "wireless hop" and not choices.wireless_hops:
            yield finding(say("audit_network.no_hops", name=link.id), link.id)
        if link.age != "kept" and link.medium == "coax" and not choices.coax_adapters:
            yield finding(say("audit_network.no_coax", name=link.id), link.id)
    sites = {ap.site.id for ap in access_points(plan)}
    for site in choices.forbidden_sites:
        if site in sites:
            yield finding(say("audit_network.at_forbidden", site=site), site)
    left = set(plan.names("choice", "pins_left")) if plan.has("choice", "pins_left") else set()
    for site in choices.pinned_sites:
        if site in sites:
            continue
        if site not in left:
            yield finding(say("audit_network.pin_left", site=site), site)
        elif not any(f" {site}," in f"{note}," for note in plan.names("notes")):
            yield finding(say("audit_network.pin_left_untold", site=site), site)
        elif _could_stand(job, plan, site):
            yield finding(say("audit_network.pin_within_reach", site=site), site)


def _could_stand(job: Job, plan: RowView, site: str) -> bool:
    """Whether one more way, or two, beside the chosen ones put an access point there within the budget."""
    budget = job.choices.budget
    problem = problem_of(plan)
    chosen = [way for way in problem.ways if way.id in plan.names("choice", "ways")]
    here = [way for way in problem.ways if way.group == f"place {site}"]
    for way in here:
        for other in (None, *(each for each in problem.ways if each.id in way.beside)):
            new = [way] if other is None else [way, other]
            groups = {each.group for each in new}
            found = outcome(problem, (*(each for each in chosen if each.group not in groups), *new))
            if found is not None and (budget is None or found.cost <= 100 * budget):
                return True
    return False


def router_stays(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """The router is moved or silenced only where it may be.

    Broken where a router that is not in the house is to change, where `choices.move_router` is off, and
    where one that cannot be moved is to move. **Source**: docs/auditor.md, `router-as-decided`.
    """
    router = plan.row("choice", "router")
    do, name = router.text("do"), router.text("box")
    if do not in _MUST_STAY:
        return
    box = next((box for box in job.boxes if box.id == name), None)
    if box is None:
        said = say("audit_network.router_unknown", name=name)
        yield finding(said if name else say("audit_network.some_router_unknown"), name)
    elif not job.choices.move_router:
        yield finding(say(_MUST_STAY[do], name=name), name)
    elif do == "move" and box.movable is False:
        yield finding(say("audit_network.router_bound", name=name), name)


def channels_whose(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every access point has a channel, every channel a box; radar-shared ones only where chosen.

    Broken by a chosen access point without a row in the plan of channels, by a row for a box that is neither
    chosen nor standing, and by a channel shared with radar where `choices.dfs` is off.

    **Validity**: whether channels disturb each other, or are allowed in the country, is not asked.
    **Source**: docs/auditor.md, `channels-whose`.
    """
    rows = plan.rows("channels", "channels")
    radiates = {row.text("access_point") for row in rows}
    chosen = {ap.id for ap in access_points(plan)}
    known = chosen | {box.id for box in job.boxes}
    for name in sorted(chosen - radiates):
        yield finding(say("audit_network.no_channel", name=name), name)
    for name in sorted(radiates - known):
        yield finding(say("audit_network.channel_for_nobody", name=name), name)
    for row in rows:
        if row.flag("dfs") and not job.choices.dfs:
            yield finding(
                say("audit_network.on_radar_channel", name=row.text("access_point")), row.text("access_point")
            )


def names_unique(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """No two access points have the same id or stand at the same place.

    One finding for each id, and each site, that stands more than once among the chosen access points.
    **Source**: docs/auditor.md, `access-points-apart`.
    """
    chosen = access_points(plan)
    for name in unique([ap.id for ap in chosen]):
        yield finding(say("audit_network.two_of_a_name", name=name), name)
    for site in unique([ap.site.id for ap in chosen]):
        yield finding(say("audit_network.two_at_a_place", site=site), site)
