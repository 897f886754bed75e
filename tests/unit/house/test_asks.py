"""Findings of one kind are one question, which a field set in place may settle."""

from __future__ import annotations

import ast
import re
from pathlib import Path
from typing import Any

import pytest

import rehaul.house.audit as audit_package
from rehaul.house import Gate, Job, OutletKind, Run, Service, Wall
from rehaul.house.audit import Ask, asks, audit
from rehaul.house.audit.ask_kinds import ASK_KINDS
from rehaul.jobs.kinds import KINDS, SINGLES
from rehaul.words import Reader, again
from sound_house import MIDDLE, ROUND, sound_house, sound_job


def asked(job: Job) -> dict[str, Ask]:
    found = asks(job)
    assert len({(one.code, one.severity) for one in found}) == len(found)
    return {one.code: one for one in found}


def with_runs(*runs: Run) -> Job:
    return sound_job(sound_house(runs=runs))


def run(name: str, **more: Any) -> Run:
    fields = {"ends": ("m1", "1-01"), "kind": "cat5e", "pairs": 4, "topology": "home run", "state": "dead"}
    return Run(id=name, **(fields | more))


def test_every_kind_of_finding_has_its_question() -> None:
    """Whoever adds a rule of the audit writes its question too, and no question stands for nothing."""
    codes = set()
    for path in Path(audit_package.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.keyword) and node.arg == "code" and isinstance(node.value, ast.Constant):
                codes.add(node.value.value)
    assert len(codes) > 50
    assert codes == set(ASK_KINDS)


def test_nothing_is_asked_of_a_perfect_survey() -> None:
    assert asks(sound_job()) == ()


def test_cables_of_unknown_state_are_one_question_about_each() -> None:
    one = asked(with_runs(*(run(f"C0{n}", state="unknown") for n in (1, 2, 3)), run("C04")))[
        "run-state-unknown"
    ]
    assert one.title == "3 cables: live or dead?"
    assert [thing.id for thing in one.about] == ["C01", "C02", "C03"]
    assert {(thing.kind, thing.name, thing.storey) for thing in one.about[:1]} == {
        ("run", "C01, Closet to Living", "1")
    }
    assert one.severity == "serious"
    assert one.answer is not None
    assert (one.answer.kind, one.answer.field) == ("run", "state")
    assert one.answer.values == ("live telephone", "alarm", "dead", "damaged")


def test_one_thing_is_asked_about_by_name() -> None:
    one = asked(with_runs(run("C01", state="unknown")))["run-state-unknown"]
    assert one.title == "C01, Closet to Living: live or dead?"


def test_french_is_said_of_the_same_questions() -> None:
    found = again(asks(with_runs(run("C01", state="unknown"), run("C02", state="unknown"))), Reader("fr"))
    one = next(one for one in found if one.code == "run-state-unknown")
    assert one.title == "2 câbles\u00a0: en service ou inactif\u00a0?"
    assert one.answer is not None and one.answer.words[0] == "téléphone en service"


def test_a_wall_is_called_by_the_rooms_beside_it() -> None:
    bare = [wall.model_copy(update={"construction": "unknown"}) for wall in (*ROUND, MIDDLE)]
    one = asked(sound_job(sound_house(walls=tuple(bare))))["construction-unknown"]
    names = {thing.id: thing.name for thing in one.about}
    assert names["w5"] in ("Living / Kitchen (w5)", "Kitchen / Living (w5)")
    assert names["w4"] == "Living / outside (w4)"


def test_questions_at_the_door_are_one_question_with_a_field_each() -> None:
    one = asked(sound_job(gate=Gate(asked_about_alarms=True, licence_checked=True)))["gate-not-asked"]
    assert {thing.id for thing in one.about} == {
        "lead_paint",
        "asbestos",
        "knob_and_tube",
        "fire_rated_walls",
    }
    assert one.answer is not None and (one.answer.kind, one.answer.field) == ("gate", "")


def test_what_is_found_of_each_is_said_where_one_question_does_not() -> None:
    """Two gaps in the walls: how wide each is stands with its wall, and so does what to do."""
    short = [MIDDLE.model_copy(update={"end": (4, 4.7)})]
    short.append(Wall(id="w6", storey="1", start=(2, 0), end=(2, 4.6), construction="stud-plasterboard"))
    one = asked(sound_job(sound_house(walls=(*ROUND, *short))))["walls-nearly-meet"]
    assert one.title == "2 places where walls nearly meet"
    said = [thing.says for thing in one.about if thing.says]
    assert len(said) == 2 and all("Draw " in words for words in said)


def test_serious_and_less_serious_of_one_kind_are_two_questions() -> None:
    rented = sound_job(sound_house(tenure="rented"))
    assert asked(rented)["landlord-not-asked"].answer.field == "landlord_agrees"  # type: ignore[union-attr]
    unknown = sound_job(sound_house(tenure="unknown"))
    assert asked(unknown)["landlord-not-asked"].answer.field == "tenure"  # type: ignore[union-attr]


UNKNOWN_JOB = sound_job(
    sound_house(
        built_year=None,
        tenure="unknown",
        walls=tuple(wall.model_copy(update={"construction": "unknown"}) for wall in (*ROUND, MIDDLE)),
        openings=tuple(one.model_copy(update={"construction": "unknown"}) for one in sound_house().openings),
        outlets=tuple(one.model_copy(update={"kind": OutletKind.UNKNOWN}) for one in sound_house().outlets),
        runs=(run("C01", state="unknown", kind="unknown", topology="unknown"),),
    ),
    gate=Gate(),
    service=Service(modem=None, medium="unknown"),
)


@pytest.mark.parametrize("code", [one.code for one in asks(UNKNOWN_JOB) if one.answer])
def test_any_answer_settles_its_question(code: str) -> None:
    """The field set to each of its values, on each thing asked about: the question is gone."""
    one = asked(UNKNOWN_JOB)[code]
    answer = one.answer
    assert answer is not None and len(answer.words) == len(answer.values)
    for value in answer.values or (1950,):
        if code in ("landlord-not-asked",) and value in ("rented", "no"):
            continue  # then the owner is to be asked, and a "no" stays serious
        job = settled(UNKNOWN_JOB, one, value)
        assert code not in {finding.code for finding in audit(job)}, value


def settled(job: Job, one: Ask, value: Any) -> Job:
    """The job with an answer set on everything that the question is about, as an edit sets it."""
    answer = one.answer
    assert answer is not None
    typed = {"yes": True, "no": False}.get(value, value)
    data = job.model_dump(mode="json")
    if answer.kind in SINGLES:
        single = data[answer.kind]
        for field in [answer.field] if answer.field else [thing.id for thing in one.about]:
            single[field] = typed
    else:
        kind = KINDS[answer.kind]
        things = (data["house"] if kind.in_house else data)[kind.field]
        for thing in things:
            if thing["id"] in {about.id for about in one.about}:
                *path, last = answer.field.split(".")
                for step in path:
                    thing = thing[step]
                thing[last] = typed
    return Job.model_validate(data)


def test_no_question_says_where_in_the_document_it_is_about() -> None:
    for one in asks(UNKNOWN_JOB):
        for words in (one.title, one.why, one.fix, *(thing.name for thing in one.about)):
            assert not re.search(r"[a-z]_[a-z]|\b(house|gate|service)\.[a-z]", words), words
