"""Diagnosis on simulated houses with one planted fault each: how often right, how often wrong and sure."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from counts import counted
from planted_faults import House, houses
from rehaul.facts.causes import causes
from rehaul.proof import Diagnosis, diagnose
from rehaul.proof.causes import Test

HANDFUL = 7  # readings at most
SEEDS = (20, 30)
HOUSES = counted(108, 270)  # for each seed, each cause in turn: fewer are too few for one in a hundred
FIRST: tuple[Test, ...] = ("modem down", "near down", "room down")


def visited(house: House) -> tuple[Diagnosis, Mapping[Test, tuple[float, ...]]]:
    """A visit: three readings, then the test that is asked for, until sure or a handful is read."""
    reads: dict[Test, tuple[float, ...]] = {test: (house.reads[test],) for test in FIRST}
    found = diagnose(house.case, reads)
    for _ in range(HANDFUL - len(FIRST)):
        if found.next_test is None:
            break
        test = next(t for t in house.reads if t == found.next_test.test)
        reads[test] = (*reads[test], house.again[test]) if test in reads else (house.reads[test],)
        found = diagnose(house.case, reads)
    return found, reads


@pytest.fixture(scope="module")
def visits() -> list[tuple[House, Diagnosis]]:
    """Two seeds: one wrong and sure in a hundred is between two and three of 270."""
    return [(house, visited(house)[0]) for seed in SEEDS for house in houses(HOUSES, seed=seed)]


def test_the_top_cause_is_right(visits: list[tuple[House, Diagnosis]]) -> None:
    right = [found.causes[0].cause == house.cause for house, found in visits]
    assert sum(right) / len(right) >= 0.92


def test_it_is_seldom_wrong_and_sure(visits: list[tuple[House, Diagnosis]]) -> None:
    wrong = [found.sure and found.causes[0].cause != house.cause for house, found in visits]
    assert sum(wrong) / len(wrong) <= 0.01


def test_a_sound_house_whose_room_is_far_is_seldom_blamed() -> None:
    """No fault is planted here; calling it the plan or the distance is right, anything else is not."""
    found = [visited(house)[0] for house in houses(counted(20, 60), seed=20, names=("plan",), far=True)]
    blamed = [one.causes[0].cause not in ("plan", "as predicted") for one in found]
    assert sum(blamed) / len(blamed) <= 0.2
    assert sum(one.sure and bad for one, bad in zip(found, blamed, strict=True)) / len(found) <= 0.05


def test_every_cause_is_found(visits: list[tuple[House, Diagnosis]]) -> None:
    for cause in causes():
        own = [found for house, found in visits if house.cause == cause]
        assert sum(found.causes[0].cause == cause for found in own) >= 0.75 * len(own), cause


def test_its_probabilities_mean_what_they_say(visits: list[tuple[House, Diagnosis]]) -> None:
    """What is called with 0.8 or more is right at least as often as it claims, less a little."""
    sure = [(house, found) for house, found in visits if found.sure]
    claimed = sum(found.causes[0].probability for _, found in sure) / len(sure)
    right = sum(found.causes[0].cause == house.cause for house, found in sure) / len(sure)
    assert right >= claimed - 0.03


def test_probabilities_add_up_and_evidence_is_words(visits: list[tuple[House, Diagnosis]]) -> None:
    for _, found in visits[:20]:
        assert sum(one.probability for one in found.causes) == pytest.approx(1, abs=1e-3)
        assert all(line.endswith(".") for line in found.evidence)
