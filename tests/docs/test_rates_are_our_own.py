"""Subscribed rates and speed readings are scenarios of our own: a figure worn thin does not come back.

An early demo paid for one rate and read a little less of it, and both figures spread into examples, help and
tests until every house was the same house. Rates vary now. What stays is no household's rate, and says why.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FOLDERS = ("src", "tests", "docs", "examples", "frontend/src", "frontend/tests", "benchmarks", "tools")
TEXTS = {".py", ".md", ".json", ".csv", ".ts", ".svelte", ".toml", ".html", ".typ", ".css"}
WORN = re.compile(r"(?<![\d.,_])(?:500|495|47\d)(?:\.\d+)?(?![\d_])")
ABOUT_RATES = re.compile(
    r"mb/s|mbps|mbit|\bdown\b|\bup\b|\brates?\b|subscri|paid for|pays for|modem|speed", re.I
)
LONGEST_LINE = 3000  # longer lines are outlines and tables, not words

# file -> what stands on the line, and why it may
ALLOWED = {
    "frontend/src/maths/contours.ts": ("const RATES = [1, 2, 5,", "levels that a contour may have"),
    "src/rehaul/house/trail.py": ("_v: Annotated[float", "volts of a line"),
    "src/rehaul/sheets/ramp.py": ("LADDER_MBPS = (1, 2, 5,", "levels that a contour may have"),
    "src/rehaul/sheets/roomchart.py": ("GRID_MBPS = (1, 2, 5,", "lines of a scale of ratios"),
    "tests/unit/sheets/test_papers_contours.py": ("np.geomspace(0.5, 9000, ", "a count of values"),
}


def texts() -> Iterator[Path]:
    yield from (path for path in ROOT.glob("*") if path.is_file() and path.suffix in TEXTS)
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*")):
            built = "static" in path.parts or "node_modules" in path.parts
            spoiled = "corpus" in path.parts and path.parent.name in ("found", "spoiled")  # nobody's words
            if (
                path.is_file()
                and path.suffix in TEXTS
                and not built
                and not spoiled
                and path != Path(__file__)
            ):
                yield path


def worn(lines: list[str]) -> Iterator[int]:
    """Indices of lines that hold a worn figure with words on rates on it or on a neighbour."""
    for at, line in enumerate(lines):
        near = "\n".join(lines[max(0, at - 1) : at + 2])
        if len(line) <= LONGEST_LINE and WORN.search(line) and ABOUT_RATES.search(near):
            yield at


def excused(name: str, line: str) -> bool:
    return name in ALLOWED and ALLOWED[name][0] in line


def test_no_text_goes_back_to_the_worn_rates() -> None:
    found = []
    for path in texts():
        name, lines = path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8").split("\n")
        found += [
            f"{name}:{at + 1}: {lines[at].strip()}" for at in worn(lines) if not excused(name, lines[at])
        ]
    assert not found, "choose a rate of your own, or say in ALLOWED why it is no household's rate:\n" + (
        "\n".join(found)
    )


@pytest.mark.parametrize("name", sorted(ALLOWED))
def test_every_exception_is_still_needed(name: str) -> None:
    lines = (ROOT / name).read_text(encoding="utf-8").split("\n")
    assert any(excused(name, lines[at]) for at in worn(lines))


@pytest.mark.parametrize(
    ("text", "is_worn"),
    [
        ('"down_mbps": 500.0,', True),
        ("rehaul new House --down 500", True),
        ('"quantity": "down_mbps",\n"value": 472.0,', True),
        ('{"modem down": 495, "near down": 300}', True),
        ("500 MHz of a cable category", False),
        ("2500 Mb/s, 1,500 Mb/s, 0.500 Mb/s and 4750 Mb/s", False),
        ("size[500]\n\nspeed", False),
    ],
)
def test_it_sees_what_it_should(text: str, is_worn: bool) -> None:
    assert bool(list(worn(text.split("\n")))) is is_worn
