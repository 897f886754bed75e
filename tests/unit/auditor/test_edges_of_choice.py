"""What a choice of the sample plan comes to, way by way, as the auditor adds it up."""

from __future__ import annotations

from plan_edges import Set, plan
from rehaul.auditor.reading import RowView
from rehaul.auditor.trial import cost_of, one_change_away, outcome, problem_of, switch_cost

PROBLEM = problem_of(RowView(plan()))
WAYS = {way.id: way for way in PROBLEM.ways}


def test_what_chosen_ways_come_to() -> None:
    """595: an access point 120, another 140 with its adapters 150, an outlet 90, a switch 95."""
    every = tuple(WAYS[name] for name in ("standing", "ap1", "ap2", "outlet"))
    whole = outcome(PROBLEM, every)
    assert whole is not None and (whole.cost, whole.met) == (59500, frozenset({0, 1, 2, 4, 5}))
    assert [PROBLEM.names()[n] for n in sorted(whole.met)] == [
        "rG0 down", "rU0 down", "rG1 down", "rU1 down", "rU1 outlets"
    ]  # fmt: skip
    assert whole.rank == (-5, 59500)
    assert outcome(PROBLEM, every[1:]) is None, "what is fixed is missing"
    assert outcome(PROBLEM, (*every, WAYS["ap1 new"])) is None, "two of a group"
    assert cost_of(PROBLEM, (WAYS["standing"],)) == 0, "no switch"
    assert cost_of(PROBLEM, (WAYS["ap2"],)) == 14000 + 15000 + 9500
    taken = ((0, 0), (6, 60), (7, 0), (1, 61), (0, 5))
    assert [switch_cost(PROBLEM, *each) for each in taken] == [0, 9500, None, None, 9500]
    changes = {frozenset(way.id for way in ways) for ways in one_change_away(PROBLEM, every)}
    assert (
        frozenset({"standing", "ap1", "ap2"}) in changes
        and frozenset({"ap1", "ap2", "outlet"}) not in changes
    )
    assert frozenset({"standing", "ap1 new", "ap2", "outlet"}) in changes and len(changes) == 5


def test_what_a_way_needs_is_paid_with_all_that_it_needs_in_turn() -> None:
    """The adapters of the coax, 150, then need a shelf, 12.50, and that a hook, 1, and itself."""
    shelf = {
        "id": "shelf",
        "cost": 12.5,
        "needs": ["hook"],
        "excludes": "",
        "ports": 0,
        "watts": 0.0,
        "loads": [],
    }
    sets: list[Set] = [("choice.problem.resources.0.needs", ["shelf"])]
    sets += [("choice.problem.resources.+", shelf)]
    sets += [("choice.problem.resources.+", shelf | {"id": "hook", "cost": 1.0, "needs": ["shelf"]})]
    problem = problem_of(RowView(plan(*sets)))
    way = next(one for one in problem.ways if one.id == "ap2")
    assert set(way.needs) == {"coax C02", "shelf", "hook"}
    assert cost_of(problem, (way,)) == 14000 + 15000 + 9500 + 1250 + 100
    missing = problem_of(RowView(plan(sets[0])))
    assert cost_of(missing, (next(one for one in missing.ways if one.id == "ap2"),)) is None
