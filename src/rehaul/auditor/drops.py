"""Rules on the drops: what is to be tried agrees with what is planned."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.places import hub_of
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import access_points, plates
from rehaul.house import Job
from rehaul.words import say

OLD = ("reuse", "repair")


def installed_is_not_without(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """What is installed is not told to go without.

    Broken by a drop that has no step, or whose words say to go without, for an access point or outlet that
    the plan gives. **Source**: docs/auditor.md, `installed-not-without`.
    """
    installed = {ap.id for ap in access_points(plan)} | {plate.id for plate in plates(plan)}
    for row in plan.rows("drops"):
        name = row.text("drop")
        if name in installed and (not row.rows("steps") or "go without" in row.text("words").lower()):
            yield finding(say("audit_work.installed_without", name=name), name)


def drops_say_the_same(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A drop tries the cable that the plan counts on, and no fishing between storeys within one.

    Broken by a drop about another cable than the one that feeds its place, by one that tries an old cable
    and has none, and by words of another storey where both ends are on one.

    **Validity**: the storey is that of the place where the main switch stands (`hub_of`). Chances, minutes
    and costs of a drop are not worked out again. **Source**: docs/auditor.md, `drops-agree`.
    """
    runs = {ap.id: ap.site.run for ap in access_points(plan)}
    runs |= {plate.id: plate.run for plate in plates(plan)}
    storeys = {ap.id: ap.site.storey for ap in access_points(plan)}
    storeys |= {outlet.id: outlet.storey for outlet in job.house.outlets}
    hub = hub_of(job, plan)
    for row in plan.rows("drops"):
        name = row.text("drop")
        if name in runs and runs[name] and row.text("run") != runs[name]:
            yield finding(say("audit_work.drop_of_another", name=name, run=runs[name]), name)
        for step in row.rows("steps"):
            if step.text("way") in OLD and not row.text("run"):
                yield finding(say("audit_work.drop_without_cable", name=name), name)
            words = f"{step.text('way')} {step.text('title')}".lower()
            same = hub is not None and storeys.get(name) == hub.storey
            if same and ("between storeys" in words or "other storey" in words):
                yield finding(say("audit_work.drop_same_storey", name=name, hub=hub.id if hub else ""), name)
