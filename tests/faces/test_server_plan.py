"""The plan, its maps and papers, the live map, and stopping."""

from __future__ import annotations

import io
import json
import struct
import time
import zipfile
from collections.abc import Iterator
from typing import Any

import httpx
import numpy as np
import pypdfium2
import pytest
from PIL import Image
from server import Running, Talker, running
from websockets.sync.client import ClientConnection

from rehaul.jobs import demo_job, save_job

JOB = "/api/jobs/demo"
pytestmark = pytest.mark.xdist_group("one plan")  # made once, looked at by many


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    folder = tmp_path_factory.mktemp("jobs")
    save_job(folder / "demo.rehaul.json", demo_job())
    with running(folder) as found:
        yield found


@pytest.fixture(scope="module")
def ann(server: Running) -> httpx.Client:
    return server.paired("Ann")


def unframed(data: bytes) -> tuple[dict[str, Any], np.ndarray]:
    (length,) = struct.unpack_from("<I", data)
    header = json.loads(data[4 : 4 + length])
    assert (4 + length) % 4 == 0
    values = np.frombuffer(data, "<f4", offset=4 + length)
    return header, values.reshape(header["rows"], header["cols"])


def ask(field: ClientConnection, **request: Any) -> tuple[dict[str, Any], np.ndarray] | dict[str, Any]:
    field.send(json.dumps({"n": 1, **request}))
    answer = field.recv(timeout=60)
    return unframed(answer) if isinstance(answer, bytes) else json.loads(answer)


def wait(client: httpx.Client, path: str, *, seconds: float = 300) -> dict[str, Any]:
    ends = time.monotonic() + seconds
    while True:
        found: dict[str, Any] = client.get(path).json()
        if found["state"] not in ("working",):
            return found
        assert time.monotonic() < ends, "it does not end"
        time.sleep(0.1)


@pytest.fixture(scope="module")
def planned(ann: httpx.Client) -> dict[str, Any]:
    assert ann.get(f"{JOB}/plan").json()["state"] == "none"
    assert ann.post(f"{JOB}/plan").json()["state"] == "working"
    found = wait(ann, f"{JOB}/plan")
    assert found["state"] == "done", found
    return found


@pytest.mark.slow
def test_the_plan(planned: dict[str, Any], ann: httpx.Client) -> None:
    assert planned["plan"]["choice"]["access_points"]
    assert planned["stale"] is False
    assert ann.post(f"{JOB}/plan").json()["state"] == "done", "the same job is not planned twice"


@pytest.mark.slow
def test_a_plan_is_said_in_the_language_of_who_asks(ann: httpx.Client, planned: dict[str, Any]) -> None:
    said = {
        language: ann.get(f"{JOB}/plan", headers={"accept-language": language}).json()["plan"]
        for language in ("en", "fr-CA", "de")
    }
    reasons = {
        language: [row["reason"] for run in plan["cabling"] for row in run["ethernet"]]
        for language, plan in said.items()
    }
    assert reasons["de"] == reasons["en"]
    assert all(one != other for one, other in zip(reasons["en"], reasons["fr-CA"], strict=True))
    assert said["en"]["takeoff"]["quote"]["total"] == said["fr-CA"]["takeoff"]["quote"]["total"]


def test_maps_of_the_plan(planned: dict[str, Any], ann: httpx.Client) -> None:
    ask = {"storey": "1", "quantity": "down_mbps"}
    _, before = unframed(ann.get(f"{JOB}/plan/map", params={**ask, "which": "before"}).content)
    header, after = unframed(ann.get(f"{JOB}/plan/map", params={**ask, "which": "after"}).content)
    assert before.shape == after.shape
    assert np.array_equal(np.isnan(before), np.isnan(after))
    assert np.nanmean(after) > np.nanmean(before), "the plan does not help"
    assert header["step_m"] > 0
    _, power = unframed(
        ann.get(f"{JOB}/plan/map", params={"storey": "1", "quantity": "power_dbm", "band": "5"}).content
    )
    assert -120 < np.nanmedian(power) < 0
    for bad in ({"storey": "x"}, {"storey": "1", "quantity": "y"}, {"storey": "1", "which": "z"}):
        assert ann.get(f"{JOB}/plan/map", params=bad).status_code == 422


