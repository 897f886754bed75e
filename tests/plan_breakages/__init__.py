"""Sound plans broken on purpose, each in one way that one rule of the auditor has to catch."""

from plan_breakages import (
    asking,
    buying,
    cable,
    choosing,
    doing,
    marking,
    paying,
    setting,
    standing,
    swapping,
    ways,
    work,
)
from plan_breakages.how import BREAKAGES, Breakage

# each adds its own
SUBJECTS = (asking, buying, cable, choosing, doing, marking, paying, setting, standing, swapping, ways, work)

__all__ = ["BREAKAGES", "SUBJECTS", "Breakage"]
