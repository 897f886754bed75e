"""Ways that share, in small random problems where every choice is tried: rows, costs, bounds, cuts, answers.

The loops are run as they are written (`as_written`), so that nothing has to be compiled.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import product
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from as_written import as_written
from rehaul.exact import Solver, feed_front, solve_feeds
from rehaul.exact import planes as loops
from rehaul.exact.feeding import covers, rounds, tree
from rehaul.exact.feeding import nearby as feeding_nearby
from rehaul.exact.feeding.core import Core, core_of, without_group
from rehaul.exact.feeding.figures import Figures, Tally
from rehaul.exact.feeding.nearby import NEVER, given, shared_of, without
from rehaul.exact.feeding.program import Program, frame_of, meeting
from rehaul.exact.feeding.scene import Carried, moved, names_of, node_of, planes_for, scale_of, wood_of
from rehaul.exact.planes import count_for
from sample_feeds import random_problem

SEEDS = (3, 37, 41, 47, 49, 51, 57)


@pytest.fixture(autouse=True, scope="module")
def _as_written() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        as_written(patch)
        yield


def choices(figures: Figures, ways: list[int]) -> Iterator[tuple[int, ...]]:
    """Every set with one way of a group at most, and each pair of one group besides."""
    groups: dict[int, list[int]] = {}
    for way in ways:
        groups.setdefault(int(figures.group[way]), []).append(way)
    for chosen in product(*([None, *members] for members in groups.values())):
        yield tuple(sorted(way for way in chosen if way is not None))
    yield from (tuple(members[:2]) for members in groups.values() if len(members) > 1)


@cache
def small(seed: int) -> tuple[Figures, Core, dict[tuple[int, ...], Tally]]:
    """A problem, its core, and what every choice comes to: ten to a hundred and twenty of them."""
    problem = random_problem(seed)
    figures = Figures(problem)
    every = choices(figures, list(range(len(figures.ways))))
    return figures, core_of(figures), {chosen: figures.tally(chosen) for chosen in every}


def may_be(figures: Figures, every: dict[tuple[int, ...], Tally]) -> list[Tally]:
    """What fits, holds what is fixed and nothing that is forbidden."""
    fixed = {n for n, way in enumerate(figures.ways) if way.id in figures.problem.fixed}
    banned = {figures.groups[name] for name in figures.problem.forbidden}
    return [
        t for t in every.values()
        if t.fits and fixed <= set(t.ways) and not banned & set(figures.group[list(t.ways)].tolist())
    ]  # fmt: skip


@pytest.mark.parametrize("seed", SEEDS)
def test_the_answer_is_the_first_of_the_cheapest_of_all(seed: int) -> None:
    figures, _, every = small(seed)
    problem = figures.problem
    may = may_be(figures, every)
    for enough in range(len(problem.asked) + 1):
        found = solve_feeds(problem, 60.0, enough=enough)
        most = max((sum(t.met) for t in may), default=-1)
        assert found.feasible == (most >= enough)
        best = min((t for t in may if sum(t.met) >= min(enough, most)), key=lambda t: t.key, default=None)
        if best is not None:
            assert found.proven and found.ways == tuple(figures.ways[way].id for way in best.ways)
            assert round(100 * found.cost) == best.cost == round(100 * found.bound) and found.gap == 0.0
    front = feed_front(problem, 60.0)
    costs = [step.choice.cost for step in front]
    assert costs == sorted(set(costs)) and all(step.met == sum(step.choice.met) for step in front)
    for step in front:
        assert round(100 * step.choice.cost) == min(t.cost for t in may if sum(t.met) >= step.met)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_meets_most_within_a_budget_is_the_first_of_all_that_do(seed: int) -> None:
    figures, _, every = small(seed)
    problem = figures.problem
    may = may_be(figures, every)
    costs = sorted({t.cost for t in may})
    for money in (-1, *costs, *(cost - 1 for cost in costs)):
        found = Solver(problem).most_within(money / 100, 60.0)
        within = [t for t in may if t.cost <= money]
        if not within:
            assert found is None
            continue
        most = max(sum(t.met) for t in within)
        best = min((t for t in within if sum(t.met) == most), key=lambda t: t.key)
        assert found is not None and found.proven and sum(found.met) == most
        assert (round(100 * found.cost), found.ways) == (
            best.cost,
            tuple(figures.ways[w].id for w in best.ways),
        )


def columns(program: Program, tally: Tally, classes: list[int]) -> Any:
    """The choice as a point of the program: its ways, what it meets, what stands for its resources."""
    x = np.zeros(len(program.cost))
    place = {int(way): n for n, way in enumerate(program.core.ways)}
    x[[place[way] for way in tally.ways]] = 1.0
    met = program.ways + np.flatnonzero(tally.met)
    x[met] = 1.0
    used = set(tally.resources)
    for n, bundle in enumerate(program.bundles.shared):
        x[program.first_bundle + n] = bool(used & set(bundle))
    x[program.first_bundle + len(program.bundles.shared) + np.array(classes, dtype=np.int64)] = 1.0
    return x


def holds(program: Program, x: Any) -> bool:
    rows = all(least - 1e-9 <= values @ x[at] <= most + 1e-9 for at, values, least, most in program.rows)
    return (
        rows
        and bool(np.all(x <= program.high + 1e-9))
        and bool(np.all(x[: program.ways] >= program.core.held))
    )


def of_core(core: Core, every: dict[tuple[int, ...], Tally]) -> Iterator[Tally]:
    kept, held = set(core.ways.tolist()), set(core.ways[core.held].tolist())
    yield from (t for t in every.values() if held <= set(t.ways) <= kept)


@pytest.mark.parametrize("seed", SEEDS)
def test_rows_of_the_program_hold_where_ways_go_together_and_cost_what_they_cost(seed: int) -> None:
    _, core, every = small(seed)
    program, scale = meeting(frame_of(core), 0), scale_of(core, meeting(frame_of(core), 0))
    seen = []
    for tally in of_core(core, every):
        kinds = [[], *([n] for n in range(len(program.classes)))]
        points = [columns(program, tally, kind) for kind in kinds]
        assert any(holds(program, x) for x in points) == tally.fits, tally.ways
        if tally.fits:
            own = [n for n, kind in enumerate(program.classes) if kind == tally.switch]
            x = columns(program, tally, own)
            assert holds(program, x) and round(float(program.cost @ x)) == tally.cost
            worth = scale.worth(tally.cost, tally.rate)
            wood, _ = wood_of(program, scale, planes_for(core))
            assert float(wood.worth @ x) == pytest.approx(worth, abs=1e-9)
            seen.append((worth, tally.cost, -tally.rate))
    by_worth = [(cost, rate) for _, cost, rate in sorted(seen)]
    assert by_worth == sorted(by_worth), "the cheaper first, of equally cheap ones the faster"


@pytest.mark.parametrize("seed", SEEDS)
def test_what_a_choice_costs_with_one_way_more_or_one_less(seed: int) -> None:
    problem = replace(random_problem(seed), must=(), fixed=(), forbidden=())
    figures = Figures(problem)
    core = core_of(figures)
    shared, planes = shared_of(core, 0), planes_for(core)
    count = count_for(planes, max(len(core.short), 1))
    numbers = core.ways.tolist()
    for chosen in list(choices(figures, numbers))[::3][:60]:
        flags = np.isin(core.ways, chosen)
        groups = figures.group[list(chosen)].tolist()
        if len(set(groups)) < len(groups):
            continue
        base = feeding_nearby._base(shared, flags, -1)
        loops.gains_at(planes, count, flags.astype(np.float64))
        for place in [-1, *range(len(numbers))]:
            more = () if place < 0 else (numbers[place],)
            if more and int(figures.group[more[0]]) in groups:
                continue
            then = figures.tally((*chosen, *more))
            cost = feeding_nearby._with(shared, base, place)
            assert (cost == then.cost) if then.fits else (cost >= NEVER), (chosen, more)
            if len(core.short):
                assert feeding_nearby._met(shared, count, base, place) == sum(then.met)
        for place in np.flatnonzero(flags):
            left = tuple(way for way in chosen if way != numbers[place])
            then = figures.tally(left)
            cost = feeding_nearby._with(shared, feeding_nearby._base(shared, flags, place), -1)
            assert (cost == then.cost) if then.fits else (cost >= NEVER)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_choice_near_a_point_does_what_is_asked_and_no_single_change_is_cheaper(seed: int) -> None:
    _, core, every = small(seed)
    figures, planes = core.figures, planes_for(core)
    count = count_for(planes, max(len(core.short), 1))
    numbers = core.ways.tolist()
    reach = max((sum(t.met) for t in of_core(core, every) if t.fits), default=-1)
    for enough in range(reach + 1):
        shared = shared_of(core, enough)
        for point in (np.zeros(len(numbers)), np.linspace(0.0, 1.0, len(numbers))):
            chosen = core.held.copy()
            if not feeding_nearby.near(shared, planes, count, point, chosen):
                continue
            first = figures.tally(core.ways[chosen].tolist())
            assert first.fits and sum(first.met) >= enough and np.all(chosen >= core.held)
            feeding_nearby.polish(shared, planes, count, chosen)
            then = figures.tally(core.ways[chosen].tolist())
            assert then.fits and sum(then.met) >= enough and then.cost <= first.cost
            for out in np.flatnonzero(chosen & ~core.held):
                rest = [way for way in then.ways if way != numbers[out]]
                for new in [(), *((way,) for way in numbers if way not in then.ways)]:
                    other = figures.tally((*rest, *new))
                    assert not (other.fits and sum(other.met) >= enough and other.cost < then.cost)


def test_things_given_away_or_priced_out_of_reach() -> None:
    shared = SimpleNamespace(resource_cost=np.array([1000, 333, 0]))
    shared._replace = lambda resource_cost: resource_cost
    assert given(shared, np.array([0.25, 0.5, 1.0])).tolist() == [750, 166, 0]  # type: ignore[arg-type]
    assert given(shared, np.array([2.0, -1.0, 0.0])).tolist() == [0, 333, 0]  # type: ignore[arg-type]
    dear = without(shared, 1)  # type: ignore[arg-type]
    assert dear[0] == 1000 and dear[1] > 10**12 and dear[2] == 0 and shared.resource_cost[1] == 333


@pytest.mark.parametrize("seed", SEEDS)
def test_bounds_and_cuts_hold_for_every_choice(seed: int) -> None:
    """At any prices and any point: no choice is better than the bound, none breaks a cut."""
    _, core, every = small(seed)
    program = meeting(frame_of(core), 0)
    scale, planes = scale_of(core, program), planes_for(core)
    wood, kept = wood_of(program, scale, planes)
    node = node_of(program, wood.worth, wood.unit, kept, None)
    t, random = node.tableau, np.random.default_rng(seed)
    for at, values, least, most in program.rows[:20]:
        for sign, right in ((1.0, least), (-1.0, -most)):
            if np.isfinite(right):
                row = np.zeros(len(wood.worth))
                row[at] = sign * values
                rounds.add_row(t, row, right)
    fitting = [t_ for t_ in of_core(core, every) if t_.fits]
    points = [
        columns(program, one, [n for n, kind in enumerate(program.classes) if kind == one.switch])
        for one in fitting
    ]
    for _ in range(5):
        price = np.where(random.random(len(node.price)) < 0.5, random.uniform(-1, 20, len(node.price)), 0.0)
        bound = rounds.safe_bound(wood, t, price, node.red)
        assert all(bound <= float(wood.worth @ x) + 1e-6 for x in points)
        low, high, red = t.low[: len(node.red)], t.high[: len(node.red)], node.red
        weighed = sum(p * t.right[k] for k, p in enumerate(price[: t.size[0]]) if p > 0)
        assert bound == pytest.approx(weighed + np.sum(np.where(red > 0, red * low, red * high)))
    if not len(core.short):
        return
    scratch = count_for(planes, len(core.short))
    before = int(t.size[0])
    for _ in range(3):
        t.value[: len(wood.worth)] = random.random(len(wood.worth)) * 0.7
        flags = t.value[program.ways : program.ways + len(core.short)]
        flags[:] = 1.0
        added = covers.add_covers(wood, t, scratch, t.value[: program.ways], flags, node.row, 1e-6)
        assert int(t.size[0]) == before + added
        before += added
    for row, right in zip(t.rows[: t.size[0]], t.right[: t.size[0]], strict=True):
        for x in points:
            assert float(row @ x) >= right - 1e-6


@pytest.mark.parametrize("seed", SEEDS)
def test_rows_are_carried_to_a_problem_with_fewer_ways(seed: int) -> None:
    _, core, every = small(seed)
    program = meeting(frame_of(core), 0)
    random = np.random.default_rng(seed)
    names = names_of(program)
    assert len(set(names.tolist())) == len(names) == len(program.cost)
    carried = Carried(names, random.random((3, len(names))), np.arange(3.0))
    again, right = moved(carried, program)
    assert np.allclose(again, carried.rows)
    assert right.tolist() == [0.0, 1.0, 2.0]
    keep = core.ways[::2].tolist()
    fewer = core.only(keep, keep[:1])
    assert fewer.ways.tolist() == keep
    assert fewer.held.tolist() == [n == 0 or bool(core.held[2 * n]) for n in range(len(keep))]
    smaller = meeting(frame_of(fewer), 0)
    if smaller.classes != program.classes or len(fewer.short) != len(core.short):
        return
    for tally in (one for one in of_core(fewer, every) if one.fits):
        kinds = list(range(len(program.classes)))[:1]
        x, y = columns(program, tally, kinds), columns(smaller, tally, kinds)
        for row, own in zip(moved(carried, smaller)[0], carried.rows, strict=True):
            assert float(row @ y) == pytest.approx(float(own @ x))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_core_without_a_group_holds_the_ways_that_one_made_for_it_would(seed: int) -> None:
    _, core, _ = small(seed)
    figures = core.figures
    for group in sorted(set(figures.groups) - set(figures.problem.must)):
        if figures.groups[group] in figures.must:
            continue
        fewer, anew = without_group(core, group), core_of(figures.held_to(forbidden=(group,)))
        assert fewer.figures.problem.forbidden == anew.figures.problem.forbidden
        for field in ("ways", "held", "short", "fewer", "can_meet"):
            assert getattr(fewer, field).tolist() == getattr(anew, field).tolist(), (group, field)
        weighed = [sorted(zip(c.rows.tolist(), c.weights.T.tolist(), strict=True)) for c in (fewer, anew)]
        assert weighed[0] == weighed[1]


def test_which_ids_come_first_within_bounds() -> None:
    """Four ways, each free, taken or left; of all choices within, none before the best: said rightly."""
    states = ((0.0, 1.0), (1.0, 1.0), (0.0, 0.0))
    for bounds in product(states, repeat=4):
        low, high = np.array([b[0] for b in bounds]), np.array([b[1] for b in bounds])
        within = [
            tuple(n for n in range(4) if bits >> n & 1)
            for bits in range(16)
            if all(low[n] <= (bits >> n & 1) <= high[n] for n in range(4))
        ]
        for best in ((), (0,), (1, 2), (0, 1, 3), (2,)):
            node = SimpleNamespace(
                tableau=SimpleNamespace(low=low, high=high), best=np.isin(np.arange(4), best)
            )
            wood = SimpleNamespace(group=np.arange(4))
            later = all(one >= best for one in within)
            if tree._comes_later(wood, node):
                assert later, (bounds, best)
            elif later:  # missed only where it goes on from the best
                assert any(one[: len(best)] == best and one != best for one in within), (bounds, best)
    node = SimpleNamespace(tableau=SimpleNamespace(low=np.array([1.0, 0.0]), high=np.ones(2)))
    assert tree._first_open(SimpleNamespace(group=np.arange(2)), node) == 1
    node.tableau.low[1] = 1.0
    assert tree._first_open(SimpleNamespace(group=np.arange(2)), node) == -1


def test_a_bound_is_beyond_the_best_only_past_what_rounding_may_add() -> None:
    wood = SimpleNamespace(error=0.001, unit=0.25)
    node = SimpleNamespace(limit=np.array([10.0]))
    assert [bool(rounds.beyond(wood, node, b)) for b in (10.0, 10.001, 10.0011)] == [False, False, True]
    assert [bool(rounds._no_better(wood, node, b)) for b in (9.75, 9.751, 9.752)] == [False, False, True]
    assert [bool(rounds._is_whole(np.array(x))) for x in ([0, 1], [0.5], [2e-6], [1 - 2e-6], [5e-7])] == [
        True, False, False, False, True,
    ]  # fmt: skip


@pytest.mark.parametrize("seed", SEEDS)
def test_what_carries_others_is_the_most_wanted_then_what_carries_most_then_the_cheapest(seed: int) -> None:
    problem = replace(random_problem(seed), must=(), fixed=(), forbidden=())
    core = core_of(Figures(problem))
    shared, ways = shared_of(core, 0), len(core.ways)
    random = np.random.default_rng(seed)
    none = np.zeros(ways, dtype=np.bool_)
    base = feeding_nearby._base(shared, none, -1)
    carries = shared.beside[shared.hangs].sum(axis=0) if ways else np.zeros(0)
    for x in (np.zeros(ways), np.round(random.random(ways)), random.random(ways)):
        costs = [feeding_nearby._with(shared, base, way) for way in range(ways)]
        may = [way for way in range(ways) if carries[way] and costs[way] < NEVER]
        best = min(may, key=lambda way: (-x[way], -carries[way], costs[way], way), default=-1)
        assert feeding_nearby._carrier(shared, x, none) == best
        if best >= 0:
            assert feeding_nearby._carrier(shared, x, np.arange(ways) == best) == -1, "one is there already"
