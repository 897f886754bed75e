"""Tracing against slow plain twins: partitions, sharing out, routes, expected bits, length range."""

from __future__ import annotations

import math
from itertools import pairwise, permutations, product

import numpy as np
import pytest

from rehaul.facts.conductors import conductor, copper_property
from rehaul.facts.trace_numbers import trace_number
from rehaul.tracing import (
    Bag,
    Continuity,
    ReadingLog,
    Tone,
    ToneHeard,
    Trust,
    Whereabouts,
    length_from_loop,
    next_best_reading,
    plan_codes,
    problem,
    routes,
    shortest_route,
    solve,
)
from rehaul.tracing.belief import _narrowed, believe
from rehaul.tracing.faults import fault_pictures, single_faults
from rehaul.tracing.hypotheses import table
from rehaul.tracing.matching import surviving_choices, too_few_choices
from rehaul.tracing.partitions import (
    blocks_of,
    closed,
    conductor_pairs,
    crossed,
    joined,
    opened,
    partitions,
    shorted,
)
from rehaul.tracing.routes import walking_m
from rehaul.tracing.solving import group_chances
from rehaul.tracing.trust import canonical_masks


def twin_blocks(edges: list[tuple[int, int]], conductors: int) -> frozenset[frozenset[int]]:
    """Connected components by merging sets until nothing changes."""
    blocks = [{c} for c in range(1, conductors + 1)]
    for a, b in edges:
        merged = {a, b}
        for block in [block for block in blocks if block & merged]:
            merged |= block
            blocks.remove(block)
        blocks.append(merged)
    return frozenset(frozenset(block) for block in blocks)


def as_blocks(mask: int, conductors: int) -> frozenset[frozenset[int]]:
    tied = [frozenset(block) for block in blocks_of(mask, conductors)]
    loose = set(range(1, conductors + 1)) - {c for block in tied for c in block}
    return frozenset([*tied, *(frozenset({c}) for c in loose)])


def edges_of_mask(mask: int, conductors: int) -> list[tuple[int, int]]:
    return [pair for k, pair in enumerate(conductor_pairs(conductors)) if mask >> k & 1]


@pytest.mark.parametrize("conductors", [2, 3, 4, 5])
def test_operations_on_masks_are_operations_on_sets(conductors: int) -> None:
    everything = partitions(conductors)
    for first in everything:
        edges = edges_of_mask(first, conductors)
        assert as_blocks(first, conductors) == twin_blocks(edges, conductors)
        for second in everything:
            both = edges + edges_of_mask(second, conductors)
            assert as_blocks(joined(first, second, conductors), conductors) == twin_blocks(both, conductors)
        for c in range(1, conductors + 1):
            left = [edge for edge in edges if c not in edge]
            assert as_blocks(opened(first, c, conductors), conductors) == twin_blocks(left, conductors)
        for a, b in conductor_pairs(conductors):
            touch = [*edges, (a, b)]
            assert as_blocks(shorted(first, a, b, conductors), conductors) == twin_blocks(touch, conductors)
            turn = {a: b, b: a}
            swapped = [(turn.get(x, x), turn.get(y, y)) for x, y in edges]
            assert as_blocks(crossed(first, a, b, conductors), conductors) == twin_blocks(swapped, conductors)


def test_pictures_of_all_patterns_at_once_are_those_one_by_one() -> None:
    for conductors in (2, 4, 6):
        for mask, pictures in fault_pictures(conductors).items():
            assert pictures.tolist() == [f.seen(mask, conductors) for f in single_faults(conductors)]


def test_any_set_of_ties_closes_to_a_partition() -> None:
    masks = set(partitions(4))
    for mask in range(1 << 6):
        assert closed(mask, 4) in masks
        assert as_blocks(closed(mask, 4), 4) == twin_blocks(edges_of_mask(mask, 4), 4)


