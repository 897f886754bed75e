"""What earlier houses teach: a firm's tenth house is predicted better than its first."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from rehaul.cli.main import rehaul
from rehaul.house import Learnt, LearntTerm
from rehaul.jobs import demo_job, open_job, save_job
from rehaul.predict.calibration import calibrate
from rehaul.predict.covering import coverage
from rehaul.predict.doubts import Sender, Ways, level_name, ways_to
from rehaul.predict.learning import Taught, learn
from rehaul.predict.observations import Observation
from rehaul.predict.radiators import standing_radiators
from rehaul.predict.scene import HouseScene
from rehaul.radio import Scene, kind

WALL = kind("brick-half")
TRUE_DB, LEVEL_DB = 5.0, 3.0  # what this firm's walls and devices cost beyond the tables
BOX, SENDS = (0.0, 0.0, 2.0), Sender("RT1", "5")


def house(seed: int) -> tuple[HouseScene, Ways, np.ndarray]:
    """A house of three walls at its own places, its ways, and what its losses truly are beyond the tables."""
    rng = np.random.default_rng(seed)
    at = np.sort(rng.uniform(2, 12, 3))
    panels = np.array([(x, -20.0, x, 20.0, -0.1, 3.0) for x in at])
    scene = HouseScene(Scene(panels, np.zeros(3, dtype=np.int32), (), (WALL,)), ("W1", "W2", "W3"), ())
    places = np.column_stack([rng.uniform(1, 14, 60), rng.uniform(-8, 8, 60), np.full(60, 1.2)])
    ways = ways_to(scene.scene, BOX, places)
    own = rng.normal(TRUE_DB, 1.0)
    truth = own * ways.felt[0] + LEVEL_DB + rng.normal(0, 2.0) + rng.normal(0, 4.0, 60)
    return scene, ways, truth


def taught(seed: int, count: int = 15) -> Taught:
    scene, ways, truth = house(seed)
    seen = []
    for i in range(count):
        one = ways.at(np.array([i]))
        seen.append(Observation(f"r{i}", SENDS, "DV1", "phone", -float(truth[i]), 2.5, one))
    return Taught(scene, seen)


def blind_rmse(seeds: range, learnt: Learnt | None) -> float:
    """Error of the maps of new houses before any of their own readings."""
    errors = []
    for seed in seeds:
        scene, ways, truth = house(seed)
        found = calibrate(scene, [], learnt=learnt)
        errors.append(found.view(found.doubts.basis(ways, SENDS, "phone")).shift_db - truth)
    return float(np.sqrt(np.mean(np.concatenate(errors) ** 2)))


def test_the_tenth_house_is_predicted_better_than_the_first() -> None:
    fresh = range(100, 120)
    none = blind_rmse(fresh, None)
    after = {count: blind_rmse(fresh, learn([taught(seed) for seed in range(count)])) for count in (1, 3, 9)}
    assert none > after[1] > after[3] > after[9]
    assert after[9] < 0.7 * none


def test_what_was_learnt_is_the_truth_as_far_as_it_says() -> None:
    found = learn([taught(seed) for seed in range(12)], "2026-01-05")
    rows = {row.term: row for row in found.terms}
    wall, level = rows[WALL.name], rows[level_name("5")]
    assert abs(wall.shift_db - TRUE_DB) < 3 * wall.sd_db + 0.5
    assert abs(level.shift_db - LEVEL_DB) < 3 * level.sd_db + 0.5
    assert (found.houses, found.readings, wall.houses) == (12, 180, 12)
    assert level_name("2.4") not in rows  # nobody read it


def test_what_was_not_heard_teaches_no_more_than_its_bound() -> None:
    """Bounds that everything lies below say nothing; taken as read, they would teach walls of air."""
    plain = learn([taught(seed) for seed in range(4)])
    far = []
    for seed in range(4):
        one = taught(seed)
        quiet = [replace(seen, difference_db=60.0, at_most=True) for seen in one.observations]
        far.append(Taught(one.scene, [*one.observations, *quiet]))
    shift = {row.term: row.shift_db for row in learn(far).terms}
    for row in plain.terms:
        assert shift[row.term] == pytest.approx(row.shift_db, abs=0.3), row.term


def test_what_is_said_to_be_known_for_certain_is_taken() -> None:
    said = Learnt(houses=1, readings=3, terms=(
        LearntTerm(term=level_name("5"), shift_db=2.0, sd_db=0.0, houses=1, readings=3),))  # fmt: skip
    scene, ways, _ = house(1)
    found = calibrate(scene, [], learnt=said)
    shift = found.view(found.doubts.basis(ways, SENDS, "phone")).shift_db
    assert shift == pytest.approx(np.full(60, 2.0), abs=1e-3)


def test_a_house_hardly_read_teaches_nothing() -> None:
    assert not learn([taught(1, 2)]).terms
    assert not learn([]).terms


def test_its_own_readings_still_rule() -> None:
    """A house that differs from all earlier ones is drawn as its own readings say."""
    said = Learnt(houses=9, readings=90, terms=(
        LearntTerm(term=WALL.name, shift_db=-6.0, sd_db=0.3, houses=9, readings=90),))  # fmt: skip
    one = taught(7, 30)
    scene, ways, truth = house(7)
    found = calibrate(scene, one.observations, learnt=said)
    left = found.view(found.doubts.basis(ways, SENDS, "phone")).shift_db - truth
    assert abs(float(np.mean(left[30:]))) < 2.5


def test_the_verb_puts_it_into_a_job_and_the_plan_says_so(tmp_path: Path) -> None:
    job = demo_job()
    first, second, kept = (
        tmp_path / name for name in ("first.rehaul.json", "second.rehaul.json", "kept.json")
    )
    save_job(first, job)
    save_job(second, job.model_copy(update={"id": "other", "readings": ()}))
    run = CliRunner().invoke(
        rehaul, ["learn", str(first), "--out", str(kept), "--into", str(second)], catch_exceptions=False
    )
    assert run.exit_code == 0 and "houses" in run.output
    later = open_job(second)
    assert later.learnt is not None and later.learnt == Learnt.model_validate_json(kept.read_text())
    found = coverage(later, standing_radiators(later))
    assert any("earlier house" in note for note in found.notes)
    assert not any("earlier house" in note for note in coverage(job, standing_radiators(job)).notes)


@pytest.mark.parametrize("said", ["no readings", "itself"])
def test_what_cannot_be_learnt_from_is_refused(tmp_path: Path, said: str) -> None:
    job, file = demo_job(), tmp_path / "a.rehaul.json"
    save_job(file, job.model_copy(update={"readings": ()}) if said == "no readings" else job)
    more = ["--into", str(file)] if said == "itself" else []
    run = CliRunner().invoke(rehaul, ["learn", str(file), *more])
    assert run.exit_code == 2 and "Take readings" in run.output
