"""The examples on the readers' page are read as they stand, and the list of audit rules is complete."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rehaul.house.readers import read_room_list

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "readers.md").read_text(encoding="utf-8")
EXAMPLES = dict(re.findall(r"<!-- example: (\S+) -->\n```text\n(.*?)```", PAGE, re.DOTALL))


@pytest.mark.parametrize(("name", "counts"), [("rooms.txt", (3, 3, 1, 8)), ("rooms.csv", (2, 1, 0, 3))])
def test_examples_are_read(name: str, counts: tuple[int, ...]) -> None:
    report = read_room_list(EXAMPLES[name], where=name)
    read = report.counts
    assert (read.storeys, read.doors, read.windows, read.rooms) == counts


def test_every_audit_rule_is_on_the_page() -> None:
    source = "".join(p.read_text() for p in (ROOT / "src/rehaul/house/audit").glob("*.py"))
    codes = set(re.findall(r'code="([a-z-]+)"', source))
    listed = set(re.findall(r"`([a-z]+(?:-[a-z]+)+)`", PAGE.split("## The audit")[1]))
    assert listed == codes
