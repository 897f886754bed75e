"""What the Meter page shows in a real browser over loopback: it must be well above 1 GbE both ways.

Run with the pages built: python benchmarks/meter_browser.py
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "faces"))
from browsing import chromium, paired_tab
from server import running

from rehaul.jobs import demo_job, save_job

GIGABIT_TCP_MBPS = 941.5  # 1 GbE less preamble, gap, headers of Ethernet, IPv4 and TCP with time stamps


def main() -> None:
    """Measure once in the first room, and print every line of the page."""
    job = demo_job()
    with tempfile.TemporaryDirectory() as folder:
        save_job(Path(folder) / "demo.rehaul.json", job)
        with running(Path(folder)) as server, chromium() as browser:
            page = paired_tab(browser, server, f"/jobs/{job.id}/meter").page
            page.get_by_label("Room you stand in").select_option(job.house.rooms[0].id)
            page.get_by_role("button", name="Measure in").click()
            page.get_by_text("Measured.", exact=True).wait_for(timeout=60_000)
            for line in page.locator("[data-quantity]").all():
                name, figure = line.locator(".name").inner_text(), line.locator(".figure").inner_text()
                limit = "server" if "server" in str(line.get_attribute("class")) else "network or browser"
                words = f"{name:<18}{figure:>14}  ({line.locator('.interval').inner_text()}), limit {limit}"
                if figure.endswith("Mb/s"):
                    words += f", {float(figure.split()[0]) / GIGABIT_TCP_MBPS:.1f} x 1 GbE"
                print(words)


if __name__ == "__main__":
    main()