def test_no_colours_is_the_same_as_trying_every_permutation() -> None:
    canonical = canonical_masks(4, Trust.NONE)
    for first, second in product(partitions(4), repeat=2):
        alike = any(
            {frozenset(p[c - 1] for c in block) for block in as_blocks(first, 4)} == as_blocks(second, 4)
            for p in permutations(range(1, 5))
        )
        assert alike == (canonical[first] == canonical[second])


def test_sharing_out_against_every_assignment() -> None:
    rng = np.random.default_rng(7)
    values = "abcde"
    for _ in range(300):
        count = int(rng.integers(1, 6))
        choices = {
            (f"e{k}",): frozenset(
                rng.choice(list(values), size=int(rng.integers(1, 4)), replace=False).tolist()
            )
            for k in range(count)
        }
        complete = [
            combo for combo in product(*(sorted(choices[c]) for c in choices)) if len(set(combo)) == count
        ]
        kept, used_up = surviving_choices(choices)
        blamed = too_few_choices(choices)
        assert bool(blamed) == (not complete)
        if not complete:
            union = frozenset().union(*(choices[c] for c in blamed))
            assert len(union) < len(blamed)  # Hall's condition fails for those named
            for left_out in blamed:
                rest = frozenset().union(*(choices[c] for c in blamed if c != left_out))
                assert len(rest) >= len(blamed) - 1
            continue
        for k, chooser in enumerate(choices):
            assert kept[chooser] == {combo[k] for combo in complete}
        assert used_up == frozenset.intersection(*(frozenset(combo) for combo in complete))


def test_routes_against_every_order() -> None:
    rng = np.random.default_rng(3)
    for trial in range(40):
        places = [
            Whereabouts(f"p{k}", int(rng.integers(0, 3)), *rng.integers(0, 20, size=2).astype(float).tolist())
            for k in range(int(rng.integers(1, 7)))
        ]
        start, end = Whereabouts("s", 0, 0.0, 0.0), Whereabouts("t", 1, 5.0, 5.0) if trial % 2 else None
        stairs = [(10.0, 10.0)] if trial % 3 else []
        best = math.inf
        for order in permutations(places):
            stops = [start, *order, *([end] if end else [])]
            best = min(best, sum(walking_m(a, b, stairs) for a, b in pairwise(stops)))
        route = shortest_route(start, places, end, stairs)
        assert route.length_m == pytest.approx(best, abs=1e-9)
        assert route.proven
        assert sorted(route.stops) == sorted(p.id for p in places)


def test_integer_program_and_subset_table_agree(monkeypatch: pytest.MonkeyPatch) -> None:
    rng = np.random.default_rng(5)
    for trial in range(12):
        end = None if trial % 2 else Whereabouts("t", 0, 0.0, 0.0)
        places = [Whereabouts(f"p{k}", k % 3, *rng.uniform(0, 15, size=2).tolist()) for k in range(9)]
        start = Whereabouts("s", 0, 0.0, 0.0)
        by_table = shortest_route(start, places, end)
        shortest_route_again = routes._shortest_route.__wrapped__  # past the cache
        monkeypatch.setattr(routes, "_DP_STOPS", 0)
        by_program = shortest_route_again(start, tuple(places), end, ())
        monkeypatch.undo()
        assert by_program.proven
        assert by_program.length_m == pytest.approx(by_table.length_m, abs=1e-6)


def test_expected_bits_of_a_pattern_against_asking_every_outcome() -> None:
    """Mutual information, computed outcome by outcome from the rows."""
    outlets = [f"o{k}" for k in range(5)]
    question = plan_codes(outlets, ["A", "B"], Bag(plugs=5), 6).problem
    log = ReadingLog().added(Tone("1", "A", "o2", ToneHeard.NONE))
    belief = believe(log, question)
    chances = group_chances(belief)
    rows = table(question)
    for index, end in enumerate(question.ends):
        prior = chances[index]
        weight = {}
        for k, _row in enumerate(rows.rows):
            if belief.alive[end][k]:
                weight[k] = rows.chances[k]
        total = {g: sum(w for k, w in weight.items() if rows.group_of_row[k] == g) for g in range(len(prior))}
        outcomes: dict[int, dict[int, float]] = {}
        for k, w in weight.items():
            g = int(rows.group_of_row[k])
            shown = outcomes.setdefault(int(rows.masks[0, k]), {})
            shown[g] = shown.get(g, 0.0) + w / total[g] * prior[g]
        before = -sum(p * math.log2(p) for p in prior if p > 0)
        after = 0.0
        for shown in outcomes.values():
            mass = sum(shown.values())
            after -= sum(p * math.log2(p / mass) for p in shown.values() if p > 0)
        (best,) = [
            s for s in next_best_reading(log, question, at_most=99) if s.kind == "continuity" and s.end == end
        ]
        assert best.bits == pytest.approx(before - after, abs=1e-9)


