"""The compiled search, driven: root, what it rules out, tree, choice."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from rehaul.arrays import Bools, Reals, Wholes
from rehaul.clock import Clock
from rehaul.exact.coverage import COST_STEP, CoverProblem, Selection, choice_of
from rehaul.exact.covering.search import COST, DONE, SearchNode, run
from rehaul.exact.cuts import FREE, MUST, SearchTables
from rehaul.exact.planes import Planes, count_for, only, planes_of
from rehaul.exact.simplex import add_row, drop_slack_rows, new_tableau
from rehaul.exact.trail import DEPTH, FRESH, KEEP, NODES, undo_to

ROOT, TREE = 0, 1
CAPACITY = 260  # rows of the small program, besides four for each requirement
ROUNDS = 0  # of cuts at a node below the root, besides the first
CHUNK = 400  # nodes between looks at the clock

BoundProgress = Callable[[float, float], None]  # cost of the best so far, proven bound; money
CutRows = tuple[Reals, Reals]  # rows of the small program and their right sides


@dataclass
class SharedWarm:
    """What searches of one problem that differ in `enough` may share."""

    planes: Planes | None = None
    rows: CutRows | None = None  # cuts at the root


def solve_exact(
    problem: CoverProblem,
    time_limit_s: float = 10.0,
    *,
    enough: int | None = None,
    progress: BoundProgress | None = None,
    start: tuple[int, ...] | None = None,
    warm: SharedWarm | None = None,
    within: Clock | None = None,
) -> Selection:
    """Least cost that meets all requirements, or `enough` of them, by our own branch and bound.

    Parameters
    ----------
    problem : sites, kinds, costs, what they serve and what is asked
    time_limit_s : of the processor; stop there with the best found and the bound proven so far
    enough : number of requirements to meet; all where None
    progress : called now and then with the best cost so far and the proven bound
    start : options of a choice already known to do what is asked
    warm : kept from search to search of the same problem; the answer's cost does not depend on it
    within : a longer limit that this one is a part of

    Returns
    -------
    The choice; `feasible` false and `proven` true where there is none.

    **Validity** exact to a hundredth of the money unit and to 1e-9 of the weights. **Source**: docs/exact.md,
    "The problem", without what is shared.
    """
    clock = Clock(time_limit_s, within=within)
    wanted = len(problem.requirements) if enough is None else enough
    alive = np.flatnonzero(problem.allowed)
    can_meet = problem.served(alive.tolist()) >= problem.steps.needs
    if np.count_nonzero(can_meet) < wanted:
        return choice_of(problem, (), bound=0.0, proven=True, nodes=0, possible=False)
    best: Bools = np.zeros(len(problem.site), dtype=np.bool_)
    best[list(start or ())] = True
    ceiling = int(problem.cost_steps[alive].sum()) + 1
    cost = ceiling if start is None else int(problem.cost_steps[best].sum())
    warm = warm or SharedWarm()
    planes = warm.planes or planes_of(problem.serves[alive], problem.steps.weights)
    warm.planes = planes
    carried = warm.rows
    nodes, finished = 0, False
    for stage in (ROOT, TREE):
        scene = _scene(problem, planes, alive, wanted)
        node = _node(scene, cost, can_meet, carried)
        count = count_for(planes, len(can_meet))
        while not finished:
            finished = bool(run(scene, node, count, 1 if stage == ROOT else CHUNK, ROUNDS))
            if progress is not None:
                progress(int(node.numbers[COST]) * COST_STEP, _bound(node))
            if stage == ROOT or clock.is_up():
                break
        if stage == ROOT:
            warm.rows = _binding(node, np.ones(len(alive), dtype=np.bool_))
        nodes += int(node.numbers[NODES])
        if node.numbers[COST] < cost:
            cost = int(node.numbers[COST])
            best[:] = False
            best[alive[node.best]] = True
        if finished:
            break
        if stage == ROOT:
            undo_to(node, node.mark[0])  # the first branch is already taken
            stay = node.tableau.high[: len(alive)] > 0.0
            carried, planes, alive = _binding(node, stay), only(planes, stay), alive[stay]
            if not set(problem.must_hold) <= set(problem.site[alive].tolist()):
                finished = True  # whatever could stand at a pinned site costs more than the best
                break
    return choice_of(
        problem,
        np.flatnonzero(best).tolist(),
        bound=cost * COST_STEP if finished else min(_bound(node), cost * COST_STEP),
        proven=finished,
        nodes=nodes,
        enough=wanted,
        possible=cost < ceiling,
    )


def _scene(problem: CoverProblem, planes: Planes, alive: Wholes, wanted: int) -> SearchTables:
    names, site = np.unique(problem.site[alive], return_inverse=True)
    must = np.where(np.isin(names, np.asarray(problem.must_hold, dtype=np.int64)), MUST, FREE)
    cost = problem.cost_steps[alive]
    return SearchTables(
        planes=planes,
        need=problem.steps.needs,
        cost=cost,
        site=site.astype(np.int64),
        must=must.astype(np.int8),
        by_cost=np.argsort(cost, kind="stable"),
        enough=wanted,
        step=max(int(np.gcd.reduce(cost)), 1),
    )


def _node(scene: SearchTables, cost: int, can_meet: Bools, carried: CutRows | None) -> SearchNode:
    """The open root, its small program holding the fixed rows and those carried over."""
    options, groups, sites = len(scene.cost), len(scene.need), len(scene.must)
    columns = options + groups
    capacity = CAPACITY + 4 * groups + sites
    tableau = new_tableau(np.append(scene.cost, np.zeros(groups)).astype(np.float64), capacity)
    tableau.high[options:columns] = can_meet
    if scene.enough == groups:
        tableau.low[options:columns] = 1.0
    flags = np.append(np.zeros(options), np.ones(groups))
    add_row(tableau, flags, float(scene.enough) if scene.enough else -1.0)
    for site in np.flatnonzero(scene.must == MUST):
        add_row(tableau, np.append((scene.site == site).astype(np.float64), np.zeros(groups)), 1.0)
    kept = int(tableau.size[0])
    if carried is not None:
        for row, right in zip(*carried, strict=True):
            add_row(tableau, row, right)
    depth = columns + 2
    numbers = np.zeros(6, dtype=np.int64)
    numbers[COST], numbers[FRESH], numbers[KEEP] = cost, 1, kept
    return SearchNode(
        tableau=tableau,
        branch=np.zeros(depth, dtype=np.int64),
        side=np.zeros(depth, dtype=np.int64),
        trail=np.zeros(columns, dtype=np.int64),
        entered=np.zeros(depth, dtype=np.int64),
        mark=np.zeros(depth, dtype=np.int64),
        bound=np.full(depth, -np.inf),
        best=np.zeros(options, dtype=np.bool_),
        numbers=numbers,
        price=np.zeros(capacity),
        red=np.zeros(columns),
        contrib=np.zeros(sites),
        pick=np.zeros(sites, dtype=np.int64),
        flag_at=np.zeros(groups, dtype=np.bool_),
        row=np.zeros(columns),
        point=np.zeros(options),
        trial=np.zeros(options, dtype=np.bool_),
        has_row=np.zeros(sites, dtype=np.bool_),
    )


def _binding(node: SearchNode, stay: Bools) -> CutRows:
    """Rows of the small program that bind, for the options that stay."""
    tableau = node.tableau
    keep = int(node.numbers[KEEP])
    drop_slack_rows(tableau, keep)
    used = slice(keep, int(tableau.size[0]))
    columns = np.append(stay, np.ones(len(tableau.cost) - len(stay), dtype=np.bool_))
    return np.ascontiguousarray(tableau.rows[used][:, columns]), tableau.right[used].copy()


def _bound(node: SearchNode) -> float:
    """What is proven: the least bound of the nodes still open."""
    depth = int(node.numbers[DEPTH])
    still_open = [float(node.bound[d]) for d in range(depth + 1) if d == depth or node.side[d] < DONE]
    return max(min(still_open, default=0.0), 0.0) * COST_STEP
