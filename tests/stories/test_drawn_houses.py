"""Three hundred houses drawn by chance, planned, and every plan judged by code that had no part in it.

A failure names the seed: `drawn_job(seed)` is the same job again, on every machine.
"""

from __future__ import annotations

import json

import pytest

from drawn_houses import drawn_job, features_of
from rehaul.auditor import audit_plan
from rehaul.plan import plan, plan_data

HOUSES, AT_ONCE = 300, 10


def faults_of(seed: int) -> list[str]:
    """What the auditor finds in the plan of a drawn house, as lines for people."""
    job = drawn_job(seed)
    data = plan_data(plan(job))
    data = json.loads(json.dumps(data, allow_nan=False))  # as anybody else would read it
    return [f"seed {seed}: {found.rule}: {found.sentence}" for found in audit_plan(job, data)]


@pytest.mark.parametrize("first", range(0, HOUSES, AT_ONCE))
def test_the_auditor_finds_nothing(first: int) -> None:
    """In batches of ten, so that the workers of a parallel run share them."""
    faults: list[str] = []
    for seed in range(first, first + AT_ONCE):
        try:
            faults += faults_of(seed)
        except Exception as error:
            faults.append(
                f"seed {seed}: {type(error).__name__}: {error}; {sorted(features_of(drawn_job(seed)))}"
            )
    assert not faults, "\n".join(faults)
