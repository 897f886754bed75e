"""After warming up, the main job compiles nothing more."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

CODE = """
import importlib, json
from numba.core.dispatcher import Dispatcher
from rehaul.kernels.preparing import packages
from rehaul.kernels.sources import PACKAGE, files_of

names = [f.relative_to(PACKAGE.parent).with_suffix("").parts for p in packages() for f in files_of(p)]
modules = [importlib.import_module(".".join(name)) for name in names]
for package in packages():
    importlib.import_module(f"rehaul.{package}.warm").warm_up()


def loops():
    return {
        f"{value.py_func.__module__}.{name}": [str(s) for s in value.signatures]
        for module in modules
        for name, value in vars(module).items()
        if isinstance(value, Dispatcher) and value.targetoptions.get("no_cpython_wrapper") is None
    }


warm = loops()
from rehaul.jobs import demo_job
from rehaul.planning import plan
from rehaul.predict import standing_radiators
from rehaul.proof import next_reading, surveyed

job = demo_job()
found = plan(job)
next_reading(surveyed(job), standing_radiators(job), found.radiators)
after = loops()
import sys

assert "pandas" not in sys.modules, "a quarter of a second and 60 MB that nothing here needs"
print(json.dumps([len(warm), [[n, warm[n], after[n]] for n in warm if warm[n] != after[n]]]))
"""


@pytest.mark.slow
def test_the_main_job_compiles_nothing_that_was_not_warmed_up() -> None:
    """Another type of argument would be another minute in front of a customer."""
    done = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    loops, more = json.loads(done.stdout)
    assert loops > 20
    assert more == [], more
