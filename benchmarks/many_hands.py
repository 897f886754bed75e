"""Many clients on one job, each with an edit a second: how long until each edit is on the disk and told.

Run: python benchmarks/many_hands.py [clients] [seconds]
"""

from __future__ import annotations

import asyncio
import json
import random
import statistics
import sys
import tempfile
import time
from pathlib import Path

import websockets
from edit_log import WALLS, bare_commit_ms, large_job
from served import Served, served

from rehaul.jobs import save_job


async def client(server: Served, cookie: str, number: int, seconds: float, times: list[float]) -> int:
    """One person: an edit a second, at a moment of its own; everybody else's come in meanwhile."""
    sent: dict[str, float] = {}
    heard = 0
    url = server.url.replace("http", "ws") + "/api/jobs/large/live"
    headers = {"cookie": cookie}
    async with websockets.connect(
        url, origin=server.url, additional_headers=headers, max_size=None, compression=None
    ) as socket:
        await socket.send(json.dumps({"type": "hello", "seen": None}))

        async def listen() -> None:
            nonlocal heard
            async for text in socket:
                if '"type":"edits"' in text[:20]:
                    heard += text.count('"revision":')
                elif '"type":"ack"' in text[:20]:
                    times.append(time.perf_counter() - sent[json.loads(text)["edit"]])

        ears = asyncio.create_task(listen())
        await asyncio.sleep(3 + random.random())
        ends = time.monotonic() + seconds
        count = 0
        while time.monotonic() < ends:
            edit = f"hand-{number:03d}-{count:05d}"
            wall = random.randrange(WALLS)
            fields = {"end": [wall % 20 + 1, wall // 20 + random.randrange(7) / 10]}
            change = {"do": "set", "kind": "wall", "id": f"w{wall}", "fields": fields}
            sent[edit] = time.perf_counter()
            await socket.send(json.dumps({"type": "edit", "edit": edit, "base": 0, "changes": [change]}))
            count += 1
            await asyncio.sleep(1)
        await asyncio.sleep(2)
        ears.cancel()
    return heard


async def together(server: Served, clients: int, seconds: float) -> tuple[list[float], list[int]]:
    cookies = [server.pair(server.code, "Person 0")]
    for number in range(1, clients):
        _, made, _ = server.post("/api/codes", {}, cookies[0])
        cookies.append(server.pair(str(made["code"]), f"Person {number}"))
    times: list[float] = []
    work = (client(server, cookie, n, seconds, times) for n, cookie in enumerate(cookies))
    return times, await asyncio.gather(*work)


def main() -> None:
    clients = int(sys.argv[1]) if len(sys.argv) > 1 else 50
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 20
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "jobs"
        folder.mkdir()
        bare = bare_commit_ms(Path(name) / "bare")
        save_job(folder / "large.rehaul.json", large_job())
        with served(folder) as server:
            times, heard = asyncio.run(together(server, clients, seconds))
    cuts = statistics.quantiles(times, n=100)
    median, p99 = statistics.median(times) * 1000, cuts[98] * 1000
    print(f"{clients} clients, an edit a second each, {seconds:g} s: {len(times)} edits acknowledged")
    print(f"edit to ack           {median:8.1f} ms median, {p99:.1f} ms 99th percentile")
    ratios = f"the median is {median / bare:.1f} times that, the 99th {p99 / bare:.1f}"
    print(f"bare commit of SQLite {bare:8.2f} ms; {ratios}")
    print(f"edits heard by each   {min(heard)} to {max(heard)}")


if __name__ == "__main__":
    main()
