"""Measured places nobody here knows: ours beside the formulas on the same points.

The bounds are those of the formulas, computed here on the same readings, so that no figure of ours is
kept. A set without its walls cannot tell models of walls apart and is left to the benchmark.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
import radio_truth as truth

from rehaul.radio import Level


@pytest.fixture(autouse=True)
def _data(shared_data: Path) -> None:
    if not (shared_data / "radio").is_dir():
        pytest.skip("the measured sets are not here")


def of_formulas_db(name: str, band: str) -> dict[str, float]:
    return {label: truth.score(name, band, found).rmse_db for label, found in truth.formulas(name, band)}


def own_db(name: str, band: str, level: Level = "direct", *, eased: bool = True) -> float:
    return truth.score(name, band, truth.own(name, band, level, eased=eased)).rmse_db


@pytest.mark.parametrize("name", truth.SETS)
def test_no_simple_formula_is_nearer(name: str) -> None:
    """Not one formula on the same points, its constants or slope fitted on the other transmitters."""
    for band in truth.heard_in(name):
        own = truth.score(name, band, truth.own(name, band)).rmse_db
        formulas = {label: truth.score(name, band, one).rmse_db for label, one in truth.formulas(name, band)}
        assert own <= min(formulas.values()) + 0.15, (band, own, formulas)


def test_mean_over_the_sets() -> None:
    """The aim is 7.2 dB; sod-cetc, which the numbers of floors come from, is not counted."""
    names = [name for name in truth.SETS if name != "sod-cetc"]
    found = [truth.score(n, band, truth.own(n, band)).rmse_db for n in names for band in truth.heard_in(n)]
    assert sum(found) / len(found) <= 7.2


def test_flat() -> None:
    """Every bend and mirror brings the map a little nearer; easing brings most."""
    direct, formulas = own_db("ble-flat", "2.4"), of_formulas_db("ble-flat", "2.4")
    assert own_db("ble-flat", "2.4", "full") < own_db("ble-flat", "2.4", "reflections") < direct
    assert direct < own_db("ble-flat", "2.4", eased=False) - 0.3
    for formula in ("free space", "log-distance, slope fitted", "ITU-R P.1238, N = 28"):
        assert direct < formulas[formula] - 0.3  # an order that a few readings cannot turn


def test_flat_keeps_its_promise() -> None:
    """About 90 % should lie inside; too many is the safe side, so 84 % is the least.

    That is two spreads at 90 % of some 100 independent readings, as neighbours are alike (a guess).
    """
    for level in truth.LEVELS:
        held = truth.score("ble-flat", "2.4", truth.own("ble-flat", "2.4", level)).held_pct
        assert held is not None and 84 <= held <= 100


@pytest.mark.parametrize("band", ["2.4", "5"])
def test_office_floor(band: str) -> None:
    """Behind many walls easing is what counts; formulas that add up every wall are far off there."""
    direct, formulas = own_db("sod-syl", band), of_formulas_db("sod-syl", band)
    assert direct < own_db("sod-syl", band, eased=False) - 0.3
    for formula in ("free space", "log-distance, slope fitted", "ITU-R P.1238, N = 28"):
        assert direct < formulas[formula]
    assert direct < formulas["COST 231, 3.4 and 6.9 dB a wall"] - 0.5


@pytest.mark.parametrize("band", ["2.4", "5"])
@pytest.mark.parametrize("level", ["reflections", pytest.param("full", marks=pytest.mark.long)])
def test_on_the_office_floor_mirrors_and_bends_bring_next_to_nothing(level: Level, band: str) -> None:
    """Why maps, choice and proof use the direct level alone."""
    assert own_db("sod-syl", band) < own_db("sod-syl", band, level) + 0.15
