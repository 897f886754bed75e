"""From the field of an access point to what a person's device sends and receives."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from rehaul.facts.radio_numbers import Mounting, radio_numbers
from rehaul.radio.antenna import peak_gain_dbi

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


def uplink_dbm(
    gain_db: ArrayLike,
    client_eirp_dbm: float,
    access_point: Mounting | float = "isotropic",
    holding: Holding = "free",
) -> NDArray[np.float64]:
    """Power at the access point's receiver from a client [dBm].

    Parameters: `gain_db`, the field's gain (any shape): the path is the same both ways; `access_point`,
    its mounting, or the gain of its strongest direction [dBi]; `client_eirp_dbm`, the client's own power.
    **Validity**: as the field. **Source**: reciprocity of a passive path; Friis.
    """
    peak = access_point if isinstance(access_point, int | float) else peak_gain_dbi(access_point)
    return np.asarray(gain_db, dtype=np.float64) + client_eirp_dbm + peak - holding_loss_db(holding)
