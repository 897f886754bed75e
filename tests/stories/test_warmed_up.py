"""After warming up, the main job compiles nothing: what would compile is not even loaded."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from rehaul.kernels import prepare
from rehaul.kernels.preparing import packages

CODE = """
import json, sys
from rehaul.jobs import demo_job
from rehaul.kernels import machine
from rehaul.planning import plan
from rehaul.predict import standing_radiators
from rehaul.proof import next_reading, surveyed

job = demo_job()
found = plan(job)
next_reading(surveyed(job), standing_radiators(job), found.radiators)
assert "pandas" not in sys.modules, "a quarter of a second and 60 MB that nothing here needs"
print(json.dumps([sorted(machine._LOADED), "numba" in sys.modules]))
"""


@pytest.mark.slow
def test_the_main_job_compiles_nothing_that_was_not_warmed_up() -> None:
    """Another type of argument would be another minute in front of a customer."""
    prepare()
    done = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout) == [packages(), False]
