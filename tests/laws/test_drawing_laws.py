"""Laws of the drawn houses themselves: whole, always the same, and as varied as they claim to be."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from hashlib import sha256
from pathlib import Path
from time import process_time

import pytest
import shapely

from drawn_houses import FEATURES, drawn_job, features_of
from rehaul.house import dump_job, parse_job, require_whole
from rehaul.house.audit import audit

SEEDS = range(300)
FEWEST = 10  # of the seeds that must have each feature
TESTS = Path(__file__).parents[1]


def test_every_job_is_whole() -> None:
    for seed in SEEDS:
        require_whole(drawn_job(seed), where=f"seed {seed}")


def test_a_job_comes_back_from_its_file_as_it_was() -> None:
    for seed in SEEDS:
        job = drawn_job(seed)
        assert parse_job(dump_job(job)) == job, f"seed {seed}"


def digest(seeds: range) -> str:
    return sha256("".join(dump_job(drawn_job(seed)) for seed in seeds).encode()).hexdigest()


def test_a_seed_is_the_same_job_in_another_process() -> None:
    """Also where the hashes of words differ: nothing is drawn in the order of a set."""
    code = "from test_drawing_laws import digest; print(digest(range(60)))"
    paths = [str(TESTS), str(TESTS / "laws"), *sys.path]
    found = subprocess.run(
        [sys.executable, "-c", code],
        env={"PYTHONPATH": ":".join(paths), "PYTHONHASHSEED": "7"},
        capture_output=True,
        text=True,
        check=True,
    )
    assert found.stdout.strip() == digest(range(60))


def test_no_two_seeds_are_the_same_house() -> None:
    documents = {dump_job(drawn_job(seed).model_copy(update={"id": "x", "title": "x"})) for seed in SEEDS}
    assert len(documents) == len(SEEDS)


def test_every_feature_stands_in_ten_jobs() -> None:
    counts = Counter(name for seed in SEEDS for name in features_of(drawn_job(seed)))
    rare = {name: counts[name] for name in FEATURES if counts[name] < FEWEST}
    assert not rare
    common = {name for name in FEATURES if counts[name] == len(SEEDS)}
    assert not common, "a feature of every house says nothing"


def test_rooms_of_a_storey_do_not_overlap() -> None:
    for seed in SEEDS:
        house = drawn_job(seed).house
        for storey in house.storeys:
            shapes = [shapely.Polygon(room.polygon) for room in house.rooms if room.storey == storey.id]
            assert all(shape.is_valid for shape in shapes), f"seed {seed}"
            apart = sum(shape.area for shape in shapes) - shapely.unary_union(shapes).area
            assert apart == pytest.approx(0.0, abs=1e-6), f"seed {seed}, storey {storey.id}"


def test_the_audit_finds_no_slip_of_the_pen() -> None:
    """What is missing in these houses is missing as in a real survey: the drawing itself is sound."""
    slips = {"rooms-overlap", "openings-overlap", "opening-too-high", "storeys-overlap", "room-name-twice"}
    for seed in SEEDS:
        found = {finding.code for finding in audit(drawn_job(seed))} & slips
        assert not found, f"seed {seed}"


def test_drawing_is_quick() -> None:
    batches = []
    for first in (1000, 1020, 1040):
        start = process_time()
        for seed in range(first, first + 20):
            drawn_job(seed)
        batches.append((process_time() - start) / 20)
    assert min(batches) < 0.02
