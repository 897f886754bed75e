"""What a person's device receives, and how far what stands about a spot may lie off."""

from __future__ import annotations

import numpy as np
import pytest

from rehaul.facts.radio_numbers import radio_numbers
from rehaul.radio import (
    Level,
    Scene,
    Transmitter,
    downlink_dbm,
    field_at,
    holding_loss_db,
    shadowing_sd_db,
)

EMPTY = Scene(np.empty((0, 6)), np.empty(0, dtype=np.int32), (), ())
BANDS = (2.442e9, 5.5e9)


def test_holding_costs_more_the_closer_the_body() -> None:
    losses = [holding_loss_db(holding) for holding in ("free", "hand", "body", "across")]
    assert losses == sorted(losses) and losses[0] == 0
    assert downlink_dbm(-50.0, -2.0, "hand") == pytest.approx(-52.0 - losses[1])


@pytest.mark.parametrize(
    ("mounting", "strong", "weak"),
    [("ceiling", (2, 0, -2), (0, 0, 3)), ("wall", (3, 0, 0), (-3, 0, 0)), ("desk", (3, 0, 0), (0, 0, 3))],
)
def test_mounting_points_the_antenna(mounting: str, strong: tuple, weak: tuple) -> None:
    scale = np.linalg.norm(weak) / np.linalg.norm(strong)
    points = [np.array(strong) * scale, weak]
    gain = field_at(EMPTY, Transmitter((0, 0, 0), 20, mounting), points, BANDS).gain_db  # type: ignore[arg-type]
    assert (gain[:, 0] > gain[:, 1] + 3).all()


def test_a_wall_mounting_turns() -> None:
    sideways = Transmitter((0, 0, 0), 20, "wall", azimuth_deg=90)
    gain = field_at(EMPTY, sideways, [(0, 3, 0), (3, 0, 0)], BANDS).gain_db
    assert (gain[:, 0] > gain[:, 1] + 3).all()


def test_too_near_counts_as_a_hands_width() -> None:
    near = radio_numbers()["nearest_distance"]
    gain = field_at(EMPTY, Transmitter((0, 0, 0)), [(0, 0, 0), (near, 0, 0)], BANDS).gain_db
    assert gain[:, 0] == pytest.approx(gain[:, 1], abs=1e-4)


def test_what_stands_about_a_spot_spreads_more_far_off() -> None:
    numbers = radio_numbers()
    near, far = numbers["shadowing_near"], numbers["shadowing_far"]
    middle = np.sqrt(near * far)  # half way on a logarithmic scale
    found = shadowing_sd_db(np.log10([0.5, near, middle, far, 3 * far]))
    low, high = numbers["shadowing_near_sd"], numbers["shadowing_far_sd"]
    assert found == pytest.approx([low, low, (low + high) / 2, high, high])


@pytest.mark.parametrize("level", ["direct", "reflections"])
def test_a_map_spreads_as_the_spot_does(level: Level) -> None:
    """In the open nothing else spreads but the fall with distance."""
    places = [(d, 0.0, 0.0) for d in (2.0, 7.0, 30.0)]
    decades = np.log10([2.0, 7.0, 30.0])
    sd = field_at(EMPTY, Transmitter((0, 0, 0)), places, BANDS, level).sd_db
    slope = radio_numbers()["spreading_sd"] * decades
    assert sd[0] == pytest.approx(np.hypot(shadowing_sd_db(decades), slope), rel=1e-4)
