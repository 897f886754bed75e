"""docs/job.schema.json is the schema of the model as it is, and a sample job keeps to it."""

from __future__ import annotations

import runpy
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_the_published_schema_is_in_step() -> None:
    tool = runpy.run_path(str(ROOT / "tools" / "write_job_schema.py"))
    published = (ROOT / "docs" / "job.schema.json").read_text(encoding="utf-8")
    assert published == tool["schema_text"](), "run python tools/write_job_schema.py"
