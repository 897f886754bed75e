"""The pages written from the code are as the code is."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SPEC = importlib.util.spec_from_file_location("write_pages", ROOT / "tools" / "write_pages.py")
assert SPEC and SPEC.loader
write_pages = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(write_pages)


@pytest.mark.parametrize("name", sorted(write_pages.PAGES))
def test_the_page_is_in_step(name: str) -> None:
    written = (ROOT / "docs" / name).read_text(encoding="utf-8")
    assert written == write_pages.PAGES[name](), "run: python tools/write_pages.py"
