"""The live socket and the job's other addresses, with several clients on one server."""

from __future__ import annotations

import asyncio
import json
import socket
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from server import Running, Talker, running
from websockets.exceptions import ConnectionClosed

from rehaul.house import Job, Storey, Wall
from rehaul.house.model import House
from rehaul.jobs import Store, connect, edit_job, open_job, save_job
from rehaul.web.protocols import Patient

WALLS = tuple(
    Wall(id=f"w{n}", storey="g", start=start, end=end)
    for n, (start, end) in enumerate(
        [((0, 0), (8, 0)), ((8, 0), (8, 5)), ((8, 5), (0, 5)), ((0, 5), (0, 0))], 1
    )
)
JOB = Job(
    id="small",
    title="Small",
    house=House(storeys=(Storey(id="g", name="Ground", elevation_m=0),), walls=WALLS),
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "small.rehaul.json"
    save_job(path, JOB)
    return path


@pytest.fixture
def server(path: Path) -> Iterator[Running]:
    with running(path.parent) as found:
        yield found


def edit(base: int, number: int, *changes: dict[str, Any], label: str = "") -> dict[str, Any]:
    return {"edit": f"edit-{number:06d}", "base": base, "label": label, "changes": list(changes)}


def note(wall: str, words: str) -> dict[str, Any]:
    return {"do": "set", "kind": "wall", "id": wall, "fields": {"note": words}}


def test_two_people_and_one_offline(server: Running, path: Path) -> None:
    ann, ben = server.paired("Ann"), server.paired("Ben")
    with server.socket(ann, "/api/jobs/small/live") as a, server.socket(ben, "/api/jobs/small/live") as b:
        first, second = Talker(a), Talker(b)
        snapshot = first.hear("snapshot")
        assert snapshot["revision"] == 0
        assert snapshot["job"]["house"]["walls"][0]["id"] == "w1"
        second.hear("snapshot")
        first.say(type="edit", **edit(0, 1, note("w1", "brick"), label="Note"))
        told = second.hear("edits")["edits"]
        assert [(row["revision"], row["name"], row["label"]) for row in told] == [(1, "Ann", "Note")]
        assert first.hear("edits")["edits"][0]["edit"] == "edit-000001", "one's own edit comes before its ack"
        assert first.hear("ack") == {"type": "ack", "edit": "edit-000001", "revision": 1, "told": []}
        assert first.hear("mine", undo="Note")["redo"] is None

    # Ben is offline; both change the same field
    with server.socket(ann, "/api/jobs/small/live") as a:
        first = Talker(a, seen=1)
        first.say(type="edit", **edit(1, 2, note("w1", "stone")))
        first.hear("ack", edit="edit-000002")
    with server.socket(ben, "/api/jobs/small/live") as b:
        second = Talker(b, seen=1)
        assert second.hear("edits")["edits"][0]["changes"] == [note("w1", "stone")]
        second.say(type="edit", **edit(1, 3, note("w1", "timber")))
        assert [row["code"] for row in second.hear("ack")["told"]] == ["overrode"]
    with server.socket(ann, "/api/jobs/small/live") as a:
        first = Talker(a, seen=2)
        notices = first.hear("notice")["notices"]
        assert [(row["code"], row["by"]) for row in notices] == [("overtaken", "Ben")]
        first.say(type="seen", notice=notices[-1]["notice"])
        first.say(type="undo", edit="undo-000001")
        assert first.hear("refused")["refusal"]["code"] == "overtaken"
    with server.socket(ann, "/api/jobs/small/live") as a:
        first = Talker(a, seen=None)
        assert first.hear("snapshot")["job"]["house"]["walls"][0]["note"] == "timber"
        first.hear("mine")
        with pytest.raises(TimeoutError):
            first.hear("notice", seconds=0.5)


def test_bad_edits_are_refused_and_not_sent_on(server: Running) -> None:
    ann, ben = server.paired("Ann"), server.paired("Ben")
    with server.socket(ann, "/api/jobs/small/live") as a, server.socket(ben, "/api/jobs/small/live") as b:
        first, second = Talker(a), Talker(b)
        second.hear("snapshot")
        bad = {"do": "set", "kind": "wall", "id": "w1", "fields": {"end": [0, 0]}}
        first.say(type="edit", **edit(0, 1, bad))
        refusal = first.hear("refused")
        assert refusal["edit"] == "edit-000001"
        assert "no length" in refusal["refusal"]["problem"]
        first.say(type="edit", edit=5)
        assert first.hear("refused")["refusal"]["code"] == "bad-input"
        first.say(type="undo", edit="../x")
        assert first.hear("refused")["refusal"]["code"] == "bad-input"
        first.say(type="edit", **edit(0, 2, note("w2", "good")))
        first.hear("ack")
        assert second.hear("edits")["edits"][0]["edit"] == "edit-000002"


def test_many_at_once_in_order(server: Running) -> None:
    ann, ben = server.paired("Ann"), server.paired("Ben")
    with server.socket(ann, "/api/jobs/small/live") as a, server.socket(ben, "/api/jobs/small/live") as b:
        first, second = Talker(a), Talker(b)
        for number in range(300):
            first.say(type="edit", **edit(0, number, note("w1", str(number))))
        for number in range(300):
            assert first.hear("ack")["edit"] == f"edit-{number:06d}"
        start = second.hear("snapshot")["revision"]
        assert [row["revision"] for row in second.rows(300)] == list(range(start + 1, 301))


def test_undo_and_redo(server: Running) -> None:
    ann = server.paired("Ann")
    with server.socket(ann, "/api/jobs/small/live") as a:
        first = Talker(a)
        first.say(type="edit", **edit(0, 1, {"do": "drop", "kind": "wall", "id": "w1"}, label="Drop"))
        first.hear("ack")
        first.say(type="undo", edit="undo-000001")
        first.hear("ack", edit="undo-000001")
        back = first.rows(2)[-1]
        assert back["changes"][0]["do"] == "put"
        assert back["undoes"] == 1
        assert first.hear("mine", redo="Drop")["undo"] is None
        first.say(type="redo", edit="redo-000001")
        first.hear("ack", edit="redo-000001")
        first.say(type="redo", edit="redo-000002")
        assert first.hear("refused")["refusal"]["code"] == "nothing-to-undo"


def test_who_is_here(server: Running) -> None:
    ann, ben = server.paired("Ann"), server.paired("Ben")
    with server.socket(ann, "/api/jobs/small/live") as a:
        first = Talker(a)
        with server.socket(ben, "/api/jobs/small/live") as b:
            second = Talker(b)
            second.hear("snapshot")
            second.say(type="here", at={"page": "coverage", "storey": "g"})
            while not any(row["at"].get("page") == "coverage" for row in first.hear("people")["people"]):
                pass
            second.say(type="here", at={"page": "x" * 5000})
        while len(first.hear("people")["people"]) != 1:
            pass


def test_the_file_and_the_command_line(server: Running, path: Path) -> None:
    ann = server.paired("Ann")
    with server.socket(ann, "/api/jobs/small/live") as a:
        first = Talker(a)
        first.hear("snapshot")
        edit_job(path, lambda job: job.model_copy(update={"notes": "by command"}), label="Note")
        row = first.hear("edits", seconds=5)["edits"][0]
        assert (row["name"], row["label"]) == ("the command line", "Note")
        first.say(type="edit", **edit(1, 1, note("w1", "brick")))
        first.hear("ack")
        ends = time.monotonic() + 6
        while open_job(path).house.walls[0].note != "brick":
            assert time.monotonic() < ends, "the file does not follow"
            time.sleep(0.1)
        assert open_job(path).notes == "by command"


def test_the_same_over_http(server: Running) -> None:
    ann = server.paired("Ann")
    receipt = ann.post("/api/jobs/small/edits", json=edit(0, 1, note("w1", "brick")))
    assert receipt.json() == {"edit": "edit-000001", "revision": 1, "told": []}
    assert ann.get("/api/jobs/small").json()["revision"] == 1
    taken = {
        "do": "put",
        "kind": "wall",
        "entity": {"id": "w1", "storey": "g", "start": [0, 0], "end": [1, 0]},
    }
    answer = ann.post("/api/jobs/small/edits", json=edit(1, 2, taken))
    assert (answer.status_code, answer.json()["code"], answer.json()["free"]) == (409, "taken", "w5")
    download = ann.get("/api/jobs/small/file")
    assert download.headers["content-disposition"] == 'attachment; filename="small.rehaul.json"'
    assert json.loads(download.text)["house"]["walls"][0]["note"] == "brick"
    assert ann.post("/api/jobs/small/edits", content=b"x" * 9_000_000).status_code == 413
    assert ann.post("/api/jobs/small/edits", content=b"{").status_code == 422


def test_new_jobs(server: Running, path: Path) -> None:
    ann = server.paired("Ann")
    made = ann.post("/api/jobs", json={"title": "../../Mill lane"})
    assert made.status_code == 201
    demo = ann.post("/api/jobs", json={"demo": True}).json()["id"]
    assert ann.get(f"/api/jobs/{demo}").json()["job"]["invented"] is True
    assert [row["title"] for row in ann.get("/api/me").json()["jobs"]][:1] == ["../../Mill lane"]
    names = {entry.name for entry in path.parent.iterdir()}
    assert f"{made.json()['id']}.rehaul.json" in names
    assert not any("Mill" in name for name in names)
    assert ann.post("/api/jobs", json={"title": " "}).status_code == 422


def test_numbers_and_where_they_come_from(server: Running) -> None:
    ann = server.paired("Ann")
    assert "materials" in ann.get("/api/facts").json()
    rows = ann.get("/api/facts/materials").json()
    assert all(row["document"] and row["how"] for row in rows)
    assert ann.get("/api/facts/..%2ferrors").status_code == 404
    assert ann.get("/api/schema").json()["title"] == "Job"


@pytest.mark.parametrize(
    ("message", "code"),
    [("{", 1008), ("[]", 1008), ('{"type": "edit"}', 1008), ("x" * 8_100_000, 1009), (b"\0", 1003)],
)
def test_what_is_no_hello(server: Running, message: str | bytes, code: int) -> None:
    with server.socket(server.paired(), "/api/jobs/small/live") as live:
        with pytest.raises(ConnectionClosed) as caught:
            live.send(message)
            live.recv(timeout=5)
        said = caught.value.rcvd
        assert said.code == code if said else code == 1009, "only a flood may be cut off without a word"


def test_a_job_that_is_not_there(server: Running) -> None:
    with server.socket(server.paired(), "/api/jobs/none/live") as live:
        with pytest.raises(ConnectionClosed) as caught:
            live.recv(timeout=5)
        assert caught.value.rcvd is not None
        assert caught.value.rcvd.code == 4404


def test_a_disk_that_will_not_take_it(server: Running, monkeypatch: pytest.MonkeyPatch) -> None:
    from rehaul.errors import CannotSave

    ann = server.paired("Ann")
    with server.socket(ann, "/api/jobs/small/live") as a:
        first = Talker(a)
        first.hear("snapshot")

        def full(*_: object) -> None:
            raise CannotSave("the disk is full")

        monkeypatch.setattr(Store, "append", full)
        first.say(type="edit", **edit(0, 1, note("w1", "brick")))
        assert first.hear("retry")["refusal"]["code"] == "cannot-save"
        monkeypatch.undo()
        first.say(type="edit", **edit(0, 1, note("w1", "brick")))
        assert first.hear("ack")["revision"] == 1


def test_devices_stay_paired_over_a_restart(path: Path) -> None:
    with running(path.parent) as server:
        ann = server.paired("Ann")
        token = ann.cookies[server.settings.cookie]
        ann.post("/api/jobs/small/edits", json=edit(0, 1, note("w1", "brick")))
    with running(path.parent) as server:
        again = httpx.Client(base_url=server.url, cookies={server.settings.cookie: token})
        assert again.get("/api/me").json()["name"] == "Ann"
        assert again.get("/api/jobs/small").json()["revision"] == 1
    assert open_job(path).house.walls[0].note == "brick", "the file is not what the log was at the end"


def test_one_file_alone(path: Path) -> None:
    with running(path) as server:
        ann = server.paired()
        assert [row["id"] for row in ann.get("/api/me").json()["jobs"]] == ["small"]
        assert ann.post("/api/jobs", json={"title": "Another"}).status_code == 422


def test_a_log_kept_elsewhere(tmp_path: Path) -> None:
    place = str(tmp_path / "firm")
    store = Store(connect(place))
    store.create(JOB)
    store.close()
    with running(tmp_path, store=place) as server:
        ann = server.paired()
        ann.post("/api/jobs/small/edits", json=edit(0, 1, note("w1", "brick")))
        assert ann.get("/api/jobs/none").status_code == 404
        assert ann.post("/api/jobs", json={"demo": True}).json()["id"] == "demo"
        assert ann.post("/api/jobs", json={"demo": True}).json()["id"] == "demo-2"


def test_what_no_reading_can_be_is_refused_on_the_socket_and_in_a_post(server: Running, path: Path) -> None:
    ann = server.paired("Ann")
    reading = {"id": "x1", "quantity": "down_mbps", "value": -50, "storey": "g"}
    odd = [{"do": "put", "kind": "reading", "entity": reading}]
    with server.socket(ann, "/api/jobs/small/live") as socket:
        talker = Talker(socket)
        talker.say(type="edit", **edit(0, 1, *odd))
        refused = talker.hear("refused")["refusal"]
        assert "-50 is outside 0 to" in refused["problem"] and refused["where"] == "reading x1, value"
    answer = ann.post("/api/jobs/small/edits", json=edit(0, 2, *odd))
    assert answer.status_code == 422 and "-50 is outside 0 to" in answer.json()["problem"]
    assert ann.get("/api/jobs/small").json()["job"]["readings"] == []


def test_small_messages_go_out_at_once(server: Running, monkeypatch: pytest.MonkeyPatch) -> None:
    """Else an ack waits for the receipt of the edits before it, which the other side puts off for 40 ms."""
    made, found = Patient.connection_made, []

    def noted(self: Patient, transport: asyncio.Transport) -> None:
        made(self, transport)
        one = transport.get_extra_info("socket")
        found.append(one.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))

    monkeypatch.setattr(Patient, "connection_made", noted)
    ann = server.paired("Ann")
    with server.socket(ann, "/api/jobs/small/live") as a:
        Talker(a).hear("snapshot")
    assert len(found) >= 2 and all(found)
