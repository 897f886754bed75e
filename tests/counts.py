"""How often something is tried: all of it with `run.py tests --long`, a share of it in every run."""

from __future__ import annotations

import os

LONG = os.environ.get("REHAUL_LONG") == "1"


def counted(every_run: int, long_run: int) -> int:
    """The number for this run."""
    return long_run if LONG else every_run
