"""From letting go to the figures of the page, in a real headless browser, with the plan that follows.

    python benchmarks/pointer_up.py [EDITS]

On the Coverage page of the invented house: needs typed in, sites pinned and set free, EDITS of each. Two
times from the edit until the page says so in a frame: access points, rooms and price of that edit; and the
whole plan, with reasons, offers and order of work. Then access points dragged about: from letting go to what
the nearest site there would cost, move and serve. Beside them, in the same run, the time between frames of
the idle page, which a page waits for anyway, and an empty question to the server and back.
"""

from __future__ import annotations

import os
import random
import statistics
import sys

from drag_to_paint import IDLE
from kept_up import fixed_work
from playwright.sync_api import Page, sync_playwright
from served_demo import launched, opened, served

from rehaul.jobs import demo_job

EDIT = """([label, value]) => new Promise(done => {
  const input = document.querySelector(`[aria-label="${label}"]`);
  const said = () => document.querySelector('[role=status]').innerText;
  const of = (words) => Number((said().match(words) ?? [0, -1])[1]);
  const before = of(/Made of edit (\\d+)/);
  const began = performance.now();
  let answered = null;
  input.value = value;
  input.dispatchEvent(new Event('change', {bubbles: true}));
  const look = () => {
    const whole = of(/Made of edit (\\d+)/) > before;
    const some = whole || of(/are of edit (\\d+)/) > before;
    if (answered === null && some) answered = performance.now() - began;
    if (whole) done([answered, performance.now() - began]);
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
})"""
LET_GO = """() => {
  window.answered = new Promise(done => addEventListener('pointerup', event => {
    const began = event.timeStamp;
    const look = () => {
      const said = document.querySelector('[aria-label="Tried elsewhere"] [role=status]');
      if (said && /^Kept there/.test(said.textContent.trim())) done(performance.now() - began);
      else if (performance.now() - began > 60000) done(null);
      else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  }, {once: true, capture: true}));
}"""
ASKED = """async (address) => {
  const times = [];
  for (let n = 0; n < 40; n++) {
    const began = performance.now();
    await (await fetch(address)).text();
    times.push(performance.now() - began);
  }
  return times;
}"""


def main(count: int) -> None:
    with served() as (address, _):
        measure(address, count)


def measure(address: str, count: int) -> None:
    job, rng = demo_job(), random.Random(7)
    with sync_playwright() as tools:
        browser = launched(tools)
        page = browser.new_page(viewport={"width": 1366, "height": 850})
        opened(page, address)
        page.goto(f"{page.url.rsplit('/', 1)[0]}/coverage")
        page.get_by_text("Made of edit").first.wait_for(timeout=120_000)
        print(f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores, Chromium {browser.version}")
        print(f"the fixed piece of work: {1000 * min(fixed_work() for _ in range(5)):.1f} ms", flush=True)
        show("between frames, page idle", page.evaluate(IDLE))
        show("a question to the server and back", page.evaluate(ASKED, "/api/me"))
        rooms = [room.name for room in job.house.rooms if any(need.room == room.id for need in job.needs)]
        needs = [
            (f"Mb/s down in {rng.choice(rooms)}", f"{rng.choice((15, 35, 80, 120, 180))}")
            for _ in range(count)
        ]
        edited(page, "a need", needs)
        plates = [plate.id for plate in job.house.outlets]
        sites = [
            (f"Site {rng.choice(plates)}", rng.choice(("pinned", "free", "forbidden"))) for _ in range(count)
        ]
        edited(page, "a site", sites)
        let_go(page, count, rng)
        browser.close()


def edited(page: Page, name: str, edits: list[tuple[str, str]]) -> None:
    answered, whole = [], []
    for label, value in edits:
        box = page.locator(f'[aria-label="{label}"]')
        if not box.count() or box.first.input_value() == value:
            continue
        first, last = page.evaluate(EDIT, [label, value])
        answered.append(first)
        whole.append(last)
        page.wait_for_timeout(300)
    show(f"{name}: points, rooms, price", answered)
    show(f"{name}: all of the plan", whole)


def let_go(page: Page, count: int, rng: random.Random) -> None:
    """Drag the first access point about on its sheet, and put it back."""
    times: list[float] = []
    mark = page.get_by_role("application").locator("[data-planned] path.solid").first
    for _ in range(count):
        mark.scroll_into_view_if_needed()
        box = mark.bounding_box()
        assert box is not None
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        to = x + rng.choice((-1, 1)) * rng.uniform(40, 160), y + rng.uniform(-60, 60)
        page.evaluate(LET_GO)
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move((x + to[0]) / 2, (y + to[1]) / 2, steps=3)
        page.mouse.move(*to, steps=3)
        page.mouse.up()
        took_ms = page.evaluate("() => window.answered")
        assert took_ms is not None, "no answer in a minute"
        times.append(took_ms)
        page.get_by_role("button", name="Put it back").click()
        page.wait_for_timeout(200)
    show("let go: price, sites and rooms", times)


def show(name: str, times_ms: list[float]) -> None:
    ordered = sorted(times_ms)
    p95 = ordered[int(0.95 * (len(ordered) - 1))]
    print(f"{name:36} {len(ordered):3}  p50 {statistics.median(ordered):6.1f}  p95 {p95:6.1f} ms", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