def test_length_range_holds_95_of_100_simulated_cables() -> None:
    rng = np.random.default_rng(11)
    trials = 20000
    sigma = 1.96
    for length_m in (10.0, 30.0, 60.0):
        relative = np.exp(
            rng.normal(0, trace_number("gauge spread") / sigma, trials)
            + rng.normal(0, trace_number("lay spread") / sigma, trials)
            + rng.normal(
                0,
                copper_property("resistance per kelvin") * trace_number("temperature spread") / sigma,
                trials,
            )
            + rng.normal(0, trace_number("meter scale") / sigma, trials)
        )
        absolute = rng.normal(
            0, math.hypot(trace_number("meter offset"), trace_number("splice spread")) / sigma, trials
        )
        ohm_per_m = 2 * conductor(24).resistance_ohm / 1000 * (1 + trace_number("lay"))
        loops = np.maximum(0.0, length_m * ohm_per_m * relative + absolute)
        inside = 0
        for loop_ohm in loops[:4000]:
            found = length_from_loop(float(loop_ohm), 24)
            inside += found.low_m <= length_m <= found.high_m
        assert 0.935 <= inside / 4000 <= 0.965


def test_answer_against_trying_every_world() -> None:
    """Three ends, three outlets, against all worlds with at most one thing wrong on each cable."""
    outlets, ends = ["a", "b", "c"], ["1", "2", "3"]
    question = plan_codes(outlets, ends, Bag(plugs=3), 4, Trust.COLOURS).problem
    assert len(question.rounds) == 2
    rows = table(question)
    rng = np.random.default_rng(13)
    for _ in range(60):
        picks = rng.permutation(3)
        log = ReadingLog()
        for k, end in enumerate(ends):
            single = [i for i, row in enumerate(rows.rows) if row.outlets == (outlets[picks[k]],)]
            row = int(rng.choice(single))
            for number in (1, 2):
                if rng.random() < 0.75:
                    seen = blocks_of(int(rows.masks[number - 1, row]), 4)
                    log = log.added(Continuity(f"{end}{number}", end, seen, round=number))
        belief = believe(log, question)
        left = [sorted({int(g) for g in rows.group_of_row[belief.alive[end]]}) for end in ends]
        worlds = [
            combo
            for combo in product(*left)
            if sum(len(rows.groups[g]) for g in combo) == len({o for g in combo for o in rows.groups[g]})
        ]
        assert bool(belief.conflicts) <= (not worlds)  # nothing is called a contradiction that is none
        if not worlds:
            continue
        answer = solve(log, question)
        for k, end in enumerate(ends):
            certain = set.intersection(*(set(rows.groups[combo[k]]) for combo in worlds))
            assert set(answer.end(end).reaches) <= certain
            assert {p.outlets for p in answer.end(end).possible} >= {rows.groups[c[k]] for c in worlds}


