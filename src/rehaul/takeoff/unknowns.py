"""Unknowns of a quote with their chance and their price, in plain words."""

from __future__ import annotations

from collections.abc import Iterator

from rehaul.design.costs import hour_price
from rehaul.design.networking import line_mbps
from rehaul.design.pulls import pull_cost
from rehaul.facts.prediction import prediction_number
from rehaul.facts.promises import grade_promises
from rehaul.facts.pulls import pull_ways
from rehaul.facts.work import labour as norms
from rehaul.house import UNKNOWN, Grade
from rehaul.network.series import put_right
from rehaul.network.verdicts import RunVerdict
from rehaul.takeoff.results import PricedUnknown
from rehaul.takeoff.scope import Scope
from rehaul.words import Saying, say

USED_MBPS = prediction_number("used_most")


def priced_unknowns(scope: Scope) -> tuple[PricedUnknown, ...]:
    """What may turn out otherwise: old cables, new pulls, lost ends, lost outlets; costs before margin.

    Each has what it is about, its chance (0 to 1; None where nobody can say) and what the way round costs
    at the middle, in the job's currency.

    **Source**: chances from the verdicts and fact table `pull_ways` (trade judgement); docs/work.md,
    "Quote".
    """
    return (*_old_cables(scope), *_pulls(scope), *_lost(scope))


def grade_of(verdict: RunVerdict) -> Grade:
    """The grade of the rate that the plan counts on: the fastest likely one up to 1000 Mb/s.

    UNKNOWN where none is likely. **Validity**: `verdict.ethernet` in order of rate, as `network.verdicts`
    gives it. **Source**: docs/work.md, "Quote": what is promised follows the grade.
    """
    likely = [v for v in verdict.ethernet if v.band == "likely" and v.rate_mbps <= USED_MBPS]
    return likely[-1].grade if likely else Grade.UNKNOWN


def promised(scope: Scope) -> tuple[Saying, ...]:
    """One sentence for each grade among the old cables that are used: which, and what is promised.

    A cable that has to be freed, mended, joined or taken out of its chain first is inferred at best.
    **Source**: docs/work.md, "Quote": what is promised follows the grade.
    """
    by_run = {verdict.run: verdict for verdict in scope.verdicts}
    found: dict[Grade, list[Saying]] = {}
    for kept in scope.kept:
        run = kept.runs[0]
        right = len(kept.pieces) == 1 and put_right(run) == run
        rate_mbps = min(line_mbps(kept.link.rate_mbps), USED_MBPS)
        code = "takeoff_quote.cable_at" if right else "takeoff_quote.cable_at_later"
        words = say(code, cable=kept.link.id, rate_mbps=rate_mbps)
        found.setdefault(grade_of(by_run[run.id]) if right else Grade.INFERRED, []).append(words)
    return tuple(
        say(
            "takeoff_quote.promise",
            cables=tuple(found[grade]),
            grade=grade.value,
            words=grade_promises()[grade.value].quote,
        )
        for grade in Grade
        if grade in found
    )


def _old_cables(scope: Scope) -> Iterator[PricedUnknown]:
    by_run = {verdict.run: verdict for verdict in scope.verdicts}
    for ap in scope.access_points:
        if not ap.site.run or ap.site.chance >= 0.995:
            continue
        new = [s for s in scope.choice.candidates if s.new_pull_m and s.room == ap.site.room and s.room]
        if new:
            cheapest = min(new, key=lambda site: site.cost)
            instead, cost = cheapest.why, cheapest.cost
        else:
            surface = pull_ways()["surface"]
            instead = say("takeoff_quote.surface_instead", way=surface.words)
            cost = pull_cost(scope.job, surface, by_run[ap.site.run].length_m, False, 0).middle
        yield PricedUnknown(
            about=(ap.site.run, ap.id),
            words=say("takeoff_quote.may_not_carry", run=ap.site.run, room=ap.name, instead=instead),
            chance=round(1 - ap.site.chance, 2),
            cost=cost,
        )


def _pulls(scope: Scope) -> Iterator[PricedUnknown]:
    surface = pull_ways()["surface"]
    for pull in scope.pulls:
        if pull.way.way in ("surface", "fibre"):
            continue
        cost = pull_cost(scope.job, surface, pull.length_m, False, pull.floors_crossed)
        yield PricedUnknown(
            about=(pull.id,),
            words=say("takeoff_quote.may_not_pass", cable=pull.id, room=pull.room, way=surface.words),
            chance=round(1 - pull.way.chance, 2),
            cost=cost.middle,
        )


def _lost(scope: Scope) -> Iterator[PricedUnknown]:
    minute = hour_price(scope.job) / 60
    search = norms()["tone"].minutes_90 * minute
    for run in scope.job.house.runs:
        if UNKNOWN in run.ends:
            yield PricedUnknown(
                about=(run.id,),
                words=say("takeoff_quote.end_lost", run=run.id),
                chance=None,
                cost=round(search, 2),
            )
