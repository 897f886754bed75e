"""Compiled loops: how they are compiled, where the machine code is kept, and that it is made once."""

from rehaul.kernels.places import place_for
from rehaul.kernels.preparing import prepare

__all__ = ["place_for", "prepare"]
