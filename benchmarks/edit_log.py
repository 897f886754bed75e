"""The log of a job: one durable edit, opening it, and its size, beside a bare commit of the same database.

Run: python benchmarks/edit_log.py [postgresql://...]
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from pathlib import Path

from rehaul.house import Job, Reading, Room, Storey, Wall
from rehaul.house.model import House
from rehaul.jobs import Ledger, Store, connect, edit_from_data

WALLS, READINGS, MOVES = 200, 1000, 5000


def large_job() -> Job:
    """A house of 200 walls with 1,000 readings."""
    walls = tuple(
        Wall(id=f"w{n}", storey="g", start=(n % 20, n // 20), end=(n % 20 + 1, n // 20)) for n in range(WALLS)
    )
    room = Room(id="r1", name="All", storey="g", polygon=((0, 0), (20, 0), (20, 10), (0, 10)))
    readings = tuple(
        Reading(id=f"x{n}", quantity="down_mbps", value=n % 400, room="r1", position=(n % 20, n % 10))
        for n in range(READINGS)
    )
    house = House(storeys=(Storey(id="g", name="Ground", elevation_m=0),), rooms=(room,), walls=walls)
    return Job(id="large", title="Large", house=house, readings=readings)


def move(number: int) -> dict[str, object]:
    wall = number % WALLS
    fields = {"end": [wall % 20 + 1, wall // 20 + (number % 7) / 10]}
    changes = [{"do": "set", "kind": "wall", "id": f"w{wall}", "fields": fields}]
    return {"edit": f"move-{number:08d}", "base": number, "changes": changes}


def bare_commit_ms(place: str | Path) -> float:
    """The peer: one small row, durably, nothing checked."""
    database = connect(place)
    database.run("CREATE TABLE IF NOT EXISTS bare (n BIGINT)")
    times = []
    for number in range(100):
        started = time.perf_counter()
        with database.writing():
            database.run("INSERT INTO bare VALUES (%s)", (number,))
        times.append(time.perf_counter() - started)
    database.run("DROP TABLE bare")
    database.close()
    return statistics.median(times) * 1000


def opening_ms(place: str | Path) -> float:
    started = time.perf_counter()
    store = Store(connect(place))
    Ledger(store, "large")
    store.close()
    return (time.perf_counter() - started) * 1000


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        place: str | Path = sys.argv[1] if len(sys.argv) > 1 else Path(folder) / "log"
        bare = bare_commit_ms(place)
        store = Store(connect(place))
        store.create(large_job())
        ledger = Ledger(store, "large")
        print(f"job of {WALLS} walls and {READINGS} readings")
        print(f"opening                          {opening_ms(place):8.1f} ms")
        times = []
        for number in range(MOVES):
            started = time.perf_counter()
            ledger.submit("ann", edit_from_data(move(number)))
            times.append(time.perf_counter() - started)
        median = statistics.median(times) * 1000
        worst = statistics.quantiles(times, n=100)[98] * 1000
        print(f"one edit, checked and on disk    {median:8.2f} ms median, {worst:.2f} ms 99th percentile")
        print(
            f"bare commit of the same database {bare:8.2f} ms; an edit takes {median / bare:.1f} times that"
        )
        print(f"opening after {MOVES} moves         {opening_ms(place):8.1f} ms")
        if isinstance(place, Path):
            print(f"size                             {place.stat().st_size / 1e6:8.1f} MB")
        store.close()


if __name__ == "__main__":
    main()
