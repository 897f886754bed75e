"""Compile ahead of the first use what takes many chances at once."""

from __future__ import annotations

import numpy as np

from rehaul.normal.chances import FEW, below, quantile


def warm_up() -> None:
    """Call each compiled loop once.

    Nothing is returned; the machine code is kept on disk (docs/decisions.md, "compiled once").
    """
    many = np.linspace(0.0, 1.0, FEW + 1)
    below(many)
    quantile(many)
