"""Two people in two browsers on one job: with and without a connection between them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browsing import Tab, paired_tab
from playwright.sync_api import Browser, expect
from server import Running, running

from line_checks import checked
from rehaul.house import House, Job, MeetingPoint, Outlet, Run, Storey
from rehaul.jobs import demo_job, save_job

pytestmark = pytest.mark.browser

DEMO = demo_job()
GROUND = DEMO.house.storeys[0].id  # the sheet opens on it
ROOM = next(room for room in DEMO.house.rooms if room.storey == GROUND)


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    save_job(tmp_path / "demo.rehaul.json", DEMO)
    save_job(tmp_path / "trace.rehaul.json", checked(to_trace()))
    with running(tmp_path) as found:
        yield found


def all_saved(tab: Tab) -> None:
    tab.page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached", timeout=20_000)


def on_the_sheet(tab: Tab) -> None:
    tab.page.get_by_role("application").wait_for()
    all_saved(tab)


def rename(tab: Tab, room: str, name: str) -> None:
    tab.page.get_by_role("button", name=f"{room} ", exact=False).first.click()
    field = tab.page.get_by_label("Name, used everywhere")
    field.fill(name)
    field.press("Enter")


def job_of(server: Running, key: str) -> dict[str, Any]:
    found: dict[str, Any] = server.paired("Reader").get(f"/api/jobs/{key}").json()["job"]
    return found


def test_what_was_drawn_offline_meets_what_the_other_drew(browser: Browser, server: Running) -> None:
    path = f"/jobs/{DEMO.id}/house"
    ann, ben = paired_tab(browser, server, path, "Ann"), paired_tab(browser, server, path, "Ben")
    for tab in (ann, ben):
        on_the_sheet(tab)
    ann.page.context.set_offline(True)
    ann.page.locator("[data-link=away]").wait_for(state="attached")
    other = next(room for room in DEMO.house.rooms if room.storey == GROUND and room.id != ROOM.id)

    rename(ann, ROOM.id, "Day room")
    rename(ann, other.id, "Scullery")
    expect(ann.page.get_by_role("button", name="Day room")).to_be_visible()
    expect(ann.page.locator("[data-link=away]")).to_contain_text("2 waiting")
    rename(ben, ROOM.id, "Front room")
    all_saved(ben)
    assert _room(job_of(server, DEMO.id), ROOM.id) == "Front room"

    ann.page.context.set_offline(False)
    all_saved(ann)
    for tab in (ann, ben):
        expect(tab.page.get_by_role("button", name=f"{ROOM.id} Day room")).to_be_visible()
        expect(tab.page.get_by_role("button", name=f"{other.id} Scullery")).to_be_visible()
        told = tab.page.get_by_role("region", name="What others changed")
        expect(told).to_be_visible()
        told.get_by_role("button", name="I have read it").click()
        expect(told).to_be_hidden()
    assert _room(job_of(server, DEMO.id), ROOM.id) == "Day room", "the later arrival stands"

    ann.page.get_by_role("button", name="Undo").click()
    all_saved(ann)
    assert _room(job_of(server, DEMO.id), other.id) == other.name, "undo is the person's own last gesture"
    assert _room(job_of(server, DEMO.id), ROOM.id) == "Day room"


def test_a_reload_keeps_what_waits(browser: Browser, server: Running) -> None:
    ann = paired_tab(browser, server, f"/jobs/{DEMO.id}/house")
    on_the_sheet(ann)
    ann.page.context.set_offline(True)
    ann.page.locator("[data-link=away]").wait_for(state="attached")
    rename(ann, ROOM.id, "Kept room")
    expect(ann.page.locator("[data-link=away]")).to_contain_text("1 waiting")
    ann.page.wait_for_timeout(300)
    ann.page.context.set_offline(False)
    ann.page.reload()
    all_saved(ann)
    assert _room(job_of(server, DEMO.id), ROOM.id) == "Kept room"


def test_a_reload_without_a_connection(browser: Browser, server: Running) -> None:
    """As over TLS: this machine's own address counts as safe too."""
    ann = paired_tab(browser, server, f"/jobs/{DEMO.id}/house")
    on_the_sheet(ann)
    ann.page.locator("html[data-kept=yes]").wait_for(state="attached", timeout=20_000)
    ann.page.context.set_offline(True)
    rename(ann, ROOM.id, "Drawn on the roof")
    ann.page.wait_for_timeout(300)
    ann.page.reload()
    ann.page.get_by_role("application").wait_for()
    expect(ann.page.locator("[data-link=away]")).to_contain_text("1 waiting")
    expect(ann.page.get_by_role("button", name="Drawn on the roof")).to_be_visible()
    ann.page.context.set_offline(False)
    all_saved(ann)
    assert _room(job_of(server, DEMO.id), ROOM.id) == "Drawn on the roof"


