"""A docstring that names a page of ours, a place on it or a fact table names what is there."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGE = re.compile(r'docs/(\w+)\.md((?:,? (?:and )?(?:"[^"]+"|`[^`]+`))*)')
PLACE = re.compile(r'"([^"]+)"|`([^`]+)`')
TABLE = re.compile(r"fact tables? `(\w+)`")


def docstrings() -> Iterator[tuple[str, str]]:
    """Every docstring of the source on one line, with where it stands."""
    for file in sorted((ROOT / "src" / "rehaul").rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
                name = getattr(node, "name", "head")
                yield f"{file.relative_to(ROOT)} {name}", " ".join((ast.get_docstring(node) or "").split())


def named(text: str) -> Iterator[tuple[str, str]]:
    """Pages that a text names, each with every place on it that is said behind it, or an empty one."""
    for page, places in PAGE.findall(text):
        for place in ["".join(found) for found in PLACE.findall(places)] or [""]:
            yield page, place


def is_on(page: str, place: str) -> bool:
    """Whether the words of a place stand on a page, upper and lower case alike."""
    return place.lower() in " ".join(page.split()).lower()


def test_pages_and_places_are_there() -> None:
    pages = {file.stem: file.read_text(encoding="utf-8") for file in (ROOT / "docs").glob("*.md")}
    found = [(where, *each) for where, text in docstrings() for each in named(text)]
    assert sum(bool(place) for _, _, place in found) > 300
    amiss = [row for row in found if row[1] not in pages or not is_on(pages[row[1]], row[2])]
    assert not amiss


def test_fact_tables_are_there() -> None:
    tables = {file.stem for file in (ROOT / "src" / "rehaul" / "facts" / "tables").glob("*.csv")}
    found = [(where, name) for where, text in docstrings() for name in TABLE.findall(text)]
    assert len(found) > 50
    assert not [row for row in found if row[1] not in tables]


def test_a_place_that_is_not_there_is_told() -> None:
    page = "# Copper\n\n## From cable\nto margin\n"
    told = list(named('Steps. **Source**: docs/copper.md, "From cable to margin" and "Taps"; docs/radio.md.'))
    assert told == [("copper", "From cable to margin"), ("copper", "Taps"), ("radio", "")]
    assert is_on(page, "from cable to margin")
    assert not is_on(page, "Taps")
