"""What a room scatters, against Sabine's printed numbers and the measured absorption of rooms."""

from __future__ import annotations

import numpy as np
import pytest

from published import Published
from rehaul.radio import Bulk, DiffuseRoom, LayeredKind, Scene, SlabLayer, Stack, Transmitter, field_at

SOUND_M_PER_S = 343.0
KINDS = (LayeredKind("steel", Stack((SlabLayer("metal", 0.001),)), 5.0),)  # lets nothing through


@pytest.mark.parametrize("sides_m", [(4.5, 4.0, 2.5), (6.0, 5.0, 2.6), (20.0, 12.0, 4.0)])
def test_sabine_constant(sides_m: tuple[float, float, float]) -> None:
    """The decay of a sound by 60 dB in the same room: T = 0.161 V / A."""
    room = room_of(*sides_m)
    time_s = np.log(1e6) * room.decay_m / SOUND_M_PER_S
    constant = time_s * room.absorbing_m2 / room.volume_m3
    where, why = "printed as T = 0.161 V / A", "three digits"
    Published(0.161, "s/m", "Sabine's equation", where, "excerpt", 0.0005, why).check(constant)


def test_hall_radius() -> None:
    """With nothing past a body but what the room scatters, half of both is left at the hall radius.

    An antenna takes half of what comes in every polarisation, where a microphone takes all: the square
    of the distance is twice that of sound.
    """
    room = DiffuseRoom(40_000.0, 1e7)  # so large that neither its walls nor the decay matter
    radius_m = np.sqrt(room.absorbing_m2 / (8 * np.pi))
    shut = Bulk((radius_m / 2 - 0.1, -900, -900), (radius_m / 2 + 0.1, 900, 900), 0, over=False, room=room)
    scenes = [Scene(np.empty((0, 6)), np.empty(0, np.int32), (), KINDS, b) for b in ((), (shut,))]
    bare, met = (
        field_at(scene, Transmitter((0.0, 0.0, 0.0)), [(radius_m, 0.0, 0.0)], (5.5e9,)).gain_db[0, 0]
        for scene in scenes
    )
    where = "r = sqrt(A / 16 pi), where direct and diffuse are equal"
    why = "the decay on the way there, exp(-d / D), is 1 %"
    Published(3.01, "dB", "Room acoustics, hall radius", where, "excerpt", 0.04, why).check(float(bare - met))


def test_absorption() -> None:
    where = "abstract, effective absorption coefficient in a large room"
    document = "Andersen et al., Room electromagnetics, 2007"
    room = room_of(6, 5, 2.6)
    Published(0.5, "1", document, where, "excerpt", 1e-9, "the row itself").check(
        room.absorbing_m2 / room.surface_m2
    )


@pytest.mark.parametrize("sides_m", [(4.5, 4.0, 2.5), (3.0, 2.5, 2.5), (6.0, 5.0, 2.6)])
def test_delay_spread(sides_m: tuple[float, float, float]) -> None:
    """Straight power at once and scattered power in a tail, as wide as rooms are measured to be."""
    room = room_of(*sides_m)
    ratio, _, decay = room.as_row()
    way_m = room.free_path_m
    scattered = ratio * way_m**2 * np.exp(-way_m * decay)
    part = scattered / (1 + scattered)
    spread_s = room.decay_m / 299_792_458.0 * np.sqrt(2 * part - part**2)
    printed = np.log10(26 * room.volume_m3 / room.surface_m2 + 14) - 9.35
    where = "Table 7.5-6, indoor factory, line of sight, as carried by public channel simulators"
    why = "the table's own spread between halls"
    Published(printed, "log10 s", "3GPP TR 38.901", where, "excerpt", 0.15, why).check(np.log10(spread_s))


def room_of(x_m: float, y_m: float, z_m: float) -> DiffuseRoom:
    return DiffuseRoom(2 * (x_m * y_m + y_m * z_m + z_m * x_m), x_m * y_m * z_m)
