"""What falls short, row by row, before anything is predicted: needs first, then wired outlets; by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from rehaul.design import explain
from rehaul.design.results import RoomShortfall

thing: Any = SimpleNamespace


def found(
    needs: list[tuple[str, float, float]],
    outlets: list[tuple[str, int]],
    served: list[float],
    met: list[bool],
    counted: tuple[int, ...],
) -> tuple[RoomShortfall, ...]:
    """Shortfalls under a plan of 200 down and 40 up; needs are room, down and up [Mb/s]."""
    rooms = tuple(thing(id=name, name=name.title()) for name in ("hall", "den", "loft"))
    job: Any = thing(house=thing(rooms=rooms), service=thing(down_mbps=200.0, up_mbps=40.0))
    placing: Any = thing(
        needs=tuple(thing(room=room, down_mbps=down, up_mbps=up) for room, down, up in needs),
        problem=thing(counted=tuple(thing(name=f"outlets {room}", least=least) for room, least in outlets)),
    )
    chosen: Any = thing(met=tuple(met), served=tuple(served), counted=counted)
    return explain.shortfalls(job, placing, chosen)


@pytest.fixture(autouse=True)
def _each_fix_is_its_place(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(explain, "_fix", lambda *asked: (f"fix {asked[3]}", 10.0 * asked[3]))


def test_what_a_room_gets_stands_at_nothing_until_it_is_predicted() -> None:
    (row,) = found([("den", 60.0, 5.0)], [], [0.4326], [False], ())
    assert (row.room, row.name, row.need_mbps, row.gets_mbps) == ("den", "Den", 60.0, 0.0)
    assert (row.served_pct, row.kind, row.fix, row.fix_cost) == (43.3, "down", "fix 0", 0.0)


def test_needs_and_then_outlets_and_only_what_is_not_met() -> None:
    """One of three outlets is a third, and none of two nothing; their places follow those of the needs."""
    needs = [("hall", 60.0, 5.0), ("den", 60.0, 5.0)]
    outlets = [("hall", 3), ("loft", 2), ("den", 1)]
    rows = found(needs, outlets, [1.0, 0.5], [True, False, False, False, True], (1, 0, 1))
    assert [(row.room, row.kind, row.fix) for row in rows] == [
        ("den", "down", "fix 1"),
        ("hall", "outlets", "fix 2"),
        ("loft", "outlets", "fix 3"),
    ]
    assert [(row.need_mbps, row.gets_mbps, row.served_pct) for row in rows[1:]] == [
        (3.0, 1.0, 33.3),
        (2.0, 0.0, 0.0),
    ]
    assert [(row.name, row.fix_cost) for row in rows[1:]] == [("Hall", 20.0), ("Loft", 30.0)]
    (bare,) = found([], [("loft", 2)], [], [False], ())
    assert (bare.gets_mbps, bare.served_pct) == (0.0, 0.0), "a choice that counted nothing"
    assert found(needs, outlets, [1.0, 1.0], [True] * 5, (3, 2, 1)) == ()


@pytest.mark.parametrize(
    ("down", "up", "kind"),
    [
        (200.0, 40.0, "down"),
        (200.0, 40.5, "up"),
        (200.5, 40.5, "down"),
        (200.5, 40.0, "down"),
    ],
)
def test_it_lacks_the_way_up_where_the_line_falls_short_of_that_alone(
    down: float, up: float, kind: str
) -> None:
    (row,) = found([("den", down, up)], [], [0.0], [False], ())
    assert row.kind == kind
