"""A house as radio sees it, kept while it is edited: what an edit does not touch is not computed again.

Everything is found by the very values that it is made of, so that what is kept is what would be computed
anew, to the last bit.
"""

from __future__ import annotations

import pickle
from collections import OrderedDict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace
from threading import Lock
from typing import Any, TypeVar

import numpy as np

from rehaul.arrays import Bools
from rehaul.house import House, Job
from rehaul.house.geometry import house_bounds, storey_outlines
from rehaul.predict.air import Air, Listener
from rehaul.predict.calibration import Calibration, calibration_of, corrected_airs
from rehaul.predict.needs import Asked
from rehaul.predict.paths import Paths
from rehaul.predict.radiators import Radiator, standing_radiators
from rehaul.predict.receivers import Receivers, receivers_of
from rehaul.predict.scene import HouseScene, scene_of
from rehaul.predict.size import STEP_M
from rehaul.radio import Cells, Grid
from rehaul.same import Same

MOST_HOUSES = 8  # scenes, grids and what readings say, of the house as it is and as it is tried
MOST_AIR_BYTES = 400_000_000  # a house of a hundred rooms fits; what boxes at a spot share counts for each
MOST_VERDICTS = 1000  # boxes at a spot, each with what it was asked there
MOST_TABLES = 24  # of verdicts: houses, classes of devices, and what boxes may be chosen
MOST_RESULTS = 8  # of any other step, by the step
Result = TypeVar("Result")


def sends(radiator: Radiator) -> Radiator:
    """A box as its field depends on it: under no name, whatever wires or hop may feed it."""
    if not (radiator.name or radiator.wire or radiator.hop_mbps):
        return radiator
    return replace(radiator, name="", wire=(), hop_mbps=0.0)


def without_wishes(job: Job) -> Job:
    """A job without what says of the choice alone which is wanted: budget, pinned and forbidden sites."""
    wishes = {"budget": None, "pinned_sites": (), "forbidden_sites": ()}
    return job.model_copy(update={"choices": job.choices.model_copy(update=wishes)})


