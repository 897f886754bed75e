"""Every test file in tests/published uses `Published`, so that no outside value stands without its source."""

from pathlib import Path

FOLDER = Path(__file__).parents[1] / "published"


def test_every_published_test_names_its_sources() -> None:
    files = sorted(FOLDER.glob("test_*.py"))
    for path in files:
        assert "Published(" in path.read_text(encoding="utf-8"), path.name
