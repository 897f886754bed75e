"""A plan that follows the edits: what an edit costs in a process that keeps what it does not touch.

    python benchmarks/kept_up.py [EDITS] [KIND ...]

Twenty drawn edits of each kind on the invented house (or EDITS of each), one after the other, in processor
time: until the answer is told (where access points go with the proof, what rooms get, the price), what of the
plan comes after it, and a fixed piece of work of Python and NumPy just before and after, by which other
machines and other minutes compare. Then every tenth of them from scratch in the same process, held to be the
same to the last byte: afterwards, as nothing of that kind stands between two edits of the program either.
Garbage is collected after each, while nobody waits, as the server does. Last, the air of all boxes that may
be chosen, beside the same boxes' fields on the whole grid by the kernel alone.
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the program itself does

import gc
import hashlib
import json
import random
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from statistics import median
from typing import Any

import numpy as np

import rehaul
from rehaul.house import Job, RunState
from rehaul.planning import Answer, plan_data, weigh
from rehaul.predict.air import DEFAULT_LISTENER
from rehaul.predict.calibration import corrected_airs
from rehaul.predict.kept import KeptHouse
from rehaul.predict.paths import Paths
from rehaul.predict.spectra import spectrum_of
from rehaul.radio import Transmitter, field

Edit = Callable[[Job, random.Random], Job]
COMPARED = 10  # of so many edits one is made from scratch as well


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


def labour(job: Job, rng: random.Random) -> Job:
    """Another price of an hour."""
    choices = job.choices.model_copy(update={"labour_per_h": float(rng.randrange(50, 120))})
    return job.model_copy(update={"choices": choices})


def wall(job: Job, rng: random.Random) -> Job:
    like = rng.choice(job.house.walls)
    walls = one_changed(job.house.walls, rng, construction=like.construction, layers=like.layers)
    return in_house(job, walls=walls)


def wall_moved(job: Job, rng: random.Random) -> Job:
    """Put up to 15 cm aside of where it stood at first."""
    stood = rng.choice(rehaul.demo().house.walls)
    (x0, y0), (x1, y1) = stood.start, stood.end
    by = rng.choice((-0.15, -0.1, -0.05, 0.05, 0.1, 0.15)) / np.hypot(x1 - x0, y1 - y0)
    aside = float(by * (y0 - y1)), float(by * (x1 - x0))
    ends = {"start": (x0 + aside[0], y0 + aside[1]), "end": (x1 + aside[0], y1 + aside[1])}
    walls = tuple(one.model_copy(update=ends) if one.id == stood.id else one for one in job.house.walls)
    return in_house(job, walls=walls)


EDITS: dict[str, Edit] = {
    "a need": need,
    "a budget": price,
    "a price (of an hour)": labour,
    "a cable found dead": dead_cable,
    "an access point put elsewhere": access_point,
    "a wall of another make": wall,
    "a wall moved": wall_moved,
}


def note_time(at_s: list[float], answer: Answer) -> None:
    at_s.append(time.process_time())


def p95(seconds: list[float]) -> float:
    return sorted(seconds)[int(0.95 * (len(seconds) - 1))]


def main(count: int, kinds: list[str]) -> None:
    rng, house = random.Random(20), KeptHouse()
    job = rehaul.demo()
    weigh(job, kept=house)
    gc.collect()
    gc.disable()
    print(
        f"{'':31} {'answer':>11} {'over fixed':>11} {'plan after it':>13} {'scratch':>8} {'over fixed':>11}"
    )
    print(
        f"{'edit [ms]':31} {'p50':>5} {'p95':>5} {'p50':>5} {'p95':>5} {'p50':>7} {'p95':>5} {'p50':>8}"
        f" {'p50':>5} {'p95':>5}"
    )
    all_fixed: list[float] = []
    for name in kinds or EDITS:
        edit = EDITS[name]
        answer, after, fixed, made = [], [], [], []
        for number in range(count):
            job = Job.model_validate_json(edit(job, rng).model_dump_json())
            before = fixed_work()
            began = time.process_time()
            at_s: list[float] = []
            followed = weigh(job, kept=house, told=partial(note_time, at_s)).fresh
            after.append(time.process_time() - at_s[0])
            answer.append(at_s[0] - began)
            fixed.append((before + fixed_work()) / 2)
            if number % COMPARED == 0:
                made.append((job, digest_of(followed)))
            del followed
            gc.collect()  # as the server does, while nobody waits
        scratch, from_fixed = made_anew(made, name)
        over = [told / one for told, one in zip(answer, fixed, strict=True)]
        print(
            f"{name:31} {1000 * median(answer):5.0f} {1000 * p95(answer):5.0f}"
            f" {median(over):5.2f} {p95(over):5.2f} {1000 * median(after):7.0f} {1000 * p95(after):5.0f}"
            f" {1000 * median(scratch):8.0f} {median(from_fixed):5.1f} {p95(from_fixed):5.1f}",
            flush=True,
        )
        all_fixed += fixed
    print(
        f"the fixed piece of work: {1000 * median(all_fixed):.1f} ms, {1000 * p95(all_fixed):.1f} at the 95th"
    )
    fields_of_boxes()


def digest_of(fresh: Any) -> str:
    return hashlib.sha256(json.dumps(plan_data(fresh)).encode()).hexdigest()


def made_anew(made: list[tuple[Job, str]], name: str) -> tuple[list[float], list[float]]:
    """Seconds of each plan from scratch, and over the fixed work; ends where one is not what was followed."""
    seconds, over = [], []
    for job, digest in made:
        before = fixed_work()
        gc.collect()
        began = time.process_time()
        anew = weigh(job).fresh
        seconds.append(time.process_time() - began)
        over.append(seconds[-1] / ((before + fixed_work()) / 2))
        if digest_of(anew) != digest:
            sys.exit(f"{name}: the plan that was kept up is another")
    return seconds, over


def fields_of_boxes() -> None:
    """What the choice spends on the air of a box, beside the kernel's field of the same box on the grid."""
    job, kept = rehaul.demo(), KeptHouse()
    found = weigh(job, kept=kept)
    survey, served = found.survey, found.chosen.placing.served
    boxes = list(dict.fromkeys(replace(box, name="", wire=()) for box in served.radiators if box))
    cells, grid = survey.receivers.in_rooms, survey.receivers.grid

    def chosen_from() -> None:
        corrected_airs(job, boxes, DEFAULT_LISTENER, survey.calibration, Paths(survey.scene, cells))

    def by_kernel() -> None:
        for box in boxes:
            bands = [spectrum_of(band) for band in box.bands()]
            field(survey.scene.scene, Transmitter(box.position_m, mounting=box.pattern), grid, bands)

    times = []
    for work in (chosen_from, by_kernel):
        took = []
        for _ in range(9):
            began = time.process_time()
            work()
            took.append(time.process_time() - began)
        times.append(1000 * min(took))
    print(
        f"air of {len(boxes)} boxes, as the choice has it: {times[0]:.1f} ms; their fields on the grid by the"
        f" kernel: {times[1]:.1f} ms; {times[0] / times[1]:.1f} times"
    )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20, sys.argv[2:])
