"""What a stranger who is not paired can do to those who are: half requests, wrong codes, made-up cookies.

Run: python benchmarks/strangers.py [seconds] [--same-address]
All of it goes to a server on this machine's loopback, from 127.0.0.2 to 127.0.0.9; with `--same-address`
from 127.0.0.1, where the paired clients are too. It ends by itself.
"""

from __future__ import annotations

import asyncio
import http.client
import multiprocessing
import os
import random
import secrets
import statistics
import sys
import tempfile
import threading
import time
from collections import Counter
from pathlib import Path

from served import Served, served

from rehaul.house import Job
from rehaul.jobs import save_job

CONNECTIONS, PEOPLE = 500, 6
PAUSE_S = 0.1  # a stranger's, after each answer or refusal


def request_of(kind: str, port: int) -> bytes:
    host = f"127.0.0.1:{port}"
    head = f"Host: {host}\r\nOrigin: http://{host}\r\n"
    if kind == "half head":
        return f"GET / HTTP/1.1\r\n{head}X: ".encode()
    if kind == "half body":
        return f"POST /api/pair HTTP/1.1\r\n{head}Content-Length: 1000\r\n\r\n{{".encode()
    if kind == "wrong code":
        body = '{"code": "' + secrets.token_hex(4).upper() + '", "name": "Eve"}'
        return f"POST /api/pair HTTP/1.1\r\n{head}Content-Length: {len(body)}\r\n\r\n{body}".encode()
    cookie = f"Cookie: rehaul-{port}={secrets.token_urlsafe(32)}\r\n"
    if kind == "made-up socket":
        key = "Connection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\n"
        key += "Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n"
        return f"GET /api/jobs/small/live HTTP/1.1\r\n{head}{cookie}{key}\r\n".encode()
    return f"GET /api/me HTTP/1.1\r\n{head}{cookie}\r\n".encode()


KINDS = ("half head", "half head", "half body", "wrong code", "made-up cookie", "made-up socket")


async def stranger(number: int, port: int, source: str, ends: float, seen: Counter[str]) -> None:
    """One connection after another, each of one kind, until the time is up."""
    kind = KINDS[number % len(KINDS)]
    while time.monotonic() < ends:
        try:
            reader, writer = await asyncio.open_connection("127.0.0.1", port, local_addr=(source, 0))
        except OSError:
            seen["not connected"] += 1
            await asyncio.sleep(PAUSE_S)
            continue
        try:
            async with asyncio.timeout(max(0.1, ends - time.monotonic())):
                while True:
                    writer.write(request_of(kind, port))
                    answer = await reader.read(4096)
                    seen[f"{kind}: {answer[9:12].decode(errors='replace') if answer else 'closed'}"] += 1
                    await asyncio.sleep(PAUSE_S)
                    if not answer:
                        break
        except (OSError, TimeoutError):
            seen[f"{kind}: cut"] += 1
        finally:
            writer.close()
        await asyncio.sleep(PAUSE_S * random.random())


def strangers(port: int, seconds: float, same: bool, results: multiprocessing.Queue[Counter[str]]) -> None:
    """The strangers' process: behind the others at the processor, as if on a machine of their own."""
    os.nice(10)
    ends = time.monotonic() + seconds
    seen: Counter[str] = Counter()

    async def all_of_them() -> None:
        sources = ["127.0.0.1"] if same else [f"127.0.0.{n}" for n in range(2, 10)]
        work = (stranger(n, port, sources[n % len(sources)], ends, seen) for n in range(CONNECTIONS))
        await asyncio.gather(*work)

    asyncio.run(all_of_them())
    results.put(seen)


def person(server: Served, cookie: str, ends: float, times: list[float], failed: Counter[str]) -> None:
    """Paired: a call every fifth of a second, every other on a new connection."""
    line: http.client.HTTPConnection | None = None
    fresh = False
    while time.monotonic() < ends:
        started = time.perf_counter()
        try:
            if line is None or fresh:
                line = http.client.HTTPConnection("127.0.0.1", server.port, timeout=10)
            line.request("GET", "/api/jobs/small", headers={"cookie": cookie})
            answer = line.getresponse()
            answer.read()
            if answer.status != 200:
                failed[str(answer.status)] += 1
        except OSError as error:
            failed[type(error).__name__] += 1
            line = None
        times.append(time.perf_counter() - started)
        fresh = not fresh
        time.sleep(0.2 * random.uniform(0.5, 1.5))


def watched(server: Served, cookies: list[str], seconds: float) -> tuple[list[float], Counter[str]]:
    """What paired people see for a time."""
    times: list[float] = []
    failed: Counter[str] = Counter()
    ends = time.monotonic() + seconds
    threads = [threading.Thread(target=person, args=(server, one, ends, times, failed)) for one in cookies]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return times, failed


def said(name: str, times: list[float], failed: Counter[str]) -> None:
    p99 = statistics.quantiles(times, n=100)[98]
    print(
        f"{name:<18} {len(times):6d} calls, {sum(failed.values())} failed {dict(failed) or ''}; "
        f"median {statistics.median(times) * 1000:.1f} ms, 99th percentile {p99 * 1000:.1f} ms, "
        f"longest {max(times) * 1000:.0f} ms"
    )


def main() -> None:
    seconds = float(next((word for word in sys.argv[1:] if word[0] != "-"), "30"))
    same = "--same-address" in sys.argv
    with tempfile.TemporaryDirectory() as name:
        save_job(Path(name) / "small.rehaul.json", Job(id="small", title="Small"))
        with served(Path(name)) as server:
            cookies = [server.pair(server.code, "Person 0")]
            for number in range(1, PEOPLE):
                _, made, _ = server.post("/api/codes", {}, cookies[0])
                cookies.append(server.pair(str(made["code"]), f"Person {number}"))
            said("before", *watched(server, cookies, 5))
            _, made, _ = server.post("/api/codes", {}, cookies[0])
            before_mb = server.memory_mb()
            context = multiprocessing.get_context("spawn")
            results = context.Queue()
            process = context.Process(target=strangers, args=(server.port, seconds, same, results))
            process.start()
            time.sleep(2)
            said("meanwhile", *watched(server, cookies, seconds - 3))
            seen = results.get(timeout=60)
            process.join()
            peak_mb = server.memory_mb("VmHWM")
            times = peak_mb / before_mb
            print(f"memory             {before_mb:.1f} MB before, {peak_mb:.1f} at most: {times:.2f} times")
            time.sleep(0 if not same else 61)  # behind one address, its wait is everybody's
            status, _, _ = server.post("/api/pair", {"code": made["code"], "name": "Late"})
            print(f"the code           {'is still good' if status == 200 else f'is gone ({status})'}")
            print(f"strangers saw      {dict(sorted(seen.items()))}")


if __name__ == "__main__":
    main()
