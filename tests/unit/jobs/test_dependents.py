"""What hangs on a thing that is to go: by which field, what becomes of that, and what was signed."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

import rehaul.takeoff
from rehaul.house import House, Job, Need, Room, Run, Service, Storey
from rehaul.house.job import Choices
from rehaul.jobs.dependents import cleared, hangers, signed_on
from rehaul.jobs.draft import Draft

SQUARE = ((0, 0), (4, 0), (4, 4), (0, 4))


def draft() -> Draft:
    job = Job(
        id="j",
        title="j",
        house=House(
            storeys=(Storey(id="1", name="Ground", elevation_m=0),),
            rooms=(Room(id="R1", name="Hall", storey="1", polygon=SQUARE),),
            runs=(Run(id="C1", ends=("MP1", "P1", "P2")), Run(id="C2", ends=("MP1", "P3"))),
        ),
        needs=(Need(id="N1", room="R1", uses=("stream 4K",)),),
        service=Service(modem="B1", run="C1", enters="P1"),
        choices=Choices(to_be_moved=("O1", "O2")),
    )
    return Draft(cast(Any, SimpleNamespace(job=job, dropped={})))


@pytest.mark.parametrize(
    ("kind", "name", "found"),
    [
        ("room", "R1", [("need", "N1", "room", "along")]),
        ("storey", "1", [("room", "R1", "storey", "hold")]),
        ("outlet", "P1", [("run", "C1", "ends", "clear"), ("service", "", "enters", "clear")]),
        ("outlet", "P2", [("run", "C1", "ends", "clear")]),
        ("meeting_point", "MP1", [("run", "C1", "ends", "clear"), ("run", "C2", "ends", "clear")]),
        ("box", "B1", [("service", "", "modem", "clear")]),
        ("run", "C1", [("service", "", "run", "clear")]),
        ("run", "P1", []),  # a plate's name is no cable's
        ("run", "C2", []),
        ("obligation", "O2", [("choices", "", "to_be_moved", "strike")]),
        ("need", "N1", []),
    ],
)
def test_what_names_a_thing_and_by_which_field(kind: str, name: str, found: list[tuple[str, ...]]) -> None:
    assert list(hangers(draft(), kind, name)) == found


def test_what_is_left_of_a_field_whose_thing_is_gone() -> None:
    assert cleared(("MP1", "P1", "P2"), "P1", "clear") == ["MP1", "unknown", "P2"]  # the end is still there
    assert cleared("R1", "R1", "clear") is None
    assert cleared(("O1", "O2"), "O1", "strike") == ["O2"]
    assert cleared(("O1",), "O1", "strike") == []


def test_only_the_plan_of_the_newest_offer_holds_what_it_stands_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rehaul.takeoff, "how_kept", lambda offer: offer.kept)
    monkeypatch.setattr(rehaul.takeoff, "stands_on", lambda text: frozenset(text.split()))

    def on(name: str, *offers: tuple[str, str]) -> str:
        rows = [SimpleNamespace(id=f"A{n}", plan=plan, kept=kept) for n, (plan, kept) in enumerate(offers, 1)]
        found = {("job", ""): SimpleNamespace(accepted_offers=rows)}
        job = SimpleNamespace(find=lambda kind, name: found.get((kind, name)))
        return signed_on(cast(Any, job), name)

    assert on("C1") == ""
    assert on("C1", ("C1 R1", "all")) == "A1"
    assert on("R1", ("C1", "all"), ("C1 R1", "all")) == "A2"
    assert on("R1", ("C1 R1", "all"), ("C1", "all")) == ""  # the newer one does without it
    assert on("R1", ("C1 R12", "all")) == ""  # another room, whose name only begins so
    for kept in ("altered", "erased", "unread", "words and price"):
        assert on("C1", ("C1 R1", kept)) == "", kept
