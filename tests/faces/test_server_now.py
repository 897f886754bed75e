"""Where a job stands and what is to be asked, over the wire: before, with and without a plan."""

from __future__ import annotations

import shutil
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from server import LastingWorker, Running, running

from rehaul.house import Job
from rehaul.jobs import save_job

FILE = Path(__file__).parents[2] / "examples" / "2009-flat-can-entry-phone.rehaul.json"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    folder = tmp_path_factory.mktemp("jobs")
    shutil.copy(FILE, folder / "flat.rehaul.json")
    save_job(folder / "begun.rehaul.json", Job(id="begun", title="Begun"))
    with running(folder, worker=LastingWorker) as found:
        yield found


@pytest.fixture(scope="module")
def ann(server: Running) -> httpx.Client:
    return server.paired("Ann")


def at(ann: httpx.Client, title: str) -> str:
    jobs = ann.get("/api/me").json()["jobs"]
    return "/api/jobs/" + next(one["id"] for one in jobs if (one["title"] == "Begun") == (title == "Begun"))


def plan(ann: httpx.Client, job: str) -> str:
    """The state that its plan ends in."""
    ann.post(f"{job}/plan")
    ends = time.monotonic() + 300
    while (found := ann.get(f"{job}/plan").json())["state"] == "working":
        assert time.monotonic() < ends, "the plan does not end"
        time.sleep(0.2)
    return str(found["state"])


def test_before_and_after_a_plan_and_in_french(ann: httpx.Client) -> None:
    job = at(ann, "the flat")
    now = ann.get(f"{job}/now").json()
    assert now["planned_of"] is None and now["figures"]["served_today"] is None
    assert plan(ann, job) == "done"
    now = ann.get(f"{job}/now").json()
    rooms = now["figures"]["rooms"]
    assert now["planned_of"] == now["revision"]
    assert now["figures"]["served_after"] == rooms > now["figures"]["served_today"]
    assert now["sentence"].endswith("will serve all of them.")
    assert [stage["stage"] for stage in now["stages"]] == [
        "house", "cables", "coverage", "quote", "work", "tests", "handover",
    ]  # fmt: skip
    french = ann.get(f"{job}/now", headers={"accept-language": "fr"}).json()
    assert french["next"]["words"] == "Trouver quels câbles sont en service"
    assert french["figures"] == now["figures"]


def test_a_question_answered_is_gone_and_so_is_the_next_action(ann: httpx.Client) -> None:
    job = at(ann, "the flat")
    asks = {one["code"]: one for one in ann.get(f"{job}/findings").json()["asks"]}
    one = asks["run-state-unknown"]
    assert ann.get(f"{job}/now").json()["next"]["words"] == "Find out which cables are live"
    changes: list[dict[str, Any]] = [
        {
            "do": "set",
            "kind": one["answer"]["kind"],
            "id": thing["id"],
            "fields": {one["answer"]["field"]: "dead"},
        }
        for thing in one["about"]
    ]
    edit = {"edit": "answer-000001", "base": 0, "label": "", "changes": changes}
    assert ann.post(f"{job}/edits", json=edit).status_code == 200
    found = ann.get(f"{job}/findings").json()
    assert "run-state-unknown" not in {ask["code"] for ask in found["asks"]}
    assert "run-state-unknown" not in {finding["code"] for finding in found["findings"]}
    now = ann.get(f"{job}/now").json()
    assert now["next"]["words"] != "Find out which cables are live"
    assert now["planned_of"] < now["revision"], "the plan at hand is of the job before the edit"


def test_a_job_that_is_only_begun(ann: httpx.Client) -> None:
    job = at(ann, "Begun")
    now = ann.get(f"{job}/now").json()
    assert (now["next"]["page"], now["figures"]["rooms"]) == ("house", 0)
    asks = ann.get(f"{job}/findings").json()["asks"]
    severities = [ask["severity"] for ask in asks]
    assert severities == sorted(severities, key=["serious", "mend", "ask"].index)
    assert ann.get("/api/jobs/nowhere/now").status_code == 404
