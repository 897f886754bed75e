"""What several tests of jobs begin with."""

from __future__ import annotations

from pathlib import Path

import pytest

from rehaul.jobs import save_job
from small_log import small_job


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """The file of a small job that has no log yet."""
    path = tmp_path / "small.rehaul.json"
    save_job(path, small_job())
    return path
