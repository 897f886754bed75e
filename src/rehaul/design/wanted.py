"""Every wanted drop of a plan: which way first, when to walk away, and the test that pays."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from rehaul.design.costs import hour_price
from rehaul.design.drops import CheapTest, Policy, TestWorth, best_test, policy_beginning_with
from rehaul.design.newcable import pull_length_m
from rehaul.design.places import may_drill, storeys_between
from rehaul.design.results import Choice
from rehaul.design.tries import DropAttempt, from_own_log, is_seen_through
from rehaul.facts.drops import DropWay, drop_numbers, drop_tests, drop_ways
from rehaul.facts.prediction import prediction_number
from rehaul.facts.work import labour, prices
from rehaul.house import CableKind, Job, Model, OutletKind, Run
from rehaul.house.base import Point
from rehaul.house.geometry import storey_of
from rehaul.network.core import core_point
from rehaul.network.verdicts import RunVerdict
from rehaul.words import say, term
from rehaul.words.fields import Words

ENOUGH_MBPS = prediction_number("usual_port")
USUAL_PLATE_M = 0.3
CORD_M = 3.0  # a coax plate this near serves the place by a cord
OwnLog = Mapping[str, Sequence[tuple[float, bool]]]  # way -> minutes and whether it worked


class DropStep(Model):
    """One try."""

    way: str
    title: Words
    chance: float  # that it works, if it comes to it
    walk_away_min: float | None  # None: see it through
    reached: float  # chance that it comes to this


class DropDecision(Model):
    """What to do for one drop."""

    drop: str  # the access point or outlet it is for
    place: str
    run: str = ""  # the old cable, where there is one
    steps: tuple[DropStep, ...]
    cost: float  # expected, failed tries in it
    cost_90: float
    minutes: float
    minutes_90: float
    chance: float  # that the drop works in the end
    test: str = ""  # the cheap test worth doing first; empty where none pays
    test_worth: float = 0.0
    words: Words


def drop_decisions(
    job: Job,
    choice: Choice,
    verdicts: Sequence[RunVerdict],
    *,
    own_log: OwnLog | None = None,
) -> tuple[DropDecision, ...]:
    """A decision for every drop that the plan wants: the access points, then the wired outlets.

    The way that the plan has chosen comes first; what follows is what to do where it fails.

    Parameters
    ----------
    own_log : minutes and outcome of the firm's own tries by way; it outweighs the table as it grows

    **Source**: docs/choosing.md, "Drops under uncertainty".
    """
    by_run = {verdict.run: verdict for verdict in verdicts}
    plates = {outlet.id: outlet for outlet in job.house.outlets}
    coax = {run.id for run in job.house.runs if run.kind is CableKind.COAX}
    wanted: list[_Drop] = []
    for ap in choice.access_points:
        site = ap.site
        if site.run or site.new_pull_m:
            way = "other medium" if site.run in coax else _name_of(site.way, bool(site.run))
            wanted.append(
                _Drop(
                    ap.id,
                    ap.name,
                    site.storey,
                    site.position,
                    site.height_m,
                    site.run,
                    site.spends,
                    way,
                    site.chance,
                )
            )
    for out in choice.outlets:
        plate = next((plates[name] for name in (out.id, out.id.removeprefix("ad-")) if name in plates), None)
        if out.position is None or out.beside_switch or not (out.run or out.pull):
            continue  # beside a switch or the router itself there is nothing but a cord
        height_m = plate.height_m if plate else USUAL_PLATE_M
        way = "other medium" if out.run in coax else "reuse" if out.run else "new cable"
        wanted.append(_Drop(out.id, out.name, out.storey, out.position, height_m, out.run, "", way, None))
    return tuple(_decided(job, drop, by_run, own_log or {}) for drop in wanted)


@dataclass(frozen=True)
class _Drop:
    """One wanted drop, and the way that the plan has chosen for it."""

    id: str
    place: str
    storey: str
    position: Point
    height_m: float
    run: str
    spends: str
    way: str
    chance: float | None  # None: that of the table


def _name_of(way: str, old: bool) -> str:
    """The drop table's name for a way of the plan."""
    names = {"pull cord": "pull cord", "surface": "surface cable", "fibre": "fibre"}
    return "reuse" if old else names.get(way, "new cable")


