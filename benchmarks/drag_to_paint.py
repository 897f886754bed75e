"""From a pointer's movement to the frame that shows its map, in a real headless browser.

The page names each time itself (`performance.measure`): from the event's own time stamp to its map drawn
(tints, contours and their figures), and on to the first task after the frame that shows it. Beside them,
measured in the same run: the time between frames of the idle page, of which a half is waited on average.

Run: python benchmarks/drag_to_paint.py [moves]
"""

from __future__ import annotations

import math
import os
import statistics
import sys
import time

from playwright.sync_api import Locator, Page, Position, sync_playwright
from served_demo import launched, opened, served
from sheet_places import at

from rehaul.house import Job
from rehaul.jobs import demo_job

GAP_S = 0.033  # between moves: about thirty a second
IDLE = """() => new Promise(done => {
  const times = []; let last = performance.now();
  const step = now => {
    times.push(now - last); last = now;
    times.length < 60 ? requestAnimationFrame(step) : done(times);
  };
  requestAnimationFrame(step);
})"""


def main(moves: int) -> None:
    with served() as (address, _):
        measure(address, demo_job(), moves)


def measure(address: str, job: Job, moves: int) -> None:
    with sync_playwright() as tools:
        browser = launched(tools)
        page = browser.new_page(viewport={"width": 1366, "height": 850})
        opened(page, address)
        sheet = page.get_by_role("application")
        print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores, Chromium {browser.version}")
        show("time between frames, page idle", page.evaluate(IDLE))
        wall = next(wall for wall in job.house.walls if wall.id == "W107")
        door = next(one for one in job.house.openings if one.kind == "door" and one.wall == "W105")
        middle = ((wall.start[0] + wall.end[0]) / 2, wall.start[1])
        x_m, y_m = next(wall for wall in job.house.walls if wall.id == door.wall).start
        leaf = (x_m, y_m + door.offset_m + door.width_m / 2)  # its wall runs up the sheet
        for quantity in ("down_mbps", "power_dbm"):
            page.get_by_role("combobox", name="Map").select_option(quantity)
            page.get_by_role("button", name="Show all of it").click()
            page.get_by_role("toolbar").get_by_role("button", name="Box").click()
            sheet.click(position=at(sheet, 2.0, 2.0))
            time.sleep(4)  # kernels compile, geometry is built once
            for what, place in (("access point", (2.0, 2.0)), ("wall", middle), ("door", leaf)):
                drag(page, sheet, at(sheet, *place), moves)
                show(f"{quantity}, {what}, to the map drawn", measures(page, "pointer to drawn"))
                show(f"{quantity}, {what}, to the frame", measures(page, "pointer to paint"))
                page.keyboard.press("Control+z")
                time.sleep(0.7)
            page.keyboard.press("Control+z")
        browser.close()


def drag(page: Page, sheet: Locator, start: Position, moves: int) -> None:
    """A slow circle, so that every step really is elsewhere."""
    frame = sheet.bounding_box()
    assert frame is not None
    x0, y0 = frame["x"] + start["x"], frame["y"] + start["y"]
    page.evaluate("performance.clearMeasures()")
    page.mouse.move(x0, y0)
    page.mouse.down()
    for step in range(moves):
        turn = step / 20
        page.mouse.move(x0 + 80 * math.sin(turn), y0 + 80 * (1 - math.cos(turn)))
        time.sleep(GAP_S)
    page.mouse.move(x0 + 10, y0 + 10)  # let go where everything may stand
    page.mouse.up()


def measures(page: Page, name: str) -> list[float]:
    found: list[float] = page.evaluate(
        "name => performance.getEntriesByName(name).map(one => one.duration)", name
    )
    return found[5:]


def show(name: str, times_ms: list[float]) -> None:
    if len(times_ms) < 20:
        print(f"{name}: only {len(times_ms)} answers")
        return
    cuts = statistics.quantiles(times_ms, n=20)
    print(f"{name}: median {statistics.median(times_ms):.1f} ms, p95 {cuts[-1]:.1f} ms, of {len(times_ms)}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 300)
