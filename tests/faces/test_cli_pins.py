"""`rehaul pins`: one link on a cable, and two."""

from __future__ import annotations

import json

import pytest

from rehaul.cli.main import main


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    main(["pins", *arguments])
    return capsys.readouterr().out


def test_two_links_share_no_wire_and_one_cable(capsys: pytest.CaptureFixture[str]) -> None:
    first, second = json.loads(said(capsys, "--two-links", "--json"))["jacks"]
    used = [{row["colour"] for row in jack["rows"]} for jack in (first, second)]
    assert len(used[0]) == len(used[1]) == 4 and not used[0] & used[1]
    assert [[row["pin"] for row in jack["rows"]] for jack in (first, second)] == [[1, 2, 3, 6]] * 2
    text = said(capsys, "--two-links")
    assert "Second link" in text and "100 Mb/s at most on each link" in text
    assert "Second link" not in said(capsys)
