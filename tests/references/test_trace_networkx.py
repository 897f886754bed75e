"""Tracing against a general graph library: components, matchings, largest codes."""

from __future__ import annotations

from itertools import combinations

import networkx as nx
import numpy as np
import pytest

from rehaul.tracing import Trust, correcting_codes, detecting_codes
from rehaul.tracing.codebook import images, patterns
from rehaul.tracing.matching import surviving_choices
from rehaul.tracing.partitions import blocks_of, closed, conductor_pairs
from rehaul.tracing.plugs import pair_resistances_ohm


def test_closing_ties_against_connected_components() -> None:
    rng = np.random.default_rng(2)
    for _ in range(500):
        mask = int(rng.integers(0, 1 << 28)) & int(rng.integers(0, 1 << 28)) & int(rng.integers(0, 1 << 28))
        graph = nx.Graph()
        graph.add_nodes_from(range(1, 9))
        graph.add_edges_from(pair for k, pair in enumerate(conductor_pairs(8)) if mask >> k & 1)
        expected = {frozenset(block) for block in nx.connected_components(graph) if len(block) > 1}
        assert {frozenset(block) for block in blocks_of(closed(mask, 8), 8)} == expected


def test_effective_resistance_against_networkx() -> None:
    rng = np.random.default_rng(4)
    for _ in range(20):
        edges = tuple(
            (a, b, float(rng.uniform(100, 10000)))
            for a, b in combinations(range(1, 7), 2)
            if rng.random() < 0.6
        )
        graph = nx.Graph()
        graph.add_nodes_from(range(1, 7))
        graph.add_weighted_edges_from(edges)
        shown = pair_resistances_ohm([edges], 6)[0]
        for (a, b), ohm in zip(conductor_pairs(6), shown, strict=True):
            if nx.has_path(graph, a, b):
                part = graph.subgraph(nx.node_connected_component(graph, a))
                expected = nx.resistance_distance(part, a, b, weight="weight", invert_weight=True)
                assert ohm == pytest.approx(expected, rel=1e-9)
            else:
                assert np.isinf(ohm)


def test_sharing_out_24_ends_against_networkx_matchings() -> None:
    rng = np.random.default_rng(6)
    for _ in range(5):
        outlets = [f"o{k}" for k in range(24)]
        own = rng.permutation(24)
        choices = {
            (f"e{k}",): frozenset(
                {outlets[own[k]], *rng.choice(outlets, size=int(rng.integers(0, 3))).tolist()}
            )
            for k in range(24)
        }
        kept, _ = surviving_choices(choices)
        for chooser, values in choices.items():
            for value in values:
                graph = nx.Graph()
                rest = [other for other in choices if other != chooser]
                graph.add_nodes_from(rest)
                graph.add_edges_from((other, v) for other in rest for v in choices[other] if v != value)
                matched = nx.bipartite.maximum_matching(graph, top_nodes=rest)
                complete = all(other in matched for other in rest)
                assert (value in kept[chooser]) == complete


def compatible(conductors: int, trust: Trust, *, correct: bool) -> nx.Graph:
    """Patterns as nodes, joined where one fault cannot confuse them with each other (nor with nothing)."""
    empty = images((0,), conductors, trust)
    words = [(mask,) for mask in patterns(conductors, trust)]
    fit = [w for w in words if not (images(w, conductors, trust) & empty if correct else w in empty)]
    graph = nx.Graph()
    graph.add_nodes_from(fit)
    for a, b in combinations(fit, 2):
        pictures_a, pictures_b = images(a, conductors, trust), images(b, conductors, trust)
        apart = not pictures_a & pictures_b if correct else b not in pictures_a and a not in pictures_b
        if apart:
            graph.add_edge(a, b)
    return graph


@pytest.mark.parametrize("trust", [Trust.COLOURS, Trust.PAIR_COLOURS, Trust.TWIST, Trust.NONE])
def test_books_of_a_quad_are_the_largest_there_are(trust: Trust) -> None:
    """Largest clique: an upper bound, since it does not ask that joins be seen."""
    for correct, book in ((False, detecting_codes), (True, correcting_codes)):
        graph = compatible(4, trust, correct=correct)
        largest = nx.max_weight_clique(graph, weight=None)[1] if graph else 0
        assert len(book(4, trust)) == largest
