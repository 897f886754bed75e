"""Which boxes radiate today, and what is said of delay in a house, by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from rehaul.house import Box, House, Job, Storey
from rehaul.predict import Delay, standing_radiators
from rehaul.predict.delay import delay_notes


def box(name: str, equipment: str = "access point HE 2x2", **more: Any) -> Box:
    given = {"id": name, "name": name, "equipment": equipment, "storey": "u", "position": (1, 2), **more}
    return Box.model_validate(given)


def test_a_box_that_goes_radiates_today_and_not_once_it_has_gone() -> None:
    boxes = (
        box("stays", height_m=2.0),
        box("goes", keep=False),
        box("mute", radio=False),
        box("wired", "switch 8 PoE 60"),
    )
    storeys = (Storey(id="g", name="G", elevation_m=0), Storey(id="u", name="U", elevation_m=3))
    job = Job(id="j", title="J", house=House(storeys=storeys), boxes=boxes)
    assert [one.id for one in standing_radiators(job)] == ["stays", "goes"]
    (left,) = standing_radiators(job, keep_only=True)
    assert left.id == "stays" and left.position_m == (1, 2, 5.0)


def room(name: str, high_ms: float, grade: str, **more: Any) -> Any:
    given = {"low_ms": 12, "high_ms": high_ms, "grade": grade, "at": f"the line of {name}", **more}
    return SimpleNamespace(name=name, delay=Delay.model_validate(given))


def test_the_worst_room_says_what_delay_is_like_and_what_helps() -> None:
    rows = [
        room("Attic", 300, "high", low_ms=20, remedy="turn on the router's queue"),
        room("Hall", 90, "medium"),
        SimpleNamespace(name="Cellar", delay=None),
    ]
    (said,) = delay_notes(rows)
    assert "12" in said and "300" in said and "the line of Attic" in said
    assert "turn on the router's queue" in said.lower() or "Turn on the router's queue" in said
    assert said.rstrip(".").endswith("A range, not a promise")
    (bare,) = delay_notes(rows[1:])
    assert "router's queue" not in bare and "90" in bare and "the line of Hall" in bare


def test_low_delay_is_not_spoken_of_but_a_room_that_asks_is_told() -> None:
    assert delay_notes([]) == delay_notes([SimpleNamespace(name="Cellar", delay=None)]) == ()
    assert delay_notes([room("Hall", 40, "low")]) == ()
    asked = room("Hall", 40, "low", asked_ms=60, verdict="met")
    (said,) = delay_notes([asked])
    assert "Hall" in said and "60" in said and "met" in said
    late = room("Attic", 300, "high", asked_ms=60, verdict="not met", remedy="wire the device")
    general, own = delay_notes([late])
    assert "Attic" in own and "not met" in own and "wire the device" in own.lower()
    assert "A range, not a promise" in general and "A range, not a promise" not in own
