"""Write docs/job.schema.json from the job model; run it after every change of the model."""

from __future__ import annotations

import json
from pathlib import Path

from rehaul.house import Job

TARGET = Path(__file__).parents[1] / "docs" / "job.schema.json"


def schema_text() -> str:
    """The JSON Schema of the job document, as it stands in docs/."""
    schema = Job.model_json_schema(mode="validation")
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "rehaul job"}
    return json.dumps({**head, **{k: v for k, v in schema.items() if k != "title"}}, indent=1) + "\n"


if __name__ == "__main__":
    TARGET.write_text(schema_text(), encoding="utf-8")
