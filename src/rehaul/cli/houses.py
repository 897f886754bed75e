"""Putting a house that was read into a job file."""

from __future__ import annotations

from pathlib import Path

from rehaul.errors import BadInput
from rehaul.house import House, Job, require_whole
from rehaul.house.readers import ReadReport
from rehaul.jobs import edit_job, refuse_existing, save_job


def keep_house(report: ReadReport, model: Path, into: Path | None, out: Path | None) -> Path | None:
    """Save the house into a job that exists, or as a new one; None where neither is asked for.

    A job whose outlets and cables hang on other storeys or rooms is refused and stays as it was.
    """
    if into and out:
        raise BadInput("both --into and --out are given", where="rehaul read", remedy="Give one of them")
    if into:

        def surveyed(job: Job) -> Job:
            job = job.model_copy(update={"house": _with_survey(report.house, job.house)})
            require_whole(job, where=str(into))
            return job

        edit_job(into, surveyed, label=f"House read from {model.name}"[:80])
        return into
    if out:
        refuse_existing(out)
        save_job(out, Job(id="job", title=report.house.name or model.stem, house=report.house))
        return out
    return None


def _with_survey(new: House, old: House) -> House:
    """The new walls and rooms with the outlets, meeting points and cables already surveyed."""
    return new.model_copy(
        update={
            "outlets": new.outlets or old.outlets,
            "meeting_points": new.meeting_points or old.meeting_points,
            "runs": new.runs or old.runs,
            "built_year": new.built_year or old.built_year,
            "tenure": old.tenure,
        }
    )
