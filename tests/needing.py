"""What a test needs of the machine besides Python: asked for by name, before it is used.

A test skips where that is absent. Where `.ci/run` has put everything in place it sets REHAUL_CI_TOOLS, and
then the test fails instead: there nothing is skipped in silence.
"""

from __future__ import annotations

import os
import shutil
from typing import NoReturn

import pytest

COMES_WITH = {
    "ip": "iproute2",
    "tc": "iproute2",
    "mount": "mount",
    "taskset": "util-linux",
    "runuser": "util-linux",
}


def need(*tools: str) -> None:
    """The test goes on if all these programs are on PATH."""
    for tool in tools:
        if shutil.which(tool) is None:
            absent(f"needs `{tool}` ({COMES_WITH[tool]})")


def absent(words: str) -> NoReturn:
    """Skip, saying what is needed; fail where it should have been there."""
    if os.environ.get("REHAUL_CI_TOOLS"):
        pytest.fail(f"{words}; .ci/run should have installed it", pytrace=False)
    pytest.skip(words)
