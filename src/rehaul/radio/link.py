"""From the field of an access point to what a person's device sends and receives."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.facts.radio_numbers import radio_numbers

Holding = Literal["free", "hand", "body", "across"]


def holding_loss_db(holding: Holding) -> float:
    """Loss from how a device is held [dB]: free, in the hand, at the body, or a person across the link.

    **Validity**: typical values; a body takes up to 15 dB. **Source**: the rows of the fact table.
    """
    numbers = radio_numbers()
    return {
        "free": 0.0,
        "hand": numbers["hand_loss"],
        "body": numbers["body_loss"],
        "across": numbers["body_across_loss"],
    }[holding]


def downlink_dbm(
    power_dbm: ArrayLike, client_gain_dbi: float = 0.0, holding: Holding = "free"
) -> NDArray[np.float64]:
    """Power at the client's receiver [dBm] from the field [dBm]; any shape.

    **Validity**: as the field. **Source**: Friis; ITU-R P.525.
    """
    return np.asarray(power_dbm, dtype=np.float64) + client_gain_dbi - holding_loss_db(holding)