def test_papers(planned: dict[str, Any], ann: httpx.Client) -> None:
    ann.post(f"{JOB}/papers")
    found = wait(ann, f"{JOB}/papers")
    assert found["state"] == "done", found
    pdfs = [row for row in found["papers"] if row["type"] == "application/pdf"]
    assert pdfs
    assert ann.get(f"{JOB}/papers/{pdfs[0]['name']}").content.startswith(b"%PDF")
    assert ann.get(f"{JOB}/papers/..%2f..%2fetc%2fpasswd").status_code == 404


def test_the_live_map_agrees_with_the_plan(
    planned: dict[str, Any], server: Running, ann: httpx.Client
) -> None:
    """Two ways to one number: the plan's map, and the live map of the same boxes."""
    with server.socket(ann, f"{JOB}/field") as field:
        for which, boxes in (("before", "today"), ("after", "plan")):
            ask_for = {"storey": "1", "quantity": "down_mbps", "which": which}
            _, expected = unframed(ann.get(f"{JOB}/plan/map", params=ask_for).content)
            header, found = ask(field, storey="1", boxes=boxes)
            assert header["n"] == 1
            assert np.allclose(found, expected, rtol=1e-5, equal_nan=True)


def test_moving_a_box_a_door_and_a_wall(server: Running, ann: httpx.Client) -> None:
    job = demo_job()
    box = job.boxes[0].id
    with server.socket(ann, f"{JOB}/field") as field:
        _, still = ask(field, storey="1")
        _, moved = ask(field, storey="1", moves=[{"id": box, "storey": "1", "position": [3.0, 3.0]}])
        assert np.nanmean(moved) > np.nanmean(still), "a router on the same storey is not better"
        doors = [opening.id for opening in job.house.openings if opening.kind == "door"][:50]
        there = {"storey": "1", "moves": [{"id": box, "storey": "1", "position": [3.0, 3.0]}]}
        powers = []
        for stands_open in (True, False):
            swung = [
                {"do": "set", "kind": "opening", "id": door, "fields": {"open": stands_open}}
                for door in doors
            ]
            powers.append(ask(field, **there, changes=swung, quantity="power_dbm", band="5")[1])
        assert np.nanmean(powers[0]) > np.nanmean(powers[1]), "shut doors let more through"
        gone = [{"do": "drop", "kind": "wall", "id": w.id} for w in job.house.walls if w.storey == "1"][:20]
        _, open_plan = ask(field, storey="1", changes=gone, quantity="power_dbm", band="5")
        _, walled = ask(field, storey="1", quantity="power_dbm", band="5")
        assert np.nanmean(open_plan) > np.nanmean(walled), "taking walls away does not help"
        _, again = ask(field, storey="1")
        assert np.array_equal(again, still, equal_nan=True)
    assert ann.get(JOB).json()["revision"] == 0, "trying is not saving"


def test_a_box_of_the_pages_own(server: Running, ann: httpx.Client) -> None:
    own = {"id": "N1", "equipment": "router HE 2x2", "storey": "1", "position": [3, 3], "wire_mbps": 90}
    with server.socket(ann, f"{JOB}/field") as field:
        _, values = ask(field, storey="1", boxes=[own])
        assert np.nanmax(values) == pytest.approx(90), "the cable is not the limit"
        answer = ask(field, storey="1", boxes=[{**own, "equipment": "a kettle"}])
        assert "does not radiate" in answer["refusal"]["problem"]


def test_a_spot_with_its_chain(server: Running, ann: httpx.Client) -> None:
    with server.socket(ann, f"{JOB}/field") as field:
        spot = ask(field, spot={"storey": "1", "position": [3.0, 3.0]})["spot"]
        assert spot["low_mbps"] <= spot["median_mbps"] <= spot["high_mbps"]
        rates = {link["name"]: link["rate_mbps"] for link in spot["links"]}
        assert rates[spot["narrowest"]] == min(rates.values())


