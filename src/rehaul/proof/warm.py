"""Compile ahead of the first use what weighs readings."""

from __future__ import annotations

import numpy as np

from rehaul.proof.weighing import weigh


def warm_up() -> None:
    """Call the compiled loop once, on one place and one decision.

    Nothing is returned; the machine code is kept on disk (docs/decisions.md, "compiled once").
    """
    one = np.ones(1, dtype=np.float32)
    weigh(np.ones((1, 1), dtype=np.float32), one, one, np.zeros(2, dtype=np.float32), one.copy())
