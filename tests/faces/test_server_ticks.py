"""Ticks over the wire: the server refuses a step whose turn it is not, whatever a page sends."""

from __future__ import annotations

import shutil
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from server import LastingWorker, Running, Talker, running

EXAMPLE = "2008-chained-alarm"
FILE = Path(__file__).parents[2] / "examples" / f"{EXAMPLE}.rehaul.json"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    folder = tmp_path_factory.mktemp("jobs")
    shutil.copy(FILE, folder / "house.rehaul.json")
    with running(folder, worker=LastingWorker) as found:
        yield found


@pytest.fixture(scope="module")
def ann(server: Running) -> httpx.Client:
    return server.paired("Ann")


@pytest.fixture(scope="module")
def job(ann: httpx.Client) -> str:
    return f"/api/jobs/{ann.get('/api/me').json()['jobs'][0]['id']}"


@pytest.fixture(scope="module")
def order(ann: httpx.Client, job: str) -> list[dict[str, Any]]:
    """The steps, once the plan is made."""
    ann.post(f"{job}/plan")
    ends = time.monotonic() + 300
    while (found := ann.get(f"{job}/plan").json())["state"] == "working":
        assert time.monotonic() < ends, "the plan does not end"
        time.sleep(0.2)
    steps: list[dict[str, Any]] = found["plan"]["order"]
    return steps


def put(number: int, task: dict[str, Any], **more: str) -> dict[str, Any]:
    entity = {"id": f"TKt{number}", "task": task["key"], "by": "Ann", **more}
    return {"do": "put", "kind": "tick", "entity": entity}


def edit(number: int, *changes: dict[str, Any]) -> dict[str, Any]:
    return {"edit": f"tick-{number:06d}", "base": 0, "label": "Done", "changes": list(changes)}


def test_the_last_step_first_is_refused_unless_said_knowingly(
    ann: httpx.Client, job: str, order: list[dict[str, Any]]
) -> None:
    free = {task["id"] for task in order if not task["held"]}
    last = [task for task in order if task["id"] in free and task["needs"]][-1]
    answer = ann.post(f"{job}/edits", json=edit(1, put(1, last)))
    assert answer.status_code == 409 and answer.json()["code"] == "out-of-order"
    assert last["needs"][0] in answer.json()["problem"]
    assert ann.get(job).json()["job"]["ticks"] == []
    answer = ann.post(f"{job}/edits", json=edit(2, put(2, last, despite="everything before it")))
    assert answer.status_code == 200
    (tick,) = ann.get(job).json()["job"]["ticks"]
    assert tick["despite"] == "everything before it"
    again = ann.post(f"{job}/edits", json=edit(2, put(2, last, despite="everything before it")))
    assert again.json() == answer.json(), "sent once more after a lost answer"


def test_a_held_step_is_refused_whatever_is_said(
    ann: httpx.Client, job: str, order: list[dict[str, Any]]
) -> None:
    held = [task for task in order if task["held"]]
    assert held, "the chain of this house carries a monitored alarm"
    for number, task in enumerate(held, 10):
        answer = ann.post(f"{job}/edits", json=edit(number, put(number, task, despite="I know")))
        assert answer.status_code == 409 and answer.json()["code"] == "held", task["title"]


def test_over_the_socket_and_the_plan_stays_good(
    server: Running, ann: httpx.Client, job: str, order: list[dict[str, Any]]
) -> None:
    first = next(task for task in order if not task["needs"] and not task["held"])
    later = next(task for task in order if task["needs"] == [first["id"]] and not task["held"])
    with server.socket(ann, f"{job}/live") as socket:
        talker = Talker(socket)
        talker.hear("snapshot")
        talker.say(type="edit", **edit(30, put(30, later)))
        assert talker.hear("refused")["refusal"]["code"] == "out-of-order"
        talker.say(type="edit", **edit(31, put(31, first)))
        talker.say(type="edit", **edit(32, put(32, later)))
        talker.hear("ack", edit="tick-000032")
    state = ann.get(f"{job}/plan").json()
    assert state["stale"] is False, "a tick does not make a plan old"
    assert state["revision"] == ann.get(job).json()["revision"]
