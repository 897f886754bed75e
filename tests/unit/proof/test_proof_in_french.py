"""Diagnosis, comparison, acceptance and questions are said again in French, with their values."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pydantic import BaseModel

from rehaul.facts.causes import causes
from rehaul.jobs import current_job, demo_job
from rehaul.planning import plan
from rehaul.predict import standing_radiators
from rehaul.proof import (
    RunDuty,
    acceptance_record,
    ceiling,
    comparison,
    diagnose,
    next_reading,
    room_case,
    room_named,
    surveyed,
    way_to,
)
from rehaul.proof.diagnosis import INSTRUCTIONS, LOOKS
from rehaul.words import Reader, Saying, again, say, term

EXAMPLES = Path(__file__).parents[3] / "examples"
FRENCH = Reader("fr")


def sayings(thing: BaseModel, *names: str) -> list[Saying]:
    found = []
    for name in names:
        value = getattr(thing, name)
        found += [*value] if isinstance(value, tuple) else [value]
    assert all(isinstance(one, Saying) for one in found), [x for x in found if not isinstance(x, Saying)]
    return found


@pytest.mark.parametrize("cause", causes())
def test_a_cause_is_told_in_french(cause: str) -> None:
    row = causes()[cause]  # type: ignore[index]
    for text in (row.narrowest, row.says, row.remedy):
        assert again(term(text), FRENCH) != text


@pytest.mark.parametrize("test", INSTRUCTIONS)
def test_each_test_says_in_french_what_to_do(test: str) -> None:
    once = say(INSTRUCTIONS[test])  # type: ignore[index]
    assert once.endswith(".")
    more = say("proof_diagnosis.once_more", instruction=once)
    assert more == f"Once more: {once}"
    assert more.to(FRENCH).startswith("Encore une fois\u00a0: ")
    assert isinstance(term(test), Saying)


def test_a_diagnosis_is_told_in_french() -> None:
    job = demo_job()
    room = next(room for room in job.house.rooms if any(r.room == room.id for r in job.readings))
    case, _ = room_case(job, room)
    found = diagnose(case, {"room down": case.plan_down_mbps / 10, "fed by cable": 0.0, "modem down": 90.0})
    french = again(found, FRENCH)
    for old, new in zip(found.causes, french.causes, strict=True):
        assert new.cause == old.cause, "a key stays what it is"
        for one, other in zip(
            sayings(old, "narrowest", "says", "remedy"), (new.narrowest, new.says, new.remedy), strict=True
        ):
            assert one != other
    for sentence, said in zip(sayings(found, "evidence"), french.evidence, strict=True):
        assert re.findall(r"\d+", said) == re.findall(r"\d+", sentence)
        assert " against " not in said and " would be " not in said
    looks = [say(code) for pair in LOOKS.values() for code in pair]
    assert not {str(look) for look in looks} & {look.to(FRENCH) for look in looks}


def test_before_and_after_are_told_in_french() -> None:
    found = comparison(current_job(EXAMPLES / "1996-open-subfloor.rehaul.json"))
    french = again(found, FRENCH)
    assert sayings(found, "sentence", "unpaired")
    assert not set(french.unpaired) & set(found.unpaired)
    for old, new in zip(found.pairs, french.pairs, strict=True):
        assert isinstance(old.sentence, Saying)
        assert " avant, " in new.sentence and old.room_name in new.sentence
    assert french.sentence != found.sentence


def test_checks_are_told_in_french() -> None:
    job = demo_job()
    rows = acceptance_record(job, [RunDuty(run.id, 1000.0, 4) for run in job.house.runs])
    for old, new in zip(rows, again(rows, FRENCH), strict=True):
        assert new.name == old.name, "a room or a run goes by its own name"
        for one, other in zip(old.checks, new.checks, strict=True):
            sayings(one, "name", "wanted", *(["found"] if one.found else []))
            assert one.result == other.result, "a key stays what it is"
    wanted = {check.wanted for row in again(rows, FRENCH) for check in row.checks}
    assert {"toutes les paires passent, aucune dépairée", "0 en 10 min de pleine charge"} <= wanted


def test_questions_are_told_in_french() -> None:
    questions = plan(current_job(EXAMPLES / "1988-chained-cat3-dsl.rehaul.json")).open_questions
    assert questions
    for old, new in zip(questions, again(questions, FRENCH), strict=True):
        sayings(old, "question", "guess", "costs", "settle")
        assert new.about == old.about
        assert new.question.endswith("\u00a0?") and new.question != old.question
        assert new.settle != old.settle


def test_where_to_stand_is_told_in_french_and_in_feet() -> None:
    job = demo_job()
    found = next_reading(surveyed(job, 1.0), standing_radiators(job))
    assert isinstance(found.sentence, Saying)
    assert again(found, FRENCH).sentence.startswith(
        ("Se placer dans ", "Arrêter\u00a0: ", "Poser un moment ")
    )
    assert all(again(one.question, FRENCH).endswith("\u00a0?") for one in found.verdicts)
    said = say(
        "proof.stand", room="Den", at_m=(3.44, 5.0), box="Router", band_ghz=2.4, device="phone", question="?"
    )
    assert said.startswith("Stand in Den at 3.4, 5.0 m, doors shut, and read the power of Router at 2.4 GHz")
    assert "at 11, 16 ft, doors" in said.to(Reader("en", "imperial"))
    assert "à 3,4\u00a0; 5,0 m, portes fermées" in said.to(FRENCH)


def test_the_way_to_a_room_and_a_ceiling_are_told_in_french() -> None:
    job = demo_job()
    way = way_to(job, room_named(job, job.house.rooms[-1].name))
    assert " jusqu'au milieu de la pièce, " in way.sentence.to(FRENCH)
    assert f"{way.length_m:.1f}".replace(".", ",") in way.sentence.to(FRENCH)
    reading = next(reading for reading in job.readings if not reading.wired)
    best = ceiling(job, reading)
    assert best is not None
    assert "streams" in best.words or "stream" in best.words
    assert "flux" in again(best, FRENCH).words
