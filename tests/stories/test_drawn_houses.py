"""Hundreds of houses drawn by chance, planned, and every plan judged by code that had no part in it.

A failure names the seed: `drawn_job(seed)` is the same job again, on every machine.
"""

from __future__ import annotations

import json

import pytest

from counts import LONG
from drawn_houses import FEATURES, drawn_job, features_of
from plans_once import made_plan
from rehaul.auditor import audit_plan
from rehaul.planning import plan_data

AT_ONCE = 10


def houses() -> list[int]:
    """Seeds to plan: with `--long` three hundred, in every run those of sixty that have all that is drawn."""
    if LONG:
        return list(range(300))
    there = {seed: features_of(drawn_job(seed)) for seed in range(60)}
    found, lacking = [], set(FEATURES)
    while lacking:
        seed = max(there, key=lambda seed: (len(lacking & there[seed]), -seed))
        found.append(seed)
        lacking -= there[seed]
    return sorted(found)


HOUSES = houses()
BATCHES = [HOUSES[first : first + AT_ONCE] for first in range(0, len(HOUSES), AT_ONCE)]


# Seeds beyond those whose plans were once wrong, or misjudged: pins that nothing can feed or pay, power over
# pairs that must see none, a box beside the door of the next wall, whole rooms that have enough today, a
# cable said to be two things, pieces judged by their whole, ties between coax and pairs, a battery elsewhere,
# a whole chain that ran with errors, a chain that comes out in another household's rooms, a room on the edge
# of what it asks, a new splitter where a licence is asked for.
ONCE_WRONG = (
    379,
    415,
    417,
    504,
    505,
    543,
    566,
    622,
    717,
    1038,
    1334,
    1432,
    2563,
    2834,
    3352,
    3704,
    7073,
    50455,
)


def faults_of(seed: int) -> list[str]:
    """What the auditor finds in the plan of a drawn house, as lines for people."""
    job = drawn_job(seed)
    data = plan_data(made_plan(job))
    data = json.loads(json.dumps(data, allow_nan=False))  # as anybody else would read it
    return [f"seed {seed}: {found.rule}: {found.sentence}" for found in audit_plan(job, data)]


@pytest.mark.parametrize("seeds", BATCHES, ids=lambda seeds: f"{seeds[0]}-{seeds[-1]}")
def test_the_auditor_finds_nothing(seeds: list[int]) -> None:
    faults: list[str] = []
    for seed in seeds:
        try:
            faults += faults_of(seed)
        except Exception as error:
            faults.append(
                f"seed {seed}: {type(error).__name__}: {error}; {sorted(features_of(drawn_job(seed)))}"
            )
    assert not faults, "\n".join(faults)


@pytest.mark.parametrize("seed", ONCE_WRONG)
def test_what_was_wrong_once(seed: int) -> None:
    assert not faults_of(seed)


def test_power_comes_only_over_pairs_that_may_see_it() -> None:
    """Behind a small switch too: the chain's second piece has other outlets on it."""
    found = made_plan(drawn_job(1432))
    links = {link.id: link for link in found.graph_after.links}
    last = next(link for link in links.values() if link.b == "2-01")
    fed = [point for point in found.choice.access_points if point.site.id == "2-01"]
    assert last.age == "kept" or last.poe_class > 0 or all(point.supply for point in fed)


def test_a_pin_that_cannot_be_is_told_and_the_rest_is_planned() -> None:
    unfed, unpaid, unreached = (made_plan(drawn_job(seed)) for seed in (379, 417, 717))
    for found in (unfed, unpaid, unreached):
        assert found.choice.pins_left == found.job.choices.pinned_sites
        assert any(
            f"at {name}" in note for name in found.choice.pins_left for note in plan_data(found)["notes"]
        )
    assert unfed.choice.rooms_met and unfed.choice.cost > 0
