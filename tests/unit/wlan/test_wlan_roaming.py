"""A device that walks from one access point to another."""

import numpy as np
import pytest

from rehaul.errors import BadInput
from rehaul.wlan import holds, sticks, walk

AWAY = np.linspace(-45.0, -85.0, 41)  # 1 dB a step
PATH = np.array([AWAY, AWAY[::-1]])


def test_it_changes_below_the_trigger_with_the_gain() -> None:
    done = walk(PATH, trigger_dbm=-70, gain_db=8)
    assert done.handovers == (26,)  # the first step below -70 dBm; the other is at -59
    assert done.serving[25] == 0 and done.serving[26] == 1


def test_between_the_gain_and_the_trigger_it_sticks() -> None:
    done = walk(PATH, trigger_dbm=-70, gain_db=8)
    assert np.flatnonzero(done.stuck).tolist() == [24, 25]
    assert done.lost_db[25] == pytest.approx(10)


def test_there_and_back_are_not_alike() -> None:
    forth, back = walk(PATH, trigger_dbm=-60), walk(PATH[:, ::-1], trigger_dbm=-60)
    assert (forth.serving != back.serving[::-1]).any()


def test_a_lost_link_is_joined_afresh() -> None:
    gap = np.array([[-50.0, -90.0, -60.0], [-99.0, -95.0, -95.0]])
    done = walk(gap)
    assert done.serving.tolist() == [0, -1, 0] and done.handovers == (1,)


def test_a_cautious_device_holds_on_longer() -> None:
    eager = walk(PATH, trigger_dbm=-60).handovers[0]
    cautious = walk(PATH, trigger_dbm=-78).handovers[0]
    assert eager < cautious


def test_maps_of_holding_and_sticking() -> None:
    kept = holds(PATH, trigger_dbm=-70, gain_db=8)
    assert kept[0, :26].all() and not kept[0, 26:].any()
    stuck = sticks(PATH, trigger_dbm=-70, gain_db=8)
    assert np.flatnonzero(stuck).tolist() == [15, 16, 24, 25]


def test_gaps_carry_nothing_and_nothing_is_refused() -> None:
    assert not holds(np.array([np.nan, -60.0]))[0]
    with pytest.raises(BadInput):
        walk(np.empty((0, 4)))
