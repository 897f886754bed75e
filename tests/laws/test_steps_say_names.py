"""Steps of drawn houses say what people call a cable or a plate, never its id alone."""

from __future__ import annotations

import re

from drawn_houses import drawn_job
from rehaul.house import Job
from rehaul.house.called import called
from rehaul.jobs import demo_job
from rehaul.planning import plan


def test_no_step_says_a_cable_or_plate_by_its_id_alone() -> None:
    said = 0
    for job in (demo_job(), *map(drawn_job, (11, 14, 15, 16))):
        for task in plan(job).order:
            names, bare = names_in(job, task.title)
            assert not bare, (job.title, task.title)
            said += len(names)
    assert said > 50, "steps name what they are about"


def names_in(job: Job, title: str) -> tuple[list[str], list[str]]:
    """Ids of cables and plates that a title says with their names, and those that it says without."""
    ids = [thing.id for thing in (*job.house.runs, *job.house.outlets)]
    there = [name for name in ids if re.search(rf"(?<![\w.-]){re.escape(name)}(?![\w.-])", title)]
    return [name for name in there if called(job, name) in title], [
        name for name in there if called(job, name) not in title
    ]


def test_a_bare_id_is_found() -> None:
    job = drawn_job(11)
    run = job.house.runs[0].id
    assert names_in(job, f"Test and record the cable {run}") == ([], [run])
    assert names_in(job, f"Test and record the cable {called(job, run)}") == ([run], [])
