"""Where a short lies, worked out by hand, and what a graph answers to an id.

A pair of 26 AWG has 2 x 133.86 mohm per metre, of 24 AWG 2 x 84.20, of 22 AWG 2 x 52.94.
"""

from __future__ import annotations

import pytest

from rehaul.house import Estimate, Run, RunTest, WireMap
from rehaul.network.faults import FaultPlace, fault_place
from rehaul.network.model import Graph, Link, Node

Span = tuple[float, float, float]


def shorted(gauge: int | None, length: Span | None, *read: tuple[str, float]) -> FaultPlace:
    span = None if length is None else Estimate(low=length[0], middle=length[1], high=length[2])
    tests = tuple(RunTest(wire_map=WireMap.SHORT, from_end=end, fault_ohm=ohm) for end, ohm in read)
    place = fault_place(Run(id="C1", ends=("M1", "P1"), gauge_awg=gauge, length_m=span, tests=tests))
    assert place is not None
    return place


def both(place: FaultPlace) -> list[float]:
    assert place.other_distance_m is not None
    return [round(metres, 3) for metres in (*place.distance_m, *place.other_distance_m)]


def test_a_short_of_thin_wire_read_from_both_ends() -> None:
    """2.6772 ohm apart are 10 m of it, so 20 m and 10 m of 30; beyond 30 m of wire 2 x 0.5 ohm are left.

    The length is known to 2 m (a quarter of 26 to 34), 8 % of half of 10 m are 0.4: together 2.040 m.
    """
    place = shorted(26, (26, 30, 34), ("M1", 5.8544), ("P1", 3.1772))
    assert both(place) == [17.960, 20.0, 22.040, 7.960, 10.0, 12.040]
    assert place.contact_ohm == pytest.approx(0.5)
    assert (place.from_end, place.other_end) == ("M1", "P1")
    assert str(place.words) == "20.0 m (18.0 to 22.0) from M1, 10.0 m (8.0 to 12.0) from P1"


def test_wire_of_unknown_gauge_counts_as_24_awg() -> None:
    """1.684 ohm apart are 10 m; both readings together are 30 m of wire and no contact."""
    place = shorted(None, (26, 30, 34), ("P1", 1.684), ("M1", 3.368))
    assert both(place) == [17.960, 20.0, 22.040, 7.960, 10.0, 12.040]
    assert place.contact_ohm == pytest.approx(0.0, abs=1e-9)


def test_a_place_lies_on_the_cable_and_is_told_no_nearer_than_a_tape() -> None:
    """3 ohm of 22 AWG are 28.334 m on a cable of 10: at its far end, give or take 4 % of them."""
    beyond = shorted(22, (10, 10, 10), ("M1", 3.0), ("P1", 0.0))
    assert both(beyond) == [8.867, 10.0, 10.0, 0.0, 0.0, 1.133]
    assert beyond.contact_ohm == pytest.approx((3.0 - 1.0588) / 2)
    before = shorted(22, (10, 10, 10), ("M1", 0.0), ("P1", 3.0))
    assert both(before) == [0.0, 0.0, 1.133, 8.867, 10.0, 10.0]
    about = shorted(22, (10, 12, 14), ("M1", 3.0), ("P1", 0.0))  # 1 m and 1.133 m come to 1.511
    assert both(about) == [10.489, 12.0, 13.511, 0.0, 0.0, 1.511]
    middle = shorted(22, (10, 10, 10), ("M1", 0.4), ("P1", 0.4))
    assert both(middle) == [4.5, 5.0, 5.5, 4.5, 5.0, 5.5]
    assert middle.contact_ohm == 0.0, "0.8 ohm are less than 10 m of wire, and no contact gives back"


def test_a_reading_from_one_end_goes_no_farther_than_the_cable() -> None:
    """2.6772 ohm of 26 AWG are 10 m; its error of 0.3 ohm and of 8 % is 13.76 % of it."""
    place = shorted(26, None, ("P1", 2.6772))
    assert (place.from_end, place.other_end, place.other_distance_m) == ("P1", "", None)
    assert [round(metres, 2) for metres in place.distance_m] == [8.79, 10.0, 11.6]
    on_a_cable = shorted(26, (7, 8, 9.5), ("P1", 2.6772))
    assert [round(metres, 2) for metres in on_a_cable.distance_m] == [8.79, 9.5, 9.5]
    on_a_stub = shorted(26, (5, 6, 7), ("P1", 2.6772))
    assert on_a_stub.distance_m == (7, 7, 7)


def test_two_readings_without_a_length_stand_each_for_itself() -> None:
    place = shorted(26, None, ("P1", 5.3544), ("M1", 2.6772))
    assert place.from_end == "M1" and place.distance_m[1] == pytest.approx(10)
    assert place.other_end == "P1" and place.other_distance_m
    assert place.other_distance_m[1] == pytest.approx(20) and place.contact_ohm == 0.0


def test_a_reading_from_a_place_that_is_no_end_is_told_as_it_was_taken() -> None:
    assert shorted(26, None, ("J1", 2.6772)).from_end == "J1"
    assert shorted(26, None, ("J1", 2.6772), ("P1", 5.3544)).from_end == "P1"


def test_a_graph_answers_an_id_with_the_node_or_the_link() -> None:
    nodes = tuple(Node(id=name, kind="outlet", name=name) for name in ("P1", "P2", "P3"))
    links = tuple(
        Link(id=name, a=a, b=b, medium="twisted pair", low_mbps=1, rate_mbps=2, high_mbps=3)
        for name, a, b in (("C1", "P1", "P2"), ("C2", "P2", "P3"))
    )
    graph = Graph(nodes=nodes, links=links)
    assert graph.node("P2") is nodes[1] and graph.link("C2") is links[1]
    for ask, missing in ((graph.node, "C1"), (graph.link, "P1")):
        with pytest.raises(KeyError):
            ask(missing)
