"""What the Meter page on a second host shows through a cable of a set rate, against plain TCP through it.

Needs Linux, its administrator, and the pages built: sudo nice -n -10 python benchmarks/meter_cable.py
"""

from __future__ import annotations

import socket
import sys
import tempfile
import threading
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "faces"))
from browsing import chromium
from test_browser_meter_cable import JOB, PAYLOAD, measured
from two_hosts import LAPTOP_ADDRESS, Hosts, enter, on, serving, two_hosts

from rehaul.jobs import save_job

RATES_MBPS = (20, 100, 300, 1000, None)
QUEUE_MS = 50.0
PEER_S = 3.0
PEER_PORT = 8721


def main() -> None:
    """One measurement at each rate, both ways, and at no set rate."""
    print("  set Mb/s  way   payload  plain TCP     page  page/payload  limit said")
    with tempfile.TemporaryDirectory() as folder, two_hosts() as hosts:
        save_job(Path(folder) / "demo.rehaul.json", JOB)
        for rate_mbps in RATES_MBPS:
            if rate_mbps:
                hosts.shape(rate_mbps, rate_mbps, QUEUE_MS)
            else:
                hosts.unshape()
            peers = [plain_tcp_mbps(hosts, way) for way in ("down", "up")]
            with serving(hosts, Path(folder)) as url, chromium(host=hosts.tablet) as browser:
                page = measured(browser, url)
                for way, peer_mbps in zip(("down", "up"), peers, strict=True):
                    line = page.locator(f"[data-quantity={way}_mbps]")
                    shown_mbps = float(line.locator("b").inner_text())
                    limit = "server" if "server" in str(line.get_attribute("class")) else "network"
                    best = f"{rate_mbps * PAYLOAD:9.1f}" if rate_mbps else "     none"
                    share = f"{shown_mbps / rate_mbps / PAYLOAD:13.3f}" if rate_mbps else "            -"
                    head = f"{rate_mbps or 'none':>10}  {way:<4} {best} {peer_mbps:10.1f} {shown_mbps:8.1f}"
                    print(f"{head} {share}  {limit}", flush=True)


def plain_tcp_mbps(hosts: Hosts, way: str) -> float:
    """One stream of the operating system's own, from the laptop or to it."""
    ready = threading.Event()

    def laptop() -> None:
        enter(hosts.laptop)
        with socket.create_server((LAPTOP_ADDRESS, PEER_PORT)) as door:
            ready.set()
            stream, _ = door.accept()
            with stream:
                send(stream) if way == "down" else rates.append(receive(stream))

    rates: list[float] = []
    thread = threading.Thread(target=laptop)
    thread.start()
    ready.wait()

    def tablet() -> None:
        with socket.create_connection((LAPTOP_ADDRESS, PEER_PORT)) as stream:
            rates.append(receive(stream)) if way == "down" else send(stream)

    on(hosts.tablet, tablet)
    thread.join()
    return rates[0]


def send(stream: socket.socket) -> None:
    ends_s = time.monotonic() + PEER_S
    block = bytes(256 * 1024)
    while time.monotonic() < ends_s:
        stream.sendall(block)


def receive(stream: socket.socket) -> float:
    """Mb/s of what comes, the first third of a second not judged."""
    began_s = time.monotonic()
    counted, from_s = 0, 0.0
    while part := stream.recv(1 << 20):
        now_s = time.monotonic()
        if from_s:
            counted += len(part)
        elif now_s - began_s > 0.3:
            from_s = now_s
    return counted * 8 / 1e6 / (time.monotonic() - from_s)


if __name__ == "__main__":
    main()