@pytest.mark.parametrize(
    "request_data",
    [{}, {"storey": "zz"}, {"storey": "1", "step_m": 0.001}, {"storey": "1", "quantity": "x"},
     {"storey": "1", "boxes": "x"}, {"spot": {"storey": "1"}}, {"spot": {"storey": "zz", "position": [0, 0]}},
     {"storey": "1", "changes": [{"do": "x"}]},
     {"storey": "1", "moves": [{"id": "x", "position": [1e9]}]}, {"storey": "1", "step_m": None}],
)  # fmt: skip
def test_requests_that_cannot_be_met(
    server: Running, ann: httpx.Client, request_data: dict[str, Any]
) -> None:
    with server.socket(ann, f"{JOB}/field") as field:
        answer = ask(field, **request_data)
        assert answer["n"] == 1
        assert answer["refusal"]["problem"]


def test_only_the_newest_request_waits(server: Running, ann: httpx.Client) -> None:
    with server.socket(ann, f"{JOB}/field") as field:
        ask(field, storey="1")
        for number in range(2, 400):
            field.send(json.dumps({"n": number, "storey": "1", "step_m": 0.1 + number / 1e6}))
        answered = []
        while not answered or answered[-1] != 399:
            answered.append(unframed(field.recv(timeout=60))[0]["n"])
        assert answered == sorted(answered)
        assert len(answered) < 398


def test_the_handover_record_takes_the_photos_along(planned: dict[str, Any], ann: httpx.Client) -> None:
    assert ann.get(f"{JOB}/handover/file").status_code == 404
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), (120, 80, 40)).save(picture, "JPEG")
    step = next(task["key"] for task in planned["plan"]["order"] if task["photo"])
    added = ann.post(f"{JOB}/pictures", params={"step": step}, content=picture.getvalue())
    assert added.status_code == 201, added.text
    ann.post(f"{JOB}/handover")
    found = wait(ann, f"{JOB}/handover")
    assert (found["state"], [row["name"] for row in found["files"]]) == ("done", ["handover.zip"])
    answer = ann.get(f"{JOB}/handover/file")
    assert answer.headers["content-type"] == "application/zip"
    with zipfile.ZipFile(io.BytesIO(answer.content)) as record:
        assert record.testzip() is None
        (photo,) = [name for name in record.namelist() if name.startswith("photos/")]
        assert Image.open(record.open(photo)).size == (40, 30)
        assert photo in record.read("plain/csv/photos_taken.csv").decode("utf-8-sig")
        assert record.read("handover.pdf").startswith(b"%PDF")
    ann.delete(f"{JOB}/pictures/{added.json()['picture']}")
    assert ann.get(f"{JOB}/handover/file").status_code == 404, "made of a photo that is gone"
    assert ann.get(f"{JOB}/handover").json()["kept_at"] == ""
    for place in ("x" * 101, "two\nlines", 5):
        assert ann.post(f"{JOB}/handover", json={"kept_at": place}).status_code == 422
    ann.post(f"{JOB}/handover", json={"kept_at": "meter cupboard"})
    made = wait(ann, f"{JOB}/handover")
    assert (made["state"], made["kept_at"]) == ("done", "meter cupboard")
    with zipfile.ZipFile(io.BytesIO(ann.get(f"{JOB}/handover/file").content)) as record:
        assert not [name for name in record.namelist() if name.startswith("photos/")]
        door = pypdfium2.PdfDocument(record.read("closet-door.pdf"))[0].get_textpage().get_text_bounded()
        assert "meter cupboard" in door and "write it here" not in door


def test_an_edit_makes_the_plan_stale(planned: dict[str, Any], server: Running, ann: httpx.Client) -> None:
    with server.socket(ann, f"{JOB}/live") as live:
        talker = Talker(live)
        talker.hear("snapshot")
        change = {"do": "set", "kind": "service", "fields": {"down_mbps": 250}}
        talker.say(type="edit", edit="edit-000001", base=0, changes=[change])
        talker.hear("ack")
    assert ann.get(f"{JOB}/plan").json()["stale"] is True


