"""A job as it stands, before anything is chosen: cables, the house as radio sees it, what it gets today."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from rehaul.design.results import RoomChance
from rehaul.design.sampled import judged_whole, room_chances
from rehaul.house import Choices, Job
from rehaul.network import RunVerdict, run_verdicts
from rehaul.predict import Calibration, Coverage, HouseScene, Radiator, Receivers, coverage
from rehaul.predict import standing_radiators as standing
from rehaul.predict.hops import hop_fed
from rehaul.predict.kept import KeptHouse
from rehaul.progress import Progress, silent


@dataclass(frozen=True, eq=False)
class Survey:
    """What every choice for a job begins with."""

    job: Job
    cabling: tuple[RunVerdict, ...]  # what each old run can do
    scene: HouseScene
    receivers: Receivers
    calibration: Calibration
    today: tuple[Radiator, ...]  # boxes that radiate, on the links that feed them
    kept: KeptHouse

    @cached_property
    def before(self) -> Coverage:
        """What the house gets today."""
        return self.gets(self.job, self.today, self.chances(self.job, self.today))

    def gets(self, job: Job, radiators: Sequence[Radiator], whole: Sequence[RoomChance] = ()) -> Coverage:
        """What the rooms get from these boxes.

        Parameters: `job`, the survey's own, or with devices that it would have; `whole`, of `chances` for the
        same, where rooms are judged as a whole.
        """
        found = coverage(
            *(job, radiators),
            scene=self.scene,
            receivers=self.receivers,
            calibration=self.calibration,
            kept=self.kept,
        )
        return judged_whole(found, whole) if whole else found

    def chances(self, job: Job, radiators: Sequence[Radiator]) -> tuple[RoomChance, ...]:
        """The chance of each room as a whole with these boxes; none where the job judges place by place."""
        if not job.choices.whole_rooms:
            return ()
        return tuple(room_chances(job, self.scene, self.receivers, radiators, self.calibration))


def survey_of(job: Job, kept: KeptHouse | None = None, *, progress: Progress = silent) -> Survey:
    """Look a job over. Parameters: `kept`, of the same job before an edit. Raises as `weigh`."""
    kept = kept or KeptHouse()
    progress("what the old cables can do")
    of_cables = _read_of_cables(job)
    cabling = kept.step("cabling", of_cables, lambda: run_verdicts(of_cables))
    progress("what the house gets today")
    scene, receivers = kept.scene(job), kept.receivers(job.house)
    calibration = kept.calibration(job, scene)
    found = Survey(job, cabling, scene, receivers, calibration, hop_fed(job, scene, standing(job)), kept)
    _ = found.before  # at this stage of the work
    return found


def _read_of_cables(job: Job) -> Job:
    """A job without what says nothing of its cables."""
    bare = job.house.model_copy(update={"walls": (), "openings": (), "bodies": ()})
    choices = Choices(to_be_moved=job.choices.to_be_moved)
    return job.model_copy(
        update={"house": bare, "choices": choices, "needs": (), "readings": (), "heard": ()},
    )