def _decided(job: Job, drop: _Drop, by_run: Mapping[str, RunVerdict], own_log: OwnLog) -> DropDecision:
    run = next((run for run in job.house.runs if run.id == (drop.run or drop.spends)), None)
    verdict = by_run.get(run.id) if run is not None else None
    ways = ways_to(job, drop.storey, drop.position, drop.height_m, run, verdict, own_log)
    first = next((way for way in ways if way.name == drop.way), None)
    if first is None:
        table = drop_ways()
        row = next(row for row in table.values() if row.way == drop.way)
        first = _way(job, row, _length_m(job, drop.storey, drop.position, drop.height_m))
        first = _with_log(first, own_log.get(drop.way, ()))
    if drop.chance is not None and not own_log.get(drop.way):
        first = replace(first, chance=min(drop.chance, 0.99))
    others = [way for way in ways if way.name != first.name]
    closet = core_point(job)
    level = closet is None or storeys_between(job, drop.storey, closet.storey) == 0
    elsewhere = "other storey" if level else "same storey"
    return _decide(job, drop.id, drop.place, run.id if run else "", first, [first, *others], elsewhere)


def _length_m(job: Job, storey: str, position: Point, height_m: float) -> float:
    closet = core_point(job)
    z_m = storey_of(job.house, storey).elevation_m + height_m
    return pull_length_m(job, closet, position, z_m) if closet else 0.0


def ways_to(
    job: Job,
    storey: str,
    position: Point,
    height_m: float,
    run: Run | None,
    verdict: RunVerdict | None,
    own_log: OwnLog,
) -> tuple[DropAttempt, ...]:
    """What can be tried for one place, with chances by what is known of the old cable.

    Parameters: `position` [m] on the sheet and `height_m` above the storey's floor; `run` and its `verdict`,
    the old cable there or None; `own_log`, minutes and outcomes of the firm's own tries by way.

    Returns old cable first, then new, then coax; empty where nothing may be tried.

    **Validity**: chances and minutes are those of the fact table of drops, common practice, until the log
    outweighs them.
    """
    table = drop_ways()
    closet = core_point(job)
    length_m = _length_m(job, storey, position, height_m)
    crossed = storeys_between(job, storey, closet.storey) if closet else 0
    ways: list[DropAttempt] = []
    if run is not None and verdict is not None and verdict.usable and not verdict.held_by:
        as_is, mended = _chances(verdict)
        ways.append(_way(job, table["reuse", "old cable"], length_m, as_is))
        if mended > as_is:
            gained = (mended - as_is) / (1.0 - as_is)  # given that as it is it failed
            ways.append(_way(job, table["repair", "old cable"], length_m, gained))
        if run.in_conduit is None:
            ways.append(_way(job, table["pull cord", "conduit unknown"], length_m))
        else:
            ways.append(
                _way(job, table["pull cord", "in conduit" if run.in_conduit else "no conduit"], length_m)
            )
    if job.choices.new_pulls and may_drill(job):
        if length_m <= drop_numbers()["copper_reach"]:
            ways.append(_way(job, table["new cable", "other storey" if crossed else "same storey"], length_m))
            ways.append(_way(job, table["surface cable", "anywhere"], length_m))
        else:
            ways.append(_way(job, table["fibre", "far"], length_m))
    if job.choices.coax_adapters and _coax_near(job, storey, position):
        ways.append(_way(job, table["other medium", "coax there"], length_m))
    return tuple(_with_log(way, own_log.get(way.name, ())) for way in ways)


