"""A room that gets worse is owned up to by its own name, not by a longer one that holds it."""

from __future__ import annotations

from rehaul.auditor.nothing import nothing_gets_worse
from rehaul.auditor.reading import RowView
from sample_plan_data import sample_job

ROOM = {"room": "R1", "name": "Hall"}


def found(note: str) -> list[str]:
    plan = {
        "before": [{**ROOM, "median_mbps": 300.0, "met": True}],
        "after": [{**ROOM, "median_mbps": 10.0, "met": False}],
        "choice": {"words": "", "shortfalls": []},
        "network": {"notes": [note]},
    }
    return [each.sentence for each in nothing_gets_worse(sample_job(), RowView(plan))]


def test_another_room_whose_name_holds_it_is_no_excuse() -> None:
    assert found("The Hallway gets less than today: its wall is thick.")
    assert not found("Hall gets less than today: the box beside it goes.")
    assert not found("Less than today: Kitchen, Hall.")
