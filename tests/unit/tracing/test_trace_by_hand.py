"""Labels, links meanwhile, ends to open, and walks with lengths counted by hand."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.errors import BadInput
from rehaul.facts.trace_numbers import trace_number
from rehaul.tracing.endblame import EndEvidence, LikelyEnd, likely_end
from rehaul.tracing.labels import fit_label, label_text, text_length_m
from rehaul.tracing.meanwhile import link_meanwhile
from rehaul.tracing.routes import Whereabouts, shortest_route, walking_m
from rehaul.tracing.walks import plan_walks


def test_printed_lengths_by_hand() -> None:
    """In capitals of 1: usual 0.6, narrow 0.4, wide 0.9, and 0.2 between letters."""
    assert text_length_m("ABC", 1.0) == pytest.approx(3 * 0.6 + 2 * 0.2)
    assert text_length_m("M-1", 2.0) == pytest.approx(2 * (0.9 + 0.4 + 0.4 + 2 * 0.2))
    assert text_length_m("X", 1.0) == pytest.approx(0.6)


def test_letters_as_large_as_the_tape_and_the_place_allow() -> None:
    """6 mm tape prints 4 mm: one line of 4 mm, two of 4 / 2.4 = 1.67 mm, which cannot be read."""
    one = fit_label(["C01"])
    assert one.capital_m == pytest.approx(0.004) and one.length_m == pytest.approx(0.004 * 2.0)
    with pytest.raises(BadInput, match=r"1\.7 mm high"):
        fit_label(["C01", "Hall"])
    two = fit_label([" C01 ", "", "Hall"], tape_m=0.012)
    assert two.lines == ("C01", "Hall") and two.capital_m == pytest.approx(0.009 / 2.4)
    assert fit_label(["C01"], tape_m=0.024).capital_m == pytest.approx(0.006), "never larger than 6 mm"
    tight = fit_label(["C01"], longest_m=0.004)
    assert tight.capital_m == pytest.approx(0.002) and tight.length_m == pytest.approx(0.004)
    assert fit_label(["C01"], longest_m=0.0018 * 2.0 + 1e-9).capital_m == pytest.approx(0.0018), (
        "just readable"
    )
    for lines, longest in ((["C01"], 0.0035), ([" "], None)):
        with pytest.raises(BadInput):
            fit_label(lines, longest_m=longest)


def test_a_name_is_cut_before_the_id_is() -> None:
    assert label_text("C01", "Hall", tape_m=0.012).lines == ("C01", "Hall")
    assert label_text("C01", "Hall").lines == ("C01 Hall",), "two lines are too small there"
    cut = label_text("C01", "Drawing room", longest_m=0.0018 * text_length_m("C01 Draw.", 1.0) + 1e-9)
    assert cut.lines == ("C01 Draw.",)
    assert label_text("C01", "Drawing room", longest_m=0.006).lines == ("C01",)
    assert label_text("C01").lines == ("C01",)


WHOLE = {(1, 2): (1, 2), (3, 6): (3, 6), (4, 5): (4, 5), (7, 8): (7, 8)}
CROSSED = {**WHOLE, (1, 2): (3, 6), (3, 6): (1, 2)}
WRONG = {**WHOLE, (1, 2): (4, 5), (4, 5): (1, 2)}


def less(whole: dict[Any, Any], *gone: tuple[int, int]) -> dict[Any, Any]:
    return {near: far for near, far in whole.items() if near not in gone}


@pytest.mark.parametrize(
    ("whole", "split", "mbps", "sure"),
    [
        (WHOLE, [], 1000, 1000),
        (CROSSED, [], 1000, 1000),
        (WRONG, [], 0, 0),
        (less(WHOLE, (3, 6)), [], 0, 0),
        (less(WHOLE, (4, 5)), [], 100, 0),
        (less(WHOLE, (4, 5), (7, 8)), [], 100, 0),
        (WHOLE, [(1, 2)], 100, 0),
        (WHOLE, [(7, 8)], 100, 0),
        (less(WHOLE, (7, 8)), [(7, 8)], 100, 0),
        ({}, [], 0, 0),
    ],
)
def test_what_comes_up_meanwhile(whole: Any, split: Any, mbps: int, sure: int) -> None:
    found = link_meanwhile(whole, split)
    assert (found.mbps, found.by_standard_mbps) == (mbps, sure)
    assert ("errors" in found.sentence) is (split == [(1, 2)])


@pytest.mark.parametrize(
    ("more", "end"),
    [
        ({"fault_at_m": 1.0}, LikelyEnd.NEAR),
        ({"fault_at_m": 1.1}, LikelyEnd.EITHER),
        ({"fault_at_m": 1.1, "length_m": 20.0}, LikelyEnd.BETWEEN),
        ({"fault_at_m": 19.0, "length_m": 20.0}, LikelyEnd.FAR),
        ({"fault_at_m": 18.9, "length_m": 20.0}, LikelyEnd.BETWEEN),
        ({"near_is_plug": True, "far_is_plug": False}, LikelyEnd.NEAR),
        ({"near_is_plug": False, "far_is_plug": True}, LikelyEnd.FAR),
        ({"near_is_plug": True, "far_is_plug": True}, LikelyEnd.EITHER),
        ({"near_is_plug": True}, LikelyEnd.EITHER),
        ({"fault_at_m": 19.5, "length_m": 20.0, "near_is_plug": True, "far_is_plug": False}, LikelyEnd.FAR),
    ],
)
def test_which_end_by_distance_then_by_connector(more: dict[str, Any], end: LikelyEnd) -> None:
    """A metre from an end counts as that end."""
    assert trace_number("end margin") == 1.0
    assert likely_end(faults_present=True, evidence=EndEvidence(**more))[0] is end
    assert likely_end(faults_present=False, evidence=EndEvidence(**more))[0] is LikelyEnd.NONE
    assert likely_end(faults_present=True, evidence=None)[0] is LikelyEnd.EITHER


def at(name: str, x: float, y: float = 0.0, storey: int = 0) -> Whereabouts:
    return Whereabouts(name, storey, x, y)


def test_metres_along_walls_and_stairs() -> None:
    stair = trace_number("metres a storey")
    assert walking_m(at("a", 0, 0), at("b", 3, 4)) == 7.0
    assert walking_m(at("a", 0, 0), at("b", 3, 4, 2)) == 7.0 + 2 * stair
    by_stairs = walking_m(at("a", 0, 0), at("b", 3, 4, 1), [(10, 0), (0, 9)])
    assert by_stairs == min(10 + 7 + 4, 9 + 3 + 5) + stair
    assert walking_m(at("a", 0, 0), at("b", 3, 4), [(10, 0)]) == 7.0, "no stairs on one storey"


@pytest.mark.parametrize("count", [5, 13])  # by subsets, and by cuts
def test_the_shortest_way_along_a_corridor(count: int) -> None:
    """Places along a line: out to the far end is as far as the farthest, there and back twice that."""
    stops = [at(str(n), float(n)) for n in (*range(2, count + 1, 2), *range(1, count + 1, 2))]
    there = shortest_route(at("s", 0), stops, None)
    assert there.length_m == count and there.proven
    assert list(there.stops) == [str(n) for n in range(1, count + 1)]
    back = shortest_route(at("s", 0), stops, at("s", 0))
    assert back.length_m == 2 * count and set(back.stops) == set(there.stops) and back.proven
    through = shortest_route(at("s", 0), stops, at("e", count + 2.0))
    assert through.length_m == count + 2 and list(through.stops) == list(there.stops)
    assert shortest_route(at("s", 0), [], at("e", 4)).length_m == 4.0


def test_trips_of_one_person_and_of_two() -> None:
    """Three plates along a corridor at 2, 4 and 6 m: one person goes out and back twice, 24 m."""
    plates, closet = [at("a", 2), at("b", 4), at("c", 6)], at("m", 0)
    alone = plan_walks(plates, closet, at_once=3)
    assert [(trip.do, trip.length_m) for trip in alone.trips] == [
        ("put the plugs in", 12.0), ("collect the plugs", 12.0),
    ]  # fmt: skip
    reading, pace = trace_number("minutes at an end"), trace_number("metres a minute")
    assert alone.minutes == pytest.approx(24 / pace + 3 * reading) and alone.proven
    more = plan_walks(plates, closet, at_once=3, ends=5, patterns_each=2)
    assert [trip.do for trip in more.trips] == ["put the plugs in", "change the plugs", "collect the plugs"]
    assert more.minutes == pytest.approx(36 / pace + 2 * 5 * reading)
    both = plan_walks(plates, closet, at_once=3, people=2)
    assert both.length_m == 12.0, "out with the plugs, and back with them"
    assert sum(len(trip.stops) for trip in both.trips) == 6
    one = plan_walks(plates, closet, at_once=1)
    assert [len(batch) for batch in one.batches] == [1, 1, 1] and not one.proven
    assert [trip.do for trip in one.trips] == [
        "put the plugs in", "move the plugs on", "move the plugs on", "collect the plugs",
    ]  # fmt: skip
    assert "4 trips" in one.sentence
    two = plan_walks(plates, closet, at_once=2)
    assert len(two.batches) == 2 and sorted(map(len, two.batches)) == [1, 2]
    for people, at_once in ((3, 1), (1, 0)):
        with pytest.raises(BadInput):
            plan_walks(plates, closet, at_once=at_once, people=people)
