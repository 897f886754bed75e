"""How far the shadow of an upright panel reaches behind it, and what counts as its edge and as its end."""

from __future__ import annotations

from rehaul.kernels.loops import inner

EDGE = 1e-9  # cells; a receiver exactly on a strict edge is outside
FARTHEST = 1e6  # a shadow without end is cut at this many cells, and times the distance of what casts it


@inner
def reach_behind(z0, z1, sz, rise):  # type: ignore[no-untyped-def]
    """How many times its own distance a panel's shadow begins and ends behind it.

    Parameters: `z0`, `z1`, where the panel ends above and below [m]; `sz`, the source [m]; `rise` of the
    receivers over it [m]. Nothing is shaded where the end is not beyond the beginning. **Source**: similar
    triangles.
    """
    if rise == 0.0:
        return (1.0, FARTHEST) if z0 <= sz < z1 else (1.0, 0.0)
    low, high = (z0 - sz) / rise, (z1 - sz) / rise
    if low > high:
        low, high = high, low
    if high <= 0.0 or low >= 1.0:
        return 1.0, 0.0
    return (1.0 / high if high < 1.0 else 1.0), (1.0 / low if low > 1.0 / FARTHEST else FARTHEST)
