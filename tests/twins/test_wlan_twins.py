"""Slow and plain against fast: backoff by the slot, ladders mode by mode, plans by trying all."""

from __future__ import annotations

import itertools
import math
import random

import numpy as np
import pytest
from scipy.stats import norm

from link_rates import alone_mbps, contending_each_mbps
from rehaul.facts.modulation import Generation
from rehaul.facts.wlan_numbers import wlan_number
from rehaul.wlan import (
    Mode,
    RadioLink,
    allowed_channels,
    assign_channels,
    coupling,
    goodput_mbps,
    thresholds_dbm,
)
from rehaul.wlan.airtime import exchange_us, frame_us, largest_aggregate
from rehaul.wlan.search import least_cost

HE80 = Mode(Generation.HE, 11, 80, 2, 0.8)
SLOW = Mode(Generation.HE, 3, 80, 2, 0.8)
WINDOW, STAGES = 16, 6


def simulated_mbps(modes: tuple[Mode, ...], turns: int, *, asks_again: bool, seed: int) -> list[float]:
    """Saturated stations, one slot after the other, straight from the rules of backoff."""
    chance = random.Random(seed)
    count = len(modes)
    mpdus = [largest_aggregate(mode, 1500) for mode in modes]
    data_us = [exchange_us(m, frame_us(m, n, 1500)) for m, n in zip(modes, mpdus, strict=True)]
    request_us = exchange_us(modes[0], wlan_number("block_ack_request_us"))
    stage, asks = [0] * count, [False] * count
    counter = [chance.randrange(WINDOW) for _ in modes]
    time_us, delivered = 0.0, [0] * count
    for _ in range(turns):
        wait = min(counter)
        time_us += wait * 9
        counter = [value - wait for value in counter]
        senders = [station for station in range(count) if counter[station] == 0]
        time_us += max(request_us if asks[station] else data_us[station] for station in senders)
        for station in senders:
            if len(senders) > 1:
                stage[station] = min(stage[station] + 1, STAGES)
                asks[station] = asks_again
            else:
                delivered[station] += 0 if asks[station] else mpdus[station]
                stage[station], asks[station] = 0, False
            # the slot after a frame counts as the first of the next wait, so the count is never nought
            counter[station] = chance.randrange(WINDOW << stage[station])
    return [frames * 1472 * 8 / time_us for frames in delivered]


@pytest.mark.parametrize("asks_again", [True, False])
@pytest.mark.parametrize("count", [1, 2, 5])
def test_backoff_by_the_slot(count: int, asks_again: bool) -> None:
    modes = (HE80,) * count
    simulated = sum(simulated_mbps(modes, 60_000, asks_again=asks_again, seed=7))
    closed = sum(contending_each_mbps(modes, asks_again=asks_again))
    assert closed == pytest.approx(simulated, rel=0.02)


def test_unequal_stations_by_the_slot() -> None:
    modes = (HE80, SLOW, HE80)
    simulated = simulated_mbps(modes, 120_000, asks_again=True, seed=8)
    assert contending_each_mbps(modes) == pytest.approx(simulated, rel=0.03)


def test_the_turns_of_tcp_by_the_slot() -> None:
    """One side always has data; the other has acknowledgements after each data frame that arrives."""
    chance = random.Random(11)
    data = answers = collisions = idle = 0
    ours, theirs = chance.randrange(WINDOW), 0
    our_stage = their_stage = 0
    waiting = False
    for _ in range(400_000):
        wait = min(ours, theirs) if waiting else ours
        idle += wait
        ours, theirs = ours - wait, theirs - wait
        we_send, they_send = ours == 0, waiting and theirs == 0
        if we_send and they_send:
            collisions += 1
            our_stage, their_stage = min(our_stage + 1, STAGES), min(their_stage + 1, STAGES)
            ours, theirs = chance.randrange(WINDOW << our_stage), chance.randrange(WINDOW << their_stage)
        elif we_send:
            data += 1
            our_stage, ours = 0, chance.randrange(WINDOW)
            if not waiting:
                waiting, their_stage, theirs = True, 0, chance.randrange(WINDOW)
        else:
            answers += 1
            waiting = False
    assert wlan_number("tcp_data_per_turn") == pytest.approx(data / answers, rel=0.01)
    assert wlan_number("tcp_collisions_per_turn") == pytest.approx(collisions / answers, rel=0.03)
    assert wlan_number("tcp_idle_slots_per_turn") == pytest.approx(idle / answers, rel=0.01)


