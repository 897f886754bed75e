"""What the auditor asks of data over coax: adapters, splitters that pass them, no satellite, a filter."""

from __future__ import annotations

from typing import Any

import pytest

from rehaul.auditor.copper import coax_is_fit
from rehaul.auditor.reading import RowView
from rehaul.house import House, Job, MeetingPoint, Obligation, Outlet, Run, SignOff, Splitter, Storey


def owed(kind: str, state: str, words: str | None = None, run: str = "C1") -> Obligation:
    sign_off = None if words is None else SignOff(by="A. Person", date="2026-03-01", words=words)
    return Obligation(id=f"O-{kind}".replace(" ", "-"), kind=kind, run=run, state=state, sign_off=sign_off)


def splitter(name: str, **fields: Any) -> Splitter:
    return Splitter(**({"id": name, "name": name, "storey": "1", "passes_mhz": 1675} | fields))


def coaxial(**changes: Any) -> tuple[Job, dict[str, Any]]:
    """Two coaxes on a splitter, one to a plate with an adapter, one from where the lines come in.

    A third goes from another splitter to another plate; `job` and `plan` change either.
    """
    outlets = tuple(Outlet(id=f"P{n}", storey="1", kind="coax") for n in (1, 2))
    house = House(
        storeys=(Storey(id="1", name="Ground", elevation_m=0),),
        outlets=outlets,
        meeting_points=(MeetingPoint(id="m1", name="Closet", storey="1", position=(0, 0)),),
        splitters=changes.pop("splitters", (splitter("s1"), splitter("s2"))),
        runs=(
            Run(id="K1", ends=("m1", "s1"), kind="coax"),
            Run(id="K2", ends=("s1", "P1"), kind="coax"),
            Run(id="K3", ends=("s2", "P2"), kind="coax"),
            Run(id="C4", ends=("m1", "s1"), kind="cat5e"),
        ),
        entry_filter=changes.pop("entry_filter", None),
    )

    def link(name: str, a: str, b: str, run: str = "", **fields: Any) -> dict[str, Any]:
        usual = {"medium": "coax", "rate_mbps": 1000, "chance": 1, "shares": "", "poe_class": 0, "pieces": []}
        return (
            {"id": name, "a": a, "b": b, "run": run, "age": "old", "held": "", "length_m": 5} | usual | fields
        )

    kinds = {"m1": "meeting point", "s1": "splitter", "P1": "outlet", "A1": "adapter", "A2": "adapter"}
    nodes = [
        {"id": name, "kind": kind, "name": name, "storey": "1", "position": None, "room": ""}
        for name, kind in changes.pop("nodes", kinds).items()
    ]
    links = [
        link("L1", "m1", "s1", "K1"),
        link("L2", "s1", "P1", "K2"),
        link("L3", "P1", "A1", medium="cord"),
    ]
    links += [link("L4", "m1", "A2", medium="cord")] if changes.pop("plugged", False) else []
    step = {"rate_mbps": 1, "chance": 1, "shares": "", "poe_class": 0, "medium": "coax"}
    used = [step | {"id": name} for name in changes.pop("used", ("L1", "L2"))]
    for one in links:
        one["age"] = changes.get("age", "old")
    parts = [
        {"item": item, "need": 1, "quantity": 1, "unit": "", "unit_price": 1, "price": 1, "because": [why]}
        for item, why in changes.pop("bought", ())
    ]
    plan = {
        "graph": {"after": {"nodes": nodes, "links": links}},
        "paths": [
            {"to": "N1", "kind": "outlet", "links": used, "rate_mbps": 1, "chance": 1, "narrowest": ""}
        ],
        "takeoff": {"parts": parts},
    }
    return Job(id="j", title="j", house=house, obligations=changes.pop("obligations", ())), plan


@pytest.mark.parametrize(
    ("changes", "about"),
    [
        ({"entry_filter": True}, []),
        ({}, [("K1",)]),  # to where the lines come in, without a filter
        ({"entry_filter": False}, [("K1",)]),
        ({"bought": [("coax_filter", "K1")]}, []),
        ({"bought": [("coax_filter", "K2")]}, [("K1",)]),
        ({"bought": [("adapter", "K1")]}, [("K1",)]),
        ({"plugged": True}, []),  # an adapter is plugged in there
        ({"entry_filter": True, "nodes": {"A1": "adapter", "s1": "splitter"}}, [("L1", "L2")]),
        ({"nodes": {"A1": "adapter"}, "used": ()}, []),  # no data over coax at all
        ({"nodes": {"A1": "adapter"}, "age": "kept"}, []),
        ({"entry_filter": True, "splitters": (splitter("s1", amplifier=True), splitter("s2"))}, [("s1",)]),
        ({"entry_filter": True, "splitters": (splitter("s1", passes_mhz=None), splitter("s2"))}, [("s1",)]),
        ({"entry_filter": True, "splitters": (splitter("s1", passes_mhz=1674), splitter("s2"))}, [("s1",)]),
        ({"entry_filter": True, "splitters": (splitter("s1"), splitter("s2", passes_mhz=5))}, []),  # apart
        (
            {
                "entry_filter": True,
                "splitters": (splitter("s1", passes_mhz=5), splitter("s2")),
                "bought": [("splitter", "s1")],
            },
            [],
        ),
        ({"entry_filter": True, "obligations": (owed("satellite", "in use"),)}, []),  # not on a coax of these
        ({"entry_filter": True, "obligations": (owed("satellite", "in use", run="K3"),)}, []),
        ({"entry_filter": True, "obligations": (owed("satellite", "in use", run="K2"),)}, [("O-satellite",)]),
        ({"entry_filter": True, "obligations": (owed("television", "in use", run="K2"),)}, []),
        ({"entry_filter": True, "obligations": (owed("satellite", "released", "", run="K2"),)}, []),
        (
            {"entry_filter": True, "used": ("L2",), "obligations": (owed("satellite", "in use", run="K1"),)},
            [("O-satellite",)],
        ),
    ],
)
def test_what_data_over_coax_need(changes: dict[str, Any], about: list[tuple[str, ...]]) -> None:
    job, plan = coaxial(**changes)
    assert [one.about for one in coax_is_fit(job, RowView(plan))] == about
