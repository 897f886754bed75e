"""Channel plans of small houses, whose answer is plain."""

import numpy as np
import pytest

from rehaul.errors import BadInput
from rehaul.wlan import BandChannel, Neighbour, allowed_channels, assign_channels, coupling


def all_near(count: int, level_dbm: float = -60.0) -> np.ndarray:
    return np.full((count, count), level_dbm)


def neighbour(centre: int, level_dbm: float, width_mhz: int, busy_pct: float | None = None) -> Neighbour:
    """A network heard at 5 GHz, by the number of its channel's centre."""
    middle_mhz = 5000 + 5 * centre
    return Neighbour(middle_mhz - width_mhz / 2, middle_mhz + width_mhz / 2, (level_dbm,), busy_pct)


def numbers(channels: tuple[BandChannel, ...]) -> list[int]:
    return [channel.number for channel in channels]


def test_three_access_points_take_the_three_clear_channels() -> None:
    plan = assign_channels(all_near(3), allowed_channels("US", "2.4"))
    assert sorted(numbers(plan.channels)) == [1, 6, 11]
    assert plan.proved and plan.overlap == 0 and not plan.overlapping_pairs


def test_four_need_a_fourth_channel_which_only_some_countries_have() -> None:
    here = assign_channels(all_near(4), allowed_channels("DE", "2.4"))
    assert sorted(numbers(here.channels)) == [1, 5, 9, 13] and here.overlap == 0
    there = assign_channels(all_near(4), allowed_channels("US", "2.4"))
    assert there.overlap == 1 and len(there.overlapping_pairs) == 1 and there.bound_overlap == 1


def test_2_4_ghz_is_never_wide_nor_mixed() -> None:
    for country in ("US", "DE"):
        plan = assign_channels(all_near(7), allowed_channels(country, "2.4"))
        assert {channel.width_mhz for channel in plan.channels} == {20}
        used = set(numbers(plan.channels))
        assert used <= {1, 6, 11} or used <= {1, 5, 9, 13}


def test_those_that_do_not_hear_each_other_share() -> None:
    plan = assign_channels(all_near(3, -120.0), allowed_channels("DE", "5"))
    assert {channel.width_mhz for channel in plan.channels} == {160}
    assert plan.doublings_lost == 0


def test_radar_channels_are_used_only_where_they_gain() -> None:
    wide = allowed_channels("DE", "5", (80,))
    assert not any(channel.dfs for channel in assign_channels(all_near(1), wide).channels)
    three = assign_channels(all_near(3), wide)
    assert sum(channel.dfs for channel in three.channels) == 1
    quiet = assign_channels(all_near(3), allowed_channels("DE", "5", dfs=False))
    assert not any(channel.dfs for channel in quiet.channels) and quiet.overlap == 0


def test_width_gives_way_to_overlap() -> None:
    plan = assign_channels(all_near(3), allowed_channels("US", "5", (20, 40, 80), dfs=False))
    # two blocks of 80 MHz and one of 20 are all there is: one block split, or the small one used
    assert sorted(channel.width_mhz for channel in plan.channels) in ([40, 40, 80], [20, 80, 80])
    assert plan.overlap == 0 and plan.doublings_lost == pytest.approx(2)


def test_a_busy_neighbour_is_avoided() -> None:
    busy = neighbour(42, -60.0, 80, 60)
    (channel,) = assign_channels(
        all_near(1), allowed_channels("DE", "5", (80,), dfs=False), neighbours=[busy]
    ).channels
    assert channel.number == 155
    faint = neighbour(42, -90.0, 80, 60)
    (channel,) = assign_channels(
        all_near(1), allowed_channels("DE", "5", (80,), dfs=False), neighbours=[faint]
    ).channels
    assert channel.number == 42


def test_a_little_busy_neighbour_is_not_worth_half_the_width() -> None:
    light = [neighbour(number, -60.0, 80, 5) for number in (42, 155)]
    (channel,) = assign_channels(
        all_near(1), allowed_channels("DE", "5", dfs=False), neighbours=light
    ).channels
    assert channel.width_mhz == 80


def test_a_channel_that_must_be_quiet_costs() -> None:
    (channel,) = assign_channels(
        all_near(1),
        allowed_channels("DE", "5", (80,), dfs=False),
        neighbours=[neighbour(42, -60.0, 80, 10)],
        power_dbm=23.0,
    ).channels
    assert channel.number == 42  # 155 allows 14 dBm only


def test_each_access_point_keeps_to_its_own_width() -> None:
    plan = assign_channels(all_near(3), allowed_channels("DE", "5"), widest_mhz=[20, 80, 40])
    assert [channel.width_mhz for channel in plan.channels] == [20, 80, 40] and plan.overlap == 0
    with pytest.raises(BadInput, match="can use none"):
        assign_channels(all_near(1), allowed_channels("DE", "5", (80,)), widest_mhz=40)


@pytest.mark.parametrize("count", [8, 9])
def test_nobody_overlaps_while_there_is_room_for_all(count: int) -> None:
    allowed = allowed_channels("US", "5", (20, 40, 80), dfs=False)  # nine parts of 20 MHz
    plan = assign_channels(all_near(count), allowed)
    assert plan.proved and plan.overlap == 0
    assert assign_channels(all_near(10), allowed).overlap == 1


def test_coupling() -> None:
    heard = np.array([[0.0, -70.0, -88.0], [-75.0, 0.0, -120.0], [-95.0, -120.0, 0.0]])
    weight = coupling(heard)
    assert weight[0, 1] == weight[1, 0] == 1 and weight[1, 2] == 0 and 0 < weight[0, 2] < 1
    assert not weight.diagonal().any()


def test_nothing_to_place_is_a_plan_too() -> None:
    plan = assign_channels(np.empty((0, 0)), allowed_channels("US", "5"))
    assert plan.channels == () and plan.proved


def test_bad_input_is_refused() -> None:
    with pytest.raises(BadInput, match="no channel to choose"):
        assign_channels(all_near(2), ())
    with pytest.raises(BadInput, match="square"):
        assign_channels(np.zeros((2, 3)), allowed_channels("US", "5"))
    with pytest.raises(BadInput, match="a level at each"):
        assign_channels(all_near(2), allowed_channels("US", "5"), neighbours=[neighbour(36, -60.0, 20)])


def test_a_search_cut_short_says_so() -> None:
    random = np.random.default_rng(3)
    heard = random.uniform(-95, -70, (14, 14))
    plan = assign_channels(heard, allowed_channels("US", "5", dfs=False), node_limit=50)
    assert not plan.proved and plan.bound_overlap <= plan.overlap
    assert len(plan.channels) == 14
