"""Arrays by what they hold; axes stand in the comment or docstring beside them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Reals = NDArray[np.float64]
Floats = NDArray[np.float32]
Complex = NDArray[np.complex128]
Bools = NDArray[np.bool_]
Wholes = NDArray[np.int64]