def test_contradictions_between_ends_are_where_no_world_is_left() -> None:
    """Random readings, true or not: ends clash exactly where every sharing out of the outlets fails."""
    outlets, ends = ["a", "b", "c"], ["1", "2", "3"]
    question = problem(outlets, ends, 4)
    rng = np.random.default_rng(17)
    clashes = agreed = 0
    for _ in range(400):
        log = ReadingLog()
        for k in range(int(rng.integers(1, 8))):
            heard = ToneHeard.LOUD if rng.random() < 0.6 else ToneHeard.NONE
            log = log.added(Tone(f"t{k}", str(rng.choice(ends)), str(rng.choice(outlets)), heard))
        belief = believe(log, question)
        groups = table(belief.problem).groups
        own = [belief.own_domain(end) for end in ends]
        if not all(domain.any() for domain in own):
            continue  # an end contradicts itself
        worlds = [
            combo
            for combo in product(*(np.flatnonzero(domain).tolist() for domain in own))
            if sum(len(groups[g]) for g in combo) == len({o for g in combo for o in groups[g]})
        ]
        assert bool(belief.conflicts) == (not worlds)
        clashes += not worlds
        if worlds:
            for k, end in enumerate(ends):
                left = {combo[k] for combo in worlds}
                assert left <= set(np.flatnonzero(belief.domains[end]).tolist())
                agreed += left == set(np.flatnonzero(belief.domains[end]).tolist())
    assert clashes > 50
    assert agreed > 100


def test_narrowing_strikes_out_nothing_that_a_world_holds_and_what_is_taken_for_certain() -> None:
    """Random sets for three ends over all chains of three outlets, against every sharing out of them."""
    question = problem(["a", "b", "c"], ["1", "2", "3"], 4)
    rows = table(question)
    rng = np.random.default_rng(23)
    clashes = struck = 0
    for _ in range(300):
        domains = {}
        for end in question.ends:
            domain = np.zeros(len(rows.groups), dtype=bool)
            domain[rng.choice(len(rows.groups), size=int(rng.integers(1, 4)), replace=False)] = True
            domains[(end,)] = domain
        worlds = [
            combo
            for combo in product(*(np.flatnonzero(domain).tolist() for domain in domains.values()))
            if sum(len(rows.groups[g]) for g in combo) == len({o for g in combo for o in rows.groups[g]})
        ]
        clash, left = _narrowed(question, domains)
        if clash:
            assert not worlds and len(set(clash)) == len(clash) >= 1
            clashes += 1
            continue
        for k, (cluster, domain) in enumerate(left.items()):
            assert not (domain & ~domains[cluster]).any()
            assert {combo[k] for combo in worlds} <= set(np.flatnonzero(domain).tolist())
            others = [d for c, d in left.items() if c != cluster]
            taken = {o for d in others for o in np.flatnonzero(rows.member[d].all(axis=0)).tolist()}
            reached = set(np.flatnonzero(rows.member[domain].any(axis=0)).tolist())
            assert not taken & reached, "an outlet that another end has for certain is struck out"
            struck += int((domains[cluster] & ~domain).sum())
    assert clashes > 30 and struck > 30


def test_ends_that_clash_are_named_with_those_that_take_their_outlets() -> None:
    """1 and 2 share a and b between them; 3 wants a or b too, and 4, at c, has no part in it."""
    question = problem(["a", "b", "c"], ["1", "2", "3", "4"], 4)
    groups = table(question).groups

    def only(*names: str) -> np.ndarray:
        return np.array([group in [(name,) for name in names] for group in groups])

    ends = {("1",): only("a"), ("2",): only("b"), ("3",): only("a", "b"), ("4",): only("c")}
    clash, left = _narrowed(question, ends)
    assert set(clash) == {("1",), ("2",), ("3",)}
    free = {("1",): only("a"), ("2",): only("a", "b"), ("3",): only("b", "c")}
    clash, left = _narrowed(question, free)
    assert not clash
    found = {end: [groups[g] for g in np.flatnonzero(domain)] for (end,), domain in left.items()}
    assert found == {"1": [("a",)], "2": [("b",)], "3": [("c",)]}
    none = np.array([group == () for group in groups])
    pair = {("1",): only("a", "b"), ("2",): only("a", "b"), ("3",): only("a", "c") | none}
    _, left = _narrowed(question, pair)
    kept = [groups[g] for g in np.flatnonzero(left[("3",)])]
    assert kept == [(), ("c",)], "the pair uses up a, though neither has it for certain"
