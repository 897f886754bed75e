"""A small house of two storeys, and its House page opened in a browser."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from browsing import Tab, paired_tab
from playwright.sync_api import Browser
from server import Running

from rehaul.house import House, Job, MeetingPoint, Outlet, Room, Run, Storey, Wall
from rehaul.jobs import save_job

WIDE_M, HIGH_M = 10.0, 6.0
CORNERS = ((0.0, 0.0), (WIDE_M, 0.0), (WIDE_M, HIGH_M), (0.0, HIGH_M))


def save_two_storeys(folder: Path, **more: Any) -> None:
    save_job(folder / "two.rehaul.json", Job(id="two", title="Two storeys", house=house(), **more))


def house() -> House:
    """Two storeys of one room each, a closet below, a plate on either, and a cable that nobody located."""
    storeys = (Storey(id="1", name="Ground", elevation_m=0), Storey(id="2", name="Upper", elevation_m=2.7))
    walls = [
        Wall(id=f"W{s.id}{i}", storey=s.id, start=CORNERS[i], end=CORNERS[(i + 1) % 4])
        for s in storeys
        for i in range(4)
    ]
    return House(
        storeys=storeys,
        walls=tuple(walls),
        rooms=tuple(Room(id=f"R{s.id}", name=f"Room {s.id}", storey=s.id, polygon=CORNERS) for s in storeys),
        meeting_points=(MeetingPoint(id="MP1", name="Closet", storey="1", position=(1, 1)),),
        outlets=(
            Outlet(id="1-01", storey="1", position=(9, 5)),
            Outlet(id="2-01", storey="2", position=(9, 3)),
        ),
        runs=(Run(id="C1", ends=("MP1", "1-01")), Run(id="C2", ends=("MP1", "2-01"))),
    )


def opened(browser: Browser, server: Running, **context: Any) -> Tab:
    wide = {"viewport": {"width": 1366, "height": 900}, **context}
    tab = paired_tab(browser, server, "/jobs/two/house", **wide)
    tab.page.get_by_role("application").wait_for()
    return tab


def job_of(server: Running, tab: Tab) -> dict[str, Any]:
    """The job as the server has it, once everything done on the page is there."""
    tab.page.locator("[data-link=live]", has_text="all saved").wait_for(state="attached")
    job: dict[str, Any] = server.paired("Reader").get("/api/jobs/two").json()["job"]
    return job
