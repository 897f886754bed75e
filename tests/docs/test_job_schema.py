"""docs/job.schema.json is the schema of the model as it is, and a sample job keeps to it."""

from __future__ import annotations

import re
import runpy
from pathlib import Path

from rehaul.house import SCHEMA_VERSION

ROOT = Path(__file__).parents[2]


def test_the_published_schema_is_in_step() -> None:
    tool = runpy.run_path(str(ROOT / "tools" / "write_job_schema.py"))
    published = (ROOT / "docs" / "job.schema.json").read_text(encoding="utf-8")
    assert published == tool["schema_text"](), "run python tools/write_job_schema.py"


def test_the_pages_know_the_same_version() -> None:
    types = (ROOT / "frontend" / "src" / "job" / "types.ts").read_text(encoding="utf-8")
    assert re.findall(r"SCHEMA_VERSION = (\d+);", types) == [str(SCHEMA_VERSION)]
