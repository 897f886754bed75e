"""Routes for tracing, wire maps, and what holds a cable."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from server import Running, running

from line_checks import checked
from rehaul.house import LineCheck, SignOff
from rehaul.jobs import demo_job, save_job
from rehaul.tracing import Bag, Trust, plan_tracing

DEMO = demo_job()
CHECKED = checked(DEMO).model_copy(update={"id": "asked"})
ALARM, ALARM_PLATE = "C09", "0-06"
ALONE = {ALARM, ALARM_PLATE, "0-05", "1-04", "2-02"}  # the alarm's, and the coax plates


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    """Two jobs of one house: before and after the line checks."""
    save_job(tmp_path / "demo.rehaul.json", DEMO)
    save_job(tmp_path / "asked.rehaul.json", CHECKED)
    with running(tmp_path) as found:
        yield found


@pytest.fixture
def client(server: Running) -> httpx.Client:
    return server.paired()


def test_before_the_checks_there_are_cards_and_no_plugs(client: httpx.Client) -> None:
    found = client.get("/api/jobs/demo/tracing", params={"at": "MP1", "people": 2, "plugs": 8}).json()
    assert [card["what"] for card in found["first"]] == ["who depends", "voltage", "modem sync"]
    assert (found["rounds"], found["trips"], found["next"]) == ([], [], [])
    assert found["may_tie"] == {"ends": [], "plates": []}
    assert {place for one in found["left_alone"] for place in one["ends"] + one["plates"]} == ALONE
    assert all(one["reason"]["remedy"] for one in found["left_alone"])


def test_tracing_names_plugs_ends_and_what_is_left_alone(client: httpx.Client) -> None:
    found = client.get("/api/jobs/asked/tracing", params={"at": "MP1", "people": 2, "plugs": 8}).json()
    plates = {outlet.id for outlet in DEMO.house.outlets if outlet.position} - ALONE
    assert found["first"] == []
    assert {plug["outlet"] for placed in found["rounds"] for plug in placed} == plates
    assert set(found["may_tie"]["plates"]) == plates
    copper = {run.id for run in DEMO.house.runs if "MP1" in run.ends and run.kind != "coax"}
    assert {end["end"] for end in found["ends"]} == copper
    assert set(found["may_tie"]["ends"]) == copper - {ALARM}
    assert {place for one in found["left_alone"] for place in one["ends"] + one["plates"]} == ALONE
    assert found["next"][0]["bits"] > 0
    assert all(one["end"] != ALARM and one["outlet"] not in ALONE for one in found["next"])


def edited(client: httpx.Client, job: str, edit: str, **entity: Any) -> httpx.Response:
    change = {"do": "put", "kind": entity.pop("kind"), "entity": entity}
    body = {"edit": edit, "base": 0, "label": edit, "changes": [change]}
    return client.post(f"/api/jobs/{job}/edits", json=body)


def test_a_voltage_recorded_by_one_takes_the_plug_from_the_other(client: httpx.Client) -> None:
    found = {"kind": "line_check", "id": "LCx1", "at": "MP1", "what": "voltage", "run": "C02"}
    assert edited(client, "asked", "loud-line-1", **found, dc_v=49.0, ac_v=0.0).status_code == 200
    after = client.get("/api/jobs/asked/tracing", params={"at": "MP1"}).json()
    assert "0-02" not in {plug["outlet"] for placed in after["rounds"] for plug in placed}
    assert after["proposed"] == [
        {
            "run": "C02",
            "state": "live telephone",
            "because": "49 V dc (like a telephone line at rest)",
        }
    ]


def test_a_line_that_somebody_needs_is_not_taken_off(client: httpx.Client) -> None:
    off = LineCheck(id="LCx2", at="MP1", what="disconnected", sign_off=SignOff(by="Owner", date="2026-11-20"))
    refused = edited(client, "asked", "take-it-off", kind="line_check", **off.model_dump(mode="json"))
    assert refused.status_code == 409
    assert refused.json()["code"] == "held" and "alarm" in refused.json()["problem"]


def test_plugs_suit_the_colours_that_can_be_trusted(client: httpx.Client) -> None:
    for trust in (Trust.COLOURS, Trust.TWIST):
        ask = {"at": "MP1", "people": 2, "plugs": 8, "trust": trust}
        found = client.get("/api/jobs/asked/tracing", params=ask).json()
        plan = plan_tracing(CHECKED, "MP1", Bag(plugs=8, toner=True), people=2, colours_trusted=trust)
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