def _way(job: Job, row: DropWay, length_m: float, chance: float | None = None) -> DropAttempt:
    minute = hour_price(job) / 60
    cable = row.cable * length_m * prices()["cable_cat6"].unit_price
    finish_minutes = sum(labour()[task].minutes for task in row.finish_tasks.split())
    return DropAttempt(
        name=row.way,
        chance=row.chance if chance is None else chance,
        minutes=row.minutes,
        minutes_90=row.minutes_90,
        parts=row.extra_money + cable + _money(row.parts),
        finish=finish_minutes * minute + _money(row.finish_parts),
        needs_old=row.way in ("reuse", "repair", "pull cord"),
        spends_old=row.way == "pull cord",
    )


def _money(items: str) -> float:
    return sum(prices()[item].unit_price for item in items.split())


def _with_log(way: DropAttempt, tries: Sequence[tuple[float, bool]]) -> DropAttempt:
    return from_own_log(way, [minutes for minutes, _ in tries], [worked for _, worked in tries])


def _chances(verdict: RunVerdict) -> tuple[float, float]:
    """Chance of a full link as the cable is, and once it is mended."""
    enough = [row for row in verdict.ethernet if row.rate_mbps >= ENOUGH_MBPS]
    if not enough:
        return 0.0, 0.0
    return min(enough[0].chance, 0.99), min(max(enough[0].chance, enough[0].lifted_chance), 0.99)


def _coax_near(job: Job, storey: str, position: Point) -> bool:
    """A coax outlet on the same storey within a short cord, or a coax run that ends in one."""
    coax_ends = {end for run in job.house.runs if run.kind is CableKind.COAX for end in run.ends}
    for outlet in job.house.outlets:
        is_coax = outlet.kind is OutletKind.COAX or outlet.id in coax_ends
        if is_coax and outlet.storey == storey and outlet.position is not None:
            away_m = (
                (outlet.position[0] - position[0]) ** 2 + (outlet.position[1] - position[1]) ** 2
            ) ** 0.5
            if away_m <= CORD_M:
                return True
    return False


def _decide(
    job: Job, drop: str, place: str, run: str, first: DropAttempt, ways: Sequence[DropAttempt], elsewhere: str
) -> DropDecision:
    minute = hour_price(job) / 60
    without = drop_numbers()["go_without"]
    policy = policy_beginning_with(first, ways, without, minute)
    names = {way.name for way in ways}
    tests = [
        CheapTest(row.test, row.about, row.minutes * minute, row.hit, row.false)
        for row in drop_tests()
        if row.about in names
    ]
    worth = best_test(ways, tests, without, minute)
    titles = {row.way: row.title for (_, when), row in drop_ways().items() if when != elsewhere}
    return DropDecision(
        drop=drop,
        place=place,
        run=run,
        steps=tuple(
            DropStep(
                way=step.way.name,
                title=term(titles[step.way.name]),
                chance=round(step.works, 3),
                walk_away_min=None if is_seen_through(step.way, step.walk_min) else round(step.walk_min),
                reached=round(step.reached, 3),
            )
            for step in policy.steps
        ),
        cost=round(policy.cost, 2),
        cost_90=round(policy.cost_90, 2),
        minutes=round(policy.minutes, 1),
        minutes_90=round(policy.minutes_90, 1),
        chance=round(policy.chance, 3),
        test=worth.test.name if worth else "",
        test_worth=round(worth.worth, 2) if worth else 0.0,
        words=_in_words(policy, worth, job.currency),
    )


def _in_words(policy: Policy, worth: TestWorth | None, currency: str) -> str:
    """The decision in one or two sentences."""
    parts = []
    for step in policy.steps:
        through = is_seen_through(step.way, step.walk_min)
        if through:
            parts.append(say("drop_decisions.way", way=step.way.name))
        else:
            parts.append(say("drop_decisions.way_walk_away", way=step.way.name, walk_min=step.walk_min))
    words = say("drop_decisions.try", ways=tuple(parts))
    if not worth:
        return words
    test = {"test": worth.test.name, "worth": worth.worth, "currency": currency}
    return say("drop_decisions.test_first", said=words, **test)