def test_a_refused_edit_says_why_and_leaves_no_trace(browser: Browser, server: Running) -> None:
    held = DEMO.obligations[0].run
    ann = paired_tab(browser, server, f"/jobs/{DEMO.id}/cables")
    all_saved(ann)
    ann.page.get_by_role("button", name=f"Open cable {held}").click()
    ann.page.get_by_role("button", name="Delete this cable").click()
    refused = ann.page.get_by_role("region", name="Refused")
    expect(refused).to_contain_text(held)
    expect(ann.page.get_by_role("rowheader", name=held, exact=True)).to_be_visible()
    assert held in [run["id"] for run in job_of(server, DEMO.id)["house"]["runs"]]


def to_trace() -> Job:
    """Three old cables at a closet, three plates, and nobody knows which is which."""
    places = {"1-01": (1.0, 1.0), "1-02": (4.0, 1.0), "1-03": (4.0, 4.0)}
    return Job(
        id="trace",
        title="To be traced",
        house=House(
            storeys=(Storey(id="1", name="Ground floor", elevation_m=0.0),),
            outlets=tuple(Outlet(id=name, storey="1", position=place) for name, place in places.items()),
            meeting_points=(MeetingPoint(id="MP1", name="Closet", storey="1", position=(0.5, 0.5)),),
            runs=tuple(
                Run(id=name, ends=("MP1", "unknown"), kind="cat5", pairs=4) for name in ("C1", "C2", "C3")
            ),
        ),
    )


def test_two_people_trace_cables(browser: Browser, server: Running) -> None:
    truth = {"C1": "1-03", "C2": "1-01", "C3": "1-02"}
    ann = paired_tab(browser, server, "/jobs/trace/cables", "Ann")
    ben = paired_tab(browser, server, "/jobs/trace/cables", "Ben")
    for tab, role in ((ann, "walk"), (ben, "read")):
        all_saved(tab)
        tab.page.get_by_label("This device is with").select_option(role)
        tab.page.get_by_text("All plugs and cables").click()
    rounds = server.paired("Reader").get("/api/jobs/trace/tracing?at=MP1&people=2&plugs=8").json()["rounds"]
    plugs = {plug["outlet"]: plug for plug in rounds[0]}
    assert len(rounds) == 1 and set(plugs) == set(truth.values())
    for outlet in plugs:
        ann.page.get_by_role("button", name=outlet).click()
    all_saved(ann)
    for run, outlet in truth.items():
        ties = "+".join("".join(map(str, block)) for block in plugs[outlet]["ties"]) or "-"
        ben.page.get_by_label(f"Pattern at {run}").fill(ties)
        ben.page.get_by_label(f"Pattern at {run}").press("Enter")
    for run, outlet in truth.items():
        row = ben.page.locator("li", has=ben.page.get_by_text(run, exact=True)).first
        expect(row).to_contain_text(f"goes to {outlet}", timeout=20_000)
    ben.page.get_by_role("button", name="Write into the schedule what is sure").click()
    all_saved(ben)
    found = {run["id"]: (run["ends"], run["traced"]) for run in job_of(server, "trace")["house"]["runs"]}
    assert found == {run: (["MP1", outlet], "inferred") for run, outlet in truth.items()}
    expect(ann.page.get_by_role("cell", name="MP1 – 1-03")).to_be_visible()
    assert (ann.faults, ben.faults) == ([], [])


def test_a_wire_map_is_explained(browser: Browser, server: Running) -> None:
    ann = paired_tab(browser, server, "/jobs/trace/cables")
    ann.page.get_by_label("Far pin of pin 1").fill("2")
    ann.page.get_by_label("Far pin of pin 2").fill("1")
    ann.page.get_by_role("button", name="What does it mean?").click()
    expect(ann.page.get_by_role("region", name="Wire map")).to_contain_text("Reversed pair 1-2")
    ann.page.get_by_label("Keep it with cable").select_option("C1")
    ann.page.get_by_role("button", name="Keep", exact=True).click()
    all_saved(ann)
    (test,) = job_of(server, "trace")["house"]["runs"][0]["tests"]
    assert test["wire_map"] == "reversed"


def _room(job: dict[str, Any], room: str) -> str:
    return str(next(one["name"] for one in job["house"]["rooms"] if one["id"] == room))
