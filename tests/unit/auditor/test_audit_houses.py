"""The tool that audits drawn houses counts what it is given."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

ROOT = Path(__file__).parents[3]
SPEC = importlib.util.spec_from_file_location("audit_houses", ROOT / "tools" / "audit_houses.py")
assert SPEC and SPEC.loader
tool = importlib.util.module_from_spec(SPEC)
sys.modules["audit_houses"] = tool  # a dataclass looks its module up
SPEC.loader.exec_module(tool)


def test_the_report_counts_findings_failures_and_rooms() -> None:
    houses = [
        tool.House(4, frozenset({"attic"}), 2.0, findings=(("one-id", "NC1."), ("one-id", "NC2.")), asked=4),
        tool.House(5, frozenset({"attic"}), 4.0, refused="placement: no."),
        tool.House(6, frozenset(), 3.0, broke="KeyError"),
        tool.House(7, frozenset(), 3.0, asked=4, unserved=(("R1", "down: a cable"), ("R1", "up: a cable"))),
    ]
    said = tool.report(houses)
    assert said.startswith("4 houses, 1 without a finding; 3.0 s each, at most 4.0 s.")
    assert "2 findings by 1 rules." in said and "one-id: 2 in 1 houses (seeds 4)" in said
    assert "1 houses refused: seeds 5" in said and "1 houses broke: seeds 6" in said
    assert "1 of 8 rooms that ask are left unserved (12.5 %)." in said
    assert "attic (2)" in said


def test_ids_and_numbers_are_left_out_of_reasons() -> None:
    rows = {"choice": {"shortfalls": [{"room": "R1", "kind": "up", "fix": "Pull NC12 from MP1, 12.5 m"}]}}
    assert list(tool._unserved(rows)) == [("R1", "up: Pull … from …, … m")]
