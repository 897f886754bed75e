"""What a kept step of a plan leaves out of its key says nothing: edits of every kind are drawn.

Where two jobs count as one for a step, the step comes to the same for both, worked out anew.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from counts import counted
from drawn_edits import EDITS, edited
from rehaul.design.options import _read_of, offering_of
from rehaul.house import Job
from rehaul.jobs import demo_job, open_job
from rehaul.network import run_verdicts
from rehaul.planning.survey import _read_of_cables

HOUSES = Path(__file__).parents[2] / "examples"
ALL = sorted(path.name.removesuffix(".rehaul.json") for path in HOUSES.glob("*.rehaul.json"))
SMALL = ("1974-flat-old-laptop", "1988-chained-cat3-dsl")


def offered(job: Job) -> Any:
    found = offering_of(job)
    known = found.works.known
    costs = {name: found.works.cost(name) for name in known}
    return found.options, known, costs, found.core, found.router, found.coax_left


STEPS: dict[str, tuple[Callable[[Job], Job], Callable[[Job], Any]]] = {
    "options": (_read_of, offered),
    "cables": (_read_of_cables, run_verdicts),
}


@pytest.mark.parametrize(
    "name", ["demo", *(path.name.split(".")[0] for path in sorted(HOUSES.glob("*.json")))]
)
def test_cables_are_judged_without_what_the_step_leaves_out(name: str) -> None:
    job = demo_job() if name == "demo" else open_job(HOUSES / f"{name}.rehaul.json")
    runs = tuple(run.model_copy(update={"length_m": None, "route": ()}) for run in job.house.runs)
    drawn = job.model_copy(update={"house": job.house.model_copy(update={"runs": runs})})
    for one in (job, drawn):  # by their lengths, and by where their ends lie
        assert run_verdicts(_read_of_cables(one)) == run_verdicts(one)


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("name", ["demo", *SMALL])
def test_what_counts_as_one_comes_to_one(step: str, name: str) -> None:
    key, work = STEPS[step]
    rng, alike, kinds = random.Random(f"{step} {name}"), 0, set()
    job = demo_job() if name == "demo" else open_job(HOUSES / f"{name}.rehaul.json")
    known = work(job)
    for _ in range(counted(60, 1000)):
        kind, after = edited(job, rng)
        kinds.add(kind)
        now = work(after)
        if key(after) == key(job):
            alike += 1
            assert now == known, kind
        job, known = after, now
    assert alike > 5 and len(kinds) > len(EDITS) / 2, "else nothing was asked"
