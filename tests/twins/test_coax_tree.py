"""A coax tree's loss against the shortest way through a graph of two-ways and cables, built another way."""

from __future__ import annotations

import itertools
import math
import random

import networkx as nx
import pytest

from rehaul.copper import cable_loss_db, splitter_loss_db
from rehaul.facts.coax import coax_limit
from rehaul.house import House, Job, Outlet, Run, Splitter, Storey
from rehaul.network.coaxtree import coax_trees

THROUGH, ACROSS = 3.7, 20.0


def two_ways(graph: nx.Graph, name: str, ways: int, through: float, across: float) -> None:
    """A splitter as two-ways: each an own triangle of ports, in to out and out to out."""

    def grow(port: tuple[str, int], outputs: list[int]) -> None:
        if len(outputs) == 1:
            graph.add_edge(port, (name, "out", outputs[0]), weight=0.0)
            return
        half = len(outputs) // 2
        a, b = (*port, "a"), (*port, "b")
        graph.add_edge(port, a, weight=through)
        graph.add_edge(port, b, weight=through)
        graph.add_edge(a, b, weight=across)
        grow(a, outputs[:half])
        grow(b, outputs[half:])

    root = (name, "in")
    graph.add_node(root)
    grow(root, list(range(1, ways + 1)))


def lost_db(graph: nx.Graph, one: object, other: object) -> float:
    """The way through a tree goes by each two-way once: input and output by one edge, across by the other.

    The shortest path may not take two through-edges of one two-way in turn (out, in, out): that is the
    isolation path, which has its own edge, so such detours are left out.
    """
    return min(
        sum(graph.edges[a, b]["weight"] for a, b in itertools.pairwise(path))
        for path in nx.all_simple_paths(graph, one, other)
        if not any(
            graph.has_edge(a, c) and graph.edges[a, c]["weight"] == graph.graph["across"]
            for a, _, c in zip(path, path[1:], path[2:], strict=False)
        )
    )


@pytest.mark.parametrize("ways", range(1, 10))
def test_every_pair_of_ports_of_every_splitter(ways: int) -> None:
    graph = nx.Graph(across=ACROSS)
    two_ways(graph, "S", ways, THROUGH, ACROSS)
    ports = {0: ("S", "in"), **{n: ("S", "out", n) for n in range(1, ways + 1)}}
    for one, other in itertools.combinations(ports, 2):
        mine = splitter_loss_db(ways, one, other, through_db=THROUGH, across_db=ACROSS)
        assert mine == pytest.approx(lost_db(graph, ports[one], ports[other])), (ways, one, other)


def drawn(seed: int) -> Job:
    """A tree of one to three splitters, one behind another or both behind the first, with plates."""
    dice = random.Random(seed)
    runs: list[Run] = []
    outlets: list[Outlet] = []
    splitters: list[Splitter] = []

    def coax(a: str, b: str) -> str:
        metres = round(dice.uniform(2.0, 25.0), 1)
        run = Run(
            id=f"K{len(runs) + 1}",
            ends=(a, b),
            kind="coax",
            coax=dice.choice(("RG-6", "RG-59", "RG-11", "unknown")),
            length_m={"middle": metres, "low": metres, "high": metres},
            state="dead",
        )
        runs.append(run)
        return run.id

    for number in range(1, dice.randint(1, 3) + 1):
        name, ways = f"S{number}", dice.choice((2, 3, 4, 8))
        above = dice.choice(splitters).id if splitters else ""
        start = above
        if not above:
            outlets.append(Outlet(id="1-00", storey="1", position=(0.0, 0.0)))
            start = "1-00"
        entry = coax(start, name)
        splitters.append(
            Splitter(
                id=name,
                name=name,
                storey="1",
                position=(9.0 * number, 5.0),
                ways=ways,
                input=entry,
                passes_mhz=1675.0,
                capped=True,
            )
        )
        for _ in range(dice.randint(1, 2)):
            plate = f"1-{len(outlets):02d}"
            outlets.append(Outlet(id=plate, storey="1", position=(float(len(outlets)), 2.0)))
            coax(name, plate)
    house = House(
        storeys=(Storey(id="1", name="Ground", elevation_m=0.0),),
        outlets=tuple(outlets),
        splitters=tuple(splitters),
        runs=tuple(runs),
    )
    return Job(id="tree", title="Tree", house=house)


@pytest.mark.parametrize("seed", range(40))
def test_a_path_through_a_tree_by_every_wiring_of_its_outputs(seed: int) -> None:
    """Nobody notes which output a cable hangs on: least and greatest over all ways to wire them."""
    job = drawn(seed)
    (tree,) = coax_trees(job)
    assert not tree.stop and not any(joint.stop for joint in tree.joints)
    through, across = coax_limit("two-way through"), coax_limit("two-way across")
    cables = {run.id: run for run in job.house.runs}
    for one, other in itertools.combinations(tree.ends(), 2):
        path = tree.path(job, one, other)
        assert path is not None
        metres = [
            cable_loss_db(run.length_m.middle, "RG-59" if run.coax == "unknown" else run.coax)
            for run in path.runs
            if run.length_m is not None
        ]
        fixed = sum(metres) + 2 * len(path.runs) * coax_limit("connector loss")
        low = high = fixed
        for a, splitter, b in zip(path.runs, path.joints, path.runs[1:], strict=False):
            box = next(s for s in job.house.splitters if s.id == splitter.id)
            graph = nx.Graph(across=across)
            two_ways(graph, box.id, box.ways, through, across)
            outs = [(box.id, "out", n) for n in range(1, box.ways + 1)]
            if box.input in (a.id, b.id):
                found = [lost_db(graph, (box.id, "in"), out) for out in outs]
            else:
                found = [lost_db(graph, *pair) for pair in itertools.combinations(outs, 2)]
            low, high = low + min(found), high + max(found)
        assert path.least_db == pytest.approx(low, abs=0.011)
        assert path.loss_db == pytest.approx(high, abs=0.011)
        assert math.isclose(path.length_m, sum(cables[r.id].length_m.middle for r in path.runs), abs_tol=0.06)  # type: ignore[union-attr]
        back = tree.path(job, other, one)
        assert back is not None and back.loss_db == path.loss_db
