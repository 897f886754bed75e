"""What a room scatters: power that comes from all sides, and so past whatever stands on the straight way.

Walls and furniture throw about what they do not swallow. In a room of surface S and volume V that swallows
the share a of what meets it, A = a·S, a sender of power P keeps up a density of power of 4P / A (Sabine).
An antenna takes lambda² / 8 pi of it, half of what it would of one wave that suits it, as such waves come in
every polarisation; straight from the sender it gets P·(lambda / 4 pi d)². Scattered over straight is then

    r = 8 pi d² / A · exp(-d / D),   D = 4V / A,

where the exponential leaves out what would come before the straight way does. Of d each side of a body counts
up to 4V / S, the room's mean free path: where a way leaves the room both leave it together.
"""

from __future__ import annotations

import math
from functools import cache
from typing import NamedTuple

from rehaul.errors import BadInput
from rehaul.facts.radio_numbers import radio_numbers
from rehaul.words import say


class DiffuseRoom(NamedTuple):
    """The room a body stands in, as a diffuse field knows it."""

    surface_m2: float  # walls, floor and ceiling
    volume_m3: float

    @property
    def absorbing_m2(self) -> float:
        """Sabine's absorbing area: the surface times the share of power it swallows.

        **Validity**: one coefficient for every room, measured in a large one. **Source**: `room_absorption`.
        """
        return radio_numbers()["room_absorption"] * self.surface_m2

    @property
    def free_path_m(self) -> float:
        """Mean way from wall to wall. **Validity**: a diffuse field. **Source**: 4V / S, as in acoustics."""
        return 4.0 * self.volume_m3 / self.surface_m2

    @property
    def decay_m(self) -> float:
        """Way on which scattered power falls by e: the speed of light times the reverberation time.

        **Validity**: a diffuse field. **Source**: Sabine's equation, 4V / A.
        """
        return 4.0 * self.volume_m3 / self.absorbing_m2

    def as_row(self) -> tuple[float, float, float]:
        """8 pi / A [m^-2], mean free path [m], one over the decay [1/m], as `around` takes them.

        Raises BadInput where surface or volume is not above 0. **Source**: the equations at the head of
        this module.

        >>> [round(value, 2) for value in DiffuseRoom(78.5, 45.0).as_row()]
        [0.64, 2.29, 0.22]
        """
        if not (self.surface_m2 > 0 and self.volume_m3 > 0):
            raise BadInput(
                say("refused_radio.room_no_size"), where="room", remedy=say("refused_radio.give_size")
            )
        return 8.0 * math.pi / self.absorbing_m2, self.free_path_m, 1.0 / self.decay_m


NO_ROOM = (0.0, 0.0, 0.0)  # under the open sky nothing is thrown back


@cache
def usual_room() -> DiffuseRoom:
    """The room of a body of which no room is known: 78.5 m² of surface and 45 m³ as the table stands.

    **Validity**: a living room; a cellar or hall scatters otherwise. **Source**: the fact table
    `radio_numbers`.
    """
    return DiffuseRoom(radio_numbers()["usual_room_surface"], radio_numbers()["usual_room_volume"])
