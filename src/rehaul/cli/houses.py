"""Putting a house that was read into a job file."""

from __future__ import annotations

from pathlib import Path

from rehaul.errors import BadInput
from rehaul.house import Job
from rehaul.house.readers import ReadReport, with_house
from rehaul.jobs import edit_job, kept_copy, refuse_existing, save_job
from rehaul.printable import short
from rehaul.words import say


def require_place(model: Path, into: Path | None, out: Path | None, replace: bool) -> None:
    """Raise BadInput where the house could not be kept where it is to go, before it is read."""
    if into and out:
        raise BadInput(
            say("refused_cli.both_into_out_are"), where="rehaul read", remedy=say("refused_cli.give_one_them")
        )
    if out:
        refuse_existing(out, replace=replace, never=[model])


def keep_house(report: ReadReport, model: Path, into: Path | None, out: Path | None) -> Path | None:
    """Save the house into a job that exists, or as a new one; None where neither is asked for.

    A job whose outlets and cables hang on other storeys or rooms is refused and stays as it was.
    """
    if into:
        edit_job(
            into,
            lambda job: with_house(job, report, where=str(into)),
            label=short(f"House read from {model.name}", 80),
        )
        return into
    if out:
        with kept_copy(out):
            save_job(out, Job(id="job", title=report.house.name or short(model.stem, 80), house=report.house))
        return out
    return None
