"""Maps that no hand moves: made once for all pages that show them."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock

from rehaul.predict.moving import Moving
from rehaul.web.rasters import Raster

MOST_KEPT = 24  # of the last edit or two, a storey and a quantity each


class StillMaps:
    """The last maps of one job by what they show, each made by whoever asks first; for several threads."""

    def __init__(self) -> None:
        self._moving = Moving()
        self._made: OrderedDict[Hashable, Raster] = OrderedDict()
        self._door = Lock()

    def get(self, shows: Hashable, make: Callable[[Moving], Raster]) -> Raster:
        """The map under that key, or what `make` gives; who asks meanwhile waits for it."""
        with self._door:
            found = self._made.get(shows)
            if found is None:
                found = self._made[shows] = make(self._moving)
                if len(self._made) > MOST_KEPT:
                    self._made.popitem(last=False)
            return found
