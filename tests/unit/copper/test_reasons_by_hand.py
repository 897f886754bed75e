"""Why a rate is judged as it is, what was measured, and what to do next, for one cable after another."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rehaul.copper import RunFacts, settling, verdict, verdicts

CLEAN = RunFacts("cat5e", 4, (12.0, 15.0, 18.0), "home run", state="dead")


@pytest.mark.parametrize(
    ("more", "ethernet", "words"),
    [
        ({"pairs": 3}, "1000BASE-T", "needs 4 pairs and this run has 3"),
        ({"category": "quad", "pairs": None}, "1000BASE-T", "quad has two"),
        ({"wire_map_ok": False, "state": "damaged"}, "100BASE-TX", "wire map"),
        ({"state": "damaged", "taps_m": (5.0,)}, "100BASE-TX", "noted as damaged"),
        ({"taps_m": (5.0, 7.0)}, "100BASE-TX", "7 m of cable hangs"),
        ({"taps_m": (0.0,)}, "100BASE-TX", "within the 100 m"),
        ({"topology": "tap"}, "100BASE-TX", "hang"),
        ({"category": "cat3", "topology": "unknown"}, "100BASE-TX", "No standard promises"),
        ({"length_m": (99.0, 100.1, 120.0), "topology": "unknown"}, "100BASE-TX", "beyond the 100 m"),
        ({"length_m": (99.0, 100.0, 120.0)}, "100BASE-TX", "within the 100 m"),
        ({"topology": "spliced"}, "100BASE-TX", "splice"),
        ({"splices": 1}, "100BASE-TX", "splice"),
        ({"splices": 0}, "100BASE-TX", "within the 100 m"),
    ],
)  # fmt: skip
def test_the_first_thing_that_decides_is_the_reason(
    more: dict[str, object], ethernet: str, words: str
) -> None:
    assert words in verdict(replace(CLEAN, **more), ethernet).reason  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("more", "gigabit"),
    [
        ({"link_mbps": 1000.0, "errors": 0}, (0.98, "measured")),
        ({"link_mbps": 1000.0}, (0.85, "measured")),
        ({"link_mbps": 1000.0, "errors": 1}, (0.05, "measured")),
        ({"link_mbps": 100.0}, (0.05, "measured")),
        ({"link_mbps": 2500.0, "errors": 0}, (0.98, "measured")),
        ({"link_mbps": 2500.0, "errors": 3}, (0.85, "measured")),
        ({"link_mbps": 100.0, "tried_mbps": 1000.0}, (0.05, "measured")),
        ({"certified": "class D", "link_mbps": 100.0}, (0.99, "certified")),
        ({"certified": "class E"}, (0.99, "certified")),
    ],
)  # fmt: skip
def test_what_was_measured_rules(more: dict[str, object], gigabit: tuple[float, str]) -> None:
    run = replace(CLEAN, wire_map_ok=True, **more)  # type: ignore[arg-type]
    found = verdict(run, "1000BASE-T")
    assert (found.probability, found.evidence) == (pytest.approx(gigabit[0]), gigabit[1])


def test_a_slower_link_that_was_all_the_ports_had_says_nothing_of_a_faster_one() -> None:
    tried = replace(CLEAN, link_mbps=100.0, tried_mbps=100.0, errors=0)
    assert verdict(tried, "1000BASE-T").evidence == "inferred"
    assert verdict(replace(tried, certified="class C"), "1000BASE-T").evidence == "inferred"
    assert (
        "pair" not in verdict(tried, "1000BASE-T").lift
        and "pair" in verdict(replace(tried, tried_mbps=None), "1000BASE-T").lift
    )


def test_no_rate_is_surer_than_a_slower_one() -> None:
    errors = replace(CLEAN, link_mbps=100.0, tried_mbps=100.0, errors=9)
    found = {one.ethernet: one for one in verdicts(errors)}
    chances = [one.probability for one in found.values()]
    assert chances == sorted(chances, reverse=True) and found["10BASE-T"].probability == pytest.approx(0.85)
    assert found["1000BASE-T"].band == found["100BASE-TX"].band == "no"
    assert found["1000BASE-T"].reason == found["100BASE-TX"].reason
    assert found["1000BASE-T"].evidence == "measured" and found["1000BASE-T"].rate_mbps == 1000


def test_steps_that_lift_a_rate_stand_in_working_order() -> None:
    run = RunFacts("unknown", None, (9.0, 10.0, 11.0), "daisy chain", (2.0,), 2, "alarm", wire_map_ok=False)
    lift = verdict(run, "1000BASE-T").lift
    words = ("sign it off", "terminate", "straight through", "splices", "sheath", "count the pairs")
    places = [lift.lower().find(word) for word in words]
    assert -1 not in places and places == sorted(places), lift
    assert "tone" not in lift and "tone" in verdict(RunFacts(), "1000BASE-T").lift
    far = RunFacts("cat5e", 4, (800.0,) * 3, "home run", wire_map_ok=True)
    assert verdict(far, "10GBASE-T").lift.startswith("Pull") and "test" not in verdict(far, "10GBASE-T").lift


def test_readings_that_settle_have_answers_that_add_up() -> None:
    unknown = RunFacts(length_m=(5.0, 15.0, 30.0))
    now = verdict(unknown, "1000BASE-T").probability
    found = settling(unknown, "1000BASE-T")
    assert len(found) == 4
    for one in found:
        assert sum(answer.chance for answer in one.answers) == pytest.approx(1.0)
        assert sum(answer.chance * answer.probability for answer in one.answers) == pytest.approx(now)
        assert one.worth == pytest.approx(sum(a.chance * abs(a.probability - now) for a in one.answers))
    four = next(one for one in found if one.reading == "count the pairs").answers
    assert [answer.chance for answer in four] == pytest.approx([0.53, 0.47])
    left_open: list[tuple[dict[str, object], int]] = [
        ({}, 1),
        ({"state": "damaged"}, 0),
        ({"topology": "unknown"}, 2),
        ({"topology": "unknown", "taps_m": (2.0,)}, 1),
        ({"pairs": None}, 2),
        ({"category": "quad", "pairs": None}, 1),
    ]
    for more, count in left_open:
        assert len(settling(replace(CLEAN, **more), "1000BASE-T")) == count, more  # type: ignore[arg-type]
    (mapped,) = settling(CLEAN, "1000BASE-T")
    assert [answer.chance for answer in mapped.answers] == pytest.approx([0.95, 0.05])
    assert mapped.answers[1].probability == 0.0