def test_the_ladder_mode_by_mode() -> None:
    """Each power by itself: the best mode at each of many swings, averaged."""
    link = RadioLink("5", Generation.HE, 80, 2)
    swing = norm.ppf((np.arange(4000) + 0.5) / 4000) * wlan_number("power_wander_db")
    for power in (-91.0, -84.3, -75.0, -66.2, -58.0, -50.0):
        best = np.zeros_like(swing)
        for width, streams, mcs in itertools.product((20, 40, 80), (1, 2), range(12)):
            need = thresholds_dbm(width, "expected", 7.0)[mcs] - 10 * math.log10(2 / streams)
            carried = alone_mbps(Mode(Generation.HE, mcs, width, streams, 0.8))
            best = np.maximum(best, np.where(power + swing >= need, carried, 0))
        assert goodput_mbps(power, link) == pytest.approx(best.mean(), rel=0.01)


def least_by_trying_all(alone: np.ndarray, pair: np.ndarray, share: np.ndarray) -> int:
    items, options = alone.shape
    plans = np.array(list(itertools.product(range(options), repeat=items)))
    cost = alone[np.arange(items), plans].sum(axis=1)
    for i, j in itertools.combinations(range(items), 2):
        cost = cost + np.rint(pair[i, j] * share[plans[:, i], plans[:, j]])
    return int(cost.min())


def test_least_cost_by_trying_all() -> None:
    chance = np.random.default_rng(5)
    for _ in range(200):
        items, options = chance.integers(1, 6), chance.integers(1, 5)
        alone = chance.integers(0, 6, (items, options))
        pair = np.triu(chance.integers(0, 8, (items, items)), 1)
        pair = pair + pair.T
        share = np.triu(chance.choice([0.0, 0.0, 0.5, 1.0], (options, options)), 1)
        share = share + share.T + np.eye(options)
        found = least_cost(alone, pair, share)
        assert found.proved and found.cost == least_by_trying_all(alone, pair, share)


def test_least_cost_of_like_items_among_nested_options_by_trying_all() -> None:
    """Few kinds of items and two small trees of options: where likeness is used the most."""
    chance = np.random.default_rng(6)
    nested = np.array([[1, 1, 1], [1, 1, 0], [1, 0, 1]], dtype=float)
    share = np.kron(np.eye(2), nested)
    for _ in range(200):
        items = int(chance.integers(2, 6))
        kind = chance.integers(0, 2, items)
        by_kind = chance.integers(0, 3, (2, 3))  # the same in both trees
        alone = np.tile(by_kind, 2)[kind]
        if chance.random() < 0.3:
            alone = alone + chance.integers(0, 2, alone.shape)
        between = chance.integers(0, 5, (2, 2))
        pair = (between + between.T)[np.ix_(kind, kind)]
        np.fill_diagonal(pair, 0)
        found = least_cost(alone, pair, share)
        assert found.proved and found.cost == least_by_trying_all(alone, pair, share)


@pytest.mark.parametrize("seed", range(8))
def test_channel_plans_by_trying_all(seed: int) -> None:
    chance = np.random.default_rng(seed)
    heard = chance.uniform(-100, -60, (4, 4))
    channels = allowed_channels("DE", "5", (40, 80), dfs=bool(seed % 2))
    weight = coupling(heard)
    share = {
        (a, b): a.overlap_mhz(b) / min(a.width_mhz, b.width_mhz)
        for a, b in itertools.product(channels, repeat=2)
    }

    def cost(plan: tuple[int, ...]) -> tuple[float, float]:
        strong = weak = 0.0
        for i, j in itertools.combinations(range(4), 2):
            shared = share[channels[plan[i]], channels[plan[j]]] * weight[i, j]
            strong, weak = (strong + shared, weak) if weight[i, j] >= 1 else (strong, weak + shared)
        return strong, weak + sum(math.log2(80 / channels[index].width_mhz) for index in plan)

    best = min(cost(plan) for plan in itertools.product(range(len(channels)), repeat=4))
    found = assign_channels(heard, channels)
    assert found.proved
    assert found.overlap == pytest.approx(best[0])
    # radar channels weigh a ten-thousandth of a doubling each, so an equal plan may differ by that
    assert found.doublings_lost == pytest.approx(best[1], abs=5e-4)
