"""Why a choice is as it is, asked of small random problems and answered by trying every other choice.

The loops are run as they are written (`as_written`), so that nothing has to be compiled.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import product

import pytest

from as_written import as_written
from rehaul.exact import (
    FeedChoice,
    FeedProblem,
    cheapest_fix,
    cost_of_group,
    cost_without_group,
    least_cost,
    lost_without,
    one_more,
    solve_feeds,
)
from rehaul.exact.feeding.figures import Figures, Tally
from sample_feeds import random_problem

SEEDS = (3, 37, 41, 49, 51, 57)
WAIT_S = 60.0


@pytest.fixture(autouse=True, scope="module")
def _as_written() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        as_written(patch)
        yield


@cache
def tried(seed: int) -> tuple[FeedProblem, Figures, FeedChoice, tuple[Tally, ...]]:
    """A problem, what is cheapest in it whatever it meets, and every choice that fits."""
    problem = random_problem(seed)
    figures = Figures(problem)
    groups: dict[int, list[int]] = {}
    for way, group in enumerate(figures.group.tolist()):
        groups.setdefault(group, []).append(way)
    every = (
        figures.tally([way for way in chosen if way is not None])
        for chosen in product(*([None, *members] for members in groups.values()))
    )
    fixed = {n for n, way in enumerate(figures.ways) if way.id in problem.fixed}
    banned = {figures.groups[name] for name in problem.forbidden}
    may = tuple(
        t
        for t in every
        if t.fits and fixed <= set(t.ways) and not banned & set(figures.group[list(t.ways)].tolist())
    )
    return problem, figures, solve_feeds(problem, WAIT_S, enough=0), may


def least(found: list[Tally]) -> int | None:
    return min((one.cost for one in found), default=None)


def ids(figures: Figures, tally: Tally) -> tuple[str, ...]:
    return tuple(figures.ways[way].id for way in tally.ways)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_cheapest_fix_of_what_is_not_met(seed: int) -> None:
    problem, figures, choice, may = tried(seed)
    by_ids = {ids(figures, one): one for one in may}
    for number, met in enumerate(choice.met):
        wanted = {number, *(n for n, is_met in enumerate(choice.met) if is_met)}
        cost = least([one for one in may if all(one.met[n] for n in wanted)])
        fix = cheapest_fix(problem, choice, number, WAIT_S)
        assert (fix is None) == (cost is None)
        if fix is not None and cost is not None:
            assert round(100 * fix.choice.cost) == cost and fix.choice.met == by_ids[fix.choice.ways].met
            assert round(100 * fix.extra_cost) == cost - round(100 * choice.cost) >= 0
            assert set(fix.added) == set(fix.choice.ways) - set(choice.ways)
            assert set(fix.dropped) == set(choice.ways) - set(fix.choice.ways)
            assert not (met and fix.extra_cost), "what is met already costs nothing more"
            assert len(fix.choice.served) == len(problem.requirements)
            assert fix.choice.counted == tuple(by_ids[fix.choice.ways].counted.tolist())


@pytest.mark.parametrize("seed", SEEDS)
def test_what_a_group_costs_where_it_must_be_and_where_it_must_not(seed: int) -> None:
    problem, figures, choice, may = tried(seed)
    enough = sum(choice.met)
    assert round(100 * (least_cost(problem, WAIT_S) or 0)) == least(list(may)) == round(100 * choice.cost)
    held = {way.group for way in problem.ways if way.id in problem.fixed} | set(problem.must)
    for group in sorted(set(figures.groups) - set(problem.forbidden)):
        number = figures.groups[group]
        with_it = [
            one for one in may if sum(one.met) >= enough and number in figures.group[list(one.ways)].tolist()
        ]
        without = [
            one
            for one in may
            if sum(one.met) >= enough and number not in figures.group[list(one.ways)].tolist()
        ]
        for found, those in (
            (cost_of_group(problem, choice, group, WAIT_S), with_it),
            (cost_without_group(problem, choice, group, WAIT_S), [] if group in held else without),
        ):
            cost = least(those)
            assert (found is None) == (cost is None), group
            if found is not None and cost is not None:
                assert round(100 * found.extra_cost) == cost - round(100 * choice.cost)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_would_be_lost_and_what_one_more_would_bring(seed: int) -> None:
    problem, figures, _, may = tried(seed)
    most = solve_feeds(problem, WAIT_S, enough=max(sum(one.met) for one in may))
    for part in (*most.ways, *most.resources):
        left = [
            n
            for n, way in enumerate(figures.ways)
            if way.id in most.ways
            and way.id != part
            and part not in {figures.resources[r].id for r in figures.tally([n]).resources}
        ]
        then = figures.met_by(left)
        assert lost_without(problem, most, part) == tuple(
            n for n, met in enumerate(most.met) if met and not then[n]
        )
    few = solve_feeds(problem, WAIT_S, enough=0)
    now = figures.tally([n for n, way in enumerate(figures.ways) if way.id in few.ways])
    found = one_more(problem, few)
    larger = [one for one in may if set(now.ways) < set(one.ways) and len(one.ways) == len(now.ways) + 1]
    news = [sum(b and not a for a, b in zip(now.met, one.met, strict=True)) for one in larger]
    if found is None:
        assert max(news, default=0) == 0
        return
    assert len(found.newly_met) >= max(news, default=0) and found.gained > 0
    for one in larger:
        if set(ids(figures, one)) == {*few.ways, found.way}:
            assert round(100 * found.cost) == one.cost - now.cost
            assert found.newly_met == tuple(n for n, met in enumerate(one.met) if met and not now.met[n])