class KeptHouse:
    """Scenes, grids, what readings say, and airs, of one job as it is edited; for several threads at once."""

    def __init__(self, most_air_bytes: int = MOST_AIR_BYTES) -> None:
        self._houses = _Kept(MOST_HOUSES)
        self._calibrations = _Kept(MOST_HOUSES)
        self._sayings = _Kept(MOST_HOUSES)
        self._grids = _Kept(MOST_HOUSES)
        self._airs = _Kept(most_air_bytes, _bytes_of)
        self._verdicts = _Kept(MOST_VERDICTS)
        self._tables = _Kept(MOST_TABLES)
        self._steps: dict[str, _Kept] = {}
        self._door = Lock()

    def __reduce__(self) -> tuple[type[KeptHouse], tuple[()]]:
        return KeptHouse, ()  # what is kept goes along with nothing: it is made again

    def scene(self, job: Job) -> HouseScene:
        """The scene of the job's house, as `scene_of`; the same one while what it is made of stays."""
        house = job.house
        built = house.storeys, house.walls, house.openings, house.bodies, house.rooms, house.built_year
        found: HouseScene = self._houses.get((job.country, *built), lambda: scene_of(house, job.country))
        return found

    def receivers(self, house: House, step_m: float = STEP_M) -> Receivers:
        """Receivers over the house, as `receivers_of`; the same ones while what they depend on stays."""
        outlines = tuple(storey_outlines(house, storey) for storey in house.storeys)
        key = (step_m, house.storeys, house_bounds(house), house.rooms, outlines)
        found: Receivers = self._grids.get(key, lambda: receivers_of(house, step_m))
        return found

    def calibration(self, job: Job, scene: HouseScene) -> Calibration:
        """What the readings of a job say, as `calibration_of` for the boxes that stand.

        `scene` is the one of `scene` for this job: another object counts as another house.
        """
        taken = (job.readings, job.boxes, job.devices, job.country, job.choices.dfs)
        bounding = (job.house, job.service, job.learnt)  # wires bound what was read

        def make() -> Calibration:
            return calibration_of(job, scene, standing_radiators(job))

        found: Calibration = self._calibrations.get((Same(scene), *taken, *bounding), make)
        said = pickle.dumps(found)  # the same said again, of wires that bound nothing: what hangs on it stays
        alike: Calibration = self._sayings.get((Same(scene), said), lambda: found)
        return alike

    def air(
        self,
        job: Job,
        scene: HouseScene,
        radiator: Radiator,
        places: Grid | Cells,
        listener: Listener,
        calibration: Calibration | None = None,
        paths: Paths | None = None,
    ) -> tuple[Air, ...]:
        """The air of a box, as `corrected_air`; once for all wires and hops that may feed it there.

        Scene, calibration and cells are told apart as objects, grids by their values.
        """
        return self.airs(job, scene, [radiator], places, listener, calibration, paths)[0]

    def airs(
        self,
        job: Job,
        scene: HouseScene,
        radiators: Sequence[Radiator],
        places: Grid | Cells,
        listener: Listener,
        calibration: Calibration | None = None,
        paths: Paths | None = None,
    ) -> list[tuple[Air, ...]]:
        """The airs of several boxes, in their order, as `air` each; those that are new together."""
        where = places if isinstance(places, Grid) else Same(places)
        heard = Same(scene), Same(calibration), where, listener, job.country, job.choices.dfs
        sending = [sends(radiator) for radiator in radiators]

        def make(which: Sequence[Radiator]) -> Sequence[tuple[Air, ...]]:
            return corrected_airs(job, which, listener, calibration, paths or Paths(scene, places))

        found: list[tuple[Air, ...]] = self._airs.each(heard, sending, make)
        return [
            airs if radiator is sent else tuple(replace(air, radiator=radiator) for air in airs)
            for radiator, sent, airs in zip(radiators, sending, found, strict=True)
        ]

    def verdicts(
        self,
        job: Job,
        scene: HouseScene,
        radiator: Radiator,
        places: Cells,
        client: str,
        calibration: Calibration | None = None,
    ) -> dict[Asked, Bools]:
        """Where a box serves what was asked of it, each (k,) over the places of the need's room.

        For whoever asks to look into and to add to; empty for a box that nobody asked about. What is asked
        is part of the key, wires that feed the box are not: ask them before. Scene, calibration and cells are
        told apart as objects.
        """
        of = sends(radiator), radiator.hop_mbps, client, job.country, job.choices.dfs
        found: dict[Asked, Bools] = self._verdicts.get(
            (Same(scene), Same(calibration), Same(places), *of), dict
        )
        return found

    def tables(
        self,
        job: Job,
        scene: HouseScene,
        boxes: tuple[Radiator, ...],
        places: Cells,
        client: str,
        calibration: Calibration | None = None,
    ) -> dict[Asked, Bools]:
        """Where boxes serve what was asked of all of them, each (box, k): `verdicts` side by side.

        For whoever asks to look into and to add to. The boxes too are told apart as one object.
        """
        of = client, job.country, job.choices.dfs
        found: dict[Asked, Bools] = self._tables.get(
            (Same(scene), Same(calibration), Same(places), Same(boxes), *of), dict
        )
        return found

    def step(self, name: str, read: Hashable, make: Callable[[], Result]) -> Result:
        """What any other step of a plan gives: `make` is called where it never read this.

        Parameters: `read`, all that `make` depends on, by value; what comes back is shared, and nobody may
        change it.
        """
        with self._door:
            kept = self._steps.setdefault(name, _Kept(MOST_RESULTS))
        found: Result = kept.get(read, make)
        return found


def _bytes_of(airs: tuple[Air, ...]) -> int:
    return sum(np.asarray(part).nbytes for air in airs for part in (air.power_dbm, air.sd_db)) or 1


class _Kept:
    """The last results by key, as many as fit."""

    def __init__(self, most: int, weight: Callable[[Any], int] = lambda result: 1) -> None:
        self._most, self._weight, self._held = most, weight, 0
        self._results: OrderedDict[Hashable, Any] = OrderedDict()
        self._door = Lock()

    def get(self, key: Hashable, make: Callable[[], Any]) -> Any:
        """What is kept under a key, or what `make` gives, which is then kept."""
        result = self._known(key)
        if result is not self:
            return result
        result = make()
        self._keep(key, result)
        return result

    def each(
        self, of: Hashable, keys: Sequence[Result], make: Callable[[Sequence[Result]], Any]
    ) -> list[Any]:
        """What is kept of several keys, or what `make` gives of the others, each once."""
        results = {key: self._known((of, key)) for key in keys}
        fresh = [key for key, result in results.items() if result is self]
        for key, result in zip(fresh, make(fresh) if fresh else (), strict=True):
            results[key] = result
            self._keep((of, key), result)
        return [results[key] for key in keys]

    def _known(self, key: Hashable) -> Any:
        """What is kept; itself stands for nothing."""
        with self._door:
            result = self._results.get(key, self)
            if result is not self:
                self._results.move_to_end(key)
            return result

    def _keep(self, key: Hashable, result: Any) -> None:
        with self._door:
            if key not in self._results:
                self._results[key] = result
                self._held += self._weight(result)
            while self._held > self._most and len(self._results) > 1:
                self._held -= self._weight(self._results.popitem(last=False)[1])
