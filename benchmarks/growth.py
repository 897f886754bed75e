"""How the cost of a plan and of an edit grows with the house: processor time, and the power of each size.

    python benchmarks/growth.py [STOREYS ...]

Invented houses of one plan on every storey: rooms of 4 by 3.5 m in rows, walls between all of them, a plate
with an old cable in each, every second room asks. Then one storey with ever more readings, and ever more
cables to trace. Sizes double; the power is the slope between the first and the last of a run in logarithms:
1 is in step with the size. Beside each time stands the same over a fixed piece of work of the same minute, by
which other machines compare.
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the program itself does

import math
import random
import sys
import time
from statistics import median
from typing import Any

from kept_up import fixed_work

from rehaul.design.options import offering_of
from rehaul.house import Band, Device, Job, Quantity, Reading, require_whole
from rehaul.planning import weigh
from rehaul.planning.answer import Answer
from rehaul.predict.kept import KeptHouse
from rehaul.tracing import Bag, Continuity, ReadingLog, next_best_reading, plan_codes, solve

ROOM_M = (4.0, 3.5)


def walls_of(storey: str, across: int, deep: int) -> list[dict[str, Any]]:
    """Two walls a side of a room."""
    wide, long = ROOM_M
    whole = [
        ((x * wide, y * long), ((x + 1) * wide, y * long)) for y in range(deep + 1) for x in range(across)
    ] + [((x * wide, y * long), (x * wide, (y + 1) * long)) for x in range(across + 1) for y in range(deep)]
    middle = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in whole]
    sides = [half for (a, b), m in zip(whole, middle, strict=True) for half in ((a, m), (m, b))]
    edge = {0.0, across * wide, deep * long}
    return [
        {
            "id": f"W{storey}{n:03}",
            "storey": storey,
            "start": start,
            "end": end,
            "construction": "brick-thick"
            if (start[0] == end[0] and start[0] in edge) or (start[1] == end[1] and start[1] in edge)
            else "stud-gypsum",
        }
        for n, (start, end) in enumerate(sides)
    ]


def tower(storeys: int, across: int = 4, deep: int = 3) -> Job:
    """A house of so many equal storeys, wired from a closet on the lowest."""
    wide, long = ROOM_M
    levels = [
        {"id": f"{n}", "name": f"Storey {n}", "elevation_m": 2.9 * n, "height_m": 2.6} for n in range(storeys)
    ]
    rooms: list[dict[str, Any]] = []
    walls: list[dict[str, Any]] = []
    openings: list[dict[str, Any]] = []
    outlets: list[dict[str, Any]] = []
    runs: list[dict[str, Any]] = []
    for level in range(storeys):
        sides = walls_of(f"{level}", across, deep)
        walls += sides
        openings += [
            {"id": f"X{level}{n:03}", "wall": wall["id"], "kind": "door", "offset_m": 0.5, "width_m": 0.8,
             "height_m": 2.0, "sill_m": 0.0}
            for n, wall in enumerate(sides) if wall["construction"] == "stud-gypsum" and n % 2
        ]  # fmt: skip
        for y in range(deep):
            for x in range(across):
                number = y * across + x + 1
                x0, y0 = x * wide, y * long
                corners = [(x0, y0), (x0 + wide, y0), (x0 + wide, y0 + long), (x0, y0 + long)]
                name = f"R{level}{number:02}"
                rooms.append(
                    {"id": name, "name": f"Room {level}-{number}", "storey": f"{level}", "polygon": corners}
                )
                plate, run = f"{level}-{number:02}", f"C{level}{number:02}"
                spot = (x0 + 0.5, y0 + 0.1)
                outlets.append(
                    {"id": plate, "storey": f"{level}", "kind": "data", "position": spot, "height_m": 0.4,
                     "room": name, "mains": True}
                )  # fmt: skip
                length_m = 6.0 + x0 + y0 + 3.0 * level
                span_m = {"middle": length_m, "low": length_m - 1, "high": length_m + 2, "grade": "measured"}
                runs.append(
                    {"id": run, "ends": ["MP1", plate], "kind": "cat5e", "pairs": 4, "gauge_awg": 24,
                     "length_m": span_m, "topology": "home run", "splices": 0, "state": "dead",
                     "traced": "measured"}
                )  # fmt: skip
    needs = [
        {"id": f"N{n:03}", "room": room["id"], "down_mbps": float(60 + 20 * (n % 4))}
        for n, room in enumerate(rooms) if n % 2
    ]  # fmt: skip
    closet = {"id": "MP1", "name": "Closet", "storey": "0", "position": (0.6, 1.0), "height_m": 1.3,
              "enclosure": "open wall", "power_sockets": 2}  # fmt: skip
    router = {"id": "RT1", "name": "Router", "equipment": "router HE 2x2", "storey": "0",
              "position": (0.8, 1.0), "height_m": 1.2, "fed_by": "cord"}  # fmt: skip
    job = Job.model_validate(
        {
            "id": f"tower-{storeys}",
            "title": f"Invented house of {storeys} storeys",
            "invented": True,
            "house": {"storeys": levels, "rooms": rooms, "walls": walls, "openings": openings,
                      "outlets": outlets, "meeting_points": [closet], "runs": runs},
            "boxes": [router],
            "service": {"down_mbps": 640.0, "up_mbps": 320.0, "medium": "fibre"},
            "needs": needs,
        }
    )  # fmt: skip
    require_whole(job)
    return job


def edited(job: Job, number: int) -> Job:
    """Another need."""
    place = number % len(job.needs)
    need = job.needs[place].model_copy(update={"down_mbps": 130.0 + number})
    return job.model_copy(update={"needs": (*job.needs[:place], need, *job.needs[place + 1 :])})


def timed(job: Job, kept: KeptHouse) -> tuple[float, float, bool]:
    """Seconds of processor until the answer, and until the plan; whether its choice is proven."""
    answers: list[float] = []

    def told(answer: Answer) -> None:
        answers.append(time.process_time() - began)

    began = time.process_time()
    proven = weigh(job, kept=kept, told=told).fresh.choice.proven
    return answers[0], time.process_time() - began, proven


def storeys_of(sizes: list[int]) -> None:
    """The whole house: rooms, walls, cables, sites."""
    print(
        "storeys rooms walls  cables sites  first answer, plan [s]   edit: answer, plan [s], answer x fixed"
        "   all proven",
        flush=True,
    )
    rows = []
    for storeys in sizes:
        job, kept = tower(storeys), KeptHouse()
        first = timed(job, kept)
        fixed = [fixed_work() for _ in range(5)]
        edits = sorted(timed(edited(job, number), kept) for number in range(3))
        house, middle = job.house, edits[1]
        sites = len({option.place.id for option in offering_of(job).options if option.place is not None})
        rows.append((len(house.rooms), *first[:2], *middle[:2]))
        print(
            f"{storeys:7} {len(house.rooms):5} {len(house.walls):5} {len(house.runs):7} {sites:5}"
            f"  {first[0]:10.2f} {first[1]:9.2f} {middle[0]:15.2f} {middle[1]:9.2f}"
            f" {middle[0] / median(fixed):15.1f}"
            f"   {'yes' if all(proven for *_, proven in (first, *edits)) else 'no'}",
            flush=True,
        )
    print_powers(rows)


def with_readings(job: Job, count: int) -> Job:
    """So many powers read all over the house, as an invented fall with distance has them."""
    rng, (router, *_) = random.Random(count), job.boxes
    wide, long = 4 * ROOM_M[0], 3 * ROOM_M[1]
    readings = []
    for number in range(count):
        x, y = round(rng.uniform(0.3, wide - 0.3), 2), round(rng.uniform(0.3, long - 0.3), 2)
        away_m = max(1.0, math.dist((x, y), router.position))
        value = round(-38.0 - 32.0 * math.log10(away_m) + rng.gauss(0.0, 4.0), 1)
        readings.append(
            Reading(
                id=f"R{number:04}",
                quantity=Quantity.POWER_DBM,
                value=value,
                storey=job.house.storeys[0].id,
                position=(x, y),
                device="D1",
                band=Band.GHZ_5,
                box=router.id,
            )
        )
    devices = (Device(id="D1", name="Invented phone", client="phone"),)
    return job.model_copy(update={"readings": tuple(readings), "devices": devices})


def readings_of(sizes: list[int]) -> None:
    """One storey, ever more readings of powers."""
    print("readings  first answer, plan [s]", flush=True)
    rows = []
    for count in sizes:
        first = timed(with_readings(tower(1), count), KeptHouse())
        rows.append((count, *first[:2]))
        print(f"{count:8}  {first[0]:10.2f} {first[1]:9.2f}", flush=True)
    print_powers(rows)


def cables_of(sizes: list[int]) -> None:
    """Ever more cables to trace, a strap plug on each, read one after the other."""
    print("cables  plan of plugs [s]   answer after the last reading, next best reading [ms]", flush=True)
    rows = []
    plan_codes(["o0"], ["e0"], Bag(plugs=1), 8, gauge_awg=24)  # loads what it needs
    for count in sizes:
        outlets, ends = [f"o{k:02}" for k in range(count)], [f"e{k:02}" for k in range(count)]
        began = time.process_time()
        plan = plan_codes(outlets, ends, Bag(plugs=count), 8, gauge_awg=24)
        planned = time.process_time()
        plugs, log = dict(plan.rounds[0]), ReadingLog()
        order = [index for index in range(count) if outlets[index] in plugs]
        for index in order:
            log = log.added(Continuity(f"r{index}", ends[index], plugs[outlets[index]].ties))
        solve(log, plan.problem)  # tabulates the explanations, once
        before = time.process_time()
        solve(log, plan.problem)
        answered = time.process_time()
        next_best_reading(log, plan.problem)
        advised = time.process_time()
        rows.append((count, planned - began, answered - before, advised - answered))
        print(
            f"{count:6}  {rows[-1][1]:17.2f} {1000 * rows[-1][2]:31.1f} {1000 * rows[-1][3]:19.1f}",
            flush=True,
        )
    print_powers(rows)


def print_powers(rows: list[tuple[float, ...]]) -> None:
    """Of every column after the first, by the first."""
    if len(rows) > 1:
        size = math.log(rows[-1][0] / rows[0][0])
        powers = [math.log(b / a) / size for a, b in zip(rows[0][1:], rows[-1][1:], strict=True)]
        print("power of the size:   " + "   ".join(f"{power:.2f}" for power in powers), flush=True)


def main(sizes: list[int]) -> None:
    weigh(tower(1))  # loads what is compiled
    storeys_of(sizes)
    readings_of([250, 500, 1000, 2000])
    cables_of([8, 16, 32, 64])


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [1, 2, 4, 8])