def test_stopping(server: Running, ann: httpx.Client) -> None:
    with server.socket(ann, f"{JOB}/live") as live:
        talker = Talker(live)
        change = {"do": "set", "kind": "service", "fields": {"down_mbps": 260}}
        talker.say(type="edit", edit="edit-000002", base=0, changes=[change])
        talker.hear("ack")
        ann.post(f"{JOB}/plan")
        while talker.hear("plan")["state"] != "working":
            pass
        assert ann.delete(f"{JOB}/plan").json()["state"] == "stopped"
        while talker.hear("plan")["state"] != "stopped":
            pass
    assert ann.get(f"{JOB}/plan").json()["state"] == "stopped"
    assert ann.post(f"{JOB}/plan").json()["state"] == "working", "it can be started again"
    assert ann.delete(f"{JOB}/plan").status_code == 200


def test_who_shows_a_plan_is_told_the_answer_of_an_edit_before_the_plan(
    server: Running, planned: dict[str, Any]
) -> None:
    bea, cem = server.paired("Bea"), server.paired("Cem")
    bea.post(f"{JOB}/plan")  # where it was stopped it is asked for again
    assert wait(bea, f"{JOB}/plan")["state"] == "done"
    live = f"{JOB}/live"
    with server.socket(bea, live) as one, server.socket(cem, live) as other:
        shows, looks_on = Talker(one), Talker(other)
        job = shows.hear("snapshot")["job"]
        looks_on.hear("snapshot")
        shows.say(type="showing", plan=True)
        need = job["needs"][0]
        change = {"do": "set", "kind": "need", "id": need["id"], "fields": {"down_mbps": 55.0}}
        shows.say(type="edit", edit="an-answer-is-told-1", base=0, label="Need", changes=[change])
        answer = shows.hear("answer", seconds=60)
        assert answer["answer"]["choice"]["access_points"] and answer["answer"]["price"]["total"] > 0
        assert answer["answer"]["choice"]["proven"] is False, "its auditor has not read it yet"
        while (state := shows.hear("plan", seconds=60))["made"] != answer["revision"]:
            assert state["state"] in ("working", "done")
        assert state["answered"] is None
        looks_on.hear("plan", seconds=10, made=answer["revision"])
        assert not [message for message in looks_on.inbox if message["type"] == "answer"]
    whole = bea.get(f"{JOB}/plan").json()["plan"]
    assert whole["after"] == answer["answer"]["after"]
    assert whole["takeoff"]["quote"]["total"] == answer["answer"]["price"]["total"]


def test_what_is_only_tried_is_answered_as_if_it_were_meant_and_nothing_is_saved(
    server: Running, planned: dict[str, Any]
) -> None:
    bea = server.paired("Bea")
    before = bea.get(JOB).json()
    need = before["job"]["needs"][0]
    change = {"do": "set", "kind": "need", "id": need["id"], "fields": {"down_mbps": 41.0}}
    bea.post(f"{JOB}/plan")
    tried = bea.post(f"{JOB}/answer", json={"changes": [change]}).json()
    assert tried["revision"] == before["revision"] and bea.get(JOB).json() == before
    assert wait(bea, f"{JOB}/plan")["state"] == "done", "a plan that was under way goes on"
    as_it_is = bea.post(f"{JOB}/answer", json={"changes": []}).json()["answer"]
    assert as_it_is["after"] == bea.get(f"{JOB}/plan").json()["plan"]["after"]
    with server.socket(bea, f"{JOB}/live") as socket:
        talker = Talker(socket)
        talker.hear("snapshot")
        talker.say(type="showing", plan=True)
        talker.say(type="edit", edit="it-is-meant-now-1", base=0, label="Need", changes=[change])
        answer = talker.hear("answer", seconds=60)["answer"]
    assert {**answer, "channels": None} == {**tried["answer"], "channels": None}
    assert (answer["after"] == as_it_is["after"]) is False, "it does change what the room asks"


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ("all", "changes"),
        (None, "changes"),
        ([{"do": "set", "kind": "need", "id": "nobody", "fields": {"down_mbps": 4}}], "edit"),
        ([{"do": "fly"}], "changes"),
    ],
)
def test_what_cannot_be_tried_is_refused(server: Running, changes: Any, where: str) -> None:
    refused = server.paired("Bea").post(f"{JOB}/answer", json={"changes": changes})
    assert refused.status_code in (400, 409, 422) and where in refused.json()["where"], refused.text
