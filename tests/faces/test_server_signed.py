"""Acceptance over the wire: what is signed comes back in force, and nothing it stands on is taken away."""

from __future__ import annotations

import hashlib
import shutil
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from server import LastingWorker, Running, running

FILE = Path(__file__).parents[2] / "examples" / "1934-brick-pendant-alarm.rehaul.json"
SAID = {"by": "Invented owner", "date": "2026-11-20", "words": "Yes"}


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    folder = tmp_path_factory.mktemp("jobs")
    shutil.copy(FILE, folder / "house.rehaul.json")
    with running(folder, worker=LastingWorker) as found:
        yield found


def planned(client: httpx.Client, job: str) -> dict[str, Any]:
    ends = time.monotonic() + 400
    while (found := client.get(f"{job}/plan").json())["state"] == "working":
        assert time.monotonic() < ends, "the plan does not end"
        time.sleep(0.2)
    assert found["state"] == "done", found
    plan: dict[str, Any] = found["plan"]
    return plan


def test_signed_in_force_and_proposed(server: Running) -> None:
    ann = server.paired("Ann")
    ann.timeout = httpx.Timeout(400)
    job = f"/api/jobs/{ann.get('/api/me').json()['jobs'][0]['id']}"
    early = ann.post(f"{job}/offers", json={"option": "Good", **SAID})
    assert early.status_code == 422 and "no quote" in early.json()["problem"]

    ann.post(f"{job}/plan")
    fresh = planned(ann, job)
    assert (fresh["in_force"], fresh["changes"], fresh["new_quote"]) == (None, [], None)
    wrong = ann.post(f"{job}/offers", json={"option": "Gold", **SAID})
    assert wrong.status_code == 422 and "Use one of" in wrong.json()["remedy"]
    option = next(o for o in fresh["takeoff"]["quote"]["options"] if o["total"] > 0 and not o["chosen"])
    answer = ann.post(f"{job}/offers", json={"option": option["name"], **SAID})
    assert answer.status_code == 201, answer.text
    row = answer.json()
    assert (row["kept"], row["intact"], row["in_force"]) == ("all", True, True)
    assert "plan" not in row and "offer" not in row, "the list stays small"
    assert ann.get(f"{job}/offers").json() == [row]
    text = ann.get(f"{job}/offers/A1/plan").text
    assert hashlib.sha256(text.encode()).hexdigest() == row["plan_sha256"]

    signed = planned(ann, job)
    assert signed["takeoff"]["quote"]["total"] == option["total"] == row["total"]
    assert signed["in_force"]["offer"] == "A1" and signed["changes"] == []

    place = signed["choice"]["access_points"][0]["site"]
    for kind, thing in (("room", place["room"]), ("run", place["run"])):
        if not thing:
            continue
        change = {"do": "drop", "kind": kind, "id": thing}
        refused = ann.post(f"{job}/edits", json={"edit": f"drop-{kind}-1", "base": 0, "changes": [change]})
        assert refused.status_code == 422, refused.text
        assert "signed with offer A1" in refused.text or "still hang" in refused.text

    choice = {
        "do": "set",
        "kind": "choices",
        "fields": {"margin_pct": 41},
    }  # as on its page: one plan for both
    ann.post(f"{job}/edits", json={"edit": "margin-000001", "base": 1, "changes": [choice]})
    stale = ann.post(f"{job}/offers", json={"option": option["name"], **SAID})
    assert stale.status_code == 422 and "no quote of the job as it is now" in stale.json()["problem"]
    ann.post(f"{job}/plan")
    after = planned(ann, job)
    assert after["takeoff"] == signed["takeoff"] and after["order"] == signed["order"]
    assert [row["what"] for row in after["changes"]] == ["price"]
    assert after["new_quote"]["total"] > signed["takeoff"]["quote"]["total"]
