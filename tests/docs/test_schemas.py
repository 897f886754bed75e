"""The schemas in docs/ are those of the models as they are, and say what a path is."""

from __future__ import annotations

import json
import runpy
from pathlib import Path

import pytest

from plans_once import made_plan
from rehaul.jobs import demo_job
from rehaul.planning import PlanDocument, plan_data

ROOT = Path(__file__).parents[2]


TOOL = runpy.run_path(str(ROOT / "tools" / "write_schemas.py"))


@pytest.mark.parametrize("name", ["job.schema.json", "plan.schema.json"])
def test_the_published_schema_is_in_step(name: str) -> None:
    published = (ROOT / "docs" / name).read_text(encoding="utf-8")
    assert published == TOOL["schema_texts"]()[name], "run python tools/write_schemas.py"


def test_the_plan_schema_says_what_a_path_is() -> None:
    """From the street in order, each link with its medium, range, chance and what it shares."""
    known = json.loads((ROOT / "docs" / "plan.schema.json").read_text(encoding="utf-8"))
    link, path = known["$defs"]["PathLink"], known["$defs"]["Path"]
    asked = {"id", "medium", "low_mbps", "rate_mbps", "high_mbps", "chance", "shares"}
    assert asked <= set(link["properties"]) and "dsl pair" in link["properties"]["medium"]["enum"]
    assert {"to", "links", "rate_mbps", "narrowest"} <= set(path["properties"])
    assert {"paths", "before", "after"} <= set(known["required"])


def test_a_plan_keeps_to_its_schema() -> None:
    data = json.loads(json.dumps(plan_data(made_plan(demo_job()))))
    assert PlanDocument.model_validate(data).model_dump(mode="json") == data
