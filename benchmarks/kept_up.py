"""A plan that follows the edits: what an edit costs in a process that keeps what it does not touch.

    python benchmarks/kept_up.py [EDITS]

Twenty drawn edits of each kind on the invented house (or EDITS of each), one after the other, in processor
time: the plan kept up, the same plan from scratch in the same process, and a fixed piece of work of Python
and NumPy, by which other machines compare. Both plans are held to be the same to the last byte.
"""

from __future__ import annotations

import json
import random
import sys
import time
from collections.abc import Callable
from statistics import median
from typing import Any

import numpy as np

import rehaul
from rehaul.house import Job, RunState
from rehaul.planning import plan_data, weigh
from rehaul.predict.kept import KeptHouse

Edit = Callable[[Job, random.Random], Job]


def fixed_work() -> float:
    """Seconds of a piece of work that no edit changes."""
    began = time.process_time()
    kept: dict[int, tuple[int, str]] = {}
    for i in range(150_000):
        kept[i % 97] = i, str(i)
    values = np.random.default_rng(1).random((300, 300))
    for _ in range(40):
        np.exp(values) * values
    return time.process_time() - began


def in_house(job: Job, **rows: Any) -> Job:
    return job.model_copy(update={"house": job.house.model_copy(update=rows)})


def one_changed(rows: tuple[Any, ...], rng: random.Random, **fields: Any) -> tuple[Any, ...]:
    place = rng.randrange(len(rows))
    return (*rows[:place], rows[place].model_copy(update=fields), *rows[place + 1 :])


def need(job: Job, rng: random.Random) -> Job:
    rate = float(rng.choice((15, 35, 80, 120, 180)))
    return job.model_copy(update={"needs": one_changed(job.needs, rng, down_mbps=rate, uses=())})


def price(job: Job, rng: random.Random) -> Job:
    choices = job.choices.model_copy(update={"budget": float(rng.choice((700, 1100, 1500, 2500)))})
    return job.model_copy(update={"choices": choices})


def dead_cable(job: Job, rng: random.Random) -> Job:
    state = rng.choice((RunState.DEAD, RunState.DAMAGED, RunState.UNKNOWN))
    return in_house(job, runs=one_changed(job.house.runs, rng, state=state))


def access_point(job: Job, rng: random.Random) -> Job:
    """Put where somebody wants it: pinned at another outlet."""
    outlet = rng.choice(job.house.outlets).id
    choices = job.choices.model_copy(update={"pinned_sites": (outlet,)})
    return job.model_copy(update={"choices": choices})


def wall(job: Job, rng: random.Random) -> Job:
    like = rng.choice(job.house.walls)
    walls = one_changed(job.house.walls, rng, construction=like.construction, layers=like.layers)
    return in_house(job, walls=walls)


EDITS: dict[str, Edit] = {
    "a need": need,
    "a price (budget)": price,
    "a cable found dead": dead_cable,
    "an access point put elsewhere": access_point,
    "a wall of another make": wall,
}


def main(count: int) -> None:
    rng, house = random.Random(20), KeptHouse()
    job = rehaul.demo()
    weigh(job, kept=house)
    print(f"{'edit':32} {'p50 ms':>7} {'p95 ms':>7} {'scratch':>8} {'ratio':>6} {'x fixed work':>13}")
    for name, edit in EDITS.items():
        up, scratch, fixed = [], [], []
        for _ in range(count):
            job = Job.model_validate_json(edit(job, rng).model_dump_json())
            fixed.append(fixed_work())
            began = time.process_time()
            followed = weigh(job, kept=house).fresh
            up.append(time.process_time() - began)
            began = time.process_time()
            anew = weigh(job).fresh
            scratch.append(time.process_time() - began)
            if json.dumps(plan_data(followed)) != json.dumps(plan_data(anew)):
                sys.exit(f"{name}: the plan that was kept up is another")
        p95 = sorted(up)[int(0.95 * (count - 1))]
        print(
            f"{name:32} {1000 * median(up):7.0f} {1000 * p95:7.0f} {1000 * median(scratch):8.0f}"
            f" {median(up) / median(scratch):6.2f} {median(up) / median(fixed):13.1f}",
            flush=True,
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
