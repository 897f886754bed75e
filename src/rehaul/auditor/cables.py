"""Rules on ids: one cable has one id on graph, cut list, schedule, port map, labels and tests."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from rehaul.auditor.finding import PlanFinding, finding
from rehaul.auditor.reading import RowView
from rehaul.auditor.views import graph, parts, plates, tasks
from rehaul.facts.link_media import cable_media
from rehaul.facts.pulls import pull_ways
from rehaul.house import Job
from rehaul.words import say


def cut_for_each(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every new cable has one line on the cut list, long enough, and every line there is a new cable.

    Broken by a new cable that is on the list of cuts not once, by a cut that is no new cable, and by one
    more than 0.1 m shorter than the way it runs.

    **Validity**: the length of the way is the plan's own; it is not measured again in the house. **Source**:
    docs/auditor.md, `cut-for-each-cable`.
    """
    new = {link.id: link for link in graph(plan, "after").links if _is_new_cable(link.age, link.medium)}
    lines = [row for row in plan.rows("takeoff", "cuts") if row.text("kind") == "cable"]
    listed = [row.text("id") for row in lines]
    for name in new:
        if listed.count(name) != 1:
            yield finding(say("audit_work.cut_times", name=name, times=listed.count(name)), name)
    for row in lines:
        name, length_m = row.text("id"), row.number("length_m")
        if name not in new:
            yield finding(say("audit_work.cut_and_not_new", name=name), name)
        elif length_m + 0.1 < new[name].length_m:
            yield finding(
                say("audit_work.cut_short", name=name, cut_m=length_m, runs_m=new[name].length_m), name
            )


def cable_enough(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """As much cable of each kind is bought as is cut.

    Compares the metres cut for links of each medium with the metres bought of what such links are cut from;
    0.1 m forgiven.

    **Validity**: a cut that is no link of the graph is of no kind; `cut_for_each` finds it. **Source**: the
    fact table `pull_ways`; docs/auditor.md, `cable-enough`.
    """
    cut_from: dict[str, str] = {way.medium: way.cable for way in pull_ways().values()}
    kinds = {link.id: cut_from.get(link.medium, "") for link in graph(plan, "after").links}
    cut_m: defaultdict[str, float] = defaultdict(float)
    for row in plan.rows("takeoff", "cuts"):
        item = kinds.get(row.text("id"))
        if row.text("kind") == "cable" and item:
            cut_m[item] += row.number("length_m")
    bought_m: defaultdict[str, float] = defaultdict(float)
    for part in parts(plan):
        bought_m[part.item] += part.quantity if part.unit == "m" else 0.0
    for item, metres in cut_m.items():
        if bought_m[item] + 0.1 < metres:
            yield finding(
                say("audit_work.cable_short", cut_m=metres, item=item, bought_m=bought_m[item]), item
            )


def _is_new_cable(age: str, medium: str) -> bool:
    return age == "new" and medium in cable_media()


def one_id(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """A cable has the same id everywhere: every id on ports, outlets, holes and drops is one of the graph.

    Broken by an id that is neither a link of the graph nor an old cable of the house. An empty one is none.
    **Source**: docs/auditor.md, `one-id`.
    """
    links = graph(plan, "after").links
    known = {link.id for link in links} | {link.run for link in links} | {run.id for run in job.house.runs}
    said = [("audit_work.on_port_map", port.text("run")) for port in plan.rows("network", "ports")]
    said += [("audit_work.on_outlets", name) for plate in plates(plan) for name in (plate.run, plate.pull)]
    said += [("audit_work.on_holes", row.text("cable")) for row in plan.rows("takeoff", "holes")]
    said += [("audit_work.on_drops", row.text("run")) for row in plan.rows("drops")]
    for place, name in dict.fromkeys(said):
        if name and name not in known:
            yield finding(say(place, name=name), name)


def labels_stand(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every id on a label is in the graph after the work.

    Broken by an id that is no node, link or cable of the graph; said once for each id. **Source**:
    docs/auditor.md, `labels-stand`.
    """
    after = graph(plan, "after")
    known = {node.id for node in after.nodes} | {link.id for link in after.links}
    known |= {link.run for link in after.links}
    for name in dict.fromkeys(row.text("id") for row in plan.rows("labels")):
        if name not in known:
            yield finding(say("audit_work.label_unknown", name=name), name)


def labels_listed(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every cable on a label is on the cable schedule or the cut list, and is tested.

    Broken by a labelled cable that is on neither list, and by one that a step puts on a jack or a panel port
    and that no step tests.

    **Validity**: labels of boxes are passed over: they are no cables. **Source**: docs/auditor.md,
    `labels-on-schedule`.
    """
    after = graph(plan, "after")
    cables = {link.id: link.run for link in after.links if link.medium in cable_media()}
    cables |= {link.run: link.run for link in after.links if link.run}
    listed = {row.text("run") for row in plan.rows("cabling")}
    listed |= {row.text("id") for row in plan.rows("takeoff", "cuts")}
    used = {name for task in tasks(plan) if task.norm in ("jack", "panel_port") for name in task.because}
    tested = {name for task in tasks(plan) if task.norm in ("test", "fibre") for name in task.because}
    for name in dict.fromkeys(row.text("id") for row in plan.rows("labels")):
        if name not in cables:
            continue
        names = {name, cables[name]} - {""}
        if not names & listed:
            yield finding(say("audit_work.label_not_listed", name=name), name)
        if names & used and not names & tested:
            yield finding(say("audit_work.label_not_tested", name=name), name)


def used_is_tested(job: Job, plan: RowView) -> Iterator[PlanFinding]:
    """Every cable that is new or put to use is tested and has a label.

    Broken by a cable whose link or cable id is named by no step of testing, or by no label.

    **Validity**: asks that a test is planned, not what it found. **Source**: docs/auditor.md,
    `used-is-tested`.
    """
    labelled = {row.text("id") for row in plan.rows("labels")}
    tested = {name for task in tasks(plan) if task.norm in ("test", "fibre") for name in task.because}
    for link in graph(plan, "after").links:
        if link.medium in cable_media() and link.age in ("old", "new"):
            names = {link.id, link.run} - {""}
            if not names & tested:
                yield finding(say("audit_work.used_not_tested", name=link.id), link.id)
            if not names & labelled:
                yield finding(say("audit_work.used_not_labelled", name=link.id), link.id)
