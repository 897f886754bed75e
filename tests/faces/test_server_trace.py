"""Routes for tracing, wire maps, and what holds a cable."""

from __future__ import annotations

import httpx
import pytest
from server import Running

from rehaul.jobs import demo_job
from rehaul.trace import Bag, Trust, plan_tracing

DEMO = demo_job()


@pytest.fixture
def client(server: Running) -> httpx.Client:
    return server.paired()


def test_tracing_names_plugs_ends_and_what_is_held(client: httpx.Client) -> None:
    found = client.get("/api/jobs/demo/tracing", params={"at": "MP1", "people": 2, "plugs": 8}).json()
    outlets = {outlet.id for outlet in DEMO.house.outlets if outlet.position}
    assert {plug["outlet"] for placed in found["rounds"] for plug in placed} == outlets
    copper = {run.id for run in DEMO.house.runs if "MP1" in run.ends and run.kind != "coax"}
    assert {end["end"] for end in found["ends"]} == copper
    assert {reason["run"] for reason in found["held"]} >= {DEMO.obligations[0].run}
    assert found["next"][0]["bits"] > 0


def test_plugs_suit_the_colours_that_can_be_trusted(client: httpx.Client) -> None:
    for trust in (Trust.COLOURS, Trust.TWIST):
        ask = {"at": "MP1", "people": 2, "plugs": 8, "trust": trust}
        found = client.get("/api/jobs/demo/tracing", params=ask).json()
        plan = plan_tracing(
            DEMO.house,
            "MP1",
            Bag(plugs=8, toner=True),
            people=2,
            colours_trusted=trust,
            obligations=DEMO.obligations,
        )
        assert found["sentence"] == plan.codes.sentence
        names = [(outlet, plug.name) for placed in plan.codes.rounds for outlet, plug in placed]
        assert [(plug["outlet"], plug["name"]) for placed in found["rounds"] for plug in placed] == names


@pytest.mark.parametrize(
    "ask",
    [
        {"at": "nowhere"},
        {"at": "MP1", "people": 3},
        {"at": "MP1", "plugs": "x"},
        {"at": "MP1", "trust": "me"},
    ],
)
def test_what_cannot_be_traced_is_refused(client: httpx.Client, ask: dict[str, str]) -> None:
    answer = client.get("/api/jobs/demo/tracing", params=ask)
    assert answer.status_code == 422
    assert answer.json()["remedy"]


def test_a_wire_map_is_explained(client: httpx.Client) -> None:
    straight = {str(pin): [pin] for pin in range(1, 9)}
    assert client.post("/api/wires", json={"far_pins": straight}).json()["faults"] == []
    found = client.post("/api/wires", json={"far_pins": {**straight, "1": [2], "2": [1]}}).json()
    assert [fault["kind"] for fault in found["faults"]] == ["reversed pair"]
    split = client.post("/api/wires", json={"far_pins": straight, "split": [[3, 6]]}).json()
    assert [fault["kind"] for fault in split["faults"]] == ["split pair"]


@pytest.mark.parametrize(
    "body", [{}, {"far_pins": [1, 2]}, {"far_pins": {"a": [1]}}, {"far_pins": {"9": [1]}}]
)
def test_what_is_no_wire_map_is_refused(client: httpx.Client, body: object) -> None:
    assert client.post("/api/wires", json=body).status_code == 422


def test_checks_before_cutting_and_what_holds_a_cable(client: httpx.Client) -> None:
    held = DEMO.obligations[0].run
    found = client.get(f"/api/jobs/demo/checks/{held}").json()
    assert found["held"] and found["checks"]
    assert client.get("/api/jobs/demo/checks/C99").status_code == 404
