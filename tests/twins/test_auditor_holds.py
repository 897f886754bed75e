"""What holds a cable, worked out twice: by the house's own rule, and by the auditor from the job alone."""

from __future__ import annotations

import pytest

from drawn_houses import drawn_job
from rehaul.auditor.holds import depends, hold_on, why_not_used
from rehaul.house import UNKNOWN, Job, Run, counts_on, held_on, open_obligations

SEEDS = range(300)
BLOCK = 50


def cables(block: int) -> list[tuple[Job, Run]]:
    """Cables of drawn houses, but for those measured on the line: the auditor reads that too."""
    jobs = [drawn_job(seed) for seed in SEEDS[block : block + BLOCK]]
    measured = {(job.id, check.run) for job in jobs for check in job.line_checks}
    return [(job, run) for job in jobs for run in job.house.runs if (job.id, run.id) not in measured]


@pytest.mark.parametrize("block", range(0, len(SEEDS), BLOCK))
def test_both_hold_the_same_cables(block: int) -> None:
    held = 0
    for job, run in cables(block):
        hold, reasons = hold_on(job, run.id), held_on(job, run.id)
        assert bool(hold) == bool(reasons), (job.id, run.id)
        if hold:
            assert hold.untested == all(reason.untested for reason in reasons), (job.id, run.id)
            held += 1
        assert {o.id for o in depends(job, run.id)} == {o.id for o in open_obligations(job, run.id)}
    assert held > 20


@pytest.mark.parametrize("block", range(0, len(SEEDS), BLOCK))
def test_both_count_on_the_same_cables(block: int) -> None:
    used = 0
    for job, run in cables(block):
        may = counts_on(job, run.id) and UNKNOWN not in run.ends
        assert (why_not_used(job, run.id) is None) == may, (job.id, run.id, why_not_used(job, run.id))
        used += may
    assert used > 20
