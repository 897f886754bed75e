"""Six browsers on one job, edits of everybody: from an edit to its answer, and what the server holds.

    python benchmarks/six_pages.py [MINUTES] [PAGES]

Six browsers show Coverage of the invented house, each its only page. One or two of them at a
time type another need or pin a site; timed is how long each waits until its page shows access points, rooms
and price of that edit or of a later one. At the end the memory of the server and its processes.
"""

from __future__ import annotations

import os
import random
import sys
import time
from pathlib import Path

from kept_up import fixed_work
from playwright.sync_api import Page, sync_playwright
from pointer_up import show
from served_demo import launched, opened, served

from rehaul.jobs import demo_job

EDIT = """([label, value, revision]) => {
  const input = document.querySelector(`[aria-label="${label}"]`);
  if (!input || input.value === value) return false;
  const said = () => document.querySelector('[role=status]').innerText;
  const began = performance.now();
  window.timed = new Promise(done => {
    const look = () => {
      const found = said().match(/(?:Made|are) of edit (\\d+)/);
      if (found && Number(found[1]) >= revision) done(performance.now() - began);
      else if (performance.now() - began > 60000) done(null);
      else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  input.value = value;
  input.dispatchEvent(new Event('change', {bubbles: true}));
  return true;
}"""


def resident_mb(process: int) -> float:
    """What a process and those that it started hold in memory [MB]."""
    status = Path(f"/proc/{process}/status").read_text().split("VmRSS:")
    own = int(status[1].split()[0]) / 1000 if len(status) > 1 else 0.0
    children = Path(f"/proc/{process}/task/{process}/children").read_text().split()
    threads = Path(f"/proc/{process}/task").iterdir()
    others = {int(c) for t in threads for c in (t / "children").read_text().split()} | set(map(int, children))
    return own + sum(resident_mb(other) for other in others)


def main(minutes: float, pages: int) -> None:
    with served() as (address, server):
        measure(address, minutes, pages, server)


def measure(address: str, minutes: float, pages: int, server: int) -> None:
    job, rng = demo_job(), random.Random(11)
    with sync_playwright() as tools:
        browsers = [launched(tools) for _ in range(pages)]
        here = browsers[0].new_context()
        first = here.new_page()
        opened(first, address)
        coverage, paired = f"{first.url.rsplit('/', 1)[0]}/coverage", here.storage_state()
        others = [browser.new_context(storage_state=paired).new_page() for browser in browsers[1:]]
        shown = [shown_page(page, coverage) for page in (first, *others)]
        print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores, {pages} pages", flush=True)
        print(f"the fixed piece of work: {1000 * min(fixed_work() for _ in range(5)):.1f} ms", flush=True)
        rooms = [room.name for room in job.house.rooms if any(need.room == room.id for need in job.needs)]
        plates = [plate.id for plate in job.house.outlets]
        waited: list[float] = []
        revision, until = 0, time.monotonic() + 60 * minutes
        while time.monotonic() < until:
            editing = []
            for page in rng.sample(shown, rng.choice((1, 1, 2))):
                if rng.random() < 0.6:
                    edit = f"Mb/s down in {rng.choice(rooms)}", str(rng.choice((15, 35, 80, 120, 180)))
                else:
                    edit = f"Site {rng.choice(plates)}", rng.choice(("pinned", "free", "forbidden"))
                if page.evaluate(EDIT, [*edit, revision + 1]):
                    revision += 1
                    editing.append(page)
            waited += [took for page in editing if (took := page.evaluate("() => window.timed")) is not None]
            shown[0].wait_for_timeout(rng.choice((200, 900, 2500)))
        show("an edit to its answer on the page", waited)
        held_mb = resident_mb(server)
        print(f"server and its processes: {held_mb:.0f} MB after {minutes:g} minutes, {revision} edits")
        for browser in browsers:
            browser.close()


def shown_page(page: Page, coverage: str) -> Page:
    """A page at Coverage, its plan there."""
    page.goto(coverage)
    page.get_by_text("Made of edit").first.wait_for(timeout=120_000)
    return page


if __name__ == "__main__":
    given = sys.argv[1:]
    main(float(given[0]) if given else 10.0, int(given[1]) if len(given) > 1 else 6)
