"""Write the JSON Schemas of docs/ from the models; run it after every change of a model."""

from __future__ import annotations

import json
from pathlib import Path

from rehaul.house import Job
from rehaul.planning import PlanDocument

DOCS = Path(__file__).parents[1] / "docs"
DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schema_texts() -> dict[str, str]:
    """The schemas as they stand in docs/, by the name of their file."""
    found = {
        "job": Job.model_json_schema(mode="validation"),  # as it is written down
        "plan": PlanDocument.model_json_schema(mode="serialization"),  # as `plan --json` prints it
    }
    texts = {}
    for name, schema in found.items():
        head = {"$schema": DRAFT, "title": f"rehaul {name}"}
        texts[f"{name}.schema.json"] = json.dumps({**head, **schema, **head}, indent=1) + "\n"
    return texts


if __name__ == "__main__":
    for name, text in schema_texts().items():
        (DOCS / name).write_text(text, encoding="utf-8")
