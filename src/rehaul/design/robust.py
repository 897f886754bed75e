"""Rooms met with an asked-for probability over sampled fields, as one more placement problem.

Losses of walls are not known for sure and shift many places at once. Sample them: in each sampled field
an option either brings a room up to its need or does not. A choice serves the room with the probability
asked for if in that share of the samples at least one of its options does. A sample of a room is a place
of the placement problem, so the answer is as exact as any other.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rehaul.arrays import Bools
from rehaul.exact import Requirement

STANDARD_ERRORS = 2.0  # asked for beyond the wanted chance: the best of many choices may owe it to luck


def met_samples(
    met: Bools, names: Sequence[str], probabilities: Sequence[float]
) -> tuple[Bools, tuple[Requirement, ...]]:
    """Samples as places: which options serve a room as a whole in each, and in what share that is asked.

    Parameters
    ----------
    met : (samples, options, rooms) whether an option serves a room in a sampled field
    names, probabilities : of the rooms

    Returns
    -------
    (options, rooms x samples) and one requirement for each room.

    **Validity** on the safe side: a room that two access points serve only together, each half, counts as
    not met in that sample. The probability is that of the samples: with n of them a standard error of
    sqrt(p (1 - p) / n); two of these are asked for on top, so that the choice holds in other samples too.
    **Source**: docs/choosing.md, "Place by place, or the whole room".
    """
    samples, options, rooms = met.shape
    table = np.ascontiguousarray(met.transpose(1, 2, 0)).reshape(options, rooms * samples)
    return table, tuple(
        Requirement(
            name,
            np.arange(index * samples, (index + 1) * samples),
            np.ones(samples),
            _surer(wanted, samples),
        )
        for index, (name, wanted) in enumerate(zip(names, probabilities, strict=True))
    )


def _surer(wanted: float, samples: int) -> float:
    return min(wanted + STANDARD_ERRORS * float(np.sqrt(wanted * (1.0 - wanted) / samples)), 1.0)
