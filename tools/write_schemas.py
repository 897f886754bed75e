"""Write the JSON Schemas of docs/ from the models; run it after every change of a model."""

from __future__ import annotations

import json
from pathlib import Path

from rehaul.house import Job
from rehaul.planning import plan_schema

DOCS = Path(__file__).parents[1] / "docs"
DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schema_texts() -> dict[str, str]:
    """The schemas as they stand in docs/, by the name of their file."""
    schema = Job.model_json_schema(mode="validation")
    job = {"$schema": DRAFT, "title": "rehaul job", **{k: v for k, v in schema.items() if k != "title"}}
    found = {"job.schema.json": job, "plan.schema.json": plan_schema()}
    return {name: json.dumps(document, indent=1) + "\n" for name, document in found.items()}


if __name__ == "__main__":
    for name, text in schema_texts().items():
        (DOCS / name).write_text(text, encoding="utf-8")
