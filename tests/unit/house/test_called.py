"""What people call things: names before ids, and no name of a field in any sentence of the audit."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

import rehaul
from drawn_houses import drawn_job
from rehaul.house import Job, entities
from rehaul.house.audit import asks, audit
from rehaul.house.called import called, thing_called
from rehaul.jobs import open_job
from rehaul.words import Reader, again
from sound_house import sound_house, sound_job

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*.rehaul.json"))
SEEDS = range(0, 120, 5)
FIELD = re.compile(r"\b[a-z]+_[a-z_]+\b|\b(house|gate|service|choices|storey|room)\.[a-z]")


@cache
def jobs() -> dict[str, Job]:
    """The demo, every house that is bundled, and houses drawn by chance: as they are, and spoiled."""
    found = {"demo": rehaul.demo()} | {path.stem: open_job(path) for path in EXAMPLES}
    found |= {f"drawn {seed}": drawn_job(seed) for seed in SEEDS}
    return found | {f"{name}, nothing known": spoiled(job) for name, job in found.items()}


def spoiled(job: Job) -> Job:
    """The job with everything that may be unknown unknown, so that all of it is asked about."""
    data = job.model_dump(mode="json")
    for run in data["house"]["runs"]:
        run |= {"state": "unknown", "kind": "unknown", "topology": "unknown"}
    for outlet in data["house"]["outlets"]:
        outlet |= {"kind": "unknown", "position": None, "mains": None, "room": None}
    for wall in data["house"]["walls"]:
        wall |= {"construction": "no such thing", "layers": []}
    for opening in data["house"]["openings"]:
        opening |= {"construction": "no such thing", "sill_m": 3.0}
    for storey in data["house"]["storeys"]:
        storey["floor"] |= {"construction": "unknown", "layers": []}
    data |= {"gate": {}, "service": {}, "readings": []}
    return Job.model_validate(data)


@pytest.mark.parametrize("name", jobs())
def test_no_sentence_begins_with_an_id_or_names_a_field(name: str) -> None:
    job = jobs()[name]
    ids = {thing.id for _, thing in entities(job)}  # type: ignore[attr-defined]
    names = {getattr(thing, "name", "") for _, thing in entities(job)}
    for language in ("en", "fr"):
        for finding in again(audit(job), Reader(language)):  # type: ignore[arg-type]
            for words in (finding.sentence, finding.proposed_fix):
                plain = re.sub(
                    r"'[^']*'|«[^»]*»|\([^()]*\)", "", words
                )  # what is quoted, and ids after names
                for own in sorted(names - {""}, key=len, reverse=True):
                    plain = plain.replace(own, "")
                assert not FIELD.search(plain), words
                bare = {word.strip(".,:;") for word in plain.split()} & ids
                assert not {one for one in bare if re.search(r"\d", one) and not one.isdigit()}, words
                for storey in job.house.storeys:
                    assert f"torey {storey.name}" not in words or not storey.name.startswith("Storey"), words
        for ask in again(asks(job), Reader(language)):  # type: ignore[arg-type]
            assert ask.title and ask.why and ask.fix
            assert not FIELD.search(ask.title), ask.title


def test_each_kind_of_thing_by_what_people_call_it() -> None:
    job = sound_job()
    assert called(job, "C01") == "Closet to Living (C01)"
    assert called(job, "1-01") == "Living (1-01)"
    assert called(job, "r2") == "Kitchen"
    assert called(job, "n2") == "Kitchen"
    assert called(job, "b1") == "Modem"
    assert called(job, "m-1") == "reading in Living (m-1)"
    assert called(job, "d1") in ("door, Living / Kitchen (d1)", "door, Kitchen / Living (d1)")
    assert thing_called(job, "C01").listed("C01") == "C01, Closet to Living"
    assert (thing_called(job, "C01").kind, thing_called(job, "C01").storey) == ("run", "1")
    assert thing_called(job, "nobody").kind == ""


def test_a_chain_and_a_lost_end() -> None:
    run = sound_house().runs[0]
    chain = run.model_copy(update={"ends": ("m1", "1-01", "1-01", "m1"), "id": "C02"})
    lost = run.model_copy(update={"ends": ("m1", "unknown"), "id": "C03"})
    job = sound_job(sound_house(runs=(chain, lost)))
    assert called(job, "C02") == "Closet to Closet, by 2 plates on the way (C02)"
    assert called(job, "C03") == "Closet to an end nobody knows (C03)"
