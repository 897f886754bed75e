"""The table of codes in docs/trace.md says what the program finds."""

from __future__ import annotations

import re
from pathlib import Path

from rehaul.tracing import Trust, correcting_codes, detecting_codes

PAGE = Path(__file__).parents[2] / "docs" / "trace.md"
ROW = re.compile(r"^\| ([468]) \| ([^|]+) \| (\d+) \| (\d+) \| (\d+|-) \| (\d+|-) \|$", re.MULTILINE)


def test_table_of_codes() -> None:
    rows = ROW.findall(PAGE.read_text(encoding="utf-8"))
    assert len(rows) == 9
    for conductors, trust, *printed in rows:
        found = [
            len(book(int(conductors), Trust(trust), rounds))
            for rounds in (1, 2)
            for book in (detecting_codes, correcting_codes)
        ]
        for text, number in zip(printed, found, strict=True):
            assert text == "-" or int(text) == number, (conductors, trust)
