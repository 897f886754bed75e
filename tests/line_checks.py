"""Line checks for houses of tests: what somebody would have asked and measured before the first plug."""

from __future__ import annotations

from rehaul.house import Job, LineCheck


def quiet(at: str, run: str | None = None, *, prefix: str = "quiet") -> tuple[LineCheck, ...]:
    """Nobody depends on the lines, no voltage, no modem: of one cable, or of all at a meeting point."""
    name = f"{prefix}-{at}-{run or 'all'}"
    return (
        LineCheck(id=f"{name}-1", at=at, what="who depends", run=run, nobody=True, by="Ann"),
        LineCheck(id=f"{name}-2", at=at, what="voltage", run=run, dc_v=0.2, ac_v=0.1, by="Ann"),
        LineCheck(id=f"{name}-3", at=at, what="modem sync", run=run, synchronises=False, by="Ann"),
    )


def checked(job: Job) -> Job:
    """The job with every meeting point asked, measured and found quiet."""
    made = tuple(check for point in job.house.meeting_points for check in quiet(point.id))
    return job.model_copy(update={"line_checks": (*job.line_checks, *made)})
