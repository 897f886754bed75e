"""Patch cords: which stocked one reaches how far."""

from __future__ import annotations

STOCKED = (
    (0.25, "cord_025"),
    (0.5, "cord_050"),
    (1.0, "cord_100"),
    (2.0, "cord_200"),
    (3.0, "cord_300"),
    (5.0, "cord_500"),
)
SLACK_M = 1.0  # down to the floor and up again at both ends


def cord_item(length_m: float) -> str:
    """The shortest stocked patch cord that reaches; a long flat one beyond."""
    return next((item for reach_m, item in STOCKED if reach_m >= length_m - 1e-9), "cord_long")
