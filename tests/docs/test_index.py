"""Every page of docs/ is in its index, and every link of the index leads somewhere."""

from __future__ import annotations

import re
from pathlib import Path

DOCS = Path(__file__).parents[2] / "docs"


def test_the_index_is_whole() -> None:
    linked = set(re.findall(r"\]\(([^)]+)\)", (DOCS / "index.md").read_text(encoding="utf-8")))
    pages = {path.name for path in DOCS.iterdir() if path.suffix in (".md", ".json")} - {"index.md"}
    assert pages <= linked
    assert all((DOCS / link).is_file() for link in linked)
