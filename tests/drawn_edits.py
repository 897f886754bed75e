"""Edits as people make them while they look at a plan, drawn: one after the other, each of a job as it is."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from typing import Any

from rehaul.errors import Refusal
from rehaul.house import Job, RunState, require_whole
from rehaul.house.geometry import room_centre

Edit = Callable[[Job, random.Random], Job | None]  # None: there is nothing of the kind to edit


def changed(
    rows: Sequence[Any], rng: random.Random, fields: Callable[[Any], dict[str, Any]]
) -> tuple[Any, ...]:
    """The rows with one of them changed."""
    place = rng.randrange(len(rows))
    row = rows[place].model_copy(update=fields(rows[place]))
    return (*rows[:place], row, *rows[place + 1 :])


def of_job(name: str, fields: Callable[[Any, random.Random], dict[str, Any]]) -> Edit:
    def edit(job: Job, rng: random.Random) -> Job | None:
        rows = getattr(job, name)
        return (
            job.model_copy(update={name: changed(rows, rng, lambda row: fields(row, rng))}) if rows else None
        )

    return edit


def of_house(name: str, fields: Callable[[Any, random.Random], dict[str, Any]]) -> Edit:
    def edit(job: Job, rng: random.Random) -> Job | None:
        rows = getattr(job.house, name)
        if not rows:
            return None
        house = job.house.model_copy(update={name: changed(rows, rng, lambda row: fields(row, rng))})
        return job.model_copy(update={"house": house})

    return edit


def of_choices(**values: tuple[Any, ...]) -> Edit:
    def edit(job: Job, rng: random.Random) -> Job | None:
        name = rng.choice(list(values))
        choices = job.choices.model_copy(update={name: rng.choice(values[name])})
        return job.model_copy(update={"choices": choices})

    return edit


def wall_like_another(job: Job, rng: random.Random) -> Job | None:
    if not job.house.walls:
        return None
    like = rng.choice(job.house.walls)
    make = {"construction": like.construction, "layers": like.layers}
    return of_house("walls", lambda wall, _: make)(job, rng)


def sites(job: Job, rng: random.Random) -> Job | None:
    """Somewhere pinned or forbidden, or nowhere any more."""
    places = [row.id for row in job.house.outlets] + [row.id for row in job.house.meeting_points]
    names = tuple(rng.sample(places, min(len(places), rng.randrange(3))))
    one, other = rng.choice((("pinned_sites", "forbidden_sites"), ("forbidden_sites", "pinned_sites")))
    choices = job.choices.model_copy(update={one: names, other: ()})
    return job.model_copy(update={"choices": choices})


def box_elsewhere(job: Job, rng: random.Random) -> Job | None:
    if not job.boxes or not job.house.rooms:
        return None
    room = rng.choice(job.house.rooms)
    spot = {"storey": room.storey, "position": room_centre(room)}
    return of_job("boxes", lambda box, _: spot)(job, rng)


def need_gone(job: Job, rng: random.Random) -> Job | None:
    if len(job.needs) < 2:
        return None
    place = rng.randrange(len(job.needs))
    return job.model_copy(update={"needs": (*job.needs[:place], *job.needs[place + 1 :])})


def reading_gone(job: Job, rng: random.Random) -> Job | None:
    return job.model_copy(update={"readings": job.readings[1:]}) if job.readings else None


def service(job: Job, rng: random.Random) -> Job | None:
    rate = {"down_mbps": rng.choice((90.0, 260.0, 640.0)), "up_mbps": rng.choice((20.0, 60.0))}
    return job.model_copy(update={"service": job.service.model_copy(update=rate)})


EDITS: dict[str, Edit] = {
    "need": of_job(
        "needs", lambda need, rng: {"down_mbps": rng.choice((12.0, 40.0, 90.0, 260.0)), "uses": ()}
    ),
    "how surely": of_job("needs", lambda need, rng: {"probability": rng.choice((0.5, 0.8, 0.95))}),
    "up": of_job("needs", lambda need, rng: {"up_mbps": rng.choice((None, 2.0, 15.0))}),
    "outlets": of_job("needs", lambda need, rng: {"wired_outlets": rng.choice((0, 1, 2))}),
    "device": of_job("needs", lambda need, rng: {"client": rng.choice((None, "laptop", "old laptop"))}),
    "delay": of_job("needs", lambda need, rng: {"delay_ms": rng.choice((None, 30.0, 80.0))}),
    "need gone": need_gone,
    "wall": wall_like_another,
    "cable": of_house("runs", lambda run, rng: {"state": rng.choice((RunState.DEAD, RunState.UNKNOWN))}),
    "opening": of_house("openings", lambda one, rng: {"height_m": rng.choice((1.9, 2.0)), "sill_m": 0.0}),
    "room": of_house("rooms", lambda room, rng: {"lived_in": not room.lived_in}),
    "room's name": of_house("rooms", lambda room, rng: {"name": f"{room.name.split(',')[0]}, by day"}),
    "plate": of_house("outlets", lambda plate, rng: {"mains": rng.choice((None, True, False))}),
    "where cables meet": of_house(
        "meeting_points", lambda point, rng: {"power_sockets": rng.choice((None, 0, 1, 3))}
    ),
    "reading": of_job("readings", lambda reading, rng: {"spread": rng.choice((1.0, 2.0))}),
    "reading gone": reading_gone,
    "box elsewhere": box_elsewhere,
    "box stays": of_job("boxes", lambda box, rng: {"keep": not box.keep}),
    "heard": of_job("heard", lambda row, rng: {"power_dbm": rng.choice((-85.0, -60.0))}),
    "service": service,
    "sites": sites,
    "budget": of_choices(budget=(None, 400.0, 900.0)),
    "allowed": of_choices(
        new_pulls=(True, False),
        move_router=(True, False),
        wireless_hops=(True, False),
        coax_adapters=(True, False),
        swap_devices=(True, False),
        fixing=("screws", "reversible"),
        dfs=(True, False),
    ),
    "money": of_choices(labour_per_h=(None, 70.0), margin_pct=(10.0, 30.0), ups_minutes=(0.0, 20.0)),
    "ports and people": of_choices(spare_ports=(0, 2, 4), people=(1, 2)),
}


def edited(job: Job, rng: random.Random) -> tuple[str, Job]:
    """One edit that leaves the job whole: its kind, and the job as it is then, read from its text."""
    while True:
        name = rng.choice(list(EDITS))
        found = EDITS[name](job, rng)
        if found is not None:
            read = Job.model_validate_json(found.model_dump_json())
            try:
                require_whole(read)
            except Refusal:
                continue  # nobody could make it: it would be refused
            return name, read
