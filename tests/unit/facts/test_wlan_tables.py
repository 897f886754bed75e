"""The wireless fact tables hold together: complete, without doubles, and of one mind."""

from __future__ import annotations

import pytest

from rehaul.facts.modulation import (
    Generation,
    Guard,
    Ladder,
    ModulationStep,
    ReceiverLimit,
    Tones,
    guard_intervals_us,
    modulation_steps,
    ofdm_tones,
    receiver_limits,
)
from rehaul.facts.spectrum import ChannelGrid, IndoorLimit, SpectrumRule, channel_grid, spectrum_rules
from rehaul.facts.table import FactRow, load
from rehaul.facts.wlan_equipment import (
    AccessPointRadio,
    ClientRadio,
    RoomNeed,
    access_point_radios,
    client_radios,
    room_needs,
)
from rehaul.facts.wlan_numbers import FrameFormat, MaskPoint, WlanNumber, frame_formats, transmit_mask

TABLES: list[type[FactRow]] = [
    *(ModulationStep, Tones, Guard, ReceiverLimit, SpectrumRule, IndoorLimit, ChannelGrid),
    *(WlanNumber, FrameFormat, MaskPoint, AccessPointRadio, ClientRadio, RoomNeed),
]


@pytest.mark.parametrize("row_type", TABLES, ids=lambda row_type: row_type.table)
def test_no_row_stands_twice(row_type: type[FactRow]) -> None:
    rows = [tuple(row.model_dump(exclude={"source"}).items()) for row in load(row_type)]
    assert len(set(rows)) == len(rows)


def test_every_key_is_single() -> None:
    for keyed, row_type in (
        (modulation_steps(), ModulationStep),
        (ofdm_tones(), Tones),
        (receiver_limits(), ReceiverLimit),
        (frame_formats(), FrameFormat),
        (access_point_radios(), AccessPointRadio),
        (client_radios(), ClientRadio),
        (room_needs(), RoomNeed),
    ):
        assert len(keyed) == len(load(row_type))  # type: ignore[type-abstract]


def test_every_generation_is_complete() -> None:
    for generation in Generation:
        assert generation in frame_formats() and generation in guard_intervals_us()
        tops = {row.top_mcs for (name, _), row in ofdm_tones().items() if name is generation}
        assert len(tops) == 1 and set(range(tops.pop() + 1)) <= set(modulation_steps())


def test_ladders_rise_step_by_step() -> None:
    for ladder in Ladder:
        values = [receiver_limits()[ladder, mcs].value for mcs in sorted(modulation_steps())]
        assert values == sorted(values) and len(set(values)) == len(values)


def test_tones_grow_with_width() -> None:
    for generation in Generation:
        tones = [row.data_tones for (name, _), row in sorted(ofdm_tones().items()) if name is generation]
        assert tones == sorted(tones)


def test_rules_do_not_run_backwards() -> None:
    for rules in spectrum_rules().values():
        for rule in rules:
            assert rule.low_mhz < rule.high_mhz and 0 < rule.max_width_mhz <= rule.high_mhz - rule.low_mhz


def test_radios_can_do_what_their_generation_can() -> None:
    for radio in (*access_point_radios().values(), *client_radios().values()):
        assert (radio.generation, radio.max_width_mhz) in ofdm_tones(), radio.name
        assert radio.max_width_mhz in {grid.width_mhz for grid in channel_grid() if grid.band == radio.band}


def test_the_mask_falls_outwards() -> None:
    levels = [corner.level_db for corner in transmit_mask()]
    assert levels[0] == 0 and levels == sorted(levels, reverse=True)
